package plant

import (
	"math"

	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
	"seatward/station"
	"seatward/steady"
	"seatward/valve"
)

// Worked is one operating point taken apart, element by element, for a calculation that is
// checked by hand. Heads in m of the liquid, flows in m³/s, power in W.
type Worked struct {
	Name      string // "1 pump, middle level"
	Pump      *station.Pump
	Running   int
	Level     WellLevel
	FlowM3S   float64 // of one pump
	MainM3S   float64
	HeadM     float64 // of the pump, by its curve
	On        pump.Condition
	LiftM     float64 // from the head line at the suction to that at the end of the full main
	HighPoint *station.ProfilePoint
	Branch    []WorkedRun
	Main      []WorkedRun // up to the high point, where one sets the head
	Valve     valve.Rest  // unknown where there is none
	ReducersM float64
	ShaftW    float64
	Share     float64 // efficiency of the pump, 0 to 1
}

// WorkedRun is what one run of pipe loses.
type WorkedRun struct {
	station.Run
	pipe.Loss
	LengthM, LocalK float64 // of the part that flows full
}

// SystemM is the head that the system needs at the point.
func (w *Worked) SystemM() float64 {
	sum := w.LiftM + w.Valve.HeadM + w.ReducersM
	for _, line := range [][]WorkedRun{w.Branch, w.Main} {
		for i := range line {
			sum += line[i].TotalM()
		}
	}
	return sum
}

// Work takes the first operating point apart at which pumps that are alike deliver with the
// valve in place: one pump at the middle level as a rule. False where none does.
func (p *Plant) Work(m *valve.Mechanism) (Worked, bool) {
	points, err := p.Solve(m)
	if err != nil {
		return Worked{}, false
	}
	for i := range points.all {
		s := &points.all[i]
		if s.Outcome == steady.Flowing && len(distinct(s.Branches)) == 1 && len(s.Branches) == len(s.Running) {
			return p.work(m, s), true
		}
	}
	return Worked{}, false
}

func (p *Plant) work(m *valve.Mechanism, s *solved) Worked {
	b := s.Branches[0]
	u := p.units[b.Branch]
	of := u.at(s.slow)
	head := of.Head(b.FlowM3S)
	out := Worked{
		Name: s.name(), Pump: &p.st.Pumps[u.group], Running: len(s.Running), Level: s.well(), FlowM3S: b.FlowM3S,
		MainM3S: s.FlowM3S, HeadM: head.SI, On: head.Condition, LiftM: s.Level.StaticHeadM(),
		ShaftW: of.ShaftPower(b.FlowM3S, p.st.Fluid.Density.SI).SI, Share: of.Efficiency(b.FlowM3S).SI,
	}
	out.Branch = p.worked(p.st.Branch, b.FlowM3S)
	if m != nil {
		out.Valve = m.Settle(b.FlowM3S / m.AreaM2())
		out.ReducersM = p.reducers(m) * b.FlowM3S * b.FlowM3S
	}
	out.Main = p.worked(p.st.Main, s.FlowM3S)
	if top, high := p.st.HighPoint(); high {
		before, _ := split(p.st.Main, top.ChainageM)
		part := out
		part.Main, part.LiftM, part.HighPoint = p.worked(before, s.FlowM3S), top.ElevationM-s.Level.WetWellM, &top
		if part.SystemM() > out.SystemM() {
			return part
		}
	}
	return out
}

// worked are the losses of a line's runs.
func (p *Plant) worked(line station.Line, flowM3S float64) []WorkedRun {
	out := make([]WorkedRun, 0, len(line.Runs))
	all := elements(line, p.st.Fluid)
	for i, r := range line.Runs {
		x := WorkedRun{Run: r, LengthM: r.Length.SI, LocalK: r.Loss.SI}
		v := pipe.VelocityMS(flowM3S, r.InnerDiameter.SI)
		x.Loss, _ = pipe.Run{
			LengthM: r.Length.SI, DiameterM: r.InnerDiameter.SI, RoughnessM: r.Roughness.SI, K: r.Loss.SI,
			Multiplier: p.st.Fluid.FrictionFactor.SI,
		}.Loss(flowM3S, p.st.Fluid.Density.SI, p.st.Fluid.Viscosity.SI) // beyond its range: as the solver takes it
		x.VelocityMS, x.FittingsM = v, pipe.FittingLossM(r.Loss.SI, v)
		x.FrictionM = all[i].Settle(flowM3S) - x.FittingsM
		out = append(out, x)
	}
	return out
}

// InertiaTimeS is the time in s in which the set's stored motion would be used up at the
// shaft power, and that power, W, of the pump at full speed in the flow.
func (w *Worked) InertiaTimeS(flowM3S, densityKgM3 float64) (timeS, shaftW float64) {
	shaftW = w.Pump.Performance.ShaftPower(flowM3S, densityKgM3).SI
	return pump.InertiaTime(w.Pump.Inertia.SI, w.Pump.Speed.SI, shaftW), shaftW
}

// GravityMS2 is the acceleration by which pressures are heads.
const GravityMS2 = quantity.StandardGravity

// StartFlowM3S is the flow through the valve before the event.
func (s *Stop) StartFlowM3S() float64 { return math.Max(0, s.StartMS) * s.boreM2 }
