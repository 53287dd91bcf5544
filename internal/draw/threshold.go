package draw

import "math"

// Crossing is where a response crosses a limit as one input goes through its range.
type Crossing struct {
	Found   bool    // it crosses inside the 1 to 99 % points of the range
	Value   float64 // of the input
	Falling bool    // the response is above the limit below Value, and under it above
	OneWay  bool    // all runs made lie on the side of the limit that Value says
	Runs    int
}

// mostRuns is what a threshold may cost.
const mostRuns = 10

// Threshold looks for the value of one input, all else as run has it, at which the response
// crosses a limit. Five runs are spread over the range, then the step that crosses nearest to
// Best is halved; run reports false where it has no response. Where the response crosses
// more than once, OneWay is false, and the value must not be reported as a threshold.
func Threshold(r Range, limit float64, run func(value float64) (float64, bool)) Crossing {
	type point struct {
		u     float64
		above bool
	}
	var c Crossing
	var made []point
	try := func(u float64) bool {
		c.Runs++
		y, ok := run(r.At(u))
		if ok {
			made = append(made, point{u, y >= limit})
		}
		return ok && y >= limit
	}
	for _, u := range []float64{cutShare, 0.15, 0.5, 0.85, 1 - cutShare} {
		try(u)
	}
	lower := -1
	for k := range len(made) - 1 {
		crosses := made[k].above != made[k+1].above
		if crosses && (lower < 0 || nearest(made[k].u, made[k+1].u) < nearest(made[lower].u, made[lower+1].u)) {
			lower = k
		}
	}
	if lower < 0 {
		return c
	}
	a, b := made[lower], made[lower+1]
	for c.Runs < mostRuns {
		// Half way by deviate, so that a step in the tail is halved in value.
		u := share((Normal(a.u) + Normal(b.u)) / 2)
		before := len(made)
		above := try(u)
		switch {
		case len(made) == before:
			c.Runs = mostRuns
		case above == a.above:
			a.u = u
		default:
			b.u = u
		}
	}
	c.Found, c.Falling = true, a.above
	middle := share((Normal(a.u) + Normal(b.u)) / 2)
	c.Value = r.At(middle)
	c.OneWay = true
	for _, p := range made {
		c.OneWay = c.OneWay && p.above == (p.u < middle == c.Falling)
	}
	return c
}

// nearest is how far the step from a to b stays from the median.
func nearest(a, b float64) float64 { return math.Abs((a+b)/2 - 0.5) }

// share is the part of all cases below a standard normal deviate.
func share(z float64) float64 { return (1 + math.Erf(z/math.Sqrt2)) / 2 }
