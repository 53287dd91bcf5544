package steady

import "math"

// root returns where f changes sign between a and b > a, to round-off, given f(a)
// and f(b) of opposite sign or zero. Where f jumps over zero it returns the side
// of the jump that is nearer to zero. The method is ITP (Oliveira I.F.D. and
// Takahashi R.H.C., ACM Trans. Math. Software 47(1), 2021): never more steps than
// bisection plus one, and far fewer on smooth functions.
func root(f func(float64) float64, a, b, fa, fb float64) float64 {
	if fa == 0 {
		return a
	}
	if fb == 0 {
		return b
	}
	sign := 1.0
	if fa > 0 {
		sign = -1
	}
	ya, yb := sign*fa, sign*fb
	eps := math.Max(math.Max(math.Abs(a), math.Abs(b))*0x1p-53, 1e-300)
	width := b - a
	most := math.Max(0, math.Ceil(math.Log2(width/(2*eps)))) + 1
	for step := 0.0; b-a > 2*eps && step <= most; step++ {
		x := next(a, b, ya, yb, eps*math.Exp2(most-step), 0.2/width)
		if x == a || x == b {
			break
		}
		switch y := sign * f(x); {
		case y == 0:
			return x
		case y > 0:
			b, yb = x, y
		default:
			a, ya = x, y
		}
	}
	if -ya < yb {
		return a
	}
	return b
}

// next is one ITP step on the bracket with f(a) < 0 < f(b): the secant's zero
// (interpolate), moved towards the middle by k1 w^2 (truncate), and held within
// the reach that bisection would have (project).
func next(a, b, ya, yb, reach, k1 float64) float64 {
	half := a + (b-a)/2
	x := half
	if secant := (yb*a - ya*b) / (yb - ya); secant > a && secant < b {
		toward := math.Copysign(1, half-secant)
		w := b - a
		if d := k1 * w * w; d <= math.Abs(half-secant) {
			x = secant + toward*d
		}
		if r := reach - w/2; math.Abs(x-half) > r {
			x = half - toward*math.Max(r, 0)
		}
	}
	return x
}

// extreme returns where f is greatest (sign 1) or least (sign -1) between a and
// b, by golden section.
func extreme(f func(float64) float64, a, b, sign float64) float64 {
	const gold = 0.6180339887498949
	x, y := b-gold*(b-a), a+gold*(b-a)
	fx, fy := sign*f(x), sign*f(y)
	for range 40 {
		if fx >= fy {
			b, y, fy = y, x, fx
			x = b - gold*(b-a)
			fx = sign * f(x)
		} else {
			a, x, fx = x, y, fy
			y = a + gold*(b-a)
			fy = sign * f(y)
		}
	}
	return (a + b) / 2
}
