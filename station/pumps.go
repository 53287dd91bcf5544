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

// flows takes over the flows that the user stated.
func (r *resolver) flows() {
	d := &r.f.Duty
	normal := r.given("normal flow through the valve", d.Flow)
	if !normal.Known() && r.noCurve() {
		normal = r.usualNormalFlow()
	}
	r.st.Flows = Flows{
		Least: r.given("least flow through the valve", d.LeastFlow), Normal: normal,
		Greatest: r.given("greatest flow through the valve", d.GreatestFlow),
	}
}

// pumpAt resolves one entry of the list of pumps, or makes the pump of a first call,
// known by its duty point.
func (r *resolver) pumpAt(i int) {
	p := &r.st.Pumps[i]
	p.Name, p.Count = "pump", 1
	if len(r.f.Pumps) == 0 {
		if n := r.f.Duty.PumpsInService; n.Set {
			p.Count = int(n.Value)
		} else {
			p.Count = usualPumps
			r.warn(unwritten("pumps[0].count"), "word-assumed",
				fmt.Sprintf("not said how many pumps there are: %d are assumed", usualPumps), "", "say pumps: count")
		}
		r.pump(&PumpFile{At: unwritten("pumps")}, p)
		return
	}
	in := &r.f.Pumps[i]
	p.Name, p.Standby = r.pumpName(i), int(in.Standby.Value)
	if in.Count.Set {
		p.Count = int(in.Count.Value)
	}
	r.pump(in, p)
}

// pumpName is the name written, or one by the place in the list.
func (r *resolver) pumpName(i int) string {
	if name := r.f.Pumps[i].Name.Text; name != "" {
		return name
	}
	return nameByPlace(i)
}

func nameByPlace(i int) string { return fmt.Sprintf("P%d", i+1) }

// named gives a value that package pump names alike for every pump the name of this
// one, where there are several.
func (r *resolver) named(v basis.Value, p *Pump) basis.Value {
	v.Name = r.nameOf(v.Name, p)
	return r.fix(v)
}

func (r *resolver) nameOf(name string, p *Pump) string {
	if len(r.f.Pumps) > 1 {
		return name + " of " + p.Name
	}
	return name
}

// pump resolves one pump.
func (r *resolver) pump(in *PumpFile, p *Pump) {
	p.Speed = or(r.given("speed of "+p.Name, in.Speed), r.assume(r.usualSpeed(in), p.Name))
	p.LeastSpeed = or(r.given("least speed of "+p.Name, in.LeastSpeed), p.Speed)
	p.Submersible = r.submersible(in, p)
	curve, ok := r.curve(in, p)
	if !ok {
		return
	}
	if r.performance(in, p, curve) {
		r.power(in, p)
	}
}

// usualSpeed is that of the mains frequency, and not below the least speed given.
func (r *resolver) usualSpeed(in *PumpFile) fallback {
	d := defaults.speed[r.st.Units]
	if least := in.LeastSpeed.SI(); least > d.best {
		d.best, d.low, d.high = max(d.high, least), least, max(d.high, least)
		d.reason = "not given: two poles, because the least speed is above that of four"
	}
	return d
}

// submersible is what was said, or assumed by the liquid: it decides the inertia.
func (r *resolver) submersible(in *PumpFile, p *Pump) bool {
	switch {
	case in.Submersible.Set:
		return in.Submersible.Yes()
	case r.st.Fluid.Sewage():
		r.warn(unwritten("pumps"), "word-assumed",
			p.Name+": not said whether submersible: yes is assumed, usual for sewage, and it makes the inertia smaller", "", "say submersible: yes or no")
		return true
	}
	r.warn(unwritten("pumps"), "word-assumed",
		p.Name+": not said whether submersible: no is assumed, usual for water, and it makes the inertia larger", "", "say submersible: yes or no")
	return false
}

// curve makes the pump curve from points, or from the duty point.
func (r *resolver) curve(in *PumpFile, p *Pump) (pump.Curve, bool) {
	if len(in.Curve) == 0 {
		return r.dutyCurve(p)
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
	p.CurveSpread = r.curveSpread(in.Curve, c, p)
	if p.CurveSpread.Known() {
		c = c.TimesHead(p.CurveSpread.SI)
	}
	h, s := c.ShutOffM(), p.CurveSpread
	p.ShutoffHead = basis.NewGiven("shut-off head of "+p.Name, quantity.Head, h, place)
	if s.Known() {
		p.ShutoffHead = p.ShutoffHead.WithRange(h*s.Low/s.SI, h*s.High/s.SI)
	}
	_, last := c.Range()
	p.DutyFlow = r.st.Flows.Normal
	switch beyond := p.DutyFlow.Known() && p.DutyFlow.SI > last*1.001; {
	case beyond && last >= r.longestCurve(): // no pump of the station reaches the duty flow
		r.error(r.f.Duty.Flow.At, "duty-beyond-curve", "the duty flow is beyond the end of the curve of "+p.Name,
			"at most "+r.show(quantity.Flow, last), "mend the duty flow, or give the curve further")
		return c, false
	case beyond || !p.DutyFlow.Known(): // a smaller pump than the greatest has its own duty
		p.DutyFlow = r.usualFlow(in, last, p.Name)
	}
	p.DutyHead = r.headAtDuty(c, p)
	return c, true
}

// longestCurve is the greatest flow that the curves of the file reach, m³/s.
func (r *resolver) longestCurve() (end float64) {
	for i := range r.f.Pumps {
		if c := r.f.Pumps[i].Curve; len(c) > 0 {
			end = math.Max(end, c[len(c)-1].Items[0].SI())
		}
	}
	return end
}

// usualFlow assumes a duty flow: that of the best efficiency given, or a usual share of
// the last flow of the curve.
func (r *resolver) usualFlow(in *PumpFile, last float64, name string) basis.Value {
	var flow, most float64
	for _, t := range in.Efficiency {
		if e := t.Items[1].SI(); e > most {
			flow, most = t.Items[0].SI(), e
		}
	}
	if flow > 0 && flow <= last {
		return r.assumeTimes(flow, defaults.bestShare, name)
	}
	return r.assumeTimes(last, defaults.dutyShare, name)
}

// headAtDuty is the head at the duty flow, with the spread of the curve where it has one.
func (r *resolver) headAtDuty(c pump.Curve, p *Pump) basis.Value {
	name, s := "head of "+p.Name+" at its duty flow", p.CurveSpread
	if !s.Known() {
		return r.fix(curveHeadFormula.Eval1(name, func(q float64) float64 { return c.Head(q).SI }, p.DutyFlow))
	}
	return r.fix(spreadHeadFormula.Eval2(name, func(q, spread float64) float64 { return c.Head(q).SI * spread / s.SI },
		p.DutyFlow, s))
}

var spreadHeadFormula = basis.Formula{
	ID: "pump-curve-spread", Title: "Head read off the pump's curve, with its spread",
	Expr:    "H = f H(Q), through the points, shape kept",
	Symbols: []string{"Q", "f"}, Kind: quantity.Head, Ref: curveHeadFormula.Ref, Range: curveHeadFormula.Range,
}

var curveHeadFormula = basis.Formula{
	ID: "pump-curve", Title: "Head read off the pump's curve", Expr: "H = H(Q), through the points, shape kept",
	Symbols: []string{"Q"}, Kind: quantity.Head, Ref: "Fritsch F.N. and Butland J., SIAM J. Sci. Stat. Comput. 5, 1984",
	Range: "between the first and the last point",
}

// apart is how far a lies from b, as a share of b.
func apart(a, b float64) float64 { return math.Abs(a-b) / math.Abs(b) }

// problems tells the faults of a curve with their places; true when it cannot be used.
func (r *resolver) problems(points []yamlfile.Tuple, list pump.Problems) bool {
	fatal := false
	for _, problem := range list {
		at := points[max(problem.Index, 0)].At
		id := "curve-" + strings.ReplaceAll(problem.Kind.String(), " ", "-")
		if problem.Kind.Fatal() {
			fatal = true
			r.error(at, id, problem.Text, "points as on a data sheet, by rising flow",
				"mend the point, or leave the list out to have it estimated")
		} else {
			r.warn(at, id, problem.Text, "", "check the point against the data sheet")
		}
	}
	return fatal
}

// performance joins efficiency or power to the curve; false when it cannot.
func (r *resolver) performance(in *PumpFile, p *Pump, curve pump.Curve) bool {
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
		if r.problems(in.Efficiency, problems) {
			return false
		}
	case len(in.Power) > 0:
		p.Performance, problems = curve.WithPower(samples(in.Power), r.st.Fluid.Density.SI)
		if r.problems(in.Power, problems) {
			return false
		}
	default:
		impeller := pump.ClearWater
		switch {
		case r.grinder(r.st.Fluid.Kind):
			impeller = pump.Grinder
		case r.st.Fluid.Sewage():
			impeller = pump.SolidsPassing
		}
		peak := pump.AssumedPeakEfficiency(impeller)
		peak.Name += " of " + p.Name
		p.Efficiency = r.fix(peak)
		p.Performance, problems = curve.WithAssumedEfficiency(p.Efficiency, p.DutyFlow.SI)
		if err := problems.Err(); err != nil {
			r.error(in.At, "efficiency-unusable", err.Error(), "a curve that an efficiency can be laid over",
				"give efficiency points")
			return false
		}
	}
	return len(in.Efficiency) == 0 || len(in.Power) == 0 || r.bothAgree(in, p)
}

// bothAgree holds efficiency and power against each other.
func (r *resolver) bothAgree(in *PumpFile, p *Pump) bool {
	for _, t := range in.Power {
		q, watts := t.Items[0].SI(), t.Items[1].SI()
		if e := p.Performance.ShaftPower(q, r.st.Fluid.Density.SI); q > 0 && e.SI > 0 && apart(watts, e.SI) > 0.1 {
			r.error(t.At, "power-and-efficiency",
				fmt.Sprintf("power and efficiency disagree here: the efficiency gives %s",
					r.show(quantity.Power, e.SI)), "within 10 % of each other",
				"leave one of the two curves out, or mend it")
			return false
		}
	}
	return true
}

// power resolves shaft power at duty, motor and inertia.
func (r *resolver) power(in *PumpFile, p *Pump) {
	e := p.Performance.Efficiency(p.DutyFlow.SI)
	efficiency := basis.NewSimulated("efficiency of "+p.Name+" at its duty flow", quantity.Fraction, e.SI,
		"read off the pump's curve", or(p.Efficiency, p.DutyFlow)).WithRange(e.Low, e.High)
	p.ShaftPower = r.fix(pump.ShaftPowerFormula.Eval4("shaft power of "+p.Name+" at duty", pump.ShaftPower,
		r.st.Fluid.Density, p.DutyFlow, p.DutyHead, efficiency))
	motor := r.given("motor rating of "+p.Name, in.MotorPower)
	p.MotorRating = motor
	if motor.Known() && motor.SI < 0.8*p.ShaftPower.SI {
		r.warn(in.MotorPower.At, "motor-too-small",
			"the motor is smaller than the power at duty, "+r.show(quantity.Power,
				p.ShaftPower.SI), "at least that", "check motor, curve and efficiency")
	}
	p.MotorEfficiency = or(r.given("motor efficiency of "+p.Name, in.MotorEfficiency),
		r.named(pump.AssumedMotorEfficiency(or(motor, p.ShaftPower).SI), p))
	total := r.nameOf("inertia of pump set", p)
	set := pump.Set{
		ShaftPower: p.ShaftPower, Speed: p.Speed, MotorPower: motor, Submersible: p.Submersible,
		TotalInertia: or(r.given("inertia of "+p.Name, in.Inertia), r.known(basis.Value{Name: total}, false)),
	}
	inertia, err := pump.EstimateInertia(set)
	if err != nil {
		r.error(in.At, "inertia-unknown", err.Error(), "a pump with power and speed",
			"give inertia, or mend power and speed")
		return
	}
	if !in.Inertia.Set {
		inertia.Total.Name = total
	}
	p.Inertia, p.InertiaTime = inertia.Total, r.named(inertia.Time, p)
}
