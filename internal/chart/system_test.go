package chart

import (
	"slices"
	"testing"

	"seatward/plant"
)

// TestSystem: every operating point of the two levels lies on a pump curve and on a
// system curve, and the valve takes head from the pump at every flow.
func TestSystem(t *testing.T) {
	s := ofStation(t, "study")
	curves, err := s.Curves("flap/6in")
	if err != nil {
		t.Fatal(err)
	}
	marked := 0
	for _, p := range s.Points {
		if p.Level != plant.WellMiddle {
			marked++
		}
		i := slices.IndexFunc(curves.Systems, func(c plant.HeadCurve) bool { return c.Level == p.Level })
		if i < 0 {
			continue
		}
		system, ok := at(curves.Systems[i], p.Flow.SI)
		pumps := atRising(curves.Pumps[p.Running-1], p.Flow.SI)
		if d := system - pumps; !ok || d > 0.02 || d < -0.02 {
			t.Errorf("%s: the system needs %.3f m, the pumps give %.3f m", p.Name, system, pumps)
		}
	}
	with, without := curves.Pumps[0], curves.Bare
	for i, q := range with.FlowM3S {
		if bare := atRising(without, q); q > 0.01 && bare > 0 && !(bare > with.HeadM[i]) {
			t.Errorf("at %.4f m3/s the valve takes no head: %.3f m with it, %.3f m without", q, with.HeadM[i], bare)
		}
	}
	f, err := System(s, "flap/6in")
	if err != nil {
		t.Fatal(err)
	}
	if got := len(f.Panels[0].Points); got != marked {
		t.Errorf("%d operating points are marked, want %d", got, marked)
	}
}

// atRising reads a pump curve, whose heads fall as flows grow.
func atRising(c plant.HeadCurve, q float64) float64 {
	h, _ := at(c, q)
	return h
}
