package valve

import (
	"fmt"

	"gonum.org/v1/gonum/interp"
)

// curve is a smooth curve through points that makes no wave between them
// (Fritsch and Butland 1984), level outside its ends. A step of a closing reads half a
// dozen of them several times, so its cubics are kept where they are read fast.
type curve struct {
	cubics []cubic
	last   float64 // x and height at the end
	end    float64
}

// cubic is the curve from one point to the next: a₀ + a₁ d + a₂ d² + a₃ d³ at the distance
// d from the first.
type cubic struct {
	from           float64
	a0, a1, a2, a3 float64
}

// at is the height at the distance d from where the cubic begins.
func (p *cubic) at(d float64) float64 { return p.a0 + d*(p.a1+d*(p.a2+d*p.a3)) }

// slope is the derivative there.
func (p *cubic) slope(d float64) float64 { return p.a1 + d*(2*p.a2+d*3*p.a3) }

// hermite is the cubic between two points with the slopes there.
func hermite(x0, x1, y0, y1, from, to float64) cubic {
	w, rise := x1-x0, y1-y0
	return cubic{from: x0, a0: y0, a1: from, a2: (3*rise/w - 2*from - to) / w, a3: (from + to - 2*rise/w) / (w * w)}
}

func newCurve(x, y []float64) (curve, error) {
	if len(x) != len(y) || len(x) < 2 {
		return curve{}, fmt.Errorf("a curve of %d and %d numbers: at least two points are needed", len(x), len(y))
	}
	for i := 1; i < len(x); i++ {
		if !(x[i] > x[i-1]) {
			return curve{}, fmt.Errorf("points that do not run up: %g after %g", x[i], x[i-1])
		}
	}
	var fitted interp.FritschButland
	if err := fitted.Fit(x, y); err != nil {
		return curve{}, err
	}
	n := len(x) - 1
	c := curve{last: x[n], end: y[n]}
	for i := range n {
		c.cubics = append(c.cubics, hermite(x[i], x[i+1], y[i], y[i+1], fitted.PredictDerivative(x[i]),
			fitted.PredictDerivative(x[i+1])))
	}
	return c, nil
}

// tabulated is the curve through a table of this package.
func tabulated(x, y []float64) curve {
	c, err := newCurve(x, y)
	if err != nil {
		panic("valve: " + err.Error())
	}
	return c
}

// piece is the cubic at x and the distance from where it begins.
func (c *curve) piece(x float64) (*cubic, float64) {
	i := 0
	for i+1 < len(c.cubics) && x >= c.cubics[i+1].from {
		i++
	}
	p := &c.cubics[i]
	return p, x - p.from
}

// at is the height at x; level outside the ends.
func (c *curve) at(x float64) float64 {
	if x >= c.last {
		return c.end
	}
	p, d := c.piece(x)
	return p.at(max(d, 0))
}

// slope is the derivative at x, 0 outside the ends.
func (c *curve) slope(x float64) float64 {
	p, d := c.piece(x)
	if d < 0 || x > c.last {
		return 0
	}
	return p.slope(d)
}
