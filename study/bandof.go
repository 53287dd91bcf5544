package study

import (
	"context"
	"errors"
	"math"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/quantity"
	"seatward/valve"
)

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

// end is a run at an end of a range: a station and a valve. Without a valve it is the best
// estimate itself.
type end struct {
	plant *plant
	mech  *valve.Mechanism
}

// stationEnds are those of the station's ranges, low and high of each, with the valve.
func stationEnds(m *valve.Mechanism, variants []variant) []end {
	out := make([]end, 0, 2*len(variants)+2)
	for _, x := range variants {
		out = append(out, end{x.low, m}, end{x.high, m})
	}
	return out
}

// runs makes the runs, on all processors.
func (b *bandOf) runs(ends []end) ([]*Trip, error) {
	b.slowing = [2]float64{b.best.Closing.DecelerationMS2, b.best.Closing.DecelerationMS2}
	out, errs := make([]*Trip, len(ends)), make([]error, len(ends))
	sideBySide(len(ends), func(i int) {
		if out[i] = b.best; ends[i].mech != nil {
			out[i], errs[i] = ends[i].plant.again(b, ends[i].mech)
		}
	})
	return out, errors.Join(errs...)
}

// doubts makes the runs at the ends of all ranges, those of the valve and of the station.
func (b *bandOf) doubts(m *valve.Mechanism, variants []variant) error {
	full, err := b.item.Family.Type.Complete(b.item.Params)
	if err != nil {
		return err
	}
	ends := stationEnds(m, variants)
	var keys []string
	for i := range b.item.Family.Type.Params {
		key := b.item.Family.Type.Params[i].Key
		v := full[key]
		if !v.Ranged() {
			continue
		}
		keys = append(keys, key)
		for _, x := range []float64{v.Low, v.High} {
			e := end{plant: b.plant}
			if x != v.SI { // else the range ends at the best estimate
				if e.mech, err = b.item.VariedAll(b.setting, map[string]float64{key: x}); err != nil {
					return err
				}
			}
			ends = append(ends, e)
		}
	}
	trips, err := b.runs(ends)
	if err != nil {
		return err
	}
	own := trips[2*len(variants):]
	for i, key := range keys {
		b.take(key, full[key], own[2*i], own[2*i+1])
	}
	b.takeStation(variants, trips)
	return nil
}

// takeStation files what the station's ranges do.
func (b *bandOf) takeStation(variants []variant, trips []*Trip) {
	for i, x := range variants {
		v := x.value
		v.Name = x.name
		b.take(stationFact, v, trips[2*i], trips[2*i+1])
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
func (b *bandOf) take(key string, v basis.Value, atLow, atHigh *Trip) {
	low, high := atLow.Closing, atHigh.Closing
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
	lowMS, highMS := valve.Joined(c.ReverseMS, b.found)
	var in []basis.Value
	for _, d := range b.found {
		in = append(in, d.Value)
	}
	const how = "read off a run of pumps, pipes and valve together by the method of characteristics; low and high join all ranges as independent"
	r := &judge.Run{
		Doubtful: b.best.Notes,
		Event:    b.event.Title, CushionS: c.CushionS, BranchS: b.best.BranchS, Doubts: b.found,
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
	r.Reverse = basis.NewSimulated("reverse velocity at the seat", quantity.Velocity, c.ReverseMS, how, in...).WithRange(lowMS, highMS)
	return r
}
