package pump

import (
	"math"

	"gonum.org/v1/gonum/interp"
)

// Point is one point of a head curve.
type Point struct {
	FlowM3S float64
	HeadM   float64
}

// Origin says from what a curve was made.
type Origin uint8

// The origins of a curve.
const (
	FromPoints    Origin = iota // three or more points of a data sheet or test
	FromTwoPoints               // two points: a parabola is assumed between them
	FromDuty                    // one point: shut-off head and end are assumed too
)

// String says the origin in plain words.
func (o Origin) String() string {
	return [...]string{"points", "two points and a parabola", "duty point and assumed shut-off head"}[o]
}

// Condition says where on a curve a reading was taken.
type Condition uint8

// The conditions. Every one but OnCurve is to be shown to the user.
const (
	OnCurve    Condition = iota // between the first and the last point
	BelowFirst                  // below the first point's flow: continued to shut-off by assumption
	Runout                      // beyond the last point: the number only serves a solver
	Backflow                    // flow below zero: this package does not describe it
	NotAFlow                    // the flow asked for is not a finite number
)

// String says the condition in plain words.
func (c Condition) String() string {
	return [...]string{
		"on the curve", "below the first point", "beyond the end of the curve", "reverse flow",
		"not a flow",
	}[c]
}

// Reading is a number read off a curve: its value in SI, its range where the
// curve was assumed (else Low and High equal SI), and where it was taken.
type Reading struct {
	SI, Low, High float64
	Condition     Condition
}

func exact(v float64, c Condition) Reading { return Reading{v, v, v, c} }

// lowestHeadM bounds the head of a flow far beyond the end of a curve.
const lowestHeadM = -1e12

// Curve is the head of a pump over its flow at one speed. The zero Curve has no
// points; make one with NewCurve or FromDutyPoint. A Curve does not change.
type Curve struct {
	origin Origin
	points []Point // at speed ratio 1
	shape  shape   // at speed ratio 1, between first and last point
	ratio  float64
}

// shape gives head and its slope between the ends of a curve.
type shape interface {
	at(q float64) (headM, slope float64)
}

// parabola is h = a - b q^2.
type parabola struct{ a, b float64 }

func (p parabola) at(q float64) (headM, slope float64) { return p.a - p.b*q*q, -2 * p.b * q }

// cubic is the interpolant that keeps the shape of the points: it rises only
// where they rise (Fritsch F.N. and Butland J., SIAM J. Sci. Stat. Comput. 5, 1984).
type cubic []piece

// piece is v + x (s + x (b + x c)) at the flow from + x, up to the flow of the next piece.
type piece struct{ from, v, s, b, c float64 }

func (c cubic) at(q float64) (headM, slope float64) {
	i := 0
	for i+1 < len(c) && q >= c[i+1].from {
		i++
	}
	p := &c[i]
	x := q - p.from
	return p.v + x*(p.s+x*(p.b+x*p.c)), p.s + x*(2*p.b+3*x*p.c)
}

// newCubic lays the interpolant through two or more values; the last piece is the end alone.
func newCubic(flows, values []float64) cubic {
	var fit interp.FritschButland
	_ = fit.Fit(flows, values) // returns nil always; its panics are ruled out by checkFlows
	out := make(cubic, len(flows))
	last := len(flows) - 1
	for i, q := range flows {
		p := piece{from: q, v: values[i], s: fit.PredictDerivative(q)}
		if i < last {
			w := flows[i+1] - q
			rise, end := (values[i+1]-p.v)/w, fit.PredictDerivative(flows[i+1])
			p.b, p.c = (3*rise-2*p.s-end)/w, (p.s+end-2*rise)/(w*w)
		}
		out[i] = p
	}
	return out
}

// NewCurve makes a curve from two or more points in the order of rising flow.
// Through three or more it lays the shape-preserving cubic of Fritsch and
// Butland (1984); through two the parabola h = a - b q^2, because a straight line
// would deny the flat shut-off of a centrifugal pump (common practice, no
// source). The problems hold everything found; the curve is usable when their
// Err is nil.
func NewCurve(points []Point) (Curve, Problems) {
	flows, heads := make([]float64, len(points)), make([]float64, len(points))
	for i, x := range points {
		flows[i], heads[i] = x.FlowM3S, x.HeadM
	}
	p := checkFlows(flows)
	if p.Err() == nil {
		p = append(p, checkHeads(points)...)
	}
	if p.Err() != nil {
		return Curve{}, p
	}
	c := Curve{points: append([]Point(nil), points...), ratio: 1}
	if len(points) == 2 {
		c.origin, c.shape = FromTwoPoints, parabolaThrough(points[0], points[1])
		p.add(OnlyTwoPoints, -1, "two points only: a parabola is laid through them; more points make the flow surer")
	} else {
		c.shape = newCubic(flows, heads)
	}
	if points[0].FlowM3S > 0 {
		p.add(NoShutOff, 0, "the curve starts at %.4g m3/s: the head at shut-off is assumed to be %.4g m, continuing the slope of the first point", points[0].FlowM3S, c.ShutOffM())
	}
	return c, p
}

func parabolaThrough(x, y Point) parabola {
	b := (x.HeadM - y.HeadM) / (y.FlowM3S*y.FlowM3S - x.FlowM3S*x.FlowM3S)
	return parabola{x.HeadM + b*x.FlowM3S*x.FlowM3S, b}
}

// Origin says from what the curve was made.
func (c Curve) Origin() Origin { return c.origin }

// SpeedRatio is the speed of the curve over the speed of its points.
func (c Curve) SpeedRatio() float64 { return c.ratio }

// Points returns the curve's points at its speed.
func (c Curve) Points() []Point {
	out := make([]Point, len(c.points))
	for i, x := range c.points {
		out[i] = Point{AffinityFlow(x.FlowM3S, c.ratio), AffinityHead(x.HeadM, c.ratio)}
	}
	return out
}

// TimesHead is the curve with all its heads times the ratio, which is above zero: the
// curve of a pump that lifts a little more or less than its data sheet says.
func (c Curve) TimesHead(ratio float64) Curve {
	out := c
	out.points = make([]Point, len(c.points))
	for i, x := range c.points {
		out.points[i] = Point{x.FlowM3S, ratio * x.HeadM}
	}
	out.shape = scaled{c.shape, ratio}
	return out
}

// scaled is a shape with its heads times a ratio.
type scaled struct {
	shape
	ratio float64
}

func (s scaled) at(q float64) (headM, slope float64) {
	headM, slope = s.shape.at(q)
	return s.ratio * headM, s.ratio * slope
}

// Range is the flow of the first and of the last point, m3/s: between them the
// curve is known, beyond the last is runout.
func (c Curve) Range() (lowM3S, highM3S float64) {
	if len(c.points) == 0 {
		return 0, 0
	}
	return c.ratio * c.points[0].FlowM3S, c.ratio * c.points[len(c.points)-1].FlowM3S
}

// ShutOffM is the head at zero flow, m.
func (c Curve) ShutOffM() float64 { return c.Head(0).SI }

// Head reads the head at the flow q, m3/s, in m of the liquid. The Condition says
// whether the flow lies on the curve. Off the curve the head is continued so that
// a solver can search there: below the first point by the parabola that has its
// head and slope (flat if the head rises there); beyond the last by its slope and
// a downward curvature of the greatest head over the last flow squared; for
// reverse flow by the shut-off head.
func (c Curve) Head(q float64) Reading {
	h, _, cond := c.read(q)
	return exact(h, cond)
}

// Slope is the change of head with flow at the flow q, s/m2, with the same
// conditions as Head.
func (c Curve) Slope(q float64) Reading {
	_, s, cond := c.read(q)
	return exact(s, cond)
}

func (c Curve) read(q float64) (headM, slope float64, cond Condition) {
	if len(c.points) == 0 || math.IsNaN(q) || math.IsInf(q, 0) {
		return 0, 0, NotAFlow
	}
	h, s, cond := c.full(q / c.ratio)
	return math.Max(c.ratio*c.ratio*h, lowestHeadM), c.ratio * s, cond
}

// full reads the curve at speed ratio 1. A last flow that was scaled to another
// speed and back is still on the curve.
func (c Curve) full(q float64) (headM, slope float64, cond Condition) {
	first, last := c.points[0], c.points[len(c.points)-1]
	switch {
	case q < 0:
		h, _, _ := c.full(0)
		return h, 0, Backflow
	case q < first.FlowM3S*(1-1e-12):
		_, s := c.shape.at(first.FlowM3S)
		part, s := q/first.FlowM3S, math.Min(s,
			0) // a share: the bend itself has no bound as the first flow goes to nothing
		return first.HeadM + s/2*(q*part-first.FlowM3S), s * part, BelowFirst
	case q <= last.FlowM3S*(1+1e-12):
		h, s := c.shape.at(math.Min(math.Max(q, first.FlowM3S), last.FlowM3S))
		return h, s, OnCurve
	}
	_, s := c.shape.at(last.FlowM3S)
	bend, beyond := c.topM()/(last.FlowM3S*last.FlowM3S), q-last.FlowM3S
	h := last.HeadM + beyond*(math.Min(s, 0)-bend*beyond)
	return math.Max(h, lowestHeadM), math.Max(math.Min(s, 0)-2*bend*beyond, lowestHeadM), Runout
}

// topM is the greatest head of the points at speed ratio 1.
func (c Curve) topM() float64 {
	top := 0.0
	for _, x := range c.points {
		top = math.Max(top, x.HeadM)
	}
	return top
}

// Source is a curve as a solver sees it: a head for every flow, and the range in
// which it is known.
type Source struct{ curve Curve }

// Source returns the curve as a solver sees it.
func (c Curve) Source() Source { return Source{c} }

// Head is the head at the flow q, m; the solver compares q with Range.
func (s Source) Head(q float64) float64 { return s.curve.Head(q).SI }

// Range is the range of flow in which the head is known, m3/s.
func (s Source) Range() (lowM3S, highM3S float64) { return s.curve.Range() }
