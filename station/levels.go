package station

import (
	"seatward/basis"
	"seatward/quantity"
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
	Symbols: []string{"z_out", "z_in", "p_out", "p_in", "ρ"}, Kind: quantity.Head, Ref: basis.DerivedHere,
	Range: "liquid at rest",
}

// StaticShare is the static head as a share of the pump's head.
func StaticShare(headM, share float64) float64 { return headM * share }

// StaticShareFormula is StaticShare, by which one of the two is estimated from the other.
var StaticShareFormula = basis.Formula{
	ID: "static-share", Title: "Static head from the pump's head", Expr: "H_static = s H",
	Symbols: []string{"H", "s"}, Kind: quantity.Head, Ref: basis.CommonPractice,
	Range: "estimate until levels are known",
}

// levels resolves the static heads at both wet-well levels.
func (r *resolver) levels() {
	in, duty := &r.f.Levels, &r.f.Duty
	out := r.given("elevation of the outlet", in.Outlet).AsElevation()
	high, low := r.given(highLevel, in.WetWellHigh).AsElevation(), r.given(lowLevel, in.WetWellLow).AsElevation()
	r.st.WetWellHigh = high
	switch {
	case duty.StaticHead.Set:
		r.st.StaticLow, r.st.StaticHigh = r.givenStatic()
		if low.Known() {
			r.st.WetWellHigh, _ = r.pairLevels(high, low)
		}
	case out.Known() && (high.Known() || low.Known()):
		high, low = r.pairLevels(high, low)
		r.st.WetWellHigh, r.st.Outlet = high, out
		r.st.StaticLow, r.st.StaticHigh = r.staticFrom(leastStatic, out, high), r.staticFrom(greatestStatic, out, low)
	case in.OutletPressure.Set:
		lift, datum := r.assume(defaults.lift).AsElevation(), r.assume(defaults.datum).AsElevation()
		r.st.StaticLow, r.st.StaticHigh = r.staticFrom(leastStatic, lift, datum), r.staticFrom(greatestStatic, lift,
			datum)
	case duty.Head.Set:
		r.staticShareOf(r.given("pump head at duty", duty.Head))
	default:
		r.staticShareOf(r.assume(defaults.pumpHead))
	}
	r.levelsUnused()
}

// staticShareOf estimates both static heads as the usual share of a pump head.
func (r *resolver) staticShareOf(head basis.Value) {
	share := func(name string) basis.Value {
		return r.fix(StaticShareFormula.Eval2(name, StaticShare, head, r.assume(defaults.staticShare)))
	}
	r.st.StaticLow, r.st.StaticHigh = share(leastStatic), share(greatestStatic)
}

const (
	highLevel      = "elevation of the high level in the wet well"
	lowLevel       = "elevation of the low level in the wet well"
	leastStatic    = "least static head"
	greatestStatic = "greatest static head"
)

// levelsUnused tells levels that are given but make no static head, because their
// counterpart is missing.
func (r *resolver) levelsUnused() {
	in := &r.f.Levels
	if r.f.Duty.StaticHead.Set {
		return
	}
	well, at := in.WetWellHigh.Set || in.WetWellLow.Set, in.WetWellHigh.At
	if !in.WetWellHigh.Set {
		at = in.WetWellLow.At
	}
	switch {
	case well && !in.Outlet.Set:
		r.warn(at, "levels-unused", "a level of the wet well is given without that of the outlet: it is not used",
			"outlet too", "add levels: outlet")
	case in.Outlet.Set && !well:
		r.warn(in.Outlet.At, "levels-unused",
			"the level of the outlet is given without one of the wet well: it is not used", "wet_well_high and wet_well_low too", "add them")
	}
}

// givenStatic splits a stated static head, which may be a range, over the two levels.
func (r *resolver) givenStatic() (low, high basis.Value) {
	q := r.f.Duty.StaticHead
	place := q.Place.String()
	return r.fix(basis.NewGiven(leastStatic, quantity.Head, q.Low.SI, place)),
		r.fix(basis.NewGiven(greatestStatic, quantity.Head, q.High.SI, place))
}

// pairLevels assumes the level that is missing of the two.
func (r *resolver) pairLevels(high, low basis.Value) (basis.Value, basis.Value) {
	d := defaults.wellDepth
	switch {
	case !low.Known():
		low = r.fix(basis.NewAssumed(lowLevel, quantity.Length, high.SI-d.best, high.SI-d.high, high.SI-d.low, d.reason,
			d.source)).AsElevation()
	case !high.Known():
		high = r.fix(basis.NewAssumed(highLevel, quantity.Length, low.SI+d.best, low.SI+d.low, low.SI+d.high, d.reason,
			d.source)).AsElevation()
	}
	return high, low
}

func (r *resolver) staticFrom(name string, out, level basis.Value) basis.Value {
	outPa, inPa := r.pressures()
	return r.fix(StaticHeadFormula.Eval5(name, StaticHead, out, level, outPa, inPa, r.st.Fluid.Density))
}
