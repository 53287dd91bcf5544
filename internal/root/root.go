// Package root finds where a function of one number changes sign.
package root

import "math"

// Point is a place and the function there.
type Point struct{ X, Y float64 }

// Find returns where f changes sign between a and b, a.X < b.X, of which one has a Y above
// zero and one below, or one zero. It is known to within on either side, or to round-off
// where that is more. Where f jumps over zero it returns the side of the jump that is
// nearer to zero. The method is ITP (Oliveira I.F.D. and Takahashi R.H.C., ACM Trans. Math.
// Software 47(1), 2021): never more steps than bisection plus one, and far fewer on smooth
// functions.
func Find(f func(float64) float64, a, b Point, within float64) float64 {
	if a.Y == 0 {
		return a.X
	}
	if b.Y == 0 {
		return b.X
	}
	sign := 1.0
	if a.Y > 0 {
		sign = -1
	}
	a.Y, b.Y = sign*a.Y, sign*b.Y
	eps := math.Max(math.Max(math.Max(math.Abs(a.X), math.Abs(b.X))*0x1p-53, within), 1e-300)
	width := b.X - a.X
	most := math.Max(0, math.Ceil(math.Log2(width/(2*eps)))) + 1
	for step := 0.0; b.X-a.X > 2*eps && step <= most; step++ {
		x := next(a, b, eps*math.Exp2(most-step), 0.2/width)
		if x == a.X || x == b.X {
			break
		}
		switch y := sign * f(x); {
		case y == 0:
			return x
		case y > 0:
			b = Point{x, y}
		default:
			a = Point{x, y}
		}
	}
	if -a.Y < b.Y {
		return a.X
	}
	return b.X
}

// Around finds where a falling function changes sign, near x: a bracket of the width on
// either side is widened until it holds the place. It is false where there is none.
func Around(f func(float64) float64, x, width float64) (float64, bool) {
	low, high := Point{x - width, f(x - width)}, Point{x + width, f(x + width)}
	for step, tries := width, 0; low.Y < 0 && tries < widenings; step, tries = 2*step, tries+1 {
		high = low
		low.X -= step
		low.Y = f(low.X)
	}
	for step, tries := width, 0; high.Y > 0 && tries < widenings; step, tries = 2*step, tries+1 {
		low = high
		high.X += step
		high.Y = f(high.X)
	}
	if !(low.Y >= 0 && high.Y <= 0) {
		return 0, false
	}
	return Find(f, low, high, 0), true
}

// widenings is how often a bracket is doubled before there is no root.
const widenings = 60

// next is one ITP step on the bracket with a.Y < 0 < b.Y: the secant's zero (interpolate),
// moved towards the middle by k1 w^2 (truncate), and held within the reach that bisection
// would have (project).
func next(a, b Point, reach, k1 float64) float64 {
	w := b.X - a.X
	half := a.X + w/2
	x := half
	if secant := (b.Y*a.X - a.Y*b.X) / (b.Y - a.Y); secant > a.X && secant < b.X {
		toward := math.Copysign(1, half-secant)
		if d := k1 * w * w; d <= math.Abs(half-secant) {
			x = secant + toward*d
		}
		if r := reach - w/2; math.Abs(x-half) > r {
			x = half - toward*math.Max(r, 0)
		}
	}
	return x
}
