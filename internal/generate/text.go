package generate

import (
	"fmt"
	"strconv"
	"strings"

	"seatward/quantity"
)

// digits are the figures of a written number: three more than a file is read to, so that one
// station in two systems of units is one station to the last bit, and 12.5 ft is not written
// as 12.499999999999998.
const digits = quantity.Digits + 3

// writer writes a station file, in flow style, a line for each part.
type writer struct {
	strings.Builder
	units quantity.System
}

// Text is the station file.
func (s Station) Text() string {
	w := &writer{units: s.Units}
	title := "Generated"
	if s.Seed != 0 {
		title = fmt.Sprintf("Generated %d", s.Seed)
	}
	fmt.Fprintf(w, "station: %s\nplace: Marram Ness (invented)\nunits: %s\n", title, s.Units)
	w.part("fluid", s.fluid(w))
	w.part("site", []string{w.q("elevation", quantity.Length, s.SiteM)})
	w.part("valve", s.valve(w))
	w.part("duty", s.duty(w))
	if len(s.Pumps) > 0 {
		w.WriteString("pumps:\n")
		for _, p := range s.Pumps {
			fmt.Fprintf(w, "  - {%s}\n", join(p.keys(w)))
		}
	}
	w.part("levels", s.Levels.keys(w))
	w.runs("branch", s.Branch)
	w.runs("main", s.Main)
	if len(s.Profile) > 0 {
		var points []string
		for _, p := range s.Profile {
			points = append(points, fmt.Sprintf("[%s, %s]", w.plain(quantity.Length, p.ChainageM),
				w.plain(quantity.Length, p.ElevationM)))
		}
		fmt.Fprintf(w, "  profile: [%s]\n", strings.Join(points, ", "))
	}
	vessel := ""
	if s.Vessel {
		vessel = "at the station"
	}
	w.part("surge", []string{
		key("air_vessel", vessel), key("normal_stop", s.Stop),
		w.q("ramp_time", quantity.Time, s.RampS),
	})
	w.part("operation", []string{
		w.q("running_time_per_year", quantity.Time, s.HoursSec),
		w.q("tariff", quantity.Tariff, s.Tariff),
	})
	if len(s.Events) > 0 {
		w.WriteString("events:\n")
		for _, e := range s.Events {
			fmt.Fprintf(w, "  - {%s}\n", join(e.keys(w)))
		}
	}
	return w.String()
}

// part writes a section, unless nothing in it is given.
func (w *writer) part(name string, keys []string) {
	if inner := join(keys); inner != "" {
		fmt.Fprintf(w, "%s: {%s}\n", name, inner)
	}
}

func (w *writer) runs(name string, runs []Run) {
	if len(runs) == 0 {
		return
	}
	fmt.Fprintf(w, "%s:\n  runs:\n", name)
	for _, r := range runs {
		fmt.Fprintf(w, "    - {%s}\n", join(r.keys(w)))
	}
}

// join leaves out what is not given.
func join(keys []string) string {
	var given []string
	for _, k := range keys {
		if k != "" {
			given = append(given, k)
		}
	}
	return strings.Join(given, ", ")
}

func key(name, value string) string {
	if value == "" {
		return ""
	}
	return name + ": " + value
}

func count(name string, n int) string {
	if n == 0 {
		return ""
	}
	return key(name, strconv.Itoa(n))
}

// figures writes a number.
func figures(x float64) string { return strconv.FormatFloat(x, 'g', digits, 64) }

// plain writes a quantity without a range.
func (w *writer) plain(kind quantity.Kind, si float64) string {
	return strings.TrimSpace(figures(w.units.In(kind, si)) + " " + w.units.Unit(kind))
}

// q writes a key with a quantity and its range; nothing for a zero Number.
func (w *writer) q(name string, kind quantity.Kind, n Number) string {
	switch {
	case n == Number{}:
		return ""
	case n.Spread == 0:
		return key(name, w.plain(kind, n.SI))
	case n.Between:
		low, high := w.units.In(kind, n.SI*(1-n.Spread)), w.units.In(kind, n.SI*(1+n.Spread))
		return key(name, strings.TrimSpace(figures(low)+".."+figures(high)+" "+w.units.Unit(kind)))
	}
	return key(name, w.plain(kind, n.SI)+" ± "+figures(100*n.Spread)+" %")
}

// at writes a key with a quantity that may be zero, where there is one.
func (w *writer) at(name string, kind quantity.Kind, si *float64) string {
	if si == nil {
		return ""
	}
	return key(name, w.plain(kind, *si))
}

// points writes a curve; the second numbers carry the spread.
func (w *writer) points(name string, kind quantity.Kind, points []Pair, spread float64) string {
	if len(points) == 0 {
		return ""
	}
	var out []string
	for _, p := range points {
		y := w.plain(kind, p.Y)
		if spread > 0 && p.Y > 0 {
			y += " ± " + figures(100*spread) + " %"
		}
		out = append(out, fmt.Sprintf("[%s, %s]", w.plain(quantity.Flow, p.X), y))
	}
	return key(name, "["+strings.Join(out, ", ")+"]")
}

func (s Station) fluid(w *writer) []string {
	f := s.Fluid
	return []string{
		key("kind", f.Kind), w.q("temperature", quantity.Temperature, f.TemperatureK),
		w.q("density", quantity.Density, f.DensityKgM3),
		w.q("friction_multiplier", quantity.Number, f.Friction), w.q("solids", quantity.Diameter, f.SolidsM),
		key("rags", f.Rags), key("grit", f.Grit), key("oil", f.Oil), key("hydrogen_sulfide", f.Sulfide),
		w.q("free_gas", quantity.Fraction, f.FreeG),
	}
}

func (s Station) valve(w *writer) []string {
	v := s.Valve
	return []string{
		key("size", quantity.Size{DN: v.DN}.Format(w.units)), key("position", v.Position), key("place", v.Place),
		w.q("straight_before", quantity.Length, v.StraightM), w.q("straight_after", quantity.Length, v.StraightAfterM),
		w.q("clearance", quantity.Length, v.ClearanceM), w.q("laying_length", quantity.Length, v.LayingM),
	}
}

func (s Station) duty(w *writer) []string {
	d := s.Duty
	out := []string{
		w.q("flow", quantity.Flow, d.FlowM3S), w.q("head", quantity.Head, d.HeadM),
		w.q("shutoff_head", quantity.Head, d.ShutOffM),
		w.q("least_flow", quantity.Flow, d.LeastM3S), count("pumps_in_service", d.InService),
	}
	switch {
	case d.StaticHighM == 0:
	case d.StaticLowM == d.StaticHighM:
		out = append(out, key("static_head", w.plain(quantity.Head, d.StaticHighM)))
	default:
		out = append(out, key("static_head",
			figures(w.units.In(quantity.Head, d.StaticLowM))+".."+w.plain(quantity.Head, d.StaticHighM)))
	}
	return out
}

func (p Pump) keys(w *writer) []string {
	return []string{
		key("name", p.Name), count("count", p.Count), count("standby", p.Standby),
		w.q("speed", quantity.RotationalSpeed, p.Speed), w.q("least_speed", quantity.RotationalSpeed, p.LeastSpeed),
		w.q("motor_power", quantity.Power, p.MotorW), w.q("inertia", quantity.Inertia, p.InertiaKgM2),
		key("submersible", p.Submersible),
		w.points("curve", quantity.Head, p.Curve, p.CurveSpread),
		w.points("efficiency", quantity.Fraction, p.Efficiency, 0),
	}
}

func (l Levels) keys(w *writer) []string {
	if !l.Given {
		return nil
	}
	return []string{
		w.at("wet_well_high", quantity.Length, &l.HighM), w.at("wet_well_low", quantity.Length, &l.LowM),
		w.at("outlet", quantity.Length, &l.OutletM),
		w.at("valve", quantity.Length, l.ValveM), w.at("suction_pressure", quantity.Pressure, l.SuctionPa),
		w.at("outlet_pressure", quantity.Pressure, l.DischargePa),
	}
}

func (r Run) keys(w *writer) []string {
	var fittings []string
	for _, f := range r.Fittings {
		fittings = append(fittings, key(f.Name, figures(f.Count)))
	}
	out := []string{
		key("material", r.Material), key("class", r.Class), key("size", quantity.Size{DN: r.DN}.Format(w.units)),
		key("lining", r.Lining),
		w.q("length", quantity.Length, r.LengthM), w.q("roughness", quantity.Roughness, r.RoughnessM),
		w.q("wave_speed", quantity.Velocity, r.WaveMS),
		w.q("hazen_williams", quantity.Number, r.Williams), w.at("loss_coefficient", quantity.Number, r.LossK),
	}
	if len(fittings) > 0 {
		out = append(out, key("fittings", "{"+strings.Join(fittings, ", ")+"}"))
	}
	return out
}

func (e Event) keys(w *writer) []string {
	out := []string{key("name", e.Name), key("kind", e.Kind), w.q("ramp_time", quantity.Time, e.RampS)}
	if len(e.Steps) == 0 {
		return out
	}
	var steps []string
	for _, s := range e.Steps {
		steps = append(steps, "{"+join([]string{
			w.at("at", quantity.Time, &s.AtS), count("pump", s.Pump),
			key("does", s.Does), w.q("ramp_time", quantity.Time, s.RampS),
		})+"}")
	}
	return append(out, key("steps", "["+strings.Join(steps, ", ")+"]"))
}
