package plant

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// axis is one uncertain number, of the station or of the valve.
type axis struct {
	name  string
	value basis.Value // with its range
	log   bool        // a positive scale
	place int         // in the sequence of draws
	key   string      // of the valve's number; "" for the station's
	spec  *valve.Param
	set   func(st *station.Station, x float64) *station.Station
}

func (a *axis) at(u float64) float64 {
	if a.spec != nil {
		return a.spec.At(a.value, u)
	}
	return draw.Range{Low: a.value.Low, Best: a.value.SI, High: a.value.High, Log: a.log}.At(u)
}

// felt is the share of a value below which its range is not drawn.
const felt = 0.02

// A valve's own numbers have the places from valvePlaces to afterValve in the sequence. Those
// before are the station's, the same for every valve, and so are those after, for a station of
// many kinds of pumps.
const (
	valvePlaces = 32
	afterValve  = valvePlaces + 64
)

// stationPlace is the place of the station's number i.
func stationPlace(i int) int {
	if i < valvePlaces {
		return i
	}
	return afterValve + i - valvePlaces
}

// stationAxes lists what is uncertain of the station. Numbers that belong together move
// together: all runs of one line, both levels of one well, all pumps of one kind. What the
// rest follows from is set first.
func (p *Plant) stationAxes() []axis {
	st := p.st
	var out []axis
	add := func(name string, v basis.Value, log bool, set func(st *station.Station, x float64) *station.Station) {
		out = append(out, axis{name: name, value: v, log: log, set: set})
	}
	add("static head", staticHead(st), false, setStatic)
	for _, unit := range p.kinds() {
		kind := p.units[unit].kind
		add(p.ofPump("inertia of pump and motor", unit), st.Pumps[kind].Inertia, true,
			func(st *station.Station, x float64) *station.Station {
				return p.eachAlike(st, kind, func(st *station.Station, g int) *station.Station {
					st.Pumps[g].Inertia.SI = x
					return st
				})
			})
		add(p.ofPump("head of the pump curve", unit), headSpread(&st.Pumps[kind]), true,
			func(st *station.Station, x float64) *station.Station {
				return p.eachAlike(st, kind,
					func(st *station.Station, g int) *station.Station { return st.WithCurve(g, x) })
			})
	}
	for _, line := range []struct {
		name string
		of   func(st *station.Station) *station.Line
	}{{"branch", func(st *station.Station) *station.Line { return &st.Branch }}, {
		"main",
		func(st *station.Station) *station.Line { return &st.Main },
	}} {
		for _, x := range runValues {
			first := ranged(line.of(st).Runs, x.of)
			add(x.name+" of the "+line.name, first, x.log, func(st *station.Station, y float64) *station.Station {
				shift(line.of(st), first, y, x.log, x.of)
				return st
			})
		}
	}
	add("elevation of the main", profileSpread(st), false,
		func(st *station.Station, u float64) *station.Station { return st.WithProfile(u) })
	add("free gas", st.Fluid.FreeGas, false, func(st *station.Station, x float64) *station.Station {
		st.Fluid.FreeGas.SI = x
		return st
	})
	out = append(out, deviceAxes(st)...)
	for i := range out {
		out[i].place = stationPlace(i)
	}
	return slices.DeleteFunc(out, func(a axis) bool {
		return !a.value.Ranged() || a.value.High-a.value.Low < felt*math.Abs(a.value.SI)
	})
}

// staticHead is the lift with its range: where only its share of the pump's head is assumed,
// that share, from which the assumed main follows too.
func staticHead(st *station.Station) basis.Value {
	for _, a := range basis.Assumptions(st.StaticLow) {
		if a.Kind == quantity.Fraction && a.Ranged() {
			return a
		}
	}
	return st.StaticLow
}

func setStatic(st *station.Station, x float64) *station.Station {
	if v := staticHead(st); v.Kind == quantity.Fraction {
		if made, err := st.Vary(station.Within("static_low", v), x); err == nil {
			return apart(made)
		}
		return st
	}
	by := x - st.StaticLow.SI
	st.StaticLow.SI, st.StaticHigh.SI = st.StaticLow.SI+by, st.StaticHigh.SI+by
	return st
}

// headSpread is the joint factor on a pump's heads: that of its points, or that of the duty
// head through which its curve is laid.
func headSpread(g *station.Pump) basis.Value {
	if g.CurveSpread.Ranged() || g.CurveGiven || !g.DutyHead.Ranged() || g.DutyHead.SI <= 0 {
		return g.CurveSpread
	}
	d := g.DutyHead
	return basis.NewSimulated("head of the pump curve", quantity.Number, 1, "the range of the duty head",
		d).WithRange(d.Low/d.SI, d.High/d.SI)
}

// profileSpread is −1 to 1 where points of the profile have ranges; unknown elsewhere.
func profileSpread(st *station.Station) basis.Value {
	for _, e := range st.Main.Profile {
		if e.HighM > e.LowM {
			return basis.NewSimulated("elevation of the main", quantity.Number, 0,
				"the ranges of the profile's points, moved together").WithRange(-1, 1)
		}
	}
	return basis.Value{}
}

// ofPump tells which kind of pump a number is of, where there are several.
func (p *Plant) ofPump(name string, unit int) string {
	if len(p.kinds()) == 1 {
		return name
	}
	return fmt.Sprintf("%s, %s", name, p.st.Pumps[p.units[unit].group].Name)
}

// eachAlike changes all groups of one kind of pump in a copy of the station.
func (p *Plant) eachAlike(
	st *station.Station, kind int, change func(st *station.Station, group int) *station.Station,
) *station.Station {
	for g := range st.Pumps {
		if p.st.KindOf(g) == kind {
			st = change(st, g)
		}
	}
	return st
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

// shift moves the values of all runs as far in their ranges as x stands in the range of the
// first; on a positive scale by a factor. A main whose length is assumed gets wider as it
// gets longer, D ∝ L^(1/5), so that it loses at duty what the pump's head leaves.
func shift(line *station.Line, first basis.Value, x float64, log bool, of func(r *station.Run) *basis.Value) {
	width := func(v basis.Value) float64 {
		end := v.High
		if x < first.SI {
			end = v.Low
		}
		if log {
			return math.Log(end / v.SI)
		}
		return end - v.SI
	}
	for i := range line.Runs {
		r := &line.Runs[i]
		v := of(r)
		if !v.Ranged() || width(first) == 0 {
			continue
		}
		w := width(*v) / width(first)
		if !log {
			v.SI += w * (x - first.SI)
			continue
		}
		factor := math.Pow(x/first.SI, w)
		v.SI *= factor
		if v == &r.Length && v.Origin != basis.Given {
			r.InnerDiameter.SI *= math.Pow(factor, 0.2)
		}
	}
}

// valveAxes lists what is uncertain of the valve and moves its closing.
func valveAxes(it *catalog.Item) ([]axis, error) {
	full, err := it.Family.Type.Complete(it.Params)
	if err != nil {
		return nil, err
	}
	if n := len(it.Family.Type.Params); n > afterValve-valvePlaces {
		return nil, fmt.Errorf("plant: valve type %s has %d numbers; the draws have places for %d", it.Family.Type.Key,
			n, afterValve-valvePlaces)
	}
	var out []axis
	for i := range it.Family.Type.Params {
		spec := &it.Family.Type.Params[i]
		v := full[spec.Key]
		if v.Ranged() && !spec.After && v.High-v.Low >= felt*math.Abs(v.SI) {
			out = append(out, axis{
				name: v.Name, value: v, log: spec.Positive, key: spec.Key, spec: spec,
				place: valvePlaces + i,
			})
		}
	}
	return out, nil
}

// apart is a copy of the station whose pumps, runs and devices may be changed.
func apart(st *station.Station) *station.Station {
	out := *st
	out.Pumps, out.Branch.Runs, out.Main.Runs = slices.Clone(st.Pumps), slices.Clone(st.Branch.Runs),
		slices.Clone(st.Main.Runs)
	out.Surge.Devices = slices.Clone(st.Surge.Devices)
	return &out
}
