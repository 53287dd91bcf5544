package draw

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// responses are functions of normal deviates, in m/s and of the size of reverse velocities.
var responses = []struct {
	name string
	axes int
	of   func(z []float64) float64
}{
	{"smooth, 4 inputs", 4, func(z []float64) float64 { return 0.3 * math.Exp(0.3*z[0]-0.2*z[1]+0.1*z[2]+0.05*z[3]) }},
	{"smooth, 18 inputs", 18, func(z []float64) float64 { return 0.3 * math.Exp(0.12*sum(z)/math.Sqrt(2)) }},
	{"straight, one input rules", 12, func(z []float64) float64 { return max(0.4+0.12*z[3]+0.005*sum(z), 0) }},
	{"kinked at zero", 8, func(z []float64) float64 { return max(0, 0.1+0.15*z[0]+0.1*z[1]-0.05*z[2]) }},
	{"mostly zero", 6, func(z []float64) float64 { return max(0, -0.15+0.15*z[0]+0.05*z[1]) }},
	{"saturating", 10, func(z []float64) float64 { return 0.6 / (1 + math.Exp(-1.5*z[0]-z[1]-0.5*z[2])) }},
	{"swinging with the phase", 9, func(z []float64) float64 {
		return max(0, 0.3+0.06*z[0]+0.08*math.Sin(6*z[1]+4*z[2])+0.03*z[3])
	}},
	{"chaotic", 18, func(z []float64) float64 {
		return max(0, 0.4+0.1*z[0]+0.15*math.Sin(40*z[1]+31*z[2]+23*z[3]))
	}},
	{"two inputs together", 5, func(z []float64) float64 { return max(0, 0.3+0.1*z[0]*z[1]+0.05*z[2]) }},
	{"a step", 7, func(z []float64) float64 {
		if z[0]+0.5*z[1] > 0.3 {
			return 0.7 + 0.02*z[2]
		}
		return 0.2 + 0.02*z[3]
	}},
	{"no input matters", 6, func([]float64) float64 { return 0.25 }},
}

func sum(z []float64) float64 {
	s := 0.0
	for _, v := range z {
		s += v
	}
	return s
}

// limits are those of quiet and harmful that the tests use.
var limits = []float64{0.15, 0.6}

func planOf(t testing.TB, axes int, of func(z []float64) float64, seed uint64) Plan {
	s, err := NewSequence(axes, seed)
	if err != nil {
		t.Fatal(err)
	}
	p := Plan{Sequence: s, Limits: limits}
	for a := range axes {
		p.Axes = append(p.Axes, a)
	}
	p.Run = func(from, to int) ([]float64, []bool) {
		y, ok := make([]float64, to-from), make([]bool, to-from)
		for i := range y {
			z := make([]float64, axes)
			for k := range z {
				z[k] = Normal(s.At(from+i, k))
			}
			y[i], ok[i] = of(z), true
		}
		return y, ok
	}
	return p
}

// The estimate agrees with the full sample (physics A7.1: within 10 % or 0.02 m/s, and 0.1).
func TestAdaptiveAgreesWithFullSample(t *testing.T) {
	// The runs that each needs are logged: go test -v -run Adaptive ./internal/draw
	for _, tt := range responses {
		t.Run(tt.name, func(t *testing.T) {
			var runs []int
			for seed := range uint64(6) {
				p := planOf(t, tt.axes, tt.of, seed)
				e := Adaptive(p)
				y, _ := p.Run(0, FullSample)
				full := NewDistribution(y)
				for _, share := range []float64{0.05, 0.5, 0.95} {
					got, want := e.At(share), full.At(share)
					if math.Abs(got-want) > max(0.1*want, 0.02) {
						t.Errorf("seed %d, %d runs: %2.0f %% point %.3f, full sample %.3f", seed, e.Runs, 100*share,
							got, want)
					}
				}
				for k, want := range full.Chances(limits...) {
					if math.Abs(e.Class[k]-want) > 0.1 {
						t.Errorf("seed %d, %d runs: chance %d %.3f, full sample %.3f", seed, e.Runs, k, e.Class[k],
							want)
					}
				}
				if !e.Settled {
					t.Errorf("seed %d: not settled", seed)
				}
				runs = append(runs, e.Runs)
			}
			t.Logf("runs: %v", runs)
		})
	}
}

// Failed draws are in no distribution, and too few responses give none.
func TestAdaptiveFailures(t *testing.T) {
	p := planOf(t, 4, responses[0].of, 1)
	run := p.Run
	p.Run = func(from, to int) ([]float64, []bool) {
		y, ok := run(from, to)
		for i := range y {
			if (from+i)%4 == 0 {
				y[i], ok[i] = math.NaN(), false
			}
		}
		return y, ok
	}
	e := Adaptive(p)
	if e.Failed != e.Runs/4 || !e.Settled || math.IsNaN(e.Median()) || math.Abs(e.Median()-0.3) > 0.02 {
		t.Errorf("%d of %d failed, settled %v, median %v", e.Failed, e.Runs, e.Settled, e.Median())
	}
	p.Run = func(from, to int) ([]float64, []bool) { return make([]float64, to-from), make([]bool, to-from) }
	p.Stages = []int{16, 32}
	if e := Adaptive(p); e.Settled || e.Runs != 32 || e.Failed != 32 || !math.IsNaN(e.Median()) {
		t.Errorf("without any response: %+v", e)
	}
}

// The shares of y = 0.5 + 0.03 (3a + b) are 9/10 and 1/10, and those of a third input nothing;
// at its 5 and 95 % points a moves y by 0.03 * 3 * 1.6449.
func TestAdaptiveEffects(t *testing.T) {
	p := planOf(t, 3, func(z []float64) float64 { return 0.5 + 0.03*(3*z[0]+z[1]) }, 2)
	y, ok := p.Run(0, 64)
	for _, effects := range [][]Effect{Adaptive(p).Effects, Effects(p.Sequence, p.Axes, y, ok)} {
		for k, want := range []float64{0.9, 0.1, 0} {
			if math.Abs(effects[k].Share-want) > 0.02 {
				t.Errorf("share %d is %.3f, exactly %.1f", k, effects[k].Share, want)
			}
		}
		if e := effects[0]; math.Abs(e.Low-0.352) > 0.01 || math.Abs(e.High-0.648) > 0.01 {
			t.Errorf("ends %.3f and %.3f, exactly 0.352 and 0.648", e.Low, e.High)
		}
	}
}

// Two plans over one sequence meet the same draws, so that what differs is the response.
func TestAdaptiveIsReproducible(t *testing.T) {
	a, b := Adaptive(planOf(t, 6, responses[4].of, 4)), Adaptive(planOf(t, 6, responses[4].of, 4))
	if diff := cmp.Diff(a, b, cmp.AllowUnexported(Distribution{}, Estimate{})); diff != "" {
		t.Error(diff)
	}
}
