package draw

import (
	"math"
	"slices"
	"testing"
)

// The points of Hyndman and Fan's definition 5 by its own words: the k-th of n values at
// (k - 0.5)/n.
func TestDistribution(t *testing.T) {
	d := NewDistribution([]float64{4, 1, math.NaN(), 3, 2, math.Inf(1)})
	for _, tt := range []struct{ share, want float64 }{
		{0, 1},
		{0.125, 1},
		{0.25, 1.5},
		{0.375, 2},
		{0.5, 2.5},
		{0.875, 4},
		{1, 4},
	} {
		if got := d.At(tt.share); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("at %v: %v, want %v", tt.share, got, tt.want)
		}
	}
	if got := d.Chances(2, 3.5); !slices.Equal(got, []float64{0.25, 0.5, 0.25}) {
		t.Errorf("chances %v", got)
	}
	if one := NewDistribution([]float64{7}); one.At(0.05) != 7 || one.Median() != 7 {
		t.Error("one value is not its own percentile")
	}
	if none := NewDistribution(nil); !math.IsNaN(none.Median()) || none.Chances(1)[0] != 0 {
		t.Error("no values have a median")
	}
}
