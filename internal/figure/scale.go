package figure

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// scale maps numbers to places, with even round ticks; by their logarithm where log is set.
type scale struct {
	low, high, step float64
	from, to        float64
	log             bool
}

func (s scale) at(v float64) float64 {
	if s.log {
		return s.from + math.Log(v/s.low)/math.Log(s.high/s.low)*(s.to-s.from)
	}
	return s.from + (v-s.low)/(s.high-s.low)*(s.to-s.from)
}

// newScale covers the data with ticks of 1, 2, 2.5 or 5 times a power of ten.
func newScale(low, high, from, to float64, about int, whole bool) scale {
	if !(low < high) {
		pad := math.Max(math.Abs(low)*0.1, 1e-3)
		low, high = low-pad, high+pad
	}
	raw := (high - low) / float64(about)
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 2.5, 5, 10} {
		if m*step >= raw*(1-1e-9) {
			step *= m
			break
		}
	}
	if whole {
		low, high = math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step
	}
	return scale{low: low, high: high, step: step, from: from, to: to}
}

// newLogScale covers the data, all above zero, to the next of 1, 2 and 5 times a power of
// ten where whole is set, or where fewer than two of them stand within the data.
func newLogScale(low, high, from, to float64, whole bool) scale {
	if !(low*1.001 < high) {
		low, high = low/2, high*2
	}
	s := scale{low: low, high: high, from: from, to: to, log: true}
	if !whole && len(s.ticks()) > 1 {
		return s
	}
	steps := decades(low/10, high*10)
	for _, v := range steps {
		if v <= low*(1+1e-9) {
			s.low = v
		}
	}
	for _, v := range slices.Backward(steps) {
		if v >= high*(1-1e-9) {
			s.high = v
		}
	}
	return s
}

// decades lists 1, 2 and 5 times each power of ten from low to high.
func decades(low, high float64) []float64 {
	var out []float64
	for k := math.Floor(math.Log10(low)); math.Pow(10, k) <= high; k++ {
		for _, m := range []float64{1, 2, 5} {
			if v := m * math.Pow(10, k); v >= low*(1-1e-9) && v <= high*(1+1e-9) {
				out = append(out, v)
			}
		}
	}
	return out
}

func (s scale) ticks() []float64 {
	if s.log {
		return decades(s.low, s.high)
	}
	var out []float64
	for k := math.Ceil(s.low/s.step - 1e-9); k*s.step <= s.high+1e-9*s.step; k++ {
		out = append(out, k*s.step)
	}
	return out
}

// label writes a tick with the digits that its step needs.
func (s scale) label(v float64) string {
	if s.log {
		return strconv.FormatFloat(v, 'f', max(0, -int(math.Floor(math.Log10(v)+1e-9))), 64)
	}
	digits := max(0, -int(math.Floor(math.Log10(s.step)+1e-9)))
	if shown := s.step * math.Pow(10, float64(digits)); math.Abs(shown-math.Round(shown)) > 1e-6 {
		digits++
	}
	if math.Abs(v) < s.step*1e-6 {
		v = 0
	}
	return strings.Replace(strconv.FormatFloat(v, 'f', digits, 64), "-", "−", 1)
}
