package draw

import "math"

// Normal is the standard normal deviate that a share u (0 to 1) of all cases stays below.
func Normal(u float64) float64 { return math.Sqrt2 * math.Erfinv(2*u-1) }

// Shares of a low-best-high range (physics A7.1).
const (
	lowShare  = 0.05
	highShare = 0.95
	// cutShare is where a draw ends. Whoever gives a range knows nothing of what lies far
	// outside it, and the normal curve would invent it: a draw never leaves the range by more
	// than 0.42 of the distance from best to its end.
	cutShare = 0.01
)

// Range is an uncertain value: Low, Best and High are its 5, 50 and 95 % points. Each side
// of Best is half of a normal curve, or of a lognormal one where Log is set and Low is
// above zero. A side without width (Low equal to Best) stays at Best.
//
// Draws end at the 1 and 99 % points. A value whose Low is above zero stays above zero: where
// the straight scale would cross zero before its 1 % point, the lower side goes by the logarithm.
// A value whose Low is zero stops at zero.
type Range struct {
	Low, Best, High float64
	Log             bool
}

// At is the value that a share u (0 to 1) of all cases stays below.
func (r Range) At(u float64) float64 {
	z := Normal(min(max(u, cutShare), 1-cutShare)) / Normal(highShare)
	end := r.High
	if z < 0 {
		z, end = -z, r.Low
	}
	straight := r.Best + z*(end-r.Best)
	if r.Low <= 0 {
		if r.Low == 0 {
			return max(straight, 0)
		}
		return straight
	}
	crosses := end == r.Low && r.Best+Normal(1-cutShare)/Normal(highShare)*(r.Low-r.Best) <= 0
	if r.Log || crosses {
		return r.Best * math.Pow(end/r.Best, z)
	}
	return straight
}
