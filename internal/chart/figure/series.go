package figure

import (
	"math"
	"slices"
)

// farthest is the greatest number that is drawn: the differences and squares of larger
// ones would overflow.
const farthest = 1e100

func drawable(v float64) bool { return math.Abs(v) <= farthest }

// buckets is how many pieces a long series is thinned by; each keeps its least and its
// greatest point.
const buckets = 1000

// track is a series or an edge of a band, whose points are all drawable where ok.
type track struct {
	x, y []float64
	ok   func(i int) bool
}

// run is a piece of a track without gaps: from (in) to (out).
type run struct{ from, to int }

func (s *Series) points() int { return min(len(s.X), len(s.Y)) }

func (s *Series) track() track {
	n := s.points()
	return track{s.X[:n], s.Y[:n], func(i int) bool { return drawable(s.X[i]) && drawable(s.Y[i]) }}
}

// end is the last drawable point; -1 when there is none.
func (s *Series) end() int {
	t := s.track()
	for i := len(t.x) - 1; i >= 0; i-- {
		if t.ok(i) {
			return i
		}
	}
	return -1
}

// lower is the other edge of the area that the series tints, at its own points; nil when
// it tints none. Next is the series after it, or nil.
func (s *Series) lower(next *Series) []float64 {
	switch {
	case len(s.Low) > 0:
		return s.Low
	case !s.Fill || next == nil:
		return nil
	}
	t := next.track()
	out := make([]float64, s.points())
	for i := range out {
		out[i] = t.between(s.X[i])
	}
	return out
}

// between reads a track of rising X at any x; NaN outside it and in its gaps.
func (t track) between(x float64) float64 {
	i, exact := slices.BinarySearch(t.x, x)
	if exact && t.ok(i) {
		return t.y[i]
	}
	if i == 0 || i >= len(t.x) || !t.ok(i-1) || !t.ok(i) || t.x[i-1] >= t.x[i] {
		return math.NaN()
	}
	return t.y[i-1] + (x-t.x[i-1])/(t.x[i]-t.x[i-1])*(t.y[i]-t.y[i-1])
}

// runs are the pieces without gaps.
func (t track) runs() []run {
	var out []run
	from := -1
	for i := range len(t.x) + 1 {
		switch inside := i < len(t.x) && t.ok(i); {
		case inside && from < 0:
			from = i
		case !inside && from >= 0:
			out = append(out, run{from, i})
			from = -1
		}
	}
	return out
}

// thin picks the points to draw, as pieces without gaps. Of a long track each bucket
// gives its least and its greatest point, in order, and a break where a gap lies beside
// or between them; the first and the last point stay. No peak is lost.
func (t track) thin() [][]int {
	if len(t.x) <= 2*buckets {
		return t.all()
	}
	var out [][]int
	var piece []int
	take := func(i int) {
		if len(piece) == 0 || piece[len(piece)-1] < i {
			piece = append(piece, i)
		}
	}
	breakOff := func() {
		if len(piece) > 0 {
			out = append(out, piece)
		}
		piece = nil
	}
	runs := t.runs()
	if len(runs) == 0 {
		return nil
	}
	first, last, at := runs[0].from, runs[len(runs)-1].to-1, 0
	for k := range buckets {
		from, to := k*len(t.x)/buckets, (k+1)*len(t.x)/buckets
		for _, i := range t.extremes(from, to, first, last) {
			for at < len(runs) && runs[at].to <= i {
				at++
			}
			if len(piece) > 0 && piece[len(piece)-1] < runs[at].from {
				breakOff()
			}
			take(i)
		}
	}
	breakOff()
	return out
}

// extremes are the points of one bucket that are drawn, in order.
func (t track) extremes(from, to, first, last int) []int {
	low, high := -1, -1
	for i := from; i < to; i++ {
		if !t.ok(i) {
			continue
		}
		if low < 0 || t.y[i] < t.y[low] {
			low = i
		}
		if high < 0 || t.y[i] > t.y[high] {
			high = i
		}
	}
	if low < 0 {
		return nil
	}
	out := []int{low, high}
	for _, i := range []int{first, last} {
		if i >= from && i < to {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// all is every point, in pieces without gaps.
func (t track) all() [][]int {
	var out [][]int
	for _, r := range t.runs() {
		piece := make([]int, 0, r.to-r.from)
		for i := r.from; i < r.to; i++ {
			piece = append(piece, i)
		}
		out = append(out, piece)
	}
	return out
}

// extent is the range of all that a panel shows.
type extent struct {
	xLow, xHigh, yLow, yHigh float64
	some                     bool
}

func (p *Panel) extent() extent {
	e := extent{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1), false}
	for k := range p.Series {
		s := &p.Series[k]
		t := s.track()
		for i := range t.x {
			if !t.ok(i) {
				continue
			}
			e.some = true
			e.xLow, e.xHigh = math.Min(e.xLow, s.X[i]), math.Max(e.xHigh, s.X[i])
			e.yLow, e.yHigh = math.Min(e.yLow, s.Y[i]), math.Max(e.yHigh, s.Y[i])
			if i < len(s.Low) && drawable(s.Low[i]) {
				e.yLow, e.yHigh = math.Min(e.yLow, s.Low[i]), math.Max(e.yHigh, s.Low[i])
			}
		}
	}
	if e.some && p.YFromZero {
		e.yLow, e.yHigh = math.Min(0, e.yLow), math.Max(0, e.yHigh)
	}
	return e
}
