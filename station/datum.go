package station

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// The datum of a station is the head line at the suction while the wet well stands at its
// high level: the level itself, and above it the head of a pressure at the suction. All
// heads of runs and of the solver count from there, and gauge pressure in the water is
// ρ g (H − z) with z from the functions of this file. They are the only place that
// shifts the elevations of the file to the datum.
//
// Where no level of the wet well is given, elevations count from that level itself.

// AboveDatum is an elevation of the file above the datum, m.
func (st *Station) AboveDatum(elevationM float64) float64 {
	return exactly(elevationM - st.WetWellHigh.SI - st.headOf(st.SuctionPressure))
}

// exactly takes off what the change of units or of the datum leaves in the last digits of a
// head, m: a run in which a valve closes early or late by its phase would make more of it.
func exactly(m float64) float64 { return math.Round(m*1e9) / 1e9 }

// headOf is a gauge pressure as a head of the liquid, m.
func (st *Station) headOf(pressure basis.Value) float64 {
	return pressure.SI / (st.Fluid.Density.SI * quantity.StandardGravity)
}

// Source is what the pumps draw from, as people call it: nobody calls the tank or the main that
// feeds a booster a wet well.
func (st *Station) Source() string {
	if st.Fluid.Kind.Drinking() || st.SuctionPressure.SI > 0 {
		return "suction"
	}
	return "wet well"
}

// WellLowM is the head line at the suction at the wet well's low level, above the datum,
// m: zero or less.
func (st *Station) WellLowM() float64 { return exactly(st.StaticLow.SI - st.StaticHigh.SI) }

// OutletHeadM is the head at the outlet above the datum, m, its pressure counted in.
func (st *Station) OutletHeadM() float64 { return exactly(st.StaticLow.SI) }

// OutletAboveDatum is where the outlet itself lies above the datum, m: its head less its
// pressure.
func (st *Station) OutletAboveDatum() float64 {
	return exactly(st.StaticLow.SI - st.headOf(st.OutletPressure))
}

// ValveAboveDatum is where the axis of the check valves lies above the datum, m.
func (st *Station) ValveAboveDatum() float64 { return st.AboveDatum(st.ValveElevation.SI) }

// Axis is the axis of the main along its length, above the datum. Where no profile is
// given it is assumed straight from the valve to the outlet.
func (st *Station) Axis() (points []ProfilePoint, assumed bool) {
	if len(st.Main.Profile) == 0 {
		v, end := st.ValveElevation, st.OutletAboveDatum()
		return []ProfilePoint{
			{0, st.ValveAboveDatum(), st.AboveDatum(v.Low), st.AboveDatum(v.High)},
			{st.Main.LengthM(), end, end, end},
		}, true
	}
	for _, p := range st.Main.Profile {
		points = append(points, ProfilePoint{
			p.ChainageM, st.AboveDatum(p.ElevationM), st.AboveDatum(p.LowM),
			st.AboveDatum(p.HighM),
		})
	}
	return points, false
}

// HighPoint is the highest point of the main's axis above the datum, and whether it stands
// above the head at the outlet: then the main runs partly open beyond it. A pressure at
// the outlet holds it full up to that head. An assumed axis has no high point.
func (st *Station) HighPoint() (top ProfilePoint, above bool) {
	points, assumed := st.Axis()
	top = points[0]
	for _, p := range points {
		if p.ElevationM > top.ElevationM {
			top = p
		}
	}
	return top, !assumed && top.ElevationM > st.OutletHeadM()
}

// LengthM is the length of all runs, m.
func (l Line) LengthM() (sum float64) {
	for i := range l.Runs {
		sum += l.Runs[i].Length.SI
	}
	return sum
}

// datum resolves the pressures at both ends, and where the valve stands.
func (r *resolver) datum() {
	r.st.OutletPressure, r.st.SuctionPressure = r.pressures()
	given := r.given(valveLevel, r.f.Levels.ValveAxis).AsElevation()
	if given.Known() && !r.st.WetWellHigh.Known() {
		r.warn(r.f.Levels.ValveAxis.At, "levels-unused",
			"the level of the valve is given without one of the wet well: it is not used", "wet_well_high and wet_well_low too", "add them")
		given = basis.Value{}
	}
	r.st.ValveElevation = or(given, r.assumedValve())
}

const valveLevel = "elevation of the check valve"

// assumedValve is where the main begins, else the low level of the wet well, near which
// the pumps stand.
func (r *resolver) assumedValve() basis.Value {
	d, at := defaults.valveAtWell, r.st.WetWellHigh.SI+r.st.WellLowM()
	if points := r.st.Main.Profile; len(points) > 0 {
		d, at = defaults.valveAtMain, points[0].ElevationM
	}
	return r.fix(basis.NewAssumed(valveLevel, quantity.Length, at+d.best, at+d.low, at+d.high, d.reason,
		d.source)).AsElevation()
}

// pressures are the gauge pressures at both ends: given, or open to the air.
func (r *resolver) pressures() (out, in basis.Value) {
	out = or(r.given("gauge pressure at the outlet", r.f.Levels.OutletPressure), r.assume(defaults.openOutlet))
	in = or(r.given("gauge pressure at the suction", r.f.Levels.SuctionPressure), r.assume(defaults.openSuction))
	return out, in
}
