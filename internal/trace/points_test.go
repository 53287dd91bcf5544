package trace

import "math"

// Points is a source of times in s and readings, for what is computed or short.
type Points struct{ T, V []float64 }

// Len is the number of points.
func (p Points) Len() int { return min(len(p.T), len(p.V)) }

// Time is the time of a point, ns.
func (p Points) Time(i int) int64 { return int64(math.Round(p.T[i] / nanosecond)) }

// At is its value; NaN is none.
func (p Points) At(i int) (float64, bool) { return p.V[i], !math.IsNaN(p.V[i]) }
