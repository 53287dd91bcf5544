package plant

import (
	"seatward/basis"
	"seatward/quantity"
	"seatward/station"
)

// lineValues lists the values of a line's runs that its loss rests on.
func lineValues(line station.Line) []basis.Value {
	var out []basis.Value
	for _, r := range line.Runs {
		out = append(out, r.InnerDiameter, r.Length, r.Roughness, r.HazenWilliams, r.Loss)
	}
	return out
}

// spread is how far the normal flow may lie from its best estimate, as a range of ratios
// round 1: the station is solved with every uncertain resistance and the static head at the
// end that lowers, then at the end that raises the flow.
func (p *Plant) spread() basis.Value {
	p.spreading.Do(func() {
		st := p.st
		one := basis.NewSimulated("spread of the normal flow", quantity.Number, 1,
			"the station solved with all ranges at their adverse, then at their favorable ends", basis.Unique(append(lineValues(st.Branch), lineValues(st.Main)...))...)
		best, adverse, kind := normalFlow(st), normalFlow(extreme(st, true)), normalFlow(extreme(st, false))
		if best > 0 && adverse > 0 && kind > 0 {
			one = one.WithRange(adverse/best, kind/best)
		}
		p.flowSpread = one
	})
	return p.flowSpread
}

func normalFlow(st *station.Station) float64 {
	p, err := New(st)
	if err != nil {
		return 0
	}
	op, err := p.system(nil, false).Solve([]int{0}, p.middle())
	if err != nil {
		return 0
	}
	return op.Branches[0].FlowM3S
}

// extreme is the station with every range of its pipes and static head at one end.
func extreme(st *station.Station, adverse bool) *station.Station {
	out := *st
	more := func(v basis.Value) basis.Value {
		v.SI = v.Low
		if adverse {
			v.SI = v.High
		}
		return v
	}
	less := func(v basis.Value) basis.Value {
		v.SI = v.High
		if adverse {
			v.SI = v.Low
		}
		return v
	}
	line := func(in station.Line) station.Line {
		runs := make([]station.Run, len(in.Runs))
		for i, r := range in.Runs {
			r.Length, r.Roughness, r.Loss = more(r.Length), more(r.Roughness), more(r.Loss)
			r.InnerDiameter, r.HazenWilliams = less(r.InnerDiameter), less(r.HazenWilliams)
			runs[i] = r
		}
		in.Runs = runs
		return in
	}
	out.Branch, out.Main = line(st.Branch), line(st.Main)
	out.StaticLow, out.StaticHigh = more(st.StaticLow), more(st.StaticHigh)
	return &out
}
