package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/quantity"
	"seatward/valve"
)

// variant is the station with one fact, or one kind of fact, at the ends of its range.
type variant struct {
	name      string
	value     basis.Value
	low, high *plant
}

// felt is the share of a value below which its range is not followed by runs of its own.
const felt = 0.02

// variants puts the facts of the station that move a run at the ends of their ranges, each
// alone. They serve every valve.
func (p *plant) variants() ([]variant, error) {
	var out []variant
	for _, a := range p.stationAxes() {
		if a.value.High-a.value.Low < felt*math.Abs(a.value.SI) {
			continue
		}
		x := variant{name: a.name, value: a.value}
		for _, end := range []struct {
			u  float64
			to **plant
		}{{0, &x.low}, {1, &x.high}} {
			st := *p.st
			a.apply(&st, end.u)
			q, err := newPlant(&st)
			if err == nil {
				err = q.forRuns()
			}
			if err != nil {
				return nil, fmt.Errorf("with %s at an end of its range: %w", a.name, err)
			}
			*end.to = q
		}
		out = append(out, x)
	}
	return out, nil
}

// coupled runs every stop through with the item, then the worst one again with each
// number that has a range at its ends, alone.
func (p *plant) coupled(ctx context.Context, it *catalog.Item, m *valve.Mechanism, setting valve.Setting, variants []variant) (*judge.Run, error) {
	if err := p.forRuns(); err != nil {
		return nil, err
	}
	opt := runOptions{duration: p.runTime()}
	var worst *Trip
	events := p.stopEvents()
	trips, errs := make([]*Trip, len(events)), make([]error, len(events))
	sideBySide(len(events), func(i int) { trips[i], errs[i] = p.run(ctx, m, it.ID, events[i], opt) })
	for i, t := range trips {
		if errs[i] != nil {
			return &judge.Run{Fault: errs[i].Error()}, ctx.Err()
		}
		if !t.Closing.Closed {
			return &judge.Run{Fault: fmt.Sprintf("the valve does not shut within %.0f s of %s", t.TimeS, events[i].Title)}, nil
		}
		if worst == nil || t.Closing.ReverseMS > worst.Closing.ReverseMS {
			worst = t
		}
	}
	if worst == nil {
		return &judge.Run{Fault: "no stop was found"}, nil
	}
	opt.gas = worst.gas
	b := bandOf{plant: p, item: it, setting: setting, event: worst.Event, opt: opt, ctx: ctx, best: worst}
	if err := b.together(); err != nil {
		return nil, err
	}
	if err := b.stationDoubts(m, variants); err != nil {
		return nil, err
	}
	return b.result(), nil
}

// together runs the valve's own ranges through in two runs instead of two for each number:
// all of them moved to the side that closes later, and all to the other, each by the share
// of its range that makes the sum of all as great as that of independent errors, the root
// of the sum of squares. Which side closes later, and what each number counts for, is
// taken from its closing under an even deceleration. The command trip makes all the runs.
func (b *bandOf) together() error {
	c := b.best.Closing
	b.slowing = [2]float64{c.DecelerationMS2, c.DecelerationMS2}
	even, err := b.evenly()
	if err != nil || len(even.Doubts) == 0 {
		return err
	}
	full, err := b.item.Family.Type.Complete(b.item.Params)
	if err != nil {
		return err
	}
	var ends [2]*Trip // early, late
	for k, late := range []bool{false, true} {
		at, sum, squares := map[string]float64{}, 0.0, 0.0
		for _, d := range even.Doubts {
			x := d.moves(even.Best, late)
			sum, squares = sum+x, squares+x*x
		}
		if sum == 0 {
			ends[k] = b.best
			continue
		}
		share := math.Sqrt(squares) / sum
		for _, d := range even.Doubts {
			v := full[d.Key]
			end := v.Low
			if (d.HighMS > d.LowMS) == late {
				end = v.High
			}
			at[d.Key] = v.SI + share*(end-v.SI)
		}
		m, err := b.item.VariedAll(b.setting, at)
		if err != nil {
			return err
		}
		if ends[k], err = b.plant.again(b, m); err != nil {
			return err
		}
	}
	b.share(even, ends)
	return nil
}

// evenDoubt is a number of the valve by its closing under an even deceleration.
type evenDoubt struct{ valve.Doubt }

// moves is how far the number moves the reverse velocity to one side of the best.
func (d evenDoubt) moves(best float64, late bool) float64 {
	if late {
		return math.Max(0, math.Max(d.LowMS, d.HighMS)-best)
	}
	return math.Max(0, best-math.Min(d.LowMS, d.HighMS))
}

// evenBand is a closing under an even deceleration with what its numbers do to it.
type evenBand struct {
	Best   float64
	Doubts []evenDoubt
}

// leastEvenMS2 is the deceleration from which valves tell their differences.
const leastEvenMS2 = 2

// evenly closes the valve under the deceleration of the run.
func (b *bandOf) evenly() (evenBand, error) {
	point := func(name string, kind quantity.Kind, x float64) basis.Value {
		return basis.NewSimulated(name, kind, x, "of the run")
	}
	wave := b.plant.st.Branch.Runs[0].WaveSpeed.SI
	band, err := b.item.ClosingBand(b.setting, valve.Duty{
		Start: point("velocity", quantity.Velocity, math.Max(b.best.StartMS, 0.1)), Pipes: valve.Deceleration{WaveMS: [2]float64{wave, wave}},
		Deceleration: point("deceleration", quantity.Acceleration, math.Max(b.best.Closing.DecelerationMS2, leastEvenMS2)),
	})
	if err != nil || band.Closing.Outcome == valve.AlwaysClosed {
		return evenBand{}, err
	}
	out := evenBand{Best: band.Best}
	for _, d := range band.Doubts {
		out.Doubts = append(out.Doubts, evenDoubt{d})
	}
	return out, nil
}

// share gives each number its part of what the two runs moved.
func (b *bandOf) share(even evenBand, ends [2]*Trip) {
	best := b.best.Closing
	var squares [2]float64
	for _, d := range even.Doubts {
		for k, late := range []bool{false, true} {
			x := d.moves(even.Best, late)
			squares[k] += x * x
		}
	}
	down := math.Max(0, best.ReverseMS-ends[0].Closing.ReverseMS)
	up := math.Max(0, ends[1].Closing.ReverseMS-best.ReverseMS)
	for _, d := range even.Doubts {
		low, high := best.ReverseMS, best.ReverseMS
		if squares[0] > 0 {
			low -= down * d.moves(even.Best, false) / math.Sqrt(squares[0])
		}
		if squares[1] > 0 {
			high += up * d.moves(even.Best, true) / math.Sqrt(squares[1])
		}
		if d.HighMS < d.LowMS {
			low, high = high, low
		}
		b.found = append(b.found, valve.Doubt{Key: d.Key, Value: d.Value, LowMS: low, HighMS: high})
	}
	fall, rise := math.Max(0, best.RiseM-ends[0].Closing.RiseM), math.Max(0, ends[1].Closing.RiseM-best.RiseM)
	b.rise[0], b.rise[1] = b.rise[0]+fall*fall, b.rise[1]+rise*rise
}

// bandOf collects what ranges do to a run.
type bandOf struct {
	plant   *plant
	item    *catalog.Item
	setting valve.Setting
	event   Event
	opt     runOptions
	ctx     context.Context
	best    *Trip
	found   []valve.Doubt
	rise    [2]float64 // squares of what lowers and raises the head
	slowing [2]float64 // least and greatest deceleration
}

// doubts makes the runs at the ends of all ranges.
func (b *bandOf) doubts(m *valve.Mechanism, variants []variant) error {
	b.slowing = [2]float64{b.best.Closing.DecelerationMS2, b.best.Closing.DecelerationMS2}
	full, err := b.item.Family.Type.Complete(b.item.Params)
	if err != nil {
		return err
	}
	for i := range b.item.Family.Type.Params {
		key := b.item.Family.Type.Params[i].Key
		v := full[key]
		if !v.Ranged() {
			continue
		}
		var ends [2]*Trip
		for k, x := range []float64{v.Low, v.High} {
			if x == v.SI {
				ends[k] = b.best
				continue
			}
			varied, err := b.item.VariedAll(b.setting, map[string]float64{key: x})
			if err != nil {
				return err
			}
			if ends[k], err = b.plant.again(b, varied); err != nil {
				return err
			}
		}
		b.take(key, v, ends)
	}
	return b.stationDoubts(m, variants)
}

// stationDoubts makes the runs at the ends of the station's ranges.
func (b *bandOf) stationDoubts(m *valve.Mechanism, variants []variant) error {
	ends, errs := make([][2]*Trip, len(variants)), make([]error, 2*len(variants))
	sideBySide(len(errs), func(i int) {
		x := &variants[i/2]
		ends[i/2][i%2], errs[i] = []*plant{x.low, x.high}[i%2].again(b, m)
	})
	if err := errors.Join(errs...); err != nil {
		return err
	}
	for i, x := range variants {
		v := x.value
		v.Name = x.name
		b.take(stationFact, v, ends[i])
	}
	return nil
}

// sideBySide does n things that do not touch each other, on all processors. Each files its
// result under its own number, so that it does not matter which is done first.
func sideBySide(n int, do func(i int)) {
	var next atomic.Int64
	var workers sync.WaitGroup
	var failed atomic.Value
	for range min(runtime.GOMAXPROCS(0), n) {
		workers.Go(func() {
			defer func() { // a fault of ours falls back on who asked, who may hold it
				if fault := recover(); fault != nil {
					failed.CompareAndSwap(nil, fmt.Sprintf("%v\n%s", fault, debug.Stack()))
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	workers.Wait()
	if fault := failed.Load(); fault != nil {
		panic(fault)
	}
}

// stationFact is the key of a doubt that is not of the valve.
const stationFact = "station"

// again runs the worst event of the band's plant at this one. A run that cannot be made,
// because no pump delivers at that end of the range, counts as the best one.
func (p *plant) again(b *bandOf, m *valve.Mechanism) (*Trip, error) {
	for _, ev := range p.events() {
		if ev.ID != b.event.ID {
			continue
		}
		t, err := p.run(b.ctx, m, b.item.ID, ev, b.opt)
		if err != nil {
			if b.ctx.Err() != nil {
				return nil, b.ctx.Err()
			}
			return b.best, nil
		}
		return t, nil
	}
	return b.best, nil
}

// take files what a range does.
func (b *bandOf) take(key string, v basis.Value, ends [2]*Trip) {
	low, high := ends[0].Closing, ends[1].Closing
	b.found = append(b.found, valve.Doubt{Key: key, Value: v, LowMS: low.ReverseMS, HighMS: high.ReverseMS})
	best := b.best.Closing
	up := math.Max(0, math.Max(low.RiseM, high.RiseM)-best.RiseM)
	down := math.Max(0, best.RiseM-math.Min(low.RiseM, high.RiseM))
	b.rise[0], b.rise[1] = b.rise[0]+down*down, b.rise[1]+up*up
	for _, c := range []TripClosing{low, high} {
		b.slowing[0], b.slowing[1] = math.Min(b.slowing[0], c.DecelerationMS2), math.Max(b.slowing[1], c.DecelerationMS2)
	}
}

// result is the run as the judge takes it.
func (b *bandOf) result() *judge.Run {
	c := b.best.Closing
	band := valve.NewBand(valve.Closing{ReverseVelocityMS: c.ReverseMS}, b.found)
	var in []basis.Value
	for _, d := range band.Doubts {
		in = append(in, d.Value)
	}
	const how = "read off a run of pumps, pipes and valve together by the method of characteristics; low and high join all ranges as independent"
	r := &judge.Run{
		Doubtful: b.best.Notes,
		Event:    b.event.Title, CushionS: c.CushionS, BranchS: b.best.BranchS, Doubts: band.Doubts,
		Method:       "Pump trip run through: pumps in four quadrants, waves in branch and main, and the valve's element moved by the flow.",
		Deceleration: basis.NewSimulated("deceleration in the valve, "+b.event.ID, quantity.Acceleration, c.DecelerationMS2, how, in...).WithRange(b.slowing[0], b.slowing[1]),
		HeadRise:     basis.NewSimulated("head rise of the slam, "+b.event.ID, quantity.Head, c.RiseM, how, in...).WithRange(math.Max(0, c.RiseM-math.Sqrt(b.rise[0])), c.RiseM+math.Sqrt(b.rise[1])),
	}
	if len(b.best.Cavities) > 0 {
		r.Method += " The head falls to vapor pressure; vapor cavities are in the run."
	}
	if b.item.MeasuredSteady() {
		r.Method += " Loss, floating or force as measured, from the catalog, stand in for the computed ones."
	}
	if m, ok := b.item.MeasuredClosing(b.plant.st.Valve.Position); ok {
		if v, err := judge.ReadMeasured(m, r.Deceleration); err == nil {
			r.Reverse = v
			r.Method += " Its reverse velocity is read off the catalog's measured curve at the deceleration of the run."
			return r
		}
		r.Method += " The catalog's measured closing curve does not reach the deceleration of the run; the computed motion stands."
	}
	r.Reverse = basis.NewSimulated("reverse velocity at the seat", quantity.Velocity, band.Best, how, in...).WithRange(band.Low, band.High)
	return r
}
