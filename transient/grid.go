package transient

import (
	"fmt"
	"math"
)

// Grid is the step of a network and the reaches of its pipes.
type Grid struct {
	StepS   float64
	Reaches []int
	Worst   float64 // greatest share by which a wave speed is changed
}

const (
	standardAdjust = 0.02
	standardReach  = 20_000
	mostParts      = 200 // the shortest pipe is cut into at most so many reaches
)

// grid chooses the longest step at which every wave speed changes by at most MostAdjust:
// the travel time of the shortest pipe, or a half, a third ... of it.
func (m *Model) grid() (Grid, error) {
	most, budget := m.MostAdjust, m.MostReach
	if most == 0 {
		most = standardAdjust
	}
	if budget == 0 {
		budget = standardReach
	}
	if m.StepS != 0 {
		g := m.gridOf(m.StepS)
		switch {
		case !(m.StepS >= LeastStepS):
			return g, fmt.Errorf("transient: a step of %g s; it must be at least %g s", m.StepS, LeastStepS)
		case g.total() > budget:
			return g, fmt.Errorf("transient: a step of %.3g s makes %d reaches, more than %d", m.StepS, g.total(),
				budget)
		case g.Worst > most:
			return g, m.cannotFit(g, most)
		}
		return g, nil
	}
	shortest := math.Inf(1)
	for i := range m.Pipes {
		shortest = min(shortest, m.Pipes[i].TravelS())
	}
	best := Grid{Worst: math.Inf(1)}
	for parts := 1; parts <= mostParts; parts++ {
		step := shortest / float64(parts)
		g := m.gridOf(step)
		if step < LeastStepS || g.total() > budget {
			break
		}
		if g.Worst < best.Worst {
			best = g
		}
		if g.Worst <= most {
			return g, nil
		}
	}
	if best.StepS == 0 {
		return best, fmt.Errorf("transient: the shortest pipe, %.3g s long for a wave, would cut the others into more than %d reaches; take it as a rigid column", shortest, budget)
	}
	return best, m.cannotFit(best, most)
}

func (m *Model) cannotFit(g Grid, most float64) error {
	worst, at := 0.0, 0
	for i := range m.Pipes {
		if d := math.Abs(m.Pipes[i].TravelS()/(float64(g.Reaches[i])*g.StepS) - 1); d > worst {
			worst, at = d, i
		}
	}
	return fmt.Errorf("transient: pipe %s would need its wave speed changed by %.1f%%, more than %.1f%%: take it as a rigid column, or allow a finer step", m.Pipes[at].Name, 100*worst, 100*most)
}

// gridOf is the grid of a step: at least one reach each.
func (m *Model) gridOf(stepS float64) Grid {
	g := Grid{StepS: stepS, Reaches: make([]int, len(m.Pipes))}
	for i := range m.Pipes {
		travel := m.Pipes[i].TravelS()
		n := max(1, int(math.Round(math.Min(travel/stepS, 1e8))))
		g.Reaches[i] = n
		// a' = L/(nΔt), so a'/a = travel/(nΔt).
		g.Worst = max(g.Worst, math.Abs(travel/(float64(n)*stepS)-1))
	}
	return g
}

func (g Grid) total() int {
	sum := 0
	for _, n := range g.Reaches {
		sum += n
	}
	return sum
}
