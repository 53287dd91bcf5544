package plant

import (
	"context"
	"math"
	"sync"

	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/internal/pool"
	"seatward/quantity"
	"seatward/valve"
)

// seed makes the sequence of draws that all valves share.
const seed = 1

// draws are the plants of all draws of the station's numbers, made when first wanted: the
// same for every valve, so that differences between valves are fair.
type draws struct {
	axes     []axis
	sequence *draw.Sequence
	made     [draw.FullSample]struct {
		once  sync.Once
		plant *Plant
	}
}

// drawing makes the draws ready.
func (p *Plant) drawing() *draws {
	p.drawn.Do(func() {
		d := &draws{axes: p.stationAxes()}
		last := afterValve
		for _, a := range d.axes {
			last = max(last, a.place+1)
		}
		d.sequence, _ = draw.NewSequence(last, seed) // an error is for none
		p.draws = d
	})
	return p.draws
}

// plant is the plant of a draw; nil where it cannot be.
func (p *Plant) drawnPlant(i int) *Plant {
	d := p.drawing()
	m := &d.made[i]
	m.once.Do(func() {
		st := apart(p.st)
		for k := range d.axes {
			a := &d.axes[k]
			st = a.set(st, a.at(d.sequence.At(i, a.place)))
		}
		if q, err := New(st); err == nil && q.forRuns() == nil {
			m.plant = q
		}
	})
	return m.plant
}

// outcome is what one draw gave.
type outcome struct {
	ok                     bool
	reverse, sudden, riseM float64
}

// sampler draws one event with one valve.
type sampler struct {
	ctx     context.Context
	plant   *Plant
	item    *catalog.Item
	setting valve.Setting
	event   Event
	change  Change
	gas     bool
	harmful float64 // a valve that does not come to rest is at least that
	axes    []axis  // of station and valve
	own     []axis  // of the valve alone

	got []outcome
}

func (p *Plant) sampler(ctx context.Context, a *Answer, setting valve.Setting, ask Ask) (*sampler, error) {
	own, err := valveAxes(a.Item)
	if err != nil {
		return nil, err
	}
	s := &sampler{
		ctx: ctx, plant: p, item: a.Item, setting: setting, event: a.Worst.Event, gas: a.Worst.gas,
		harmful: ask.Limits.HarmfulMS, change: ask.Change, own: own,
	}
	s.axes = append(append(s.axes, p.drawing().axes...), own...)
	return s, nil
}

// places are those of the axes in the sequence.
func (s *sampler) places() []int {
	out := make([]int, len(s.axes))
	for i, a := range s.axes {
		out[i] = a.place
	}
	return out
}

// upTo makes the draws that are missing of the first n.
func (s *sampler) upTo(n int) {
	from := len(s.got)
	if n <= from {
		return
	}
	s.got = append(s.got, make([]outcome, n-from)...)
	pool.Each(n-from, func(k int) { s.got[from+k] = s.draw(from + k) })
}

// draw is one run with all numbers drawn.
func (s *sampler) draw(i int) outcome {
	if s.ctx.Err() != nil {
		return outcome{}
	}
	q := s.plant.drawnPlant(i)
	if q == nil {
		return outcome{}
	}
	at := map[string]float64{}
	for k := range s.own {
		a := &s.own[k]
		at[a.key] = a.at(s.plant.drawing().sequence.At(i, a.place))
	}
	return s.with(q, at)
}

// with is one run with the valve's numbers at others than the best.
func (s *sampler) with(q *Plant, at map[string]float64) outcome {
	m, err := s.item.VariedAll(s.setting, at)
	if err != nil {
		return outcome{}
	}
	ev, ok := q.same(s.event)
	if !ok {
		return outcome{}
	}
	r, err := q.Run(s.ctx, m, ev, Options{draw: true, gas: s.gas, Change: s.change})
	if err != nil || r.Fault != "" {
		return outcome{}
	}
	return s.read(r)
}

// read takes from a run what is asked of it.
func (s *sampler) read(r *Stop) outcome {
	if !r.Closing.Closed {
		return outcome{}
	}
	o := outcome{true, r.SlamMS(), s.plant.suddenMS(r), r.RiseM()}
	if r.Rest == NeverRests {
		o.sudden = math.Max(o.sudden, s.harmful*(1+1e-6))
	}
	return o
}

// same is the event of this plant that is the one of another.
func (p *Plant) same(ev Event) (Event, bool) {
	for _, e := range p.Events() {
		if e.ID == ev.ID {
			return e, true
		}
	}
	return Event{}, false
}

// suddenMS is the reverse velocity by which a slam is classed, m/s: that of the hardest
// seating, or behind a cushion slower than the waves the sudden stop of the same head rise,
// V = g ΔH/a · D²/D_valve².
func (p *Plant) suddenMS(s *Stop) float64 {
	if !s.Cushioned() {
		return s.SlamMS()
	}
	length, travel, area := joined(p.st.Branch)
	return math.Min(s.SlamMS(), quantity.StandardGravity*s.RiseM()/(length/travel)*area/s.boreM2)
}
