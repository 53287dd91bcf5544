package station

import (
	"seatward/basis"
	"seatward/pump"
	"seatward/quantity"
)

// dutyCurve lays a parabola through an assumed shut-off head and the duty point.
func (r *resolver) dutyCurve(p *Pump) (pump.Curve, bool) {
	if !r.st.Flows.Normal.Known() {
		r.error(r.f.Station.At, "duty-missing", "neither a pump curve nor a duty flow is given",
			"pumps with a curve, or duty.flow and duty.head", "add one of them")
		return pump.Curve{}, false
	}
	p.DutyFlow = r.st.Flows.Normal
	p.DutyHead = or(r.given("pump head at duty", r.f.Duty.Head), r.headFromStatic(p.DutyFlow))
	ratio, end := r.shutOffRatio(p), r.named(pump.AssumedEndRatio(), p)
	c, problems := pump.FromDutyPoint(pump.Point{FlowM3S: p.DutyFlow.SI, HeadM: p.DutyHead.SI}, ratio.SI, end.SI)
	if err := problems.Err(); err != nil {
		r.error(r.f.Duty.Flow.At, "duty-unusable", err.Error(), "a duty point of a pump", "mend flow or head")
		return c, false
	}
	p.ShutoffHead = or(r.statedShutOff(p),
		r.fix(pump.DutyCurveFormula.Eval2("shut-off head of "+p.Name, pump.DutyShutOff, p.DutyHead, ratio)))
	return c, true
}

// headFromStatic estimates the head at duty: static head and what the pipes lose,
// where they are known; else by the usual share of the static head.
func (r *resolver) headFromStatic(flow basis.Value) basis.Value {
	const name = "pump head at duty"
	if len(r.f.Main.Runs) > 0 {
		if loss := r.pipeLoss(flow); loss.Known() {
			return r.fix(systemHeadFormula.Eval2(name, func(static, loss float64) float64 { return static + loss },
				r.st.StaticHigh, loss))
		}
	}
	return r.fix(headFromStaticFormula.Eval2(name, quotient, r.st.StaticHigh, r.assume(defaults.staticShare)))
}

var systemHeadFormula = basis.Formula{
	ID: "system-head", Title: "Head that the system asks for", Expr: "H = H_static + h",
	Symbols: []string{"H_static", "h"}, Kind: quantity.Head, Ref: basis.DerivedHere, Range: "without the check valve",
}

var headFromStaticFormula = basis.Formula{
	ID: "head-from-static", Title: "Pump head from the static head", Expr: "H = H_static / s",
	Symbols: []string{"H_static", "s"}, Kind: quantity.Head, Ref: basis.CommonPractice,
	Range: "estimate until pipes are known",
}

// statedShutOff is the shut-off head that was stated; unknown where none was.
func (r *resolver) statedShutOff(p *Pump) basis.Value {
	return r.given("shut-off head of "+p.Name, r.f.Duty.ShutoffHead)
}

// shutOffRatio is the shut-off head over the duty head, stated or assumed.
func (r *resolver) shutOffRatio(p *Pump) basis.Value {
	if s := r.statedShutOff(p); s.Known() {
		return shutOffRatioFormula.Eval2("shut-off head over duty head", quotient, s, p.DutyHead)
	}
	var specific basis.Value
	if p.Speed.Origin == basis.Given {
		specific = pump.SpecificSpeedFormula.Eval3("specific speed of "+p.Name, pump.SpecificSpeed, p.Speed, p.DutyFlow,
			p.DutyHead)
	}
	return r.named(pump.AssumedShutOffRatio(specific), p)
}

var shutOffRatioFormula = basis.Formula{
	ID: "shut-off-over-duty", Title: "Shut-off head over duty head", Expr: "r = H_s / H_d",
	Symbols: []string{"H_s", "H_d"}, Kind: quantity.Number, Ref: basis.DerivedHere,
}

func quotient(a, b float64) float64 { return a / b }
