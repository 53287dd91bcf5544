package plant

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/station"
)

// axis is one uncertain number, of the station or of the valve.
type axis struct {
	name  string
	value basis.Value // with its range
	log   bool        // a positive scale
	place int         // in the sequence of draws
	key   string      // of the valve's number; "" for the station's
	set   func(st *station.Station, x float64)
}

func (a *axis) at(u float64) float64 {
	return draw.Range{Low: a.value.Low, Best: a.value.SI, High: a.value.High, Log: a.log}.At(u)
}

// felt is the share of a value below which its range is not drawn.
const felt = 0.02

// valvePlaces is the first place in the sequence of a valve's own numbers: those before
// are the station's, the same for every valve.
const valvePlaces = 32

// stationAxes lists what is uncertain of the station. Numbers that belong together move
// together: all runs of one line, both levels of one well, all pumps of one kind.
func (p *Plant) stationAxes() []axis {
	st := p.st
	var out []axis
	add := func(name string, v basis.Value, log bool, set func(st *station.Station, x float64)) {
		out = append(out, axis{name: name, value: v, log: log, set: set})
	}
	for _, unit := range p.kinds() {
		kind := p.units[unit].kind
		add(p.ofPump("inertia of pump and motor", unit), st.Pumps[kind].Inertia, true, func(st *station.Station, x float64) {
			p.eachAlike(st, kind, func(g *station.Pump) { g.Inertia.SI = x })
		})
	}
	for _, line := range []struct {
		name string
		of   func(st *station.Station) *station.Line
	}{{"branch", func(st *station.Station) *station.Line { return &st.Branch }}, {"main", func(st *station.Station) *station.Line { return &st.Main }}} {
		for _, x := range runValues {
			first := ranged(line.of(st).Runs, x.of)
			add(x.name+" of the "+line.name, first, x.log, func(st *station.Station, y float64) {
				shift(line.of(st), first, y, x.of)
			})
		}
	}
	lift := st.StaticLow
	lift.Name = "static head"
	add("static head", lift, false, func(st *station.Station, x float64) {
		by := x - st.StaticLow.SI
		st.StaticLow.SI, st.StaticHigh.SI = st.StaticLow.SI+by, st.StaticHigh.SI+by
	})
	add("free gas", st.Fluid.FreeGas, false, func(st *station.Station, x float64) { st.Fluid.FreeGas.SI = x })
	for i := range out {
		out[i].place = i
	}
	return slices.DeleteFunc(out, func(a axis) bool {
		return !a.value.Ranged() || a.value.High-a.value.Low < felt*math.Abs(a.value.SI)
	})
}

// ofPump tells which kind of pump a number is of, where there are several.
func (p *Plant) ofPump(name string, unit int) string {
	if len(p.kinds()) == 1 {
		return name
	}
	return fmt.Sprintf("%s, %s", name, p.st.Pumps[p.units[unit].group].Name)
}

// eachAlike changes all groups of one kind of pump in a copy of the station.
func (p *Plant) eachAlike(st *station.Station, kind int, change func(*station.Pump)) {
	for _, u := range p.units {
		if u.kind == kind {
			change(&st.Pumps[u.group])
		}
	}
}

// runValues are the numbers of a run of pipe that may be uncertain.
var runValues = []struct {
	name string
	log  bool
	of   func(r *station.Run) *basis.Value
}{
	{"wave speed", true, func(r *station.Run) *basis.Value { return &r.WaveSpeed }},
	{"length", true, func(r *station.Run) *basis.Value { return &r.Length }},
	{"inner diameter", true, func(r *station.Run) *basis.Value { return &r.InnerDiameter }},
	{"roughness", true, func(r *station.Run) *basis.Value { return &r.Roughness }},
	{"Hazen-Williams C", true, func(r *station.Run) *basis.Value { return &r.HazenWilliams }},
	{"local losses", false, func(r *station.Run) *basis.Value { return &r.Loss }},
}

// ranged is the value of the run whose range is the widest beside it.
func ranged(runs []station.Run, of func(r *station.Run) *basis.Value) basis.Value {
	out, widest := basis.Value{}, 0.0
	for i := range runs {
		if v := *of(&runs[i]); v.Ranged() {
			if w := (v.High - v.Low) / math.Max(math.Abs(v.SI), 1e-12); w > widest {
				out, widest = v, w
			}
		}
	}
	return out
}

// shift puts the values of all runs at the place of their ranges at which x stands in the
// range of the first.
func shift(line *station.Line, first basis.Value, x float64, of func(r *station.Run) *basis.Value) {
	for i := range line.Runs {
		v := of(&line.Runs[i])
		if !v.Ranged() {
			continue
		}
		switch {
		case x >= first.SI && first.High > first.SI:
			v.SI += (x - first.SI) / (first.High - first.SI) * (v.High - v.SI)
		case x < first.SI && first.SI > first.Low:
			v.SI -= (first.SI - x) / (first.SI - first.Low) * (v.SI - v.Low)
		}
	}
}

// valveAxes lists what is uncertain of the valve and moves its closing.
func valveAxes(it *catalog.Item) ([]axis, error) {
	full, err := it.Family.Type.Complete(it.Params)
	if err != nil {
		return nil, err
	}
	var out []axis
	for i := range it.Family.Type.Params {
		spec := &it.Family.Type.Params[i]
		v := full[spec.Key]
		if v.Ranged() && !spec.After && v.High-v.Low >= felt*math.Abs(v.SI) {
			out = append(out, axis{name: v.Name, value: v, log: v.Low > 0, key: spec.Key, place: valvePlaces + i})
		}
	}
	return out, nil
}

// apart is a copy of the station whose pumps and runs may be changed.
func apart(st *station.Station) *station.Station {
	out := *st
	out.Pumps, out.Branch.Runs, out.Main.Runs = slices.Clone(st.Pumps), slices.Clone(st.Branch.Runs), slices.Clone(st.Main.Runs)
	return &out
}
