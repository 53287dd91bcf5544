package plant

import (
	"context"
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/internal/pool"
	"seatward/quantity"
	"seatward/valve"
)

// Answer is what the events of a station do with one valve.
type Answer struct {
	Item  *catalog.Item
	Stops []*Stop // one for each event, in the order of Events
	Worst *Stop   // the one that is hardest for slam; nil where there is none
	Slam  Slam    // of Worst
	Fault string  // why there is no slam number; "" where there is one
}

// Limits are the reverse velocities between quiet, audible and harmful, m/s.
type Limits struct{ QuietMS, HarmfulMS float64 }

// Slam is the hardest seating of the worst event, with what is not known of it.
type Slam struct {
	Reverse      basis.Value // at best estimates, with the 5 and 95 % points
	MedianMS     float64
	Sudden       basis.Value // by which it is classed: Reverse, or less behind a cushion
	MedianSudden float64
	Rise         basis.Value // of the head behind the valve, likewise
	Deceleration basis.Value // of the flow as it turns, without the valve
	Middle       [2]float64  // the middle half of all cases, m/s
	Chances      Chances
	Inputs       []Influence // what moves it most first
	Runs, Failed int
	Settled      bool // the sample is as exact as it is meant to be
	Threshold    *Threshold
}

// Chances of the three classes of slam.
type Chances struct{ Quiet, Audible, Harmful float64 }

// Influence is the part of the variance of the slam that one uncertain number explains alone.
type Influence struct {
	Value basis.Value // with its range
	Own   bool        // it is one of the valve's own numbers
	Share float64
}

// Threshold is the value of one number at which the class of the slam changes, all else at
// its best estimate.
type Threshold struct {
	Fact  basis.Value // the number as it is, with its range
	Own   bool
	At    basis.Value
	Above bool // the milder class is above it
	Limit basis.Value
}

// Ask says what is asked of a valve.
type Ask struct {
	Events    []Event // nil for all
	Limits    Limits
	Change    Change
	Record    bool
	Frames    int
	Threshold bool // solve for the value at which the class changes
	Least     bool // no chances: the runs at best estimates alone
	Sample    int  // draws to be made; 0 for as many as are needed
	Progress  func(event Event, done float64)
}

// Ask runs every event with the valve, and the worst again with all uncertain numbers drawn.
// The errors are those of building the valve and of the context.
func (p *Plant) Ask(ctx context.Context, it *catalog.Item, setting valve.Setting, ask Ask) (*Answer, error) {
	m, err := it.Build(setting)
	if err != nil {
		return nil, err
	}
	events := ask.Events
	if events == nil {
		events = p.Events()
	}
	a := &Answer{Item: it, Stops: make([]*Stop, len(events))}
	errs := make([]error, len(events))
	first := firstLike(events)
	pool.Each(len(events), func(i int) {
		if first[i] != i {
			return
		}
		o := Options{Record: ask.Record, Frames: ask.Frames, Change: ask.Change}
		if ask.Progress != nil {
			o.Progress = func(done float64) { ask.Progress(events[i], done) }
		}
		a.Stops[i], errs[i] = p.Run(ctx, m, events[i], o)
	})
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	for i, k := range first {
		if k == i {
			a.Stops[i].ValveID = it.ID
		} else {
			a.Stops[i] = a.Stops[k].as(events[i])
		}
	}
	p.worst(ctx, a)
	if a.Worst == nil || ask.Least {
		return a, ctx.Err()
	}
	return a, p.weigh(ctx, a, setting, ask)
}

// firstLike gives for each event the first that does the same.
func firstLike(events []Event) []int {
	out := make([]int, len(events))
	for i, e := range events {
		out[i] = slices.IndexFunc(events, func(x Event) bool { return x.does(&e) })
	}
	return out
}

// worst finds the event with the hardest slam, and reads what needs no draws.
func (p *Plant) worst(ctx context.Context, a *Answer) {
	possible := false
	for _, s := range a.Stops {
		if !s.Event.Stops() || s.Idle {
			continue
		}
		possible = true
		switch {
		case s.Fault != "":
			a.Fault = s.Event.Title + ": " + s.Fault
		case !s.Closing.Closed:
		case a.Worst == nil || p.suddenMS(s) > p.suddenMS(a.Worst):
			a.Worst = s
		}
	}
	switch {
	case a.Worst != nil:
		a.Fault = ""
		a.Slam = p.best(ctx, a.Worst)
	case a.Fault != "":
	case !possible:
		a.Fault = "no stop of this station can slam it: nothing flows before any of them"
	default:
		a.Fault = "it does not close in any stop of this station"
	}
}

const how = "read off a run of pumps, pipes and valve together by the method of characteristics, followed until the valve rests"

// best is the slam at best estimates.
func (p *Plant) best(ctx context.Context, s *Stop) Slam {
	v := func(name string, kind quantity.Kind, x float64) basis.Value {
		return basis.NewSimulated(name+", "+s.Event.ID, kind, x, how)
	}
	out := Slam{
		Reverse: v("reverse velocity", quantity.Velocity, s.SlamMS()),
		Sudden:  v("reverse velocity", quantity.Velocity, p.suddenMS(s)),
		Rise:    v("head rise of the slam", quantity.Head, s.RiseM()), MedianMS: s.SlamMS(), MedianSudden: p.suddenMS(s),
	}
	if s.Cushioned() {
		out.Sudden.Name = "sudden stop of the same head rise, " + s.Event.ID
	}
	if d := p.DecelerationMS2(ctx, s.Event, s.boreM2, s.fullMS); !math.IsNaN(d) {
		out.Deceleration = basis.NewSimulated("deceleration of the flow at reversal, without the valve, "+s.Event.ID,
			quantity.Acceleration, d,
			"a run of the station without a valve: mean slope from the velocity at which the valve begins to close until the flow turns")
	}
	return out
}

// weigh draws all uncertain numbers at once.
func (p *Plant) weigh(ctx context.Context, a *Answer, setting valve.Setting, ask Ask) error {
	s, err := p.sampler(ctx, a, setting, ask)
	if err != nil {
		return err
	}
	x := &a.Slam
	if len(s.axes) == 0 {
		x.Chances, x.Settled = certain(s.read(a.Worst).sudden, ask.Limits), true
		return nil
	}
	limits := []float64{ask.Limits.QuietMS, ask.Limits.HarmfulMS}
	sudden := s.estimate(draw.Plan{Limits: limits, Stages: ask.stages(), Aim: aim, Scattered: fewDraws},
		func(o outcome) float64 { return o.sudden })
	if ctx.Err() != nil {
		return ctx.Err()
	}
	x.Runs, x.Failed, x.Settled = sudden.Runs, sudden.Failed, sudden.Settled
	if sudden.Len() == 0 {
		x.Chances = certain(s.read(a.Worst).sudden, ask.Limits)
		return nil
	}
	x.Chances = Chances{sudden.Class[0], sudden.Class[1], sudden.Class[2]}
	made := draw.Plan{Stages: []int{sudden.Runs}, Plain: true}
	reverse := sudden
	if a.Worst.Cushioned() {
		reverse = s.estimate(made, func(o outcome) float64 { return o.reverse })
	}
	rise := s.estimate(made, func(o outcome) float64 { return o.riseM })
	x.Sudden, x.MedianSudden = spanned(x.Sudden, sudden.Distribution)
	x.Reverse, x.MedianMS = spanned(x.Reverse, reverse.Distribution)
	x.Rise, _ = spanned(x.Rise, rise.Distribution)
	x.Middle[0], x.Middle[1] = reverse.MiddleHalf()
	for i := range s.axes {
		x.Inputs = append(x.Inputs, Influence{named(s.axes[i]), s.axes[i].key != "", sudden.Effects[i].Share})
	}
	slices.SortStableFunc(x.Inputs, func(a, b Influence) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	for _, in := range x.Inputs {
		x.Reverse.Inputs = append(x.Reverse.Inputs, in.Value)
	}
	x.Sudden.Inputs, x.Rise.Inputs = x.Reverse.Inputs, x.Reverse.Inputs
	p.measured(a, ask.Limits)
	if ask.Threshold {
		s.threshold(x, ask.Limits)
	}
	return ctx.Err()
}

// named is the value of an axis by the axis's own name.
func named(a axis) basis.Value {
	v := a.value
	v.Name = a.name
	return v
}

// spanned gives a value the 5 and 95 % points of its distribution. Where the best estimate
// lies outside, the interval still is that of the distribution.
func spanned(v basis.Value, d draw.Distribution) (basis.Value, float64) {
	if d.Len() == 0 {
		return v, v.SI
	}
	v.Low, v.High = d.Interval()
	return v, d.Median()
}

// certain are the chances where nothing is uncertain.
func certain(ms float64, l Limits) Chances {
	switch {
	case ms < l.QuietMS:
		return Chances{Quiet: 1}
	case ms <= l.HarmfulMS:
		return Chances{Audible: 1}
	}
	return Chances{Harmful: 1}
}

// stages are how many draws are made before each look at how exact they are. Beyond the
// last, the answer says that it is not settled.
func (ask *Ask) stages() []int {
	if ask.Sample > 0 {
		return []int{min(ask.Sample, draw.FullSample)}
	}
	return []int{fewDraws / 2, fewDraws, 2 * fewDraws}
}

// fewDraws is the usual number of draws: with the surface through them they give what a
// sample of 1,024 gives, within 10 % or 0.02 m/s, where the closing is not left to chance.
const fewDraws = 32

// aim is how exact the 5, 50 and 95 % points and the chances are meant to be, as standard
// errors (A7.1).
var aim = draw.Aim{Relative: 0.1, Absolute: 0.02, Chance: 0.1}

// estimate is the distribution of one thing that the draws give.
func (s *sampler) estimate(plan draw.Plan, of func(outcome) float64) draw.Estimate {
	plan.Sequence, plan.Axes, plan.Each = s.plant.drawing().sequence, s.places(), pool.Each
	plan.Run = func(from, to int) ([]float64, []bool) {
		s.upTo(to)
		y, ok := make([]float64, to-from), make([]bool, to-from)
		for i, o := range s.got[from:to] {
			y[i], ok[i] = of(o), o.ok
		}
		return y, ok
	}
	return draw.Adaptive(plan)
}
