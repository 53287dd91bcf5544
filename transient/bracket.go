package transient

import "math"

// bracket is where a flow lies, as far as is known.
type bracket struct{ low, high float64 }

// narrow takes in that a try from one flow has found another, which lies on the same side
// as the answer, and chooses the next try: there, or inside the bracket where that leads
// out of it or would leave more than half of it.
func (b *bracket) narrow(from, found float64) (next float64) {
	before := b.width()
	if found > from {
		b.low = math.Max(b.low, from)
	} else {
		b.high = math.Min(b.high, from)
	}
	slow := b.width() > before/2 && !math.IsInf(before, 1)
	if found > b.low && found < b.high && !slow {
		return found
	}
	return within(b.low, b.high)
}

func (b *bracket) width() float64 { return b.high - b.low }

// within is a flow between two, one of which may not be known yet.
func within(low, high float64) float64 {
	switch {
	case math.IsInf(low, -1):
		return high - math.Abs(high) - 1e-3
	case math.IsInf(high, 1):
		return low + math.Abs(low) + 1e-3
	}
	return low + (high-low)/2
}
