package draw

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestRangePoints(t *testing.T) {
	for _, tt := range []struct {
		name    string
		r       Range
		u, want float64
	}{
		{"low", Range{2, 3, 7, false}, 0.05, 2},
		{"best", Range{2, 3, 7, false}, 0.5, 3},
		{"high", Range{2, 3, 7, false}, 0.95, 7},
		{"low by logarithm", Range{2, 3, 7, true}, 0.05, 2},
		{"best by logarithm", Range{2, 3, 7, true}, 0.5, 3},
		{"high by logarithm", Range{2, 3, 7, true}, 0.95, 7},
		{"one deviate up", Range{0, 1, 1 + 1.6448536269514722, false}, 0.8413447460685429, 2},
		{"no width", Range{3, 3, 3, true}, 0.01, 3},
		{"no lower side", Range{3, 3, 5, false}, 0.2, 3},
		{"the logarithm needs a positive low", Range{-1, 1, 3, true}, 0.05, -1},
		{"stops at zero", Range{0, 1, 2, false}, 0.01, 0},
		{"negative", Range{-3, -2, -1, true}, 0.95, -1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.r.At(tt.u); math.Abs(got-tt.want) > 1e-9 {
				t.Errorf("%v at %v is %v, want %v", tt.r, tt.u, got, tt.want)
			}
		})
	}
}

// Values rise with the share, keep their sign, and stay within 0.42 of a side of its end.
func TestRangeRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-6, 10)).Draw(t, "low")
		best := low + rapid.Float64Range(0, 10).Draw(t, "lower side")
		r := Range{low, best, best + rapid.Float64Range(0, 10).Draw(t, "upper side"), rapid.Bool().Draw(t, "log")}
		u := rapid.Float64Range(0, 1).Draw(t, "u")
		v := rapid.Float64Range(u, 1).Draw(t, "v")
		a, b := r.At(u), r.At(v)
		if math.IsNaN(a) || a > b*(1+1e-12) {
			t.Fatalf("%v at %v is %v, at %v it is %v", r, u, a, v, b)
		}
		if a < 0 || r.Low > 0 && a == 0 {
			t.Fatalf("%v at %v is %v", r, u, a)
		}
		if !r.Log && a < r.Low-0.42*(r.Best-r.Low) && r.Low-0.42*(r.Best-r.Low) > 0 {
			t.Fatalf("%v at %v is %v", r, u, a)
		}
	})
}
