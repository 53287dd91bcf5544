package site

import (
	"math"
	"strconv"
	"strings"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/trace"
	"seatward/judge"
	"seatward/leakback"
	"seatward/quantity"
	"seatward/station"
)

// Fact is a number of the station by the name that rules of diagnosis have for it.
type Fact struct {
	Name  string
	Value basis.Value
}

// Facts are what a diagnosis may rest on at a station.
type Facts struct {
	Numbers []Fact
	Known   map[string]any    // all facts, as conditions take them
	Words   map[string]string // and as text
}

// number takes a value in, unless it is not known or no number.
func (f *Facts) number(name string, v basis.Value, sys quantity.System) {
	if !v.Known() || math.IsNaN(v.SI) || math.IsInf(v.SI, 0) {
		return
	}
	f.Numbers = append(f.Numbers, Fact{name, v})
	f.Known[name], f.Words[name] = v.SI, sys.Format(v.Kind, v.SI)
}

func (f *Facts) count(name string, n int) { f.Known[name], f.Words[name] = n, strconv.Itoa(n) }

func (f *Facts) text(name, word string) {
	if word != "" {
		f.Known[name], f.Words[name] = word, word
	}
}

// FactsOf gathers the facts of a station; the assessment is that of the valve that is there
// now, nil where it is not known.
func FactsOf(st *station.Station, n *Numbers, a *judge.Assessment) *Facts {
	f := &Facts{Known: map[string]any{}, Words: map[string]string{}}
	sys := st.Units
	f.number("back_head", n.Head, sys)
	f.number("drains", n.Drains, sys)
	f.number("drain_length", n.DrainLength, sys)
	f.number("pump_flow", n.PumpFlow, sys)
	if r := n.RunBack; r != nil {
		f.number("run_back", r.Speed, sys)
		f.number("back_flow", r.Flow, sys)
		f.number("restart_heat", r.Heat, sys)
	}
	f.number("shut_off", st.Pumps[0].ShutoffHead, sys)
	pumps := 0
	for i := range st.Pumps {
		pumps += st.Pumps[i].Count
	}
	f.count("pumps", pumps)
	if st.Fluid.Said["rags"] {
		f.text("rags", st.Fluid.Rags)
	}
	if st.Fluid.Said["grit"] {
		f.text("grit", st.Fluid.Grit)
	}
	if len(st.Main.Profile) > 2 {
		f.count("summits", summits(st.Main.Profile))
	}
	f.waves(st, n)
	if a != nil {
		f.valve(st, a)
	}
	return f
}

// Well adds how far the well of the area would rise; nothing where that is not known.
func (f *Facts) Well(area basis.Value, n *Numbers, sys quantity.System) {
	if !area.Known() || !(area.Low > 0) {
		return
	}
	if n.Drains.Known() {
		f.number("drain_rise", leakback.RiseFormula.Eval2("rise of the well by what can drain back", leakback.Rise, n.Drains,
			area), sys)
	}
	if n.RunBack != nil {
		const minute = 60.0
		volume := basis.NewSimulated("volume that comes back in a minute", quantity.Volume, n.RunBack.Flow.SI*minute,
			"flow back through the pump for a minute", n.RunBack.Flow)
		f.number("back_rise", leakback.RiseFormula.Eval2("rise of the well in a minute with a valve stuck open", leakback.Rise,
			volume, area), sys)
	}
}

// valve adds what is computed with the valve that is there now.
func (f *Facts) valve(st *station.Station, a *judge.Assessment) {
	sys := st.Units
	f.number("velocity", a.Governing.Velocity, sys)
	f.number("full_open", a.FullOpenVelocity, sys)
	f.number("valve_loss", a.Governing.Loss, sys)
	f.number("back_head_needed", a.BackHead, sys)
	f.Known["hinged"] = a.Item.Family.Type.Traits.Hinged
	if a.Slam.Class == "" {
		return
	}
	f.number("slam", a.Slam.ReverseVelocity, sys)
	f.number("head_rise", a.Slam.HeadRise, sys)
	f.text("slam_class", a.VerdictClass())
	f.text("event", a.Slam.Event)
	f.count("later_blows", a.Slam.Later.Count)
	f.Known["separates"] = a.Separation != ""
}

// waves adds the times of waves and cavities in the main.
func (f *Facts) waves(st *station.Station, n *Numbers) {
	travel := 0.0
	var in []basis.Value
	for i := range st.Main.Runs {
		r := &st.Main.Runs[i]
		if !(r.WaveSpeed.SI > 0) {
			return
		}
		travel += r.Length.SI / r.WaveSpeed.SI
		in = append(in, r.Length, r.WaveSpeed)
	}
	if !(travel > 0) {
		return
	}
	f.number("wave_swing", basis.NewSimulated("swing of the pressure in the main", quantity.Time, 4*travel,
		"four travel times of the wave, summed over the runs of the main", in...), st.Units)
	// Vapor pressure is some 10 m below air pressure; the head that drives the column back is
	// that of the outlet above it.
	head := st.OutletHeadM() - st.ValveAboveDatum() + (st.Site.AirPressure.SI-st.Fluid.VaporPressure.SI)/
		(st.Fluid.Density.SI*quantity.StandardGravity)
	if n.Velocity.Known() && head > 0 {
		life := trace.CavityLifeFormula.Eval3("life of a cavity at the station", trace.CavityLife, n.Velocity,
			basis.NewSimulated("length of the main", quantity.Length, st.Main.LengthM(), "sum of its runs"),
			basis.NewSimulated("head of the outlet over vapor pressure", quantity.Head, head, "levels, air pressure and vapor pressure",
				st.Site.AirPressure, st.Fluid.VaporPressure))
		f.number("cavity_life", life, st.Units)
	}
}

// summits counts the high points between the ends of a profile.
func summits(profile []station.ProfilePoint) int {
	n, rising := 0, false
	for i := 1; i < len(profile); i++ {
		switch d := profile[i].ElevationM - profile[i-1].ElevationM; {
		case d > 0:
			rising = true
		case d < 0 && rising:
			n, rising = n+1, false
		}
	}
	return n
}

// Present finds the valve of the catalogs, in the station's size, whose family is nearest to
// what the file says of the valve there now; nil where nothing fits.
func Present(st *station.Station, catalogs []*catalog.Catalog) *catalog.Item {
	said := words(st.Valve.Existing)
	var best *catalog.Item
	most, fewest := 0, 0
	for _, c := range catalogs {
		for _, f := range c.Families {
			title := words(f.Title)
			hits := 0
			for w := range title {
				if said[w] {
					hits++
				}
			}
			if hits == 0 || hits < most || hits == most && len(title) >= fewest {
				continue
			}
			if it := inSize(f, st); it != nil {
				best, most, fewest = it, hits, len(title)
			}
		}
	}
	return best
}

// inSize is the first valve of the family in the station's size.
func inSize(f *catalog.Family, st *station.Station) *catalog.Item {
	for _, it := range f.Items {
		if it.Size.DN == st.Valve.Size.DN {
			return it
		}
	}
	return nil
}

// idle are words of titles that tell no family from another.
var idle = map[string]bool{"check": true, "valve": true, "with": true, "and": true, "plain": true, "the": true}

// words are the words of a text that may name a kind of valve, in the singular.
func words(text string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if w = strings.TrimSuffix(w, "s"); !idle[w] && len(w) > 2 {
			out[w] = true
		}
	}
	return out
}
