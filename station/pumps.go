package station

import (
	"fmt"
	"math"
	"strings"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/pump"
	"seatward/quantity"
)

const rpm = 2 * math.Pi / 60

// pumps resolves the pumps, or makes one of the duty point.
func (r *resolver) pumps() {
	r.flows()
	if len(r.f.Pumps) == 0 {
		r.dutyPump()
		return
	}
	for i := range r.f.Pumps {
		in := &r.f.Pumps[i]
		p := Pump{Name: in.Name.Text, Count: 1, Standby: int(in.Standby.Value)}
		if in.Count.Set {
			p.Count = int(in.Count.Value)
		}
		if p.Name == "" {
			p.Name = fmt.Sprintf("P%d", i+1)
		}
		if p.Standby >= p.Count {
			r.error(in.Standby.At, "standby-too-many", fmt.Sprintf("%d standby of %d pumps leaves none to run", p.Standby, p.Count), "fewer standby pumps than pumps", "mend count or standby")
			continue
		}
		r.pump(in, &p)
		r.st.Pumps = append(r.st.Pumps, p)
	}
}

// flows takes over the flows that the user stated.
func (r *resolver) flows() {
	d := &r.f.Duty
	r.st.Flows = Flows{Least: given("least flow through the valve", d.LeastFlow), Normal: given("normal flow through the valve", d.Flow), Greatest: given("greatest flow through the valve", d.GreatestFlow)}
}

// dutyPump makes the pump of a first call, known by its duty point.
func (r *resolver) dutyPump() {
	p := Pump{Name: "pump", Count: 1}
	if n := r.f.Duty.PumpsInService; n.Set {
		p.Count = int(n.Value)
	}
	r.pump(&PumpFile{}, &p)
	r.st.Pumps = append(r.st.Pumps, p)
}

// pump resolves one pump.
func (r *resolver) pump(in *PumpFile, p *Pump) {
	p.Speed = or(given("speed of "+p.Name, in.Speed), r.defaultSpeed(p.Name))
	p.LeastSpeed = or(given("least speed of "+p.Name, in.LeastSpeed), p.Speed)
	p.Submersible = in.Submersible.Yes()
	if !in.Submersible.Set && r.st.Fluid.Sewage() {
		p.Submersible = true
		r.warn(yamlfile.At{Path: "pumps"}, "word-assumed", p.Name+": not said whether submersible: yes is assumed, usual for sewage, and it makes the inertia smaller", "", "say submersible: yes or no")
	}
	if p.LeastSpeed.SI > p.Speed.SI {
		r.error(in.LeastSpeed.At, "speeds-reversed", "the least speed is above the full speed", "at most "+r.show(quantity.RotationalSpeed, p.Speed.SI), "mend one of them")
		return
	}
	curve, ok := r.curve(in, p)
	if !ok {
		return
	}
	r.performance(in, p, curve)
	if r.list.Err() != nil {
		return
	}
	r.power(in, p)
}

func (r *resolver) defaultSpeed(name string) basis.Value {
	if r.st.Units == quantity.US {
		return basis.NewAssumed("speed of "+name, quantity.RotationalSpeed, 1760*rpm, 1160*rpm, 3500*rpm, "not given: four poles at 60 Hz; six and two poles are the range", basis.CommonPractice)
	}
	return basis.NewAssumed("speed of "+name, quantity.RotationalSpeed, 1465*rpm, 970*rpm, 2930*rpm, "not given: four poles at 50 Hz; six and two poles are the range", basis.CommonPractice)
}

// curve makes the pump curve from points, or from the duty point.
func (r *resolver) curve(in *PumpFile, p *Pump) (pump.Curve, bool) {
	if len(in.Curve) == 0 {
		return r.dutyCurve(in, p)
	}
	points := make([]pump.Point, len(in.Curve))
	for i, t := range in.Curve {
		points[i] = pump.Point{FlowM3S: t.Items[0].SI(), HeadM: t.Items[1].SI()}
	}
	c, problems := pump.NewCurve(points)
	if r.problems(in.Curve, problems) {
		return c, false
	}
	p.CurveGiven = true
	place := in.Curve[0].Place.String()
	p.ShutoffHead = basis.NewGiven("shut-off head of "+p.Name, quantity.Head, c.ShutOffM(), place)
	_, last := c.Range()
	p.DutyFlow = r.st.Flows.Normal
	if !p.DutyFlow.Known() {
		p.DutyFlow = basis.NewAssumed("duty flow of "+p.Name, quantity.Flow, 0.6*last, 0.4*last, 0.85*last, "not given: usual place on the curve, for estimates of power and inertia only", basis.CommonPractice)
	}
	p.DutyHead = curveHeadFormula.Eval("head of "+p.Name+" at its duty flow", func(x []float64) float64 { return c.Head(x[0]).SI }, p.DutyFlow)
	r.offCurve(p)
	return c, true
}

var curveHeadFormula = basis.Formula{
	ID: "pump-curve", Title: "Head read off the pump's curve", Expr: "H = H(Q), through the points, shape kept",
	Symbols: []string{"Q"}, Kind: quantity.Head, Ref: "Fritsch F.N. and Butland J., SIAM J. Sci. Stat. Comput. 5, 1984", Range: "between the first and the last point",
}

// offCurve tells when the stated duty point does not lie on the stated curve.
func (r *resolver) offCurve(p *Pump) {
	head := given("pump head at duty", r.f.Duty.Head)
	if !head.Known() || !r.st.Flows.Normal.Known() {
		return
	}
	if d := math.Abs(head.SI-p.DutyHead.SI) / p.DutyHead.SI; d > 0.1 {
		r.warn(r.f.Duty.Head.At, "duty-off-curve", fmt.Sprintf("the duty point does not lie on the pump's curve, which gives %s there: the curve is used", r.show(quantity.Head, p.DutyHead.SI)),
			"within 10 % of the curve", "mend the duty point or the curve")
	}
}

// problems tells the faults of a curve with their places; true when it cannot be used.
func (r *resolver) problems(points []yamlfile.Tuple, list pump.Problems) bool {
	fatal := false
	for _, problem := range list {
		at := points[max(problem.Index, 0)].At
		id := "curve-" + strings.ReplaceAll(problem.Kind.String(), " ", "-")
		if problem.Kind.Fatal() {
			fatal = true
			r.error(at, id, problem.Text, "flows that rise and heads that fall", "mend the point, or leave the curve out")
		} else {
			r.warn(at, id, problem.Text, "", "check the point against the data sheet")
		}
	}
	return fatal
}

// dutyCurve lays a parabola through an assumed shut-off head and the duty point.
func (r *resolver) dutyCurve(in *PumpFile, p *Pump) (pump.Curve, bool) {
	if !r.st.Flows.Normal.Known() {
		r.error(r.f.Station.At, "duty-missing", "neither a pump curve nor a duty flow is given", "pumps with a curve, or duty.flow and duty.head", "add one of them")
		return pump.Curve{}, false
	}
	p.DutyFlow = r.st.Flows.Normal
	p.DutyHead = given("pump head at duty", r.f.Duty.Head)
	if !p.DutyHead.Known() {
		p.DutyHead = headFromStaticFormula.Eval("pump head at duty", func(x []float64) float64 { return x[0] / x[1] }, r.st.StaticHigh, defaultStaticShare())
	}
	ratio := r.shutOffRatio(p)
	end := pump.AssumedEndRatio()
	c, problems := pump.FromDutyPoint(pump.Point{FlowM3S: p.DutyFlow.SI, HeadM: p.DutyHead.SI}, ratio.SI, end.SI)
	if err := problems.Err(); err != nil {
		r.error(r.f.Duty.Flow.At, "duty-unusable", err.Error(), "a duty point of a pump", "mend flow or head")
		return c, false
	}
	p.ShutoffHead = or(given("shut-off head of "+p.Name, r.f.Duty.ShutoffHead),
		pump.DutyCurveFormula.Eval("shut-off head of "+p.Name, func(x []float64) float64 { return pump.DutyShutOff(x[0], x[1]) }, p.DutyHead, ratio))
	return c, true
}

var headFromStaticFormula = basis.Formula{
	ID: "head-from-static", Title: "Pump head from the static head", Expr: "H = H_static / s",
	Symbols: []string{"H_static", "s"}, Kind: quantity.Head, Ref: basis.CommonPractice, Range: "estimate until pipes are known",
}

// shutOffRatio is the shut-off head over the duty head, stated or assumed.
func (r *resolver) shutOffRatio(p *Pump) basis.Value {
	if s := r.f.Duty.ShutoffHead; s.Set {
		return basis.NewGiven("shut-off head over duty head", quantity.Number, s.SI()/p.DutyHead.SI, s.Place.String())
	}
	var specific basis.Value
	if p.Speed.Origin == basis.Given {
		specific = pump.SpecificSpeedFormula.Eval("specific speed of "+p.Name, func(x []float64) float64 { return pump.SpecificSpeed(x[0], x[1], x[2]) }, p.Speed, p.DutyFlow, p.DutyHead)
	}
	return pump.AssumedShutOffRatio(specific)
}

// performance joins efficiency or power to the curve.
func (r *resolver) performance(in *PumpFile, p *Pump, curve pump.Curve) {
	samples := func(tuples []yamlfile.Tuple) []pump.Sample {
		out := make([]pump.Sample, len(tuples))
		for i, t := range tuples {
			out[i] = pump.Sample{FlowM3S: t.Items[0].SI(), SI: t.Items[1].SI()}
		}
		return out
	}
	var problems pump.Problems
	switch {
	case len(in.Efficiency) > 0:
		p.Performance, problems = curve.WithEfficiency(samples(in.Efficiency))
		r.problems(in.Efficiency, problems)
	case len(in.Power) > 0:
		p.Performance, problems = curve.WithPower(samples(in.Power), r.st.Fluid.Density.SI)
		r.problems(in.Power, problems)
	default:
		impeller := pump.ClearWater
		if r.st.Fluid.Sewage() {
			impeller = pump.SolidsPassing
		}
		peak := pump.AssumedPeakEfficiency(impeller)
		peak.Name += " of " + p.Name
		p.Efficiency = peak
		p.Performance, problems = curve.WithAssumedEfficiency(peak, p.DutyFlow.SI)
		if err := problems.Err(); err != nil {
			r.error(in.At, "efficiency-unusable", err.Error(), "a curve that an efficiency can be laid over", "give efficiency points")
		}
	}
	if len(in.Efficiency) > 0 && len(in.Power) > 0 {
		r.bothGiven(in, p)
	}
}

// bothGiven checks efficiency and power against each other.
func (r *resolver) bothGiven(in *PumpFile, p *Pump) {
	for _, t := range in.Power {
		q, watts := t.Items[0].SI(), t.Items[1].SI()
		if e := p.Performance.ShaftPower(q, r.st.Fluid.Density.SI); q > 0 && e.SI > 0 && math.Abs(watts-e.SI)/e.SI > 0.1 {
			r.error(t.At, "power-and-efficiency", fmt.Sprintf("power and efficiency disagree here: the efficiency gives %s", r.show(quantity.Power, e.SI)), "within 10 % of each other", "leave one of the two curves out, or mend it")
			return
		}
	}
}

// power resolves shaft power at duty, motor and inertia.
func (r *resolver) power(in *PumpFile, p *Pump) {
	e := p.Performance.Efficiency(p.DutyFlow.SI)
	efficiency := basis.NewSimulated("efficiency of "+p.Name+" at its duty flow", quantity.Fraction, e.SI, "read off the pump's curve", or(p.Efficiency, p.DutyFlow)).WithRange(e.Low, e.High)
	p.ShaftPower = pump.ShaftPowerFormula.Eval("shaft power of "+p.Name+" at duty", func(x []float64) float64 { return pump.ShaftPower(x[0], x[1], x[2], x[3]) },
		r.st.Fluid.Density, p.DutyFlow, p.DutyHead, efficiency)
	motor := given("motor rating of "+p.Name, in.MotorPower)
	if motor.Known() && motor.SI < 0.8*p.ShaftPower.SI {
		r.warn(in.MotorPower.At, "motor-too-small", "the motor is smaller than the power at duty, "+r.show(quantity.Power, p.ShaftPower.SI), "at least that", "check motor, curve and efficiency")
	}
	rated := motor.SI
	if !motor.Known() {
		rated = p.ShaftPower.SI
	}
	p.MotorEfficiency = or(given("motor efficiency of "+p.Name, in.MotorEfficiency), pump.AssumedMotorEfficiency(rated))
	inertia, err := pump.EstimateInertia(pump.Set{ShaftPower: p.ShaftPower, Speed: p.Speed, MotorPower: motor, Submersible: p.Submersible, TotalInertia: given("inertia of "+p.Name, in.Inertia)})
	if err != nil {
		r.error(in.At, "inertia-unknown", err.Error(), "a pump with power and speed", "give inertia, or mend power and speed")
		return
	}
	p.Inertia, p.InertiaTime = inertia.Total, inertia.Time
}
