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

// rounds are how often the step that crosses is cut in three. Five runs and two for each round
// are what a threshold costs; the step that is left is a 27th of that between two of the five.
const rounds = 3

// Threshold looks for the value of one input, all else as run has it, at which the response
// crosses a limit. Five runs are spread over the range, then the step that crosses nearest to
// Best is cut in three again and again. Run gives the response at each value, and whether it
// has one; it may make them side by side. Where the response crosses more than once, OneWay is
// false, and the value must not be reported as a threshold.
func Threshold(r Range, limit float64, run func(values []float64) (response []float64, ok []bool)) Crossing {
	var c Crossing
	var made []point
	try := func(shares ...float64) (got []point, all bool) {
		values := make([]float64, len(shares))
		for i, u := range shares {
			values[i] = r.At(u)
		}
		c.Runs += len(values)
		response, ok := run(values)
		for i, u := range shares {
			if ok[i] {
				got = append(got, point{u, response[i] >= limit})
			}
		}
		made = append(made, got...)
		return got, len(got) == len(shares)
	}
	spread, _ := try(cutShare, 0.15, 0.5, 0.85, 1-cutShare)
	a, b, found := crossing(spread)
	if !found {
		return c
	}
	for range rounds {
		// Thirds by deviate, so that a step in the tail is cut by value.
		from, to := Normal(a.u), Normal(b.u)
		thirds, all := try(share(from+(to-from)/3), share(to-(to-from)/3))
		a, b, _ = crossing(append(append([]point{a}, thirds...), b))
		if !all {
			break
		}
	}
	c.Found, c.Falling, c.OneWay = true, a.above, true
	middle := share((Normal(a.u) + Normal(b.u)) / 2)
	c.Value = r.At(middle)
	for _, p := range made {
		c.OneWay = c.OneWay && p.above == (p.u < middle == c.Falling)
	}
	return c
}

// point is a run: the share of the range below its value, and whether it is above the limit.
type point struct {
	u     float64
	above bool
}

// crossing is the step between neighbors that crosses, of several the one nearest to the median.
func crossing(made []point) (a, b point, found bool) {
	for k := range len(made) - 1 {
		from, to := made[k], made[k+1]
		if from.above != to.above && (!found || nearest(from.u, to.u) < nearest(a.u, b.u)) {
			a, b, found = from, to, true
		}
	}
	return a, b, found
}

// nearest is how far the step from a to b stays from the median.
func nearest(a, b float64) float64 { return math.Abs((a+b)/2 - 0.5) }

// share is the part of all cases below a standard normal deviate.
func share(z float64) float64 { return (1 + math.Erf(z/math.Sqrt2)) / 2 }
