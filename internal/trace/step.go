package trace

import "math"

// Swing is one head rise, from a low to the peak that follows it.
type Swing struct {
	AtNS    int64   `json:"at_ns"` // of the front
	BeforeM float64 `json:"before_m"`
	PeakM   float64 `json:"peak_m"`
	FrontM  float64 `json:"front_m"`  // at the end of the steep part; what follows is packing of the line
	SlackM  float64 `json:"slack_m"`  // by which the readings beside it go on: the front may begin and end in them
	LowM    float64 `json:"low_m"`    // the lowest before it
	RiseS   float64 `json:"rise_s"`   // from 10 to 90 %; no shorter than a step
	WidthS  float64 `json:"width_s"`  // at half of its height
	Readers int     `json:"readings"` // readings above half of its height

	from, peak, to int // rows: last one before the rise, the peak, first one below half
}

// StepM is the head step of the front. Behind it the head may go on rising to the peak: that is
// the main between the low head at the valve and the head of the far end, no reverse velocity.
func (s *Swing) StepM() float64 { return s.FrontM - s.BeforeM }

// swings finds every rise of at least leastM that is followed by a fall of half of it or by the
// end of the readings. A silence longer than gapS ends what came before.
func swings(s Source, leastM, gapS float64) []Swing {
	var out []Swing
	low, high := -1, -1
	lowV, highV := 0.0, 0.0
	last := -1
	start := 0 // no row before it belongs to this stretch
	finish := func() {
		if high >= 0 {
			if w, ok := measure(s, low, high, start); ok && w.PeakM-w.BeforeM >= leastM/2 {
				out = append(out, w)
			}
		}
		low, high = -1, -1
	}
	for i := range s.Len() {
		v, ok := s.At(i)
		if !ok {
			continue
		}
		if last >= 0 && seconds(s, last, i) > gapS {
			finish()
			start = i
		}
		last = i
		switch {
		case high >= 0:
			if v > highV {
				high, highV = i, v
			} else if highV-v >= (highV-lowV)/2 {
				finish()
				low, lowV = i, v
			}
		case low < 0 || v <= lowV:
			low, lowV = i, v
		case v-lowV >= leastM:
			high, highV = i, v
		}
	}
	finish()
	return out
}

// measure reads a rise between two rows.
func measure(s Source, low, peak, start int) (Swing, bool) {
	lowV, _ := s.At(low)
	peakV, ok := s.At(peak)
	if !ok || peak <= low {
		return Swing{}, false
	}
	w := Swing{PeakM: peakV, LowM: lowV, peak: peak}
	w.to = peak
	span, most, mid := steepest(s, max(low, start), peak)
	foot := edge(s, mid, max(low, start), -span, most)
	front := edge(s, min(mid+span, peak), peak, span, most)
	w.AtNS, w.from, w.BeforeM, w.FrontM = s.Time(front), foot, lowV, peakV
	if v, ok := s.At(foot); ok && v < peakV {
		w.BeforeM = v
	}
	if v, ok := s.At(front); ok && v > w.BeforeM {
		w.FrontM = v
	}
	if v, ok := s.At(min(front+1, peak)); ok {
		w.SlackM = math.Abs(v - w.FrontM)
	}
	if v, ok := s.At(max(foot-1, start)); ok {
		w.SlackM = math.Hypot(w.SlackM, v-w.BeforeM)
	}
	first10, top := foot, front
	for i := foot; i <= front; i++ {
		v, ok := s.At(i)
		if ok && v < w.BeforeM+0.1*w.StepM() {
			first10 = i
		}
		if ok && v >= w.BeforeM+0.9*w.StepM() {
			top = i
			break
		}
	}
	w.RiseS = seconds(s, first10, top)
	half := w.BeforeM + (w.PeakM-w.BeforeM)/2
	first := peak
	for i := foot + 1; i <= peak; i++ {
		if v, ok := s.At(i); ok && v >= half {
			first = i
			break
		}
	}
	w.to = s.Len() - 1
	for i := first; i < s.Len(); i++ {
		v, ok := s.At(i)
		if !ok {
			continue
		}
		if v < half && i > peak {
			w.to = i
			break
		}
		w.Readers++
	}
	w.WidthS = seconds(s, first, w.to)
	return w, true
}

// steepest finds where a rise is steepest: over one reading where a single one holds half of
// what three do, else over three. It gives that span, the rise over it, and the row before it.
func steepest(s Source, low, peak int) (span int, most float64, at int) {
	best := func(span int) (float64, int) {
		most, at := 0.0, max(low, peak-span)
		for i := low; i+span <= peak; i++ {
			a, ok1 := s.At(i)
			b, ok2 := s.At(i + span)
			if ok1 && ok2 && b-a > most {
				most, at = b-a, i
			}
		}
		return most, at
	}
	one, atOne := best(1)
	three, atThree := best(3)
	if 2*one >= three {
		return 1, one, atOne
	}
	return 3, three, atThree
}

// flatter is the share of the steepest rise, below which a front has ended.
const flatter = 0.4

// edge goes from the steepest part of a rise to one of its ends: to the row from which the next
// readings, span of them, go on by less than flatter of the steepest rise. A negative span goes
// back in time.
func edge(s Source, from, end, span int, most float64) int {
	way := 1
	if span < 0 {
		way = -1
	}
	for i := from; i != end; i += way {
		v, ok := s.At(i)
		next := i + span
		if (next-end)*way > 0 {
			next = end
		}
		u, ok2 := s.At(next)
		if ok && ok2 && float64(way)*(u-v) < flatter*most {
			return i
		}
	}
	return end
}

// quiet is the longest time before row to, from row from, in which the readings stay within
// bandM of the head at row to.
func quiet(s Source, from, to int, bandM float64) float64 {
	base, ok := middle(s, max(from, to-4), to+1)
	if !ok {
		return 0
	}
	best, begin := 0.0, -1
	for i := from; i <= to; i++ {
		v, ok := s.At(i)
		if !ok {
			continue
		}
		if math.Abs(v-base) > bandM {
			begin = -1
			continue
		}
		if begin < 0 {
			begin = i
		}
		best = math.Max(best, seconds(s, begin, i))
	}
	return best
}
