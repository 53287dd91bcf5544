package valve

import "math"

// cells is how many pieces a lattice has. A law that swings is met within 0.8 % at the
// corners of its tables and far better elsewhere; the tables' own doubt is 5 to 30 %.
const cells = 64

// The columns of a lattice. Losses are times the square of the opening, since a loss grows
// with its inverse square toward the seat.
const (
	lossForward = iota
	lossReverse
	areaForward
	areaReverse
	closingForce
	movingMass
	pullOfWater
	columns
)

// lattice is a law of one resistance written down once, at openings from the seat to the stroke
// whose square roots are evenly apart, with cubics between: near the seat a law bends most. A
// step of a closing asks a law half a dozen times, and one that is put together of sines and
// curves costs more than the step itself.
type lattice struct {
	from, perOpening float64
	swept, friction  float64
	cell             [cells][columns]cubic
}

// newLattice writes the law down.
func newLattice(law Law, stroke float64) *lattice {
	from := seatShare * stroke
	l := &lattice{from: from, perOpening: cells * cells / (stroke - from)}
	var x [cells + 1]float64
	var y [columns][cells + 1]float64
	for i := range x {
		x[i] = from + float64(i*i)/l.perOpening
		if i == cells {
			x[i] = stroke
		}
		var s State
		law(x[i], &s)
		t, square := &s.Terms[0], x[i]*x[i]
		for c, value := range [columns]float64{
			t.Forward.Loss * square, t.Reverse.Loss * square, t.Forward.Area,
			t.Reverse.Area, s.Closing, s.Mass, s.Coupling,
		} {
			y[c][i] = value
		}
		l.swept, l.friction = t.Swept, s.Friction
	}
	for c := range y {
		before := parabolaSlope(x[:3], y[c][:3], 0)
		for i := range l.cell {
			after := parabolaSlope(x[cells-2:], y[c][cells-2:], 2)
			if i+2 <= cells {
				after = parabolaSlope(x[i:i+3], y[c][i:i+3], 1)
			}
			l.cell[i][c] = hermite(x[i], x[i+1], y[c][i], y[c][i+1], before, after)
			before = after
		}
	}
	return l
}

// parabolaSlope is the slope at the point k of the parabola through three points.
func parabolaSlope(x, y []float64, k int) float64 {
	left, right := x[1]-x[0], x[2]-x[1]
	first, second := (y[1]-y[0])/left, (y[2]-y[1])/right
	bend := (second - first) / (left + right)
	return first + bend*(2*x[k]-x[0]-x[1])
}

// state is the Law that was written down.
func (l *lattice) state(xi float64, s *State) {
	c := &l.cell[min(int(math.Sqrt(max(xi-l.from, 0)*l.perOpening)), cells-1)]
	d, shrink := xi-c[0].from, 1/(xi*xi)
	t := &s.Terms[0]
	t.Forward.Loss, t.Reverse.Loss = c[lossForward].at(d)*shrink, c[lossReverse].at(d)*shrink
	t.Forward.Area, t.Reverse.Area = c[areaForward].at(d), c[areaReverse].at(d)
	t.Swept, s.Friction, s.Closing = l.swept, l.friction, c[closingForce].at(d)
	s.Mass, s.MassSlope = c[movingMass].at(d), c[movingMass].slope(d)
	s.Coupling, s.CouplingSlope = c[pullOfWater].at(d), c[pullOfWater].slope(d)
}
