package figure

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A thinned line keeps its greatest and least point, its ends and its gaps, in order.
func TestThin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20000).Draw(t, "points")
		s := Series{X: make([]float64, n), Y: make([]float64, n)}
		for i := range n {
			s.X[i], s.Y[i] = float64(i), math.Sin(float64(i)*0.37)
		}
		place := rapid.IntRange(0, n-1)
		for range rapid.IntRange(0, 20).Draw(t, "gaps") {
			s.Y[place.Draw(t, "gap")] = math.NaN()
		}
		peak, pit := place.Draw(t, "peak"), place.Draw(t, "pit")
		s.Y[pit], s.Y[peak] = -100, 100
		var all []int
		pieces := s.track().thin()
		for _, piece := range pieces {
			for k, i := range piece {
				if k > 0 && slices.ContainsFunc(s.Y[piece[k-1]:i], math.IsNaN) {
					t.Fatalf("a gap is drawn over between %d and %d", piece[k-1], i)
				}
			}
			all = append(all, piece...)
		}
		if len(all) > 2*buckets+2 {
			t.Errorf("%d points are left of %d", len(all), n)
		}
		if !slices.IsSorted(all) || !slices.Contains(all, peak) || pit != peak && !slices.Contains(all, pit) {
			t.Errorf("the peak %d or the pit %d is lost, or the order", peak, pit)
		}
		first := slices.IndexFunc(s.Y, drawable)
		if all[0] != first || all[len(all)-1] != s.end() {
			t.Errorf("from %d to %d, want from %d to %d", all[0], all[len(all)-1], first, s.end())
		}
	})
}

func TestBetween(t *testing.T) {
	nan := math.NaN()
	s := Series{X: []float64{0, 1, 2, 3}, Y: []float64{0, 2, nan, 4}}
	for _, tt := range []struct{ x, want float64 }{{-1, nan}, {0, 0}, {0.5, 1}, {1, 2}, {1.5, nan}, {2, nan}, {3, 4}, {4, nan}, {nan, nan}} {
		if got := s.track().between(tt.x); got != tt.want && !(math.IsNaN(got) && math.IsNaN(tt.want)) {
			t.Errorf("at %g: %g, want %g", tt.x, got, tt.want)
		}
	}
}

// The area of Fill lies between two series of different points; Low goes before it.
func TestLower(t *testing.T) {
	next := Series{X: []float64{0, 2}, Y: []float64{0, 4}}
	s := Series{X: []float64{0, 1, 2}, Y: []float64{9, 9, 9}, Fill: true}
	if got := s.lower(&next); !slices.Equal(got, []float64{0, 2, 4}) {
		t.Errorf("%v", got)
	}
	if got := s.lower(nil); got != nil {
		t.Errorf("without a next series: %v", got)
	}
	s.Low = []float64{5, 5, 5}
	if got := s.lower(&next); !slices.Equal(got, s.Low) {
		t.Errorf("%v", got)
	}
}

// Dashes take the line's whole length in their turn, round its corners.
func TestStrokes(t *testing.T) {
	out := strokes([]point{{0, 0}, {10, 0}, {10, 10}}, [2]float64{6, 3})
	want := [][2]point{{{0, 0}, {6, 0}}, {{9, 0}, {10, 0}}, {{10, 0}, {10, 5}}, {{10, 8}, {10, 10}}}
	if !slices.Equal(out, want) {
		t.Errorf("%v, want %v", out, want)
	}
}
