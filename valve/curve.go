package valve

import (
	"fmt"

	"gonum.org/v1/gonum/interp"
)

// curve is a smooth curve through points that makes no wave between them
// (Fritsch and Butland 1984), level outside its ends.
type curve struct{ interp.FritschButland }

func newCurve(x, y []float64) (curve, error) {
	var c curve
	if len(x) != len(y) || len(x) < 2 {
		return c, fmt.Errorf("a curve of %d and %d numbers: at least two points are needed", len(x), len(y))
	}
	for i := 1; i < len(x); i++ {
		if !(x[i] > x[i-1]) {
			return c, fmt.Errorf("points that do not run up: %g after %g", x[i], x[i-1])
		}
	}
	return c, c.Fit(x, y)
}

// tabulated is the curve through a table of this package.
func tabulated(x, y []float64) curve {
	c, err := newCurve(x, y)
	if err != nil {
		panic("valve: " + err.Error())
	}
	return c
}

// at is the height at x, slope its derivative; level outside the ends.
func (c *curve) at(x float64) float64    { return c.Predict(x) }
func (c *curve) slope(x float64) float64 { return c.PredictDerivative(x) }
