package plant

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// HandStops are the pump stops that can happen at a station, each with the deceleration
// that it gives the water, told as velocity in the branch at the valve.
type HandStops struct {
	All  []HandStop
	Bore basis.Value // inner diameter of the branch, to which decelerations refer
}

// HandStop is one pump stop.
type HandStop struct {
	Name         string // "one of two pumps trips, the other keeps running"
	Event        string // ID of the event that it stands for; "" where no event is like it
	Level        string // of the wet well, or the operating point
	Method       string // formula, in a sentence
	Flow         basis.Value
	Deceleration basis.Value // at reversal, in the branch, with its range
	Length       basis.Value // of the water column, referred to the branch
	Head         basis.Value
	Velocity     basis.Value // before the stop, in the branch
	InertiaTime  basis.Value
	Held         bool // the header holds its head: only the branch slows down
	Waves        bool // waves return before the flow turns: the formula does not hold
}

// ByHand works out the stops from the operating points without a valve.
func ByHand(st *station.Station, points []OperatingPoint) HandStops {
	out := HandStops{Bore: st.Branch.Runs[0].InnerDiameter}
	most := 1
	for _, p := range points {
		most = max(most, p.PumpsRunning)
	}
	alike := st.KindOf(len(st.Pumps)-1) == 0
	for _, p := range points {
		if p.Normal || p.Stated {
			continue
		}
		switch {
		case st.HasVessel():
			out.All = append(out.All, out.held(st, p, "power failure, an air vessel holds the header"))
		case p.PumpsRunning == most:
			out.All = append(out.All, out.long(st, p, "power failure"+lost(most)).like("power-failure", p.Level, alike))
		}
		if p.PumpsRunning == most && most > 1 && st.Surge.CommonHeader {
			out.All = append(out.All, out.held(st, p, oneTrips(most)).like("one-trips", p.Level, alike))
		}
	}
	return out
}

// like names the event that the stop stands for: there is none where pumps are not alike, for the
// stop is that of one pump's flow.
func (x HandStop) like(event string, level WellLevel, alike bool) HandStop {
	if alike {
		x.Event = idAt(event, level)
	}
	return x
}

// Worst is the stop with the greatest deceleration; false where there is none.
func (s HandStops) Worst() (HandStop, bool) {
	var out HandStop
	for _, x := range s.All {
		if x.Deceleration.SI > out.Deceleration.SI {
			out = x
		}
	}
	return out, out.Deceleration.Known()
}

var gravity = basis.NewCatalog("standard gravity", quantity.Acceleration, quantity.StandardGravity, "3rd CGPM, 1901")

// held is a stop at which the header keeps its head: the branch's water alone is
// stopped and driven back.
func (s HandStops) held(st *station.Station, p OperatingPoint, name string) HandStop {
	length := columnLength("length of the branch's water column, "+p.Name, s.Bore, 1, st.Branch.Runs, nil)
	return s.stop(st, p, name, length, p.HeaderHead, true)
}

// long is a stop of all pumps: the whole column, driven back by the static head.
func (s HandStops) long(st *station.Station, p OperatingPoint, name string) HandStop {
	length := columnLength("length of the whole water column, "+p.Name, s.Bore, p.PumpsRunning, st.Branch.Runs,
		st.Main.Runs)
	return s.stop(st, p, name, length, p.StaticHead, false)
}

func (s HandStops) stop(
	st *station.Station, p OperatingPoint, name string, length, head basis.Value, held bool,
) HandStop {
	out := HandStop{
		Name: name, Level: p.Name, Flow: p.Flow, Length: length, Head: head,
		InertiaTime: inertiaTime(st, p), Held: held,
	}
	out.Velocity = pipe.VelocityMSFormula.Eval2("velocity in the branch, "+p.Name, pipe.VelocityMS, p.Flow, s.Bore)
	out.rigid()
	if held {
		out.Waves = out.reversal() < wavePeriod(st.Branch.Runs)
	} else {
		out.elastic(st, p)
	}
	return out
}

// rigid takes the water column as rigid, and pump head and torque as falling with the
// square of the speed.
func (x *HandStop) rigid() {
	x.Method = "Rigid water column, pump running down by its inertia."
	x.Deceleration = valve.ReversalDecelerationFormula.Eval5("deceleration at flow reversal, "+x.Name+", "+x.Level,
		valve.ReversalDeceleration,
		x.Length, x.Head, x.Velocity, x.InertiaTime, gravity)
}

// elastic replaces the rigid column where the flow turns before the first wave comes
// back from the outlet, and says so where waves matter but the formula does not hold.
func (x *HandStop) elastic(st *station.Station, p OperatingPoint) {
	wave, period := st.Main.Runs[0].WaveSpeed, wavePeriod(st.Main.Runs)
	if x.reversal() >= period {
		return
	}
	// The main's velocity is the branch's, times the pumps, over the ratio of areas.
	ratio := float64(p.PumpsRunning) * x.Flow.SI / (pipe.AreaM2(st.Main.Runs[0].InnerDiameter.SI) * x.Velocity.SI)
	turns := valve.ElasticReversalTime(wave.SI, p.HeaderHead.SI, x.Velocity.SI*ratio, x.InertiaTime.SI, gravity.SI)
	if !finite(turns) || turns <= 0 || turns >= period {
		x.Method += " Waves come back before the flow turns: the true value may be higher."
		x.Waves = true
		return
	}
	inMain := basis.NewSimulated("velocity in the main, "+x.Level, quantity.Velocity, x.Velocity.SI*ratio,
		"continuity with the branch", x.Velocity)
	d := valve.ElasticDecelerationFormula.Eval5("deceleration in the main at flow reversal, "+x.Name+", "+x.Level,
		valve.ElasticDeceleration,
		wave, p.HeaderHead, inMain, x.InertiaTime, gravity)
	if !finite(d.SI) || !finite(d.Low) || !finite(d.High) {
		return
	}
	x.Method = "Elastic main before the first reflection, pump running down by its inertia."
	x.Deceleration = scaleFormula.Eval2("deceleration at flow reversal, "+x.Name+", "+x.Level,
		func(inMain, ratio float64) float64 { return inMain / ratio }, d,
		basis.NewSimulated("velocity in the main over that in the branch", quantity.Number, ratio, "continuity",
			x.Velocity))
}

// reversal is the time in s until the rigid column turns.
func (x *HandStop) reversal() float64 {
	return valve.ReversalTime(valve.ColumnTime(x.Length.SI, x.Velocity.SI, x.Head.SI, gravity.SI), x.InertiaTime.SI)
}

// wavePeriod is the time in s of a wave along the runs and back.
func wavePeriod(runs []station.Run) float64 {
	var period float64
	for _, r := range runs {
		period += 2 * r.Length.SI / r.WaveSpeed.SI
	}
	return period
}

var scaleFormula = basis.Formula{
	ID: "branch-deceleration", Title: "Deceleration in the branch from that in the main",
	Expr:    "α_branch = α_main / (V_main/V_branch)",
	Symbols: []string{"α_main", "V_main/V_branch"}, Kind: quantity.Acceleration, Ref: basis.DerivedHere,
	Range: "continuity at the header",
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// columnLength is the length of a column of the reference bore that is as heavy to
// slow down as the runs: the main counts once for each of the pumps that feed it.
//
//	L = Σ L_i A/A_i + n Σ L_j A/A_j
func columnLength(name string, bore basis.Value, pumps int, branch, main []station.Run) basis.Value {
	in := []basis.Value{bore}
	symbols := []string{"D"}
	for i, r := range append(append([]station.Run(nil), branch...), main...) {
		in = append(in, r.Length, r.InnerDiameter)
		symbols = append(symbols, fmt.Sprintf("L%d", i+1), fmt.Sprintf("D%d", i+1))
	}
	n := len(branch)
	f := basis.Formula{
		ID: "column-length", Title: "Equivalent length of the water column",
		Expr:    fmt.Sprintf("L = Σ_branch L_i D²/D_i² + %d Σ_main L_j D²/D_j²", pumps),
		Symbols: symbols, Kind: quantity.Length, Ref: basis.DerivedHere, Range: "rigid column",
	}
	return f.EvalAll(name, func(x []float64) float64 {
		var sum float64
		for i := 1; i < len(x); i += 2 {
			weight := 1.0
			if (i-1)/2 >= n {
				weight = float64(pumps)
			}
			sum += weight * x[i] * x[0] * x[0] / (x[i+1] * x[i+1])
		}
		return sum
	}, in...)
}

// inertiaTime is that of the first pump at the power that it takes at the point.
func inertiaTime(st *station.Station, p OperatingPoint) basis.Value {
	lead := st.Pumps[0]
	at := func(q float64) pump.Reading { return lead.Performance.ShaftPower(q, st.Fluid.Density.SI) }
	best := at(p.Flow.SI)
	if !(best.SI > 0) {
		return lead.InertiaTime
	}
	power := basis.NewSimulated("shaft power before the stop, "+p.Name, quantity.Power, best.SI,
		"read off the pump's curve", p.Flow, lead.Efficiency).WithRange(best.Low, best.High)
	return pump.InertiaTimeFormula.Eval3("inertia time, "+p.Name, pump.InertiaTime, lead.Inertia, lead.Speed, power)
}
