package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/station"
	"seatward/valve"
)

// Sample is what all ranges together do to the reverse velocity: many runs, each with
// every uncertain number drawn at once.
type Sample struct {
	Runs        int
	Failed      int // runs without an answer: no flow, or the valve did not shut
	Seed        uint64
	Percentiles []Percentile
	Shares      []VarianceShare // largest first
	LeftOut     []string        // ranges beyond what a sample can span
}

// Percentile of the reverse velocity and of the head rise.
type Percentile struct{ Percent, ReverseMS, RiseM float64 }

// VarianceShare is the part of the variance of the reverse velocity that one number alone
// explains (first-order sensitivity, Saltelli et al. 2008), from means over bins of it.
type VarianceShare struct {
	Name  string
	Share float64
}

// axis is one uncertain number of a sample.
type axis struct {
	name  string
	value basis.Value
	key   string // of the valve's parameter; "" for the station
	apply func(st *station.Station, u float64)
}

// drawn is the number at u, 0 to 1.
func drawn(v basis.Value, u float64) float64 {
	return draw.Range{Low: v.Low, Best: v.SI, High: v.High}.At(u)
}

// stationAxes lists what is uncertain of the station: the number, and how it is put at a
// place u of its range, 0 to 1.
func (p *plant) stationAxes() []axis {
	all := []axis{
		{name: "inertia of pump and motor", value: p.st.Pumps[0].Inertia, apply: func(st *station.Station, u float64) {
			st.Pumps = slices.Clone(st.Pumps)
			for i := range st.Pumps {
				st.Pumps[i].Inertia.SI = drawn(st.Pumps[i].Inertia, u)
			}
		}},
		{name: "wave speed of the main", value: p.st.Main.Runs[0].WaveSpeed, apply: func(st *station.Station, u float64) { st.Main = wavesAt(st.Main, u) }},
		{name: "wave speed of the branch", value: p.st.Branch.Runs[0].WaveSpeed, apply: func(st *station.Station, u float64) { st.Branch = wavesAt(st.Branch, u) }},
		{name: "resistance of the pipes and static head", value: flowSpread(p.st, normalFlow(p.st)), apply: func(st *station.Station, u float64) { *st = *between(st, u) }},
	}
	return slices.DeleteFunc(all, func(a axis) bool { return !a.value.Ranged() })
}

// axes lists what is uncertain of station and valve.
func (p *plant) axes(it *catalog.Item) ([]axis, []string, error) {
	full, err := it.Family.Type.Complete(it.Params)
	if err != nil {
		return nil, nil, err
	}
	out := p.stationAxes()
	for i := range it.Family.Type.Params {
		key := it.Family.Type.Params[i].Key
		if v := full[key]; v.Ranged() {
			out = append(out, axis{name: v.Name, value: v, key: key})
		}
	}
	var left []string
	if len(out) > draw.MostAxes {
		for _, a := range out[draw.MostAxes:] {
			left = append(left, a.name)
		}
		out = out[:draw.MostAxes]
	}
	return out, left, nil
}

func wavesAt(in station.Line, u float64) station.Line {
	in.Runs = slices.Clone(in.Runs)
	for i := range in.Runs {
		in.Runs[i].WaveSpeed.SI = drawn(in.Runs[i].WaveSpeed, u)
	}
	return in
}

// between is the station with all its resistances and its static head at one place of
// their ranges, from adverse to kind.
func between(st *station.Station, u float64) *station.Station {
	adverse, kind := extreme(st, true), extreme(st, false)
	out := *st
	mix := func(v, low, high basis.Value) basis.Value {
		v.SI = drawn(basis.Value{SI: v.SI, Low: low.SI, High: high.SI}, u)
		return v
	}
	line := func(in, a, k station.Line) station.Line {
		in.Runs = slices.Clone(in.Runs)
		for i := range in.Runs {
			r, x, y := &in.Runs[i], a.Runs[i], k.Runs[i]
			r.Length, r.Roughness, r.Loss = mix(r.Length, x.Length, y.Length), mix(r.Roughness, x.Roughness, y.Roughness), mix(r.Loss, x.Loss, y.Loss)
			r.InnerDiameter, r.HazenWilliams = mix(r.InnerDiameter, x.InnerDiameter, y.InnerDiameter), mix(r.HazenWilliams, x.HazenWilliams, y.HazenWilliams)
		}
		return in
	}
	out.Branch, out.Main = line(st.Branch, adverse.Branch, kind.Branch), line(st.Main, adverse.Main, kind.Main)
	out.StaticLow, out.StaticHigh = mix(st.StaticLow, adverse.StaticLow, kind.StaticLow), mix(st.StaticHigh, adverse.StaticHigh, kind.StaticHigh)
	return &out
}

// sample makes the runs on all processors. Each run's draw hangs on its number alone, so
// the answer does not depend on which finished first.
func (p *plant) sample(ctx context.Context, it *catalog.Item, setting valve.Setting, ev Event, opt TripOptions) (*Sample, error) {
	axes, left, err := p.axes(it)
	if err != nil {
		return nil, err
	}
	seq, err := draw.NewSequence(len(axes), opt.Seed)
	if err != nil {
		return nil, err
	}
	draws, found := make([][]float64, opt.Samples), make([]TripClosing, opt.Samples)
	sideBySide(opt.Samples, func(i int) {
		if ctx.Err() != nil {
			return
		}
		u := make([]float64, len(axes))
		seq.Point(i, u)
		draws[i] = u
		found[i] = p.draw(ctx, it, setting, ev, axes, u)
	})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	s := &Sample{Runs: opt.Samples, Seed: opt.Seed, LeftOut: left}
	s.sum(axes, draws, found)
	return s, nil
}

// draw is one run with all numbers drawn; one that cannot be made counts as not closed.
func (p *plant) draw(ctx context.Context, it *catalog.Item, setting valve.Setting, ev Event, axes []axis, u []float64) TripClosing {
	st := *p.st
	params := map[string]float64{}
	for i, a := range axes {
		if a.key != "" {
			params[a.key] = drawn(a.value, u[i])
			continue
		}
		a.apply(&st, u[i])
	}
	m, err := it.VariedAll(setting, params)
	if err != nil {
		return TripClosing{}
	}
	q, err := newPlant(&st)
	if err != nil {
		return TripClosing{}
	}
	for _, e := range q.events() {
		if e.ID == ev.ID {
			if t, err := q.run(ctx, m, it.ID, e, runOptions{duration: q.runTime(), bare: true}); err == nil {
				return t.Closing
			}
		}
	}
	return TripClosing{}
}

// sum works out percentiles and shares.
func (s *Sample) sum(axes []axis, draws [][]float64, found []TripClosing) {
	var reverse, rise []float64
	var kept []int
	for i, c := range found {
		if !c.Closed {
			s.Failed++
			continue
		}
		reverse, rise, kept = append(reverse, c.ReverseMS), append(rise, c.RiseM), append(kept, i)
	}
	if len(kept) == 0 {
		return
	}
	y := slices.Clone(reverse)
	slices.Sort(reverse)
	slices.Sort(rise)
	for _, pc := range []float64{5, 25, 50, 75, 95} {
		at := func(x []float64) float64 { return x[int(math.Round(pc/100*float64(len(x)-1)))] }
		s.Percentiles = append(s.Percentiles, Percentile{pc, at(reverse), at(rise)})
	}
	for d, a := range axes {
		x := make([]float64, len(kept))
		for k, i := range kept {
			x[k] = draws[i][d]
		}
		s.Shares = append(s.Shares, VarianceShare{a.name, firstOrder(x, y)})
	}
	slices.SortStableFunc(s.Shares, func(a, b VarianceShare) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
}

// firstOrder is the variance of the means of y over even bins of x in 0..1, over the
// variance of y, less what bins of noise would give.
func firstOrder(x, y []float64) float64 {
	n := len(y)
	bins := max(2, int(math.Cbrt(float64(n))))
	sum, count := make([]float64, bins), make([]float64, bins)
	var mean float64
	for i := range y {
		b := min(bins-1, int(x[i]*float64(bins)))
		sum[b], count[b] = sum[b]+y[i], count[b]+1
		mean += y[i] / float64(n)
	}
	var between, whole float64
	for b := range bins {
		if count[b] > 0 {
			d := sum[b]/count[b] - mean
			between += count[b] * d * d / float64(n)
		}
	}
	for _, v := range y {
		whole += (v - mean) * (v - mean) / float64(n)
	}
	if whole <= 0 || n <= bins {
		return 0
	}
	noise := (whole - between) * float64(bins-1) / float64(n-bins)
	return math.Min(1, math.Max(0, (between-noise)/whole))
}

// String tells a sample in a line.
func (s *Sample) String() string {
	return fmt.Sprintf("%d runs with all ranges drawn at once, seed %d; %d gave no answer", s.Runs, s.Seed, s.Failed)
}
