package calibrate

import (
	"context"
	"errors"
	"math"
	"slices"
	"sort"

	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/internal/pool"
	"seatward/plant"
	"seatward/station"
	"seatward/valve"
)

// Model is what is fitted: a station with one valve in every branch.
type Model struct {
	Station *station.Station
	Item    *catalog.Item
	Header  bool     // the sensor is at the header, not behind the valve
	SensorM *float64 // its elevation above the datum of the station's heads; nil: at the valve's axis
	Events  []plant.Event
}

// Each stop has numbers of its own beside those of the station: where the level of the wet well
// stood, when the stop was, and zero and drift of the sensor.
const (
	wellAt = iota
	timeAt
	zeroAt
	driftAt
	ownNumbers
)

// Standard deviations of what a sensor is off before anything is known (judged, no source).
const (
	zeroM    = 1.0
	driftM   = 0.5 // over the readings that are used
	farthest = 4.0 // standard deviations, to which a number is followed
)

// fitter holds what a fit works on.
type fitter struct {
	ctx   context.Context
	model *Model
	plant *plant.Plant
	knobs []plant.Knob
	stops []*fitted
	done  func(runs int)
	runs  int

	rough   bool        // the numbers of the valve are held
	reverse [][]float64 // slopes of the reverse velocity of each stop, by number
	later   []float64   // s by which each number moves the closings, for a turn of one
	sds     []float64   // standard deviation of each number after the fit, in turns
	doubtM  float64     // of the main's loss of head, for numbers that are not fitted
	along   *ways       // nil: slopes are found number by number
}

// fitted is one stop in a fit.
type fitted struct {
	*Stop
	event  plant.Event
	times  []float64 // readings that are used
	heads  []float64
	untilS float64   // end of a run
	toS    float64   // readings behind it are not looked at yet
	stepS  float64   // between them
	blur   float64   // s, by which both readings and run are smoothed
	scale  float64   // standard deviation of a smoothed reading, m
	trust  []float64 // how far each reading can be held against a run, 0 to 1; nil: all alike
	leftM  float64   // standard deviation of what the run leaves over, by trust
	astray float64   // share of the readings that the run misses
	bentMS float64   // standard deviation of the jumps of the reverse velocity as numbers are turned
	base   *plant.Traced
}

func (f *fitter) own(stop, which int) int { return len(f.knobs) + stop*ownNumbers + which }

func (f *fitter) numbers() int { return len(f.knobs) + len(f.stops)*ownNumbers }

// well is the share of the way from the high to the low level.
func well(z float64) float64 { return math.Max(0, math.Min(1, 0.5+0.5*z/draw.Normal(0.95))) }

// traces runs the stops with the numbers x; only one of them where only is not negative.
func (f *fitter) traces(x []float64, only int, fine bool) ([]*plant.Traced, error) {
	q, m, err := f.turned(x)
	if err != nil {
		return nil, err
	}
	out := make([]*plant.Traced, len(f.stops))
	for i, s := range f.stops {
		if only >= 0 && i != only {
			out[i] = s.base
			continue
		}
		w := f.where(x, i)
		w.Fine = fine
		if out[i], err = q.Trace(f.ctx, m, w); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// calmed is the head of a run, from the first seating on as a mean over a step of the logger, or
// over the ringing of the branch where that takes longer: a logger meets each ring at another
// phase, and no fit should depend on it. The fall before it stays sharp: it tells the inertia.
func calmed(run *plant.Traced, stepS float64) []float64 {
	n := len(run.TimeS)
	dt := (run.TimeS[n-1] - run.TimeS[0]) / float64(n-1)
	half := int(math.Round(math.Max(stepS, ringTimes*run.BranchS) / dt / 2))
	sums := make([]float64, n+1)
	for i, v := range run.HeadM {
		sums[i+1] = sums[i] + v
	}
	out := slices.Clone(run.HeadM)
	begins := n
	if run.Closing.Closed {
		begins = max(0, int(run.Closing.First.TimeS/dt)-half)
	}
	for i := begins; i < n; i++ {
		from, to := max(0, i-half), min(n, i+half+1)
		out[i] = (sums[to] - sums[from]) / float64(to-from)
	}
	return out
}

// ringTimes is the period of a branch between its shut valve and the header, in times of a wave
// along it.
const ringTimes = 4.0

func (f *fitter) where(x []float64, i int) plant.Where {
	s := f.stops[i]
	return plant.Where{Event: s.event, Header: f.model.Header, Well: well(x[f.own(i, wellAt)]), UntilS: s.untilS}
}

// turned is the plant with the numbers x, and the valve.
func (f *fitter) turned(x []float64) (*plant.Plant, *valve.Mechanism, error) {
	q, at, err := f.plant.Turned(f.knobs, x[:len(f.knobs)])
	if err != nil {
		return nil, nil, err
	}
	st := f.model.Station
	m, err := f.model.Item.VariedAll(valve.In(st.Fluid.Density.SI, st.Valve.Position), at)
	return q, m, err
}

// sensorM is the elevation of the sensor above the datum.
func (f *fitter) sensorM() float64 {
	if f.model.SensorM != nil {
		return *f.model.SensorM
	}
	return f.model.Station.ValveAboveDatum()
}

// misfit gives how far runs lie above the readings, smoothed, in standard deviations.
func (f *fitter) misfit(x []float64, runs []*plant.Traced) []float64 {
	var out []float64
	for i, s := range f.stops {
		for j, v := range smoothed(f.left(x, i, runs[i]), s.blur/s.stepS) {
			if s.times[j] > s.toS {
				v = 0
			}
			out = append(out, tempered(v/s.scale))
		}
	}
	return out
}

// left is the run of a stop less the readings, with the sensor's zero and drift, by trust.
func (f *fitter) left(x []float64, i int, run *plant.Traced) []float64 {
	s := f.stops[i]
	r := s.rest(run, x[f.own(i, timeAt)], f.sensorM()-zeroM*x[f.own(i, zeroAt)], driftM*x[f.own(i, driftAt)])
	for j := range s.trust {
		r[j] *= s.trust[j]
	}
	return r
}

// tempered is the residual whose square is Huber's loss: what is far off, as a ring or a front
// that comes a reading late, counts by its size and not by its square.
func tempered(r float64) float64 {
	if a := math.Abs(r); a > farOff {
		return math.Copysign(math.Sqrt(2*farOff*a-farOff*farOff), r)
	}
	return r
}

// farOff is the residual, in standard deviations, from which it is tempered.
const farOff = 2.0

// rest is the run less the readings. A reading at the end of the sensor's range says only that
// the head lies beyond it.
func (s *fitted) rest(run *plant.Traced, late, sensorM, drift float64) []float64 {
	out := make([]float64, len(s.times))
	first, last := s.times[0], s.times[len(s.times)-1]
	heads := calmed(run, s.stepS)
	k := 0
	for j, t := range s.times {
		at := t - late*s.AtErrS
		for k+1 < len(run.TimeS) && run.TimeS[k+1] <= at {
			k++
		}
		h := heads[k]
		if k+1 < len(run.TimeS) && at > run.TimeS[k] {
			h += (heads[k+1] - h) * (at - run.TimeS[k]) / (run.TimeS[k+1] - run.TimeS[k])
		}
		h += drift*((t-first)/(last-first)-0.5) - sensorM
		out[j] = math.Max(s.LowM, math.Min(s.HighM, h)) - math.Max(s.LowM, math.Min(s.HighM, s.heads[j]))
	}
	return out
}

// smoothed is a row of numbers under a bell of so many readings' standard deviation: three boxes
// over one another.
func smoothed(r []float64, width float64) []float64 {
	half := int(math.Round((math.Sqrt(4*width*width+1) - 1) / 2))
	if half < 1 {
		return r
	}
	for range 3 {
		sums := make([]float64, len(r)+1)
		for i, v := range r {
			sums[i+1] = sums[i] + v
		}
		next := make([]float64, len(r))
		for i := range r {
			from, to := max(0, i-half), min(len(r), i+half+1)
			next[i] = (sums[to] - sums[from]) / float64(to-from)
		}
		r = next
	}
	return r
}

// window takes the readings that are used: from shortly before the stop until the waves behind
// the closing have come back.
func (s *fitted) window(run *plant.Traced, late float64) error {
	end := run.TimeS[len(run.TimeS)-1]
	if c := run.Closing.First.TimeS; run.Closing.Closed {
		end = math.Min(end, c+math.Max(wavesSeen*run.CycleS, leastSeenS))
	}
	from := sort.SearchFloat64s(s.TimeS, late*s.AtErrS-leadS)
	to := sort.SearchFloat64s(s.TimeS, late*s.AtErrS+end)
	if to-from < leastReads {
		return errFew
	}
	stride := 1 + (to-from)/mostReads
	s.times, s.heads, s.trust = nil, nil, nil
	for i := from; i < to; i += stride {
		s.times, s.heads = append(s.times, s.TimeS[i]), append(s.heads, s.HeadM[i])
	}
	s.stepS = s.StepS * float64(stride)
	s.untilS = end*runOn + leadS
	return nil
}

const (
	leadS      = 3.0
	wavesSeen  = 2.0 // cycles 4L/a behind the closing
	leastSeenS = 1.0
	runOn      = 1.3
	mostReads  = 12_000
)

var errFew = errors.New("there are too few readings about the stop")

// slopes are the derivatives of the misfit at x, and those of the reverse velocities.
func (f *fitter) slopes(x, base []float64) (columns [][]float64, err error) {
	if f.along != nil {
		return f.slopesAlong(x, base)
	}
	n := f.numbers()
	columns = make([][]float64, n)
	f.reverse = make([][]float64, n)
	errs := make([]error, n)
	runs := make([]*plant.Traced, len(f.stops))
	for i, s := range f.stops {
		runs[i] = s.base
	}
	var turning []int
	if len(f.later) != n {
		f.later = make([]float64, n)
	}
	for c := range n {
		f.reverse[c] = make([]float64, len(f.stops))
		if which := f.which(c); c >= len(f.knobs) && which != wellAt {
			y, h := f.beside(x, c)
			columns[c] = slope(base, f.misfit(y, runs), h)
			continue
		}
		if columns[c] = make([]float64, len(base)); !f.rough || c >= len(f.knobs) || f.knobs[c].Key == "" {
			turning = append(turning, c)
		}
	}
	pool.Each(len(turning), func(k int) {
		c := turning[k]
		y, h := f.beside(x, c)
		only := -1
		if c >= len(f.knobs) {
			only = (c - len(f.knobs)) / ownNumbers
		}
		next, err := f.traces(y, only, false)
		if err != nil {
			errs[c] = f.ctx.Err()
			return
		}
		columns[c] = slope(base, f.misfit(y, next), h)
		f.later[c] = 0
		for i, s := range f.stops {
			was, is := s.seating(s.base, x[f.own(i, timeAt)]), s.seating(next[i], x[f.own(i, timeAt)])
			f.reverse[c][i] = (is.ReverseMS - was.ReverseMS) / h
			f.later[c] = biggest(f.later[c], (is.TimeS-was.TimeS)/h)
		}
	})
	f.count(len(turning))
	return columns, errors.Join(errs...)
}

// seating is that of the valve which the log shows: of its first and its hardest the one nearer to
// the measured front. A soft first touch may come before the slam.
func (s *fitted) seating(run *plant.Traced, late float64) valve.Slam {
	c := &run.Closing
	at := s.ClosingS - late*s.AtErrS
	if math.Abs(c.Worst.TimeS-at) < math.Abs(c.First.TimeS-at) {
		return c.Worst
	}
	return c.First
}

func (f *fitter) which(c int) int { return (c - len(f.knobs)) % ownNumbers }

// beside is a place next to x in one number, and how far it is away.
func (f *fitter) beside(x []float64, c int) ([]float64, float64) {
	y, h := slices.Clone(x), turn
	if c >= len(f.knobs) && f.which(c) == timeAt {
		s := f.stops[(c-len(f.knobs))/ownNumbers]
		h = near * s.reach() / s.AtErrS
	} else if c < len(f.later) && f.later[c] != 0 {
		h = math.Max(leastTurn, math.Min(turn, near*f.stops[0].reach()/math.Abs(f.later[c])))
	}
	if y[c] > 0 && (c < len(f.knobs) || f.which(c) == wellAt) { // towards the best estimate: there is room
		h = -h
	}
	y[c] += h
	return y, h
}

// How far a number is turned to find a slope, in standard deviations: so that the closing moves by
// a part of what it is smoothed over.
const (
	turn      = 0.05
	leastTurn = 2e-4
	near      = 0.4
)

// biggest is the one of greater size.
func biggest(a, b float64) float64 {
	if math.Abs(b) > math.Abs(a) {
		return b
	}
	return a
}

// reach is by how much a seating may move for a slope, s.
func (s *fitted) reach() float64 {
	return math.Max(s.blur, math.Max(leastBlur*s.stepS, ringTimes*s.base.BranchS))
}

func slope(base, next []float64, h float64) []float64 {
	out := make([]float64, len(base))
	for i := range base {
		out[i] = (next[i] - base[i]) / h
	}
	return out
}

func (f *fitter) count(runs int) {
	f.runs += runs
	if f.done != nil {
		f.done(f.runs)
	}
}
