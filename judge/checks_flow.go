package judge

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/pump"
	"seatward/quantity"
	"seatward/valve"
)

// velocities weighs least, normal and greatest velocity against the one that opens
// the valve in full, and against the greatest it is made for.
func velocities(b *bench) []Finding {
	if b.Mech == nil {
		return nil
	}
	if !b.out.Governing.Velocity.Known() {
		return []Finding{{
			Kind: VelocityUnknown,
			Text: "No normal flow: the pumps do not deliver at the normal point with this valve.", Basis: basis.DerivedHere, Missing: "a flow that the valve meets",
		}}
	}
	if !b.out.FullOpenVelocity.Known() {
		return nil // nothing closes it: the check of closing has told
	}
	out := []Finding{b.normalVelocity()}
	if least, ok := b.extreme(true); ok {
		out = append(out, b.leastVelocity(least)...)
	}
	if most, ok := b.extreme(false); ok {
		limit := b.limit("greatest-velocity")
		if most.Velocity.SI > limit.SI {
			out = append(out, Finding{
				Kind: VelocityTooHigh, Value: most.Velocity, Limit: limit, Basis: limit.Source,
				Text: fmt.Sprintf("Max. velocity %s (%s) is above the %s usual for pump piping.", b.show(most.Velocity),
					most.Name, b.show(limit)), Mend: "a larger size",
			})
		}
	}
	return out
}

// steadyTolerance is the share by which a velocity may fall short of the full-open velocity
// before the element is said to flutter: neither of the two is known more closely; judged,
// no source.
const steadyTolerance = 0.05

func (b *bench) normalVelocity() Finding {
	v, full := b.out.Governing.Velocity, b.out.FullOpenVelocity
	margin := b.limit("full-open-margin").SI * (1 - steadyTolerance)
	f := Finding{Kind: VelocityFullOpen, Value: v, Limit: full, Basis: b.limit("full-open-margin").Source}
	f.Text = fmt.Sprintf("Normal velocity %s; the disc or ball is %s from %s up and is held steady.", b.show(v),
		openWord(b.Mech), b.show(full))
	switch {
	case v.SI < margin*full.SI:
		f.Kind, f.Mend = VelocityBelowFullOpen, "a smaller size, or a type with a lower full-open velocity"
		f.Text = fmt.Sprintf("Normal velocity %s is below its full-open velocity of %s (%s, %s open): it flutters and wears.", b.show(v), b.show(full), b.out.Governing.State, b.show(b.out.Governing.Opening))
	case v.Low < margin*full.SI:
		f.Kind, f.Missing = VelocityToConfirm, "normal flow"
		f.Text = fmt.Sprintf("Normal velocity may be as low as %s; its full-open velocity is %s.",
			b.Station.Units.Format(v.Kind, v.Low), b.show(full))
	}
	return f
}

func openWord(m *valve.Mechanism) string {
	if m.FullOpenVelocity().Meaning == valve.ParkedClear {
		return "parked clear"
	}
	return "full open"
}

func (b *bench) leastVelocity(least Duty) []Finding {
	full, margin := b.out.FullOpenVelocity, b.limit("least-open-margin")
	if least.Velocity.SI >= margin.SI*full.SI {
		return nil
	}
	return []Finding{{
		Kind: VelocityLeastTooLow, Value: least.Velocity, Limit: full, Basis: margin.Source,
		Text: fmt.Sprintf("Velocity %s (%s) is less than %s of its full-open velocity of %s.", b.show(least.Velocity),
			least.Name, quantity.US.Format(quantity.Fraction, margin.SI), b.show(full)),
		Mend: "a smaller size, a type with a lower full-open velocity, or a higher minimum speed",
	}}
}

// loss tells the head lost at the normal point and weighs its share.
func loss(b *bench) []Finding {
	h := b.out.Governing.Loss
	if b.Mech == nil || !h.Known() {
		return nil
	}
	head := 0.0
	for _, p := range b.Points {
		if p.Normal {
			head = p.PumpHead.SI
		}
	}
	limit := b.limit("loss-share")
	f := Finding{
		Kind: LossTold, Value: h, Limit: limit, Basis: basis.DerivedHere,
		Text: fmt.Sprintf("Head loss %s at normal flow.", b.show(h)),
	}
	if head > 0 && h.SI > limit.SI*head {
		f.Kind, f.Basis, f.Mend = LossLarge, limit.Source, "a larger size, or a type with less head loss"
		f.Text = fmt.Sprintf("Head loss %s at normal flow, %s of the pump head.", b.show(h),
			quantity.US.Format(quantity.Fraction, h.SI/head))
	}
	return []Finding{f}
}

// PresentValue is the present-worth factor of equal yearly sums, as years:
//
//	a = (1 − (1+i)^−n) / i
//
// i interest a year, n years; a = n without interest.
func PresentValue(interest, years float64) float64 {
	if interest == 0 {
		return years
	}
	return (1 - math.Pow(1+interest, -years)) / interest
}

// PresentValueFormula is PresentValue.
var PresentValueFormula = basis.Formula{
	ID: "present-value", Title: "Present-worth factor of equal yearly sums", Expr: "a = (1 − (1+i)^−n)/i",
	Symbols: []string{"i", "n"},
	Kind:    quantity.Number, Ref: basis.DerivedHere, Range: "sums at each year's end",
}

var yearlyCost = basis.Formula{
	ID: "yearly-cost", Title: "Annual energy cost", Expr: "C = E p", Symbols: []string{"E", "p"},
	Kind: quantity.AnnualCost, Ref: basis.DerivedHere, Range: "one tariff",
}

var lifeCycle = basis.Formula{
	ID: "life-cycle-cost", Title: "Price and worth of the energy", Expr: "L = P + a C",
	Symbols: []string{"P", "a", "C"}, Kind: quantity.Cost, Ref: basis.DerivedHere, Range: "without maintenance",
}

// cost works out energy and money; it is reported, not weighed.
func cost(b *bench) []Finding {
	if b.Mech == nil || !b.out.Governing.Loss.Known() {
		return nil
	}
	g, lead, op := b.out.Governing, b.Station.Pumps[0], b.Station.Operation
	efficiency := basis.NewSimulated("efficiency of pump and motor, "+g.Name, quantity.Fraction,
		lead.Performance.Efficiency(g.Flow.SI).SI*lead.MotorEfficiency.SI, "read off the pump's curve, times the motor's", g.Flow, lead.MotorEfficiency)
	if !(efficiency.SI > 0) {
		return []Finding{{
			Kind: CostUnknown, Text: "Energy was not worked out: no efficiency at this flow.",
			Basis: basis.DerivedHere,
		}}
	}
	out := &b.out
	out.EnergyPerYear = pump.HeadEnergyFormula.Eval5("energy lost in the valve per year", pump.HeadEnergy,
		b.Station.Fluid.Density, g.Flow, g.Loss, op.RunningTime, efficiency)
	out.CostPerYear = yearlyCost.Eval2("annual cost of that energy",
		func(energy, tariff float64) float64 { return energy * tariff }, out.EnergyPerYear, op.Tariff)
	if b.Item.Price.Known() {
		worth := PresentValueFormula.Eval2("worth of one a year", PresentValue, op.Interest, op.Years)
		out.LifeCycleCost = lifeCycle.Eval3("life-cycle cost",
			func(price, worth, yearly float64) float64 { return price + worth*yearly }, b.Item.Price, worth,
			out.CostPerYear)
	}
	return []Finding{{
		Kind: CostTold, Value: out.CostPerYear, Basis: basis.DerivedHere,
		Text: fmt.Sprintf("Annual energy cost of its head loss: %s per year in your currency (%s).",
			b.Station.Units.Number(quantity.AnnualCost, out.CostPerYear.SI),
			b.Station.Units.Format(quantity.Energy, out.EnergyPerYear.SI)),
	}}
}
