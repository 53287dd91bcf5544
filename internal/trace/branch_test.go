package trace

import (
	"math"
	"testing"
)

// A valve in a branch of 12 m, a = 1200 m/s, on a main twice as wide: a sudden closing on V raises
// the head at it by a V/g at once (Joukowsky), for 2 L/a; then the header answers. A logger that
// sees the front whole gives V; one that sees only what is left gives an interval that holds it.
func TestStepInABranch(t *testing.T) {
	branch := Branch{LengthM: 12, BoreM: 0.1, WaveMS: 1200, WaveLow: 1150, WaveHigh: 1250}
	f := Facts{WaveMS: 400, WaveLow: 380, WaveHigh: 420, BoreM: 0.2, LengthM: 500, StaticM: 20, Branch: branch}
	const v, gravity = 0.4, 9.80665
	// What the main and the other branches leave of it: here the main alone takes the flow.
	left := 400 * v / 4 / gravity
	first := 1200 * v / gravity
	head := func(t float64) float64 {
		switch d := t - 10; {
		case d < 0:
			return 20
		case d < branch.echoS():
			return 20 + first
		case d < 2.5:
			return 20 + left
		}
		return 20
	}
	for _, step := range []float64{0.002, 0.5} {
		r := Analyze(logged(head, step, 30, 0.01, 0), f, Options{})
		if len(r.Slams) == 0 {
			t.Fatalf("step %g s: no slam", step)
		}
		x := r.Slams[0].Reverse
		if x == nil || x.Low > v || x.High < v {
			t.Errorf("step %g s: %+v, true %g", step, x, v)
		}
		if step == 0.002 && math.Abs(x.Best-v) > 0.02 {
			t.Errorf("the front is whole, and gives %g, true %g", x.Best, v)
		}
	}
}

// A swing that only a pipe between valve and header can make is not the main's: no wave speed
// comes of it.
func TestRingingIsNoWaveOfTheMain(t *testing.T) {
	ring := func(t float64) float64 {
		if t < 10 {
			return 20
		}
		return 20 + 15*math.Exp(-(t-10)/2)*math.Copysign(1, math.Sin(2*math.Pi*(t-10)/0.08))
	}
	f := facts
	f.LengthM = 3000
	r := Analyze(logged(ring, 0.004, 30, 0.02, 0), f, Options{})
	if len(r.Slams) == 0 || r.Slams[0].Wave == nil {
		t.Fatalf("%d slams, no wave", len(r.Slams))
	}
	if w := r.Slams[0].Wave; !w.Short || w.Speed != nil {
		t.Errorf("%+v", w)
	}
}
