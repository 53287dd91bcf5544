package study

import (
	"context"
	"fmt"
	"math"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// variant is the station with one fact, or one kind of fact, at the ends of its range.
type variant struct {
	name      string
	value     basis.Value
	low, high *plant
}

// variants are the facts of the station that move a run, each alone. They serve every
// valve.
func (p *plant) variants() ([]variant, error) {
	var out []variant
	add := func(name string, v basis.Value, change func(st *station.Station, high bool)) error {
		if !v.Ranged() {
			return nil
		}
		x := variant{name: name, value: v}
		for _, high := range []bool{false, true} {
			st := *p.st
			change(&st, high)
			q, err := newPlant(&st)
			if err == nil {
				err = q.forRuns()
			}
			if err != nil {
				return fmt.Errorf("with %s at an end of its range: %w", name, err)
			}
			if high {
				x.high = q
			} else {
				x.low = q
			}
		}
		out = append(out, x)
		return nil
	}
	err := add("inertia of pump and motor", p.st.Pumps[0].Inertia, func(st *station.Station, high bool) {
		st.Pumps = append([]station.Pump(nil), st.Pumps...)
		for i := range st.Pumps {
			st.Pumps[i].Inertia = at(st.Pumps[i].Inertia, high)
		}
	})
	if err != nil {
		return nil, err
	}
	if err := add("wave speed of the main", p.st.Main.Runs[0].WaveSpeed, func(st *station.Station, high bool) { st.Main = waves(st.Main, high) }); err != nil {
		return nil, err
	}
	if err := add("wave speed of the branch", p.st.Branch.Runs[0].WaveSpeed, func(st *station.Station, high bool) { st.Branch = waves(st.Branch, high) }); err != nil {
		return nil, err
	}
	spread := flowSpread(p.st, 1)
	if spread.Ranged() {
		err = add("resistance of the pipes and static head", basis.NewSimulated("resistance of the pipes", quantity.Number, 1, "all at one end").WithRange(0.5, 1.5), func(st *station.Station, high bool) { *st = *extreme(st, high) })
	}
	return out, err
}

// at is the value at an end of its range.
func at(v basis.Value, high bool) basis.Value {
	if high {
		v.SI = v.High
	} else {
		v.SI = v.Low
	}
	return v
}

func waves(in station.Line, high bool) station.Line {
	runs := append([]station.Run(nil), in.Runs...)
	for i := range runs {
		runs[i].WaveSpeed = at(runs[i].WaveSpeed, high)
	}
	in.Runs = runs
	return in
}

// coupled runs every stop through with the item, then the worst one again with each
// number that has a range at its ends, alone.
func (p *plant) coupled(ctx context.Context, it *catalog.Item, m *valve.Mechanism, setting valve.Setting, variants []variant) (*judge.Run, error) {
	if err := p.forRuns(); err != nil {
		return nil, err
	}
	opt := runOptions{duration: p.runTime()}
	var worst *Trip
	for _, ev := range p.stopEvents() {
		t, err := p.run(ctx, m, it.ID, ev, opt)
		if err != nil {
			return &judge.Run{Fault: err.Error()}, ctx.Err()
		}
		if !t.Closing.Closed {
			return &judge.Run{Fault: fmt.Sprintf("the valve does not shut within %.0f s of %s", t.TimeS, ev.Title)}, nil
		}
		if worst == nil || t.Closing.slam() > worst.Closing.slam() {
			worst = t
		}
	}
	if worst == nil {
		return &judge.Run{Fault: "no stop was found"}, nil
	}
	opt.gas = worst.gas
	b := bandOf{plant: p, item: it, setting: setting, event: worst.Event, opt: opt, ctx: ctx, best: worst}
	if err := b.doubts(m, variants); err != nil {
		return nil, err
	}
	return b.result(), nil
}

// slam orders closings: by the reverse velocity, or behind a cushion by the head.
func (c TripClosing) slam() float64 { return c.ReverseMS }

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

// doubts makes the runs at the ends of ranges.
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
	for _, x := range variants {
		var ends [2]*Trip
		for k, q := range []*plant{x.low, x.high} {
			var err error
			if ends[k], err = q.again(b, m); err != nil {
				return err
			}
		}
		v := x.value
		v.Name = x.name
		b.take(stationFact, v, ends)
	}
	return nil
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
		Event: b.event.Title, CushionS: c.CushionS, BranchS: b.best.BranchS, Doubts: band.Doubts,
		Method:       "Pump trip run through: pumps in four quadrants, waves in branch and main, and the valve's element moved by the flow.",
		Deceleration: basis.NewSimulated("deceleration in the valve, "+b.event.ID, quantity.Acceleration, c.DecelerationMS2, how, in...).WithRange(b.slowing[0], b.slowing[1]),
		HeadRise:     basis.NewSimulated("head rise of the slam, "+b.event.ID, quantity.Head, c.RiseM, how, in...).WithRange(math.Max(0, c.RiseM-math.Sqrt(b.rise[0])), c.RiseM+math.Sqrt(b.rise[1])),
	}
	if len(b.best.Cavities) > 0 {
		r.Method += " The head falls to vapor pressure; vapor cavities are in the run."
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
