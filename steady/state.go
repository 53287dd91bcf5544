package steady

import (
	"cmp"
	"math"
	"slices"

	"seatward/internal/root"
)

// party is a set of equal running branches.
type party struct {
	*line
	members []int
}

func (p party) count() float64 { return float64(len(p.members)) }

// state is a balance: the flow of one branch of each party, and the header's head.
type state struct {
	flows []float64
	totalM3S, headM,
	residualM float64 // greatest difference of head that is left
	stable bool
}

// balance is the running branches against the main.
type balance struct {
	parties []party
	main    *mainLine
}

func (b *balance) total(flows []float64) float64 {
	q := 0.0
	for i, p := range b.parties {
		q += p.count() * flows[i]
	}
	return q
}

// settle makes a state of flows: the header's head is the main's need, and what
// the branches give beside it is left over.
func (b *balance) settle(flows []float64) state {
	s := state{flows: flows, totalM3S: b.total(flows)}
	s.headM = b.main.need(s.totalM3S).headM
	for i, p := range b.parties {
		left := p.net(flows[i]) - s.headM
		if flows[i] == 0 {
			left = math.Max(left, 0) // the check valve bears what the branch lacks
		}
		s.residualM = math.Max(s.residualM, math.Abs(left))
	}
	s.stable = b.stable(s)
	return s
}

// closed is true when the state balances to twelve figures, which leaves room for
// elements that are solved by iteration.
func (b *balance) closed(s state) bool { return s.residualM <= 1e-12*b.scaleM(s) }

// scaleM is the greatest head in the balance, m, in whose last figures it is known.
func (b *balance) scaleM(s state) float64 {
	scale := math.Abs(s.headM)
	for _, p := range b.parties {
		scale = math.Max(scale, math.Abs(p.shutOffM()))
	}
	return scale
}

// polish balances flows to round-off. A head known to its last figure leaves the
// flow of a level curve open (at shut-off every curve is nearly level); so the
// flow of one party after the other, the most level first, is made to fit with
// the others held, on the stretch of its choice.
func (b *balance) polish(flows []float64, c choice) state {
	s := b.settle(flows)
	for _, i := range b.byLevelness(flows, c) {
		if s.residualM <= 2e-15*b.scaleM(s) {
			break
		}
		p, others := b.parties[i], b.total(s.flows)-b.parties[i].count()*s.flows[i]
		excess := func(q float64) float64 { return p.net(q) - b.main.need(others+p.count()*q).headM }
		from, to := p.knots[p.stretches[c[i]].from].q, p.knots[p.stretches[c[i]].to].q
		atFrom, atTo := excess(from), excess(to)
		if atFrom > 0 == (atTo > 0) {
			continue
		}
		fitted := slices.Clone(s.flows)
		fitted[i] = root.Find(excess, root.Point{X: from, Y: atFrom}, root.Point{X: to, Y: atTo}, 0)
		if t := b.settle(fitted); t.residualM < s.residualM {
			s = t
		}
	}
	return s
}

// byLevelness lists the parties that a choice does not shut, the one with the
// least slope at its flow first.
func (b *balance) byLevelness(flows []float64, c choice) []int {
	var order []int
	steepness := make([]float64, len(flows))
	for i, p := range b.parties {
		if c[i] >= 0 {
			order = append(order, i)
			steepness[i] = math.Abs(p.slope(flows[i]))
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(steepness[i], steepness[j]) })
	return order
}

// stable is true when a small change of flow dies out. With d the slopes of the
// flowing branches and m that of the main, the flows follow the gradient of a
// potential whose second derivative is diag(d) - m; it must be negative definite.
// So at most one branch may stand on a rising stretch, and then m times the sum
// of 1/d must exceed 1 (derived here).
func (b *balance) stable(s state) bool {
	rising, sum := 0, 0.0
	for i, p := range b.parties {
		if s.flows[i] == 0 {
			continue
		}
		d := p.slope(s.flows[i])
		if d*s.flows[i] > 1e-9*math.Abs(p.shutOffM()) { // more than round-off
			rising += len(p.members)
		}
		if d != 0 {
			sum += p.count() / d
		}
	}
	if rising == 0 {
		return true
	}
	step := 1e-6 * s.totalM3S
	m := (b.main.need(s.totalM3S+step).headM - b.main.need(s.totalM3S-step).headM) / (2 * step)
	return rising == 1 && m*sum > 1
}
