// Package site gathers the numbers of a station that tests in the field are held against:
// the head behind the closed valve, the flow of a pump, what can drain back, and how a pump
// would spin backward behind a valve stuck open. Each has its record.
package site

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/leakback"
	"seatward/plant"
	"seatward/pump"
	"seatward/quantity"
	"seatward/station"
)

// Numbers are what the station says before any valve is put in.
type Numbers struct {
	leakback.Site
	DrainLength basis.Value // of the main that can drain back
	Velocity    basis.Value // in the main, one pump running
	RunBack     *RunBack    // nil where the pump's inertia or rated point is not known
	Lacks       string      // why there is no pump flow; "" where there is one
}

// RunBack is the pump behind a valve stuck open.
type RunBack struct {
	Static   basis.Value // share of the rated head
	Friction basis.Value // share of the rated head, at the rated flow
	Speed    basis.Value // steady, backward
	Fastest  basis.Value // backward, on the way
	StandsS  basis.Value // from power failure until the shaft stands before it spins back; unknown where it does not stand in the run
	Flow     basis.Value // back through the pump, steady
	Heat     basis.Value // of a restart, over that from rest
	Outside  string      // of the published pumps; "" inside
}

// Of reads the numbers of the station.
func Of(st *station.Station) (*Numbers, error) {
	n := &Numbers{}
	n.Head = head(st)
	n.Density, n.Tariff = st.Fluid.Density, st.Operation.Tariff
	if band := st.StaticHigh.SI - st.StaticLow.SI; band > 0 && st.WetWellHigh.Known() {
		n.Band = BandFormula.Eval2("level from pump on to pump off", Band, st.StaticHigh, st.StaticLow)
	}
	n.drains(st)
	p, err := plant.New(st)
	if err != nil {
		return nil, err
	}
	points, err := p.Solve(nil)
	if err != nil {
		return nil, err
	}
	if !points.Delivers() {
		n.Lacks = "no pump delivers at any level"
		return n, nil
	}
	one := points.List("")[0]
	n.PumpFlow, n.PumpHead, n.Velocity = one.Flow, one.Head, one.MainVelocity
	if one.Power.Known() && one.Power.SI > 0 {
		received := pump.HydraulicPowerFormula.Eval3("power received by the liquid", pump.HydraulicPower, st.Fluid.Density,
			one.Flow, one.Head)
		n.Efficiency = OverallFormula.Eval2("overall efficiency", Overall, received, one.Power)
	}
	return n, n.runBack(st, &one)
}

// Formulas of the station's numbers.
var (
	BandFormula = basis.Formula{
		ID: "level-band", Title: "Height between pump on and pump off", Expr: "h = H_high − H_low",
		Symbols: []string{"H_high", "H_low"}, Kind: quantity.Length, Ref: basis.DerivedHere,
	}
	OverallFormula = basis.Formula{
		ID: "overall-efficiency", Title: "Efficiency from wire to water", Expr: "η = P_hydraulic / P_electric",
		Symbols: []string{"P_hydraulic", "P_electric"}, Kind: quantity.Fraction, Ref: basis.DerivedHere,
	}
)

// Band is the height between two levels, m, from the static heads, m, at both.
func Band(highM, lowM float64) float64 { return highM - lowM }

// Overall is the power that the liquid receives over the electric power, both W.
func Overall(hydraulicW, electricW float64) float64 { return hydraulicW / electricW }

// head is the head across the closed valve of a station at rest, over all levels.
func head(st *station.Station) basis.Value {
	h := st.StaticLow
	h.Name = "head across the closed valve, no pump running"
	return h.WithRange(math.Min(h.Low, st.StaticHigh.Low), math.Max(h.High, st.StaticHigh.High))
}

// drains finds how much of the main lies between the high point next to the station and the
// level of the wet well: what can come back where air gets in at the top.
func (n *Numbers) drains(st *station.Station) {
	if len(st.Main.Runs) == 0 {
		return
	}
	top, _ := st.HighPoint()
	const parts = 400
	step := math.Min(top.ChainageM, st.Main.LengthM()) / parts
	length, volume := 0.0, 0.0
	for i := range parts {
		x := (float64(i) + 0.5) * step
		if d := bore(st, x); st.AxisAt(x) > 0 {
			length += step
			volume += math.Pi / 4 * d * d * step
		}
	}
	if !(volume > 0) {
		return
	}
	_, assumed := st.Axis()
	why := "axis of the main between the station and its highest point, where it lies above the wet well"
	if assumed {
		why += "; no profile is given, and the axis is taken as straight"
	}
	n.DrainLength = basis.NewSimulated("length of main that can drain back", quantity.Length, length, why)
	mean := basis.NewSimulated("mean bore of that length", quantity.Diameter, math.Sqrt(4*volume/(math.Pi*length)), why,
		st.Main.Runs[0].InnerDiameter)
	n.Drains = leakback.DrainedVolumeFormula.Eval2("volume that can drain back", leakback.DrainedVolume, mean, n.DrainLength)
}

// bore is the inner diameter of the main at the chainage, m.
func bore(st *station.Station, x float64) float64 {
	at := 0.0
	for i := range st.Main.Runs {
		if at += st.Main.Runs[i].Length.SI; x <= at {
			return st.Main.Runs[i].InnerDiameter.SI
		}
	}
	return st.Main.Runs[len(st.Main.Runs)-1].InnerDiameter.SI
}

// runBack works out the pump behind a valve stuck open.
func (n *Numbers) runBack(st *station.Station, one *plant.Point) error {
	g := &st.Pumps[0]
	if !(st.StaticLow.SI > 0) || !g.Speed.Known() {
		return nil
	}
	q, err := pump.NewQuadrants(g.Performance, g.Speed.SI, st.Fluid.Density.SI)
	if err != nil {
		return fmt.Errorf("the pump behind a valve stuck open: %w", err)
	}
	rated := q.Rated()
	ratio := rated.FlowM3S / one.Flow.SI
	line := leakback.Line{
		Static:   st.StaticHigh.SI / rated.HeadM,
		Friction: math.Max(0, one.Head.SI-one.StaticHead.SI) * ratio * ratio / rated.HeadM,
	}
	r := &RunBack{Outside: q.Outside}
	const why = "pump in four quadrants, its shaft free, the valve taken as full open and without loss"
	number := func(name string, kind quantity.Kind, si float64, in ...basis.Value) basis.Value {
		v := basis.NewSimulated(name, kind, si, why, in...)
		v.Source = "wylie-streeter-1993 pump appendix, data of Donsky (1961)"
		return v
	}
	r.Static = number("static head over rated head", quantity.Fraction, line.Static, st.StaticHigh)
	r.Friction = number("friction at the rated flow over rated head", quantity.Fraction, line.Friction, one.Head)
	s := leakback.Runaway(q, line)
	r.Speed = number("reverse speed behind a valve stuck open", quantity.RotationalSpeed, -s.Speed*rated.SpeedRadS, r.Static,
		r.Friction, g.Speed)
	r.Flow = number("flow back through the pump", quantity.Flow, -s.Flow*rated.FlowM3S, r.Static, r.Friction)
	alpha := number("speed over rated speed, backward below zero", quantity.Number, s.Speed, r.Speed)
	r.Heat = leakback.RestartHeatFormula.Eval1("rotor heat of a restart over that of a start from rest",
		leakback.RestartHeat, alpha)
	if rotor := g.Inertia.SI * rated.SpeedRadS / rated.TorqueNM; rotor > 0 {
		c := leakback.StuckOpen(q, line, leakback.Spin{RotorS: rotor, WaterS: water(st, rated)})
		r.Fastest = number("greatest reverse speed", quantity.RotationalSpeed, -c.Fastest.Speed*rated.SpeedRadS, g.Inertia)
		if c.StandsS > 0 {
			r.StandsS = number("time from power failure until the shaft turns back", quantity.Time, c.StandsS, g.Inertia)
		}
	}
	n.RunBack = r
	return nil
}

// water is the inertia time of the water at the rated point, s.
func water(st *station.Station, rated pump.Rated) float64 {
	sum := 0.0
	for _, l := range [][]station.Run{st.Branch.Runs, st.Main.Runs} {
		for i := range l {
			d := l[i].InnerDiameter.SI
			sum += l[i].Length.SI / (math.Pi / 4 * d * d)
		}
	}
	return math.Max(0.01, sum*rated.FlowM3S/(quantity.StandardGravity*rated.HeadM))
}
