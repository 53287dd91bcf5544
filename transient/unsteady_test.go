package transient

import (
	"fmt"
	"math"
	"testing"
)

// The exponentials of turbulent flow give the weights that they stand for, over the times
// of runs: from three steps on, until they have fallen to a hundredth of those after one
// step; and what they remember of the first step as a whole.
func TestTurbulentWeights(t *testing.T) {
	for _, reynolds := range []float64{4e3, 1e5, 1e6, 1e7} {
		kappa := math.Log10(15.29 * math.Pow(reynolds, -0.0567))
		bStar := math.Pow(reynolds, kappa) / 12.86
		exact := func(tau float64) float64 { return math.Exp(-bStar*tau) / (2 * math.Sqrt(math.Pi*tau)) }
		for _, least := range []float64{1e-9, 1e-7, 1e-6, 1e-5, 1e-4} {
			terms := Turbulent(reynolds, least)
			worst, first := 0.0, 0.0
			for tau := 3 * least; bStar*tau < 4 && exact(tau) > 0.01*exact(least); tau *= 1.1 {
				sum := 0.0
				for _, w := range terms {
					sum += w.M * math.Exp(-w.N*tau)
				}
				worst = math.Max(worst, math.Abs(sum/exact(tau)-1))
			}
			for _, w := range terms {
				first += w.M / w.N * -math.Expm1(-w.N*least)
			}
			// ∫ W = erf(√(B* τ))/(2√B*).
			off := math.Abs(first/(math.Erf(math.Sqrt(bStar*least))/(2*math.Sqrt(bStar))) - 1)
			t.Logf("Re %g, step %g: %d terms, W within %.4f, the first step %.4f", reynolds, least, len(terms), worst,
				off)
			if worst > 0.03 || off > 0.03 {
				t.Errorf("Re %g, step %g: W within %.4f, the first step %.4f", reynolds, least, worst, off)
			}
		}
	}
}

// A steady flow stays to round-off for 100 L/a with unsteady friction, with gas, in
// parallel pipes and in runs that keep no envelope.
func TestSteadyStaysWithMemory(t *testing.T) {
	for _, gas := range []*Gas{nil, {VaporHeadM: -10}, {VaporHeadM: -10, Fraction: 1e-4}} {
		friction := func(p *Pipe) {
			p.FrictionFactor = 0.02
			p.Unsteady = &Unsteady{Weights: Turbulent(5e5, 4e-6*0.05/0.25), ViscosityM2: 1e-6}
		}
		n := line1(t, Level{50}, Junction{OutflowM3S: 0.4}, func(m *Model) {
			m.Gas = gas
			m.Pipes[0].Parallel, m.Nodes["mid"] = 2, Junction{}
			m.Pipes[0].To = "mid"
			friction(&m.Pipes[0])
			loss := 0.02 * 1000 / 0.5 * 0.2 * 0.2 / (2 * g * math.Pow(m.Pipes[0].AreaM2(), 2))
			m.Pipes = append(m.Pipes, Pipe{
				Name: "r", From: "mid", To: "b", LengthM: 1000, DiameterM: 0.5,
				WaveSpeedMS: 1000, FlowM3S: 0.4, HeadM: 50 - loss,
			})
			friction(&m.Pipes[1])
		})
		for _, l := range n.lines {
			l.bare = true
		}
		start := append([]float64(nil), n.lines[1].h...)
		advance(t, n, 100, nil)
		for i, h := range n.lines[1].h {
			if math.Abs(h-start[i]) > 1e-9 {
				t.Fatalf("gas %v: node %d moves from %.12g to %.12g m", gas, i, start[i], h)
			}
		}
	}
}

func BenchmarkUnsteady(b *testing.B) {
	for _, reaches := range []int{40, 900} {
		for _, unsteady := range []bool{false, true} {
			b.Run(fmt.Sprintf("%d reaches, unsteady %v", reaches, unsteady), func(b *testing.B) {
				n := line1(b, Level{50}, Junction{OutflowM3S: 0.1}, func(m *Model) {
					m.StepS = 1.0 / float64(reaches)
					m.Pipes[0].FrictionFactor = 0.02
					if unsteady {
						m.Pipes[0].Unsteady = &Unsteady{Weights: Turbulent(5e5, 4e-6*m.StepS/0.25), ViscosityM2: 1e-6}
					}
				})
				for range b.N {
					if err := n.Advance(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// At rest there is no Reynolds number to weigh by: the weights are those where turbulence
// begins, and they end.
func TestTurbulentAtRest(t *testing.T) {
	rest, least := Turbulent(0, 1e-6), Turbulent(2000, 1e-6)
	if len(rest) != len(least) || rest[0] != least[0] {
		t.Errorf("%d weights at rest, %d where turbulence begins", len(rest), len(least))
	}
}
