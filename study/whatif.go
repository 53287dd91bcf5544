package study

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
	"seatward/station"
)

// MechanicsPath begins the paths of a valve's own numbers, as catalog files group them:
// mechanics.ball_density.
const MechanicsPath = "mechanics."

// WhatIf is one number of a trip that is other than in the station file or the catalog.
type WhatIf struct {
	Path  string
	Value basis.Value
	Was   basis.Value // in the catalog; unknown for numbers of the station
}

// WhatIfs are the numbers that were tried: those of the station, those added to it, and
// the valve's own.
func (s *TripStudy) WhatIfs() []WhatIf {
	var out []WhatIf
	station.Walk(s.Station, func(path string, v basis.Value) {
		if tried(v) {
			out = append(out, WhatIf{Path: path, Value: v})
		}
	})
	for _, c := range []struct {
		path, name string
		kind       quantity.Kind
		si         float64
	}{
		{"change.flywheel_kg_m2", "flywheel added to each pump", quantity.Inertia, s.with.FlywheelKgM2},
		{"change.vessel_m3", "air of a vessel added at the header", quantity.Volume, s.with.VesselM3},
		{"change.ramp_s", "ramp of the stop", quantity.Time, s.with.RampS},
	} {
		if c.si != 0 {
			out = append(out, WhatIf{Path: c.path, Value: basis.NewGiven(c.name, c.kind, c.si, basis.WhatIf)})
		}
	}
	sold, err := s.sold.Family.Type.Complete(s.sold.Params)
	if err != nil {
		return out
	}
	for _, spec := range s.sold.Family.Type.Params {
		if v := s.Item.Params[spec.Key]; tried(v) {
			out = append(out, WhatIf{MechanicsPath + spec.Key, v, sold[spec.Key]})
		}
	}
	return out
}

func tried(v basis.Value) bool { return v.Origin == basis.Given && v.Place == basis.WhatIf }

// Tell says what was tried, in a line.
func (w WhatIf) Tell(sys quantity.System) string {
	text := w.Value.Name + ": " + w.Value.Format(sys)
	if w.Was.Known() {
		return text + ", where the catalog has " + w.Was.Format(sys)
	}
	return text
}

// Trial is a number that may be tried, and how far.
type Trial struct {
	Path      string
	Value     basis.Value // as it is, in the catalog's valve
	Low, High float64
	Reason    string // for how far
}

// halfToTwice is how far numbers are tried of whose range nobody has said anything: a
// common span to try, no range of doubt.
const halfToTwice = "from half to twice what it is"

// mostAlike is how many numbers of one kind may be tried, each by itself: a person moves no more.
const mostAlike = 4

// Trials are the numbers of station and valve that decide how a valve closes.
func (s *TripStudy) Trials() []Trial {
	var out []Trial
	add := func(t Trial) {
		if t.Value.Known() && t.Value.SI != 0 {
			out = append(out, t)
		}
	}
	twice := func(path string, v basis.Value) Trial {
		low, high := v.SI/2, v.SI*2
		return Trial{path, v, math.Min(low, high), math.Max(low, high), halfToTwice}
	}
	if sold, err := s.sold.Family.Type.Complete(s.sold.Params); err == nil {
		for _, spec := range s.sold.Family.Type.Params {
			v := sold[spec.Key]
			if !spec.Tried || !v.Known() {
				continue
			}
			if _, err := s.sold.WhatIf(map[string]float64{spec.Key: v.SI}); err != nil {
				continue
			}
			if v.Origin == basis.Catalog && v.Ranged() {
				add(Trial{MechanicsPath + spec.Key, v, v.Low, v.High, "the range that the catalog gives"})
			} else {
				add(twice(MechanicsPath+spec.Key, v))
			}
		}
	}
	switch st, half := s.Station, s.Station.StaticLow.SI/2; {
	case half <= 0:
	case st.Outlet.Known():
		out = append(out, Trial{
			"outlet", st.Outlet, st.Outlet.SI - half, st.Outlet.SI + half,
			"half the static head up or down",
		})
	default: // the file has the lift itself
		add(Trial{"static_low", st.StaticLow, half, st.StaticHigh.SI, "from half of it to the greatest"})
		add(Trial{
			"static_high", st.StaticHigh, st.StaticLow.SI, 2 * st.StaticHigh.SI,
			"from the least to twice what it is",
		})
	}
	for i := range min(len(s.Station.Pumps), mostAlike) {
		add(twice(s.Station.Pumps[i].Path()+".inertia", s.Station.Pumps[i].Inertia))
	}
	for i := range min(len(s.Station.Main.Runs), mostAlike) {
		t := twice(fmt.Sprintf("main.runs[%d].wave_speed", i), s.Station.Main.Runs[i].WaveSpeed)
		f := s.Station.Fluid
		if sound := math.Sqrt(f.BulkModulus.SI / f.Density.SI); t.Value.SI < sound && sound < t.High {
			t.High, t.Reason = sound, "from half of it to that in a pipe that does not give way"
		}
		add(t)
	}
	return out
}

// asTried is the item with the numbers of the options in it.
func (opt *TripOptions) asTried(it *catalog.Item) (*catalog.Item, error) {
	if len(opt.Mechanics) == 0 {
		return it, nil
	}
	return it.WhatIf(opt.Mechanics)
}
