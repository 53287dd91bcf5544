package valve

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// TestCurveIsTheFit holds the curve to the fit of the library that it was made of, within
// and outside its ends.
func TestCurveIsTheFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfNDistinct(rapid.IntRange(0, 40), 2, 9, rapid.ID[int]).Draw(t, "x")
		slices.Sort(x)
		var xs, ys []float64
		for _, v := range x {
			xs, ys = append(xs, float64(v)/10), append(ys, rapid.Float64Range(-5, 5).Draw(t, "y"))
		}
		c, err := newCurve(xs, ys)
		if err != nil {
			t.Fatal(err)
		}
		var want interp.FritschButland
		if err := want.Fit(xs, ys); err != nil {
			t.Fatal(err)
		}
		at := rapid.Float64Range(-0.5, 4.5).Draw(t, "at")
		if got := c.at(at); math.Abs(got-want.Predict(at)) > 1e-12 {
			t.Errorf("at %g: %g, the fit has %g", at, got, want.Predict(at))
		}
		slope := want.PredictDerivative(at)
		if at < xs[0] || at > xs[len(xs)-1] {
			slope = 0 // level there, where the library's slope is that of the end
		}
		if got := c.slope(at); math.Abs(got-slope) > 1e-9 {
			t.Errorf("slope at %g: %g, not %g", at, got, slope)
		}
	})
}
