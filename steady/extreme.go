package steady

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
