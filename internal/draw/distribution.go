package draw

import (
	"math"
	"slices"
)

// Distribution is a sample in rising order.
type Distribution struct{ sorted []float64 }

// NewDistribution takes a sample; what is not a finite number is left out.
func NewDistribution(sample []float64) Distribution {
	sorted := slices.DeleteFunc(slices.Clone(sample), func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) })
	slices.Sort(sorted)
	return Distribution{sorted}
}

// Len is the size of the sample.
func (d Distribution) Len() int { return len(d.sorted) }

// At is the value that a share (0 to 1) of the sample stays below: the k-th of n values
// (from 1) stands at the share (k - 0.5)/n, between them the line is straight, and outside
// the least or greatest value holds (Hyndman and Fan 1996, definition 5). NaN without values.
func (d Distribution) At(share float64) float64 {
	n := len(d.sorted)
	if n == 0 {
		return math.NaN()
	}
	x := min(max(share*float64(n)-0.5, 0), float64(n-1))
	i := min(int(x), max(n-2, 0))
	if n == 1 {
		return d.sorted[0]
	}
	return d.sorted[i] + (x-float64(i))*(d.sorted[i+1]-d.sorted[i])
}

// Median has half of the sample on either side.
func (d Distribution) Median() float64 { return d.At(0.5) }

// Interval is the 5 and the 95 % point.
func (d Distribution) Interval() (low, high float64) { return d.At(lowShare), d.At(highShare) }

// MiddleHalf is the 25 and the 75 % point.
func (d Distribution) MiddleHalf() (low, high float64) { return d.At(0.25), d.At(0.75) }

// Chances are the shares of the sample in the classes that rising limits divide: the first
// below limits[0], the last at or above all limits. They sum to 1; zero without values.
func (d Distribution) Chances(limits ...float64) []float64 {
	chances := make([]float64, len(limits)+1)
	for _, x := range d.sorted {
		k := 0
		for k < len(limits) && x >= limits[k] {
			k++
		}
		chances[k] += 1 / float64(len(d.sorted))
	}
	return chances
}
