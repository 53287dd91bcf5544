package calibrate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"seatward/internal/lsq"
	"seatward/plant"
)

// begin finds the events, the start of the numbers and the readings that are used.
func (f *fitter) begin() ([]startAt, error) {
	x := f.start()
	for i, s := range f.stops {
		s.untilS, s.scale, s.stepS = 0, 1, s.StepS
		if err := f.findEvent(x, i); err != nil {
			return nil, err
		}
	}
	return f.scan(x)
}

// start is the best estimate of every number; the wave speed is that of the measured period.
func (f *fitter) start() []float64 {
	x := make([]float64, f.numbers())
	for k := range f.knobs {
		if f.knobs[k].Name != waveKnob {
			continue
		}
		for _, s := range f.stops {
			if s.Wave != nil && s.Wave.Best > 0 {
				x[k] = f.deviateOf(k, s.Wave.Best)
				break
			}
		}
	}
	return x
}

const waveKnob, inertiaKnob, gasKnob = "wave speed of the main", "inertia of pump and motor", "free gas"

// deviateOf is how far a knob is turned for a value.
func (f *fitter) deviateOf(k int, value float64) float64 {
	lo, hi := -farthest, farthest
	for range 60 {
		if mid := (lo + hi) / 2; f.knobs[k].At(mid) < value {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// findEvent takes for a stop the event of the station whose run is the nearest.
func (f *fitter) findEvent(x []float64, i int) error {
	s := f.stops[i]
	best, nearest := math.Inf(1), plant.Event{}
	var fault error
	for _, ev := range f.model.Events {
		s.event = ev
		late, miss, err := f.aligned(x, i)
		if f.ctx.Err() != nil {
			return f.ctx.Err()
		}
		if err != nil {
			fault = err
			continue
		}
		if miss < best {
			best, nearest = miss, ev
			x[f.own(i, timeAt)] = late
		}
	}
	if math.IsInf(best, 1) {
		return fmt.Errorf("%w: %w", ErrNoRun, fault)
	}
	s.event = nearest
	return nil
}

// aligned runs a stop, lays its beginning on the measured one, and gives the mean square of what
// is left up to the closing, the sensor's zero aside.
func (f *fitter) aligned(x []float64, i int) (late, miss float64, err error) {
	s := f.stops[i]
	runs, err := f.traces(x, i, false)
	f.count(1)
	if err != nil {
		return 0, 0, err
	}
	s.base = runs[i]
	if s.lasts() <= 0 {
		return 0, 0, errFew
	}
	lead := s.leaves()
	fall := math.Max(6*s.NoiseM, fallShare*s.rangeM())
	late = lead - departs(s.base.TimeS, s.base.HeadM, s.base.HeadM[0], fall)
	late = math.Max(-farthest, math.Min(farthest, late/s.AtErrS))
	if err := s.window(s.base, late); err != nil {
		return 0, 0, err
	}
	s.toS = s.endOfFall(1)
	r := smoothed(s.rest(s.base, late, f.sensorM(), 0), stages[0].share*s.lasts()/s.stepS)
	n, mean := 0.0, 0.0
	for j, v := range r {
		if s.times[j] <= s.toS {
			n, mean = n+1, mean+v
		}
	}
	for j, v := range r {
		if s.times[j] <= s.toS {
			miss += (v - mean/n) * (v - mean/n) / n
		}
	}
	return late, miss, nil
}

// leaves is when the head leaves the level before the stop, s.
func (s *fitted) leaves() float64 {
	from := sort.SearchFloat64s(s.TimeS, -s.AtErrS*farthest)
	to := sort.SearchFloat64s(s.TimeS, math.Max(s.TimeS[0], -s.AtErrS*2)+0.5)
	before := slices.Clone(s.HeadM[min(from, max(0, to-leastReads)):max(to, from+1)])
	slices.Sort(before)
	level := before[len(before)/2]
	fall := math.Max(6*s.NoiseM, fallShare*s.rangeM())
	return departs(s.TimeS[from:], s.HeadM[from:], level, fall)
}

// departs is when a head has fallen from a level by so much, and stays there for three readings.
func departs(t, h []float64, level, fall float64) float64 {
	run := 0
	for i, v := range h {
		if run++; level-v < fall {
			run = 0
		}
		if run == 3 {
			return t[i-2]
		}
	}
	return t[0]
}

// fallShare is the share of the range of a head that is a fall.
const fallShare = 0.04

// endOfFall is a share of the way from the stop to the closing, by the log.
func (s *fitted) endOfFall(share float64) float64 {
	if math.IsNaN(s.ClosingS) {
		return math.Inf(1)
	}
	start := s.leaves()
	return start + share*math.Max(0.1, s.ClosingS-2*s.stepS-start)
}

// lasts is the time from the stop to the closing in the run, or of the whole run.
func (s *fitted) lasts() float64 {
	if s.base.Closing.Closed && s.base.Closing.First.TimeS > 0 {
		return s.base.Closing.First.TimeS
	}
	return s.base.TimeS[len(s.base.TimeS)-1]
}

// startAt is a place to start from, and how far it lies off.
type startAt struct {
	x    []float64
	miss float64
}

// scan looks at heavier and lighter pumps, and where no wave was timed at slower and faster waves,
// and gives the places to start from, the nearest first.
func (f *fitter) scan(x []float64) ([]startAt, error) {
	waves := []float64{math.NaN()}
	if !slices.ContainsFunc(f.stops, func(s *fitted) bool { return s.Wave != nil }) {
		waves = []float64{-1.6, -1, -0.5, 0, 0.5, 1.2}
	}
	var out []startAt
	for _, w := range waves {
		for _, z := range []float64{-1.6, -0.8, 0, 0.8, 1.6} {
			y, sum, ok := slices.Clone(x), 0.0, true
			for k := range f.knobs {
				switch {
				case strings.HasPrefix(f.knobs[k].Name, inertiaKnob):
					y[k] = z
				case f.knobs[k].Name == waveKnob && !math.IsNaN(w):
					y[k] = w
				}
			}
			for i := range f.stops {
				late, miss, err := f.aligned(y, i)
				if f.ctx.Err() != nil {
					return nil, f.ctx.Err()
				}
				y[f.own(i, timeAt)] = late
				sum, ok = sum+miss, ok && err == nil
			}
			if ok {
				out = append(out, startAt{y, sum})
			}
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%w, or there are too few readings about the stop", ErrNoRun)
	}
	slices.SortStableFunc(out, func(a, b startAt) int { return cmp.Compare(a.miss, b.miss) })
	return out, nil
}

// found fits from one start after another until the run follows the readings as closely as their
// noise lets it, and gives the fit that comes nearest. Free gas is taken in where the fit without it
// does not follow, and that with it clearly better.
func (f *fitter) found(starts []startAt, gas *plant.Knob) (*lsq.Answer, error) {
	best, without := kept{left: math.Inf(1)}, f.knobs
	var afar []startAt
	for _, s := range starts[:min(mostStarts, len(starts))] {
		f.knobs = without
		p, err := f.roughly(s.x)
		if err == nil && p.miss < nearEnough {
			best, _ = f.nearer(best, p.x, gas) // a start that leads nowhere is none
		} else if err == nil {
			afar = append(afar, p)
		}
		if f.ctx.Err() != nil {
			return nil, f.ctx.Err()
		}
		if best.left < closeEnough {
			return f.back(best), nil
		}
	}
	slices.SortStableFunc(afar, func(a, b startAt) int { return cmp.Compare(a.miss, b.miss) })
	for _, p := range afar[:min(mostPlaces, len(afar))] {
		f.knobs = without
		if best, _ = f.nearer(best, p.x, gas); f.ctx.Err() != nil {
			return nil, f.ctx.Err()
		}
		if gas = nil; best.left < closeEnough { // what gas does not mend once, it does not mend
			break
		}
	}
	if math.IsInf(best.left, 1) {
		return nil, fmt.Errorf("%w, or there are too few readings about the stop", ErrNoStop)
	}
	return f.back(best), nil
}

// nearer fits from a place, and gives the better one of this fit and another.
func (f *fitter) nearer(than kept, x []float64, gas *plant.Knob) (kept, error) {
	a, err := f.descend(x, wholeFrom+1)
	if err != nil {
		return than, err
	}
	k := f.keep(a)
	if gas != nil && k.left >= closeEnough {
		f.knobs = append(slices.Clone(f.knobs), *gas)
		a, err := f.descend(slices.Insert(slices.Clone(a.X), len(k.knobs), gasStart), wholeFrom)
		if with := f.keep(a); err == nil && with.left < gasBetter*k.left {
			k = with
		}
	}
	if k.left < than.left {
		return k, nil
	}
	return than, nil
}

// roughly fits the fall of the head up to the closing and then all readings, and gives the place
// with the mean square of what is left.
func (f *fitter) roughly(x []float64) (startAt, error) {
	if err := f.look(x); err != nil {
		return startAt{}, err
	}
	var sum float64
	for _, st := range stages[:wholeFrom+1] {
		a, err := f.stage(x, st)
		if err != nil {
			return startAt{}, err
		}
		x, sum = a.X, a.Sum
	}
	return startAt{x, sum / float64(len(f.stops)*len(f.stops[0].times))}, nil
}

// kept is a fit with all that was set for it.
type kept struct {
	answer  *lsq.Answer
	left    float64 // by the noise
	knobs   []plant.Knob
	stops   []fitted
	reverse [][]float64
}

// keep keeps a fit.
func (f *fitter) keep(a *lsq.Answer) kept {
	k := kept{answer: a, left: f.leftOver(), knobs: f.knobs, reverse: f.reverse}
	for _, s := range f.stops {
		k.stops = append(k.stops, *s)
	}
	return k
}

// back sets what was kept.
func (f *fitter) back(k kept) *lsq.Answer {
	f.knobs, f.reverse = k.knobs, k.reverse
	for i := range f.stops {
		*f.stops[i] = k.stops[i]
	}
	return k.answer
}

// leftOver is what the runs leave over, in standard deviations of the noise, in the mean.
func (f *fitter) leftOver() float64 {
	sum := 0.0
	for _, s := range f.stops {
		sum += s.leftM / s.NoiseM / float64(len(f.stops))
	}
	return sum
}

const (
	mostStarts  = 4
	mostPlaces  = 2
	nearEnough  = 0.12 // mean square of what is left, in the scale of the first stages
	closeEnough = 1.5  // standard deviations of the noise left over
	gasStart    = 0.5  // deviate from which gas is fitted
	gasBetter   = 0.7  // share of what is left over, to which gas must bring it
)
