package station

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// StaticHead is the lift from the wet-well level to the outlet, in m of the liquid:
//
//	H = z_out − z_in + (p_out − p_in)/(ρ g)
//
// z elevations in m, p gauge pressures in Pa, ρ density in kg/m³.
func StaticHead(outM, inM, outPa, inPa, densityKgM3 float64) float64 {
	return outM - inM + (outPa-inPa)/(densityKgM3*quantity.StandardGravity)
}

// StaticHeadFormula is StaticHead.
var StaticHeadFormula = basis.Formula{
	ID: "static-head", Title: "Static head", Expr: "H = z_out − z_in + (p_out − p_in)/(ρ g)",
	Symbols: []string{"z_out", "z_in", "p_out", "p_in", "ρ"}, Kind: quantity.Head, Ref: basis.DerivedHere, Range: "liquid at rest",
}

// StaticShare is the static head as a share of the pump's head.
func StaticShare(headM, share float64) float64 { return headM * share }

// StaticShareFormula is StaticShare, by which one of the two is estimated from the other.
var StaticShareFormula = basis.Formula{
	ID: "static-share", Title: "Static head from the pump's head", Expr: "H_static = s H",
	Symbols: []string{"H", "s"}, Kind: quantity.Head, Ref: basis.CommonPractice, Range: "estimate until levels are known",
}

func defaultStaticShare() basis.Value {
	return basis.NewAssumed("static head over pump head", quantity.Fraction, 0.65, 0.35, 0.95, "neither levels nor pipes are known; force mains run from nearly flat to nearly all lift", basis.CommonPractice)
}

// levels resolves the static heads at both wet-well levels.
func (r *resolver) levels() {
	in, duty := &r.f.Levels, &r.f.Duty
	out := given("elevation of the outlet", in.Outlet)
	high, low := given("elevation of the high level in the wet well", in.WetWellHigh), given("elevation of the low level in the wet well", in.WetWellLow)
	r.st.WetWellHigh = high
	switch {
	case duty.StaticHead.Set:
		r.st.StaticLow, r.st.StaticHigh = r.givenStatic()
	case out.Known() && (high.Known() || low.Known()):
		if !high.Known() || !low.Known() {
			high, low = pairLevels(high, low)
			r.st.WetWellHigh = high
		}
		r.st.StaticLow, r.st.StaticHigh = r.staticFrom("least static head", out, high), r.staticFrom("greatest static head", out, low)
	case in.OutletPressure.Set:
		zero := basis.NewAssumed("difference of elevation between outlet and suction", quantity.Length, 0, -2, 2, "no elevations are given", basis.CommonPractice)
		ground := basis.NewGiven("elevation of the pump", quantity.Length, 0, "")
		r.st.StaticLow = r.staticFrom("least static head", zero, ground)
		r.st.StaticHigh = r.st.StaticLow
	case duty.Head.Set:
		head := given("pump head at duty", duty.Head)
		h := StaticShareFormula.Eval("static head", func(x []float64) float64 { return StaticShare(x[0], x[1]) }, head, defaultStaticShare())
		r.st.StaticLow, r.st.StaticHigh = h, h
	default:
		r.error(r.f.Station.At, "static-missing", "neither levels nor a static head are given, and no head from which to estimate it",
			"levels with wet_well_high, wet_well_low and outlet, or duty.static_head", "add one of them")
	}
}

// givenStatic splits a stated static head, which may be a range, over the two levels.
func (r *resolver) givenStatic() (low, high basis.Value) {
	q := r.f.Duty.StaticHead
	place := q.Place.String()
	low = basis.NewGiven("least static head", quantity.Head, q.Low.SI, place)
	high = basis.NewGiven("greatest static head", quantity.Head, q.High.SI, place)
	return low, high
}

// pairLevels assumes the level that is missing of the two.
func pairLevels(high, low basis.Value) (basis.Value, basis.Value) {
	const reason = "the other level is not given: pumps usually work over some 1 m"
	if high.Known() {
		return high, basis.NewAssumed("elevation of the low level in the wet well", quantity.Length, high.SI-1, high.SI-2, high.SI-0.3, reason, basis.CommonPractice)
	}
	return basis.NewAssumed("elevation of the high level in the wet well", quantity.Length, low.SI+1, low.SI+0.3, low.SI+2, reason, basis.CommonPractice), low
}

func (r *resolver) staticFrom(name string, out, level basis.Value) basis.Value {
	open := func(what string) basis.Value {
		return basis.NewAssumed("gauge pressure at the "+what, quantity.Pressure, 0, 0, 0, "open to the air", basis.CommonPractice)
	}
	outPa := or(given("gauge pressure at the outlet", r.f.Levels.OutletPressure), open("outlet"))
	inPa := or(given("gauge pressure at the suction", r.f.Levels.SuctionPressure), open("suction"))
	return StaticHeadFormula.Eval(name, func(x []float64) float64 { return StaticHead(x[0], x[1], x[2], x[3], x[4]) }, out, level, outPa, inPa, r.st.Fluid.Density)
}

// valve resolves the place where the check valve goes.
func (r *resolver) valve() {
	in, out := &r.f.Valve, &r.st.Valve
	out.Size, out.SizeGiven = in.Size.Size, in.Size.Set
	if !in.Size.Set {
		if runs := r.f.Branch.Runs; len(runs) > 0 && runs[0].Size.Set {
			out.Size = runs[0].Size.Size
		} else {
			r.error(r.f.Station.At, "size-missing", "the pipe's size at the valve is not given", "valve.size, such as 6 in or DN150, or a branch run with a size", "add valve: size")
			return
		}
	}
	out.Position, out.PositionGiven = r.word(in.Position, "valve.position", "horizontal", "the usual place in a valve vault"), in.Position.Set
	position, err := valve.PositionNamed(out.Position)
	if err != nil {
		r.error(in.Position.At, "position-unknown", err.Error(), "horizontal, flow up or flow down", "pick one")
		return
	}
	out.Angle = basis.NewGiven("angle of the flow above the horizontal", quantity.Angle, position.InclinationRad(), in.Position.Place.String())
	if !in.Position.Set {
		out.Angle = basis.NewAssumed("angle of the flow above the horizontal", quantity.Angle, 0, 0, math.Pi/2, "the position is not given", basis.CommonPractice)
	}
	out.StraightBefore, out.StraightAfter = given("straight pipe before the valve", in.StraightBefore), given("straight pipe after the valve", in.StraightAfter)
	out.Clearance, out.LayingLength = given("free height above the valve's axis", in.Clearance), given("laying length that is free", in.LayingLength)
	out.Rating = given("pressure rating called for", in.Rating)
	out.Where, out.Existing = in.Place.Text, in.Existing.Text
}

// surge resolves what holds the pressure near the pumps and how they stop.
func (r *resolver) surge() {
	in, out := &r.f.Surge, &r.st.Surge
	out.AirVessel = in.AirVessel.Text == "at the station"
	pumps := 0
	for _, p := range r.st.Pumps {
		pumps += p.Count - p.Standby
	}
	out.CommonHeader = in.CommonHeader.Yes() || (!in.CommonHeader.Set && pumps > 1)
	out.Stop = in.Stop.Text
	if !in.Stop.Set {
		out.Stop = "direct"
	}
	out.RampTime = given("length of the stop ramp", in.RampTime)
	for _, e := range r.f.Events {
		r.st.Events = append(r.st.Events, Event{Name: e.Name.Text, Kind: e.Kind.Text, RampTime: given("length of the ramp, "+e.Kind.Text, e.Time)})
	}
}

// operation resolves what running costs depend on.
func (r *resolver) operation() {
	in := &r.f.Operation
	practice := func(name string, kind quantity.Kind, best, low, high float64, reason string) basis.Value {
		return basis.NewAssumed(name, kind, best, low, high, reason, basis.CommonPractice)
	}
	const hour, perKWh = 3600, 1 / 3.6e6
	r.st.Operation = Operation{
		RunningTime:   or(given("running time of one pump in a year", in.HoursPerYear), practice("running time of one pump in a year", quantity.Time, 2200*hour, 700*hour, 6000*hour, "a quarter of the time; lift stations run from 2 to 16 hours a day")),
		StartsPerHour: or(givenNumber("starts of one pump in an hour", in.StartsPerHour), practice("starts of one pump in an hour", quantity.Number, 4, 1, 10, "usual for level control")),
		Tariff:        or(given("price of electricity", in.Tariff), practice("price of electricity", quantity.Tariff, 0.14*perKWh, 0.07*perKWh, 0.30*perKWh, "in your currency; tariffs differ widely")),
		Interest:      or(given("interest rate", in.Interest), practice("interest rate", quantity.Fraction, 0.04, 0.02, 0.08, "public works")),
		Years:         or(givenNumber("years of the life-cycle cost", in.Years), practice("years of the life-cycle cost", quantity.Number, 20, 10, 30, "usual life of a valve")),
	}
}
