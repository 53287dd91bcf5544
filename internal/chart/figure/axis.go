package figure

import (
	"math"
	"strconv"
	"strings"
)

// axis maps numbers to places and holds even, round ticks.
type axis struct {
	low, high, step float64
	from, to        float64
	ticks           []float64
	labels          []string
}

func (a *axis) at(v float64) float64 {
	return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from)
}

// tiny is the span, as a share of the numbers, below which a series is called constant:
// a chart that blew up the last digits of a calculation would tell of nothing.
const tiny = 1e-6

// sensible opens a range that has no width worth drawing.
func sensible(low, high float64) (float64, float64) {
	size := math.Max(math.Abs(low), math.Abs(high))
	if high-low > tiny*size && high-low > 1e-100 {
		return low, high
	}
	pad := 0.1 * size
	if size < 1e-99 {
		pad = 1
	}
	return low - pad, high + pad
}

// roundStep is the smallest of 1, 2, 2.5 or 5 times a power of ten that divides the span
// into no more than so many parts.
func roundStep(span float64, parts int) float64 {
	raw := span / float64(parts)
	exponent := math.Floor(math.Log10(raw))
	for _, m := range []float64{1, 2, 2.5, 5, 10, 20} {
		if step := tens(m, exponent); step >= raw*(1-1e-9) {
			return step
		}
	}
	return tens(100, exponent)
}

// tens is m·10^exponent, the same number that its decimal text means.
func tens(m, exponent float64) float64 {
	if exponent < 0 {
		return m / math.Pow(10, -exponent)
	}
	return m * math.Pow(10, exponent)
}

// newY is a vertical axis whose ticks take in all of the data. Its ticks suit a height,
// and their labels do not meet when the chart is no higher than least.
func newY(low, high, height, least float64) axis {
	low, high = sensible(low, high)
	for parts := min(max(1, int(height/30)), 8); ; parts-- {
		step := roundStep(high-low, parts)
		a := axis{low: math.Floor(low/step+1e-6) * step, high: math.Ceil(high/step-1e-6) * step, step: step}
		if (a.high-a.low)/step*14 <= least || parts == 1 {
			a.mark()
			return a
		}
	}
}

// newX is a horizontal axis that ends at the data, or at a tick close by, with as many
// ticks as have room for their labels.
func newX(low, high, from, to float64, width func(string) float64) axis {
	low, high = sensible(low, high)
	// Two parts or more hold a tick for sure: a step is at most twice as long as a part.
	for parts := max(2, min(int((to-from)/64), 12)); ; parts-- {
		a := axis{low: low, high: high, step: roundStep(high-low, parts), from: from, to: to}
		near := 0.04 * (high - low)
		if tick := math.Floor(low/a.step+1e-9) * a.step; low-tick < near {
			a.low = math.Min(low, tick)
		}
		if tick := math.Ceil(high/a.step-1e-9) * a.step; tick-high < near {
			a.high = math.Max(high, tick)
		}
		a.mark()
		most := 0.0
		for _, l := range a.labels {
			most = math.Max(most, width(l))
		}
		if most+10 <= a.step/(a.high-a.low)*(to-from) || len(a.ticks) < 2 {
			return a
		}
		if parts == 2 {
			a.ticks, a.labels = a.ticks[:1], a.labels[:1]
			return a
		}
	}
}

// mark sets the ticks and writes their labels with the digits that the step needs.
func (a *axis) mark() {
	first, last := math.Ceil(a.low/a.step-1e-6), math.Floor(a.high/a.step+1e-6)
	size := math.Max(math.Abs(a.low), math.Abs(a.high))
	powers := size >= 1e6 || a.step < 1e-4
	digits := max(0, decimals(a.step))
	if powers {
		digits = max(0, decimals(a.step)+int(math.Floor(math.Log10(size))))
	}
	for k := first; k <= last; k++ {
		v := k * a.step
		format := byte('f')
		if powers && v != 0 {
			format = 'e'
		}
		text := strconv.FormatFloat(v, format, digits, 64)
		text = strings.Replace(strings.Replace(text, "e+0", "e", 1), "e-0", "e-", 1)
		text = strings.Replace(text, "e+", "e", 1)
		if v == 0 {
			text = "0"
		}
		a.ticks, a.labels = append(a.ticks, v), append(a.labels, strings.ReplaceAll(text, "-", "−"))
	}
}

// decimals is how many digits after the point a step needs; below zero where its last
// digits are all zeros.
func decimals(step float64) int {
	exponent := int(math.Floor(math.Log10(step) + 1e-9))
	if lead := step / tens(1, float64(exponent)); math.Abs(lead-math.Round(lead)) > 1e-6 {
		return 1 - exponent
	}
	return -exponent
}
