package trace

import (
	"math"
	"testing"
)

// TestEachStopHasItsSlam: the waves of one stop do not make the slam of the next a later one.
func TestEachStopHasItsSlam(t *testing.T) {
	head := func(t float64) float64 { return stop(math.Mod(t, 200), 0.3) }
	ops := []Operation{
		{AtNS: 20e9},
		{AtNS: 200e9, Start: true},
		{AtNS: 220e9},
		{AtNS: 400e9, Start: true},
		{AtNS: 420e9},
	}
	r := Analyze(logged(head, 0.01, 600, 0.03, 0.01), facts, Options{Operations: ops})
	if len(r.Slams) != 3 {
		t.Fatalf("%d slams, want 3", len(r.Slams))
	}
	for _, s := range r.Slams {
		if s.Later || s.After == nil || math.Abs(s.After.S-1.5) > 0.02 {
			t.Errorf("slam at %d ns: later %v, after %+v", s.AtNS, s.Later, s.After)
		}
	}
}
