package judge

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/catalog"
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
		return []Finding{{ID: "velocity-unknown", Severity: Unchecked, Text: "No normal flow: the pumps do not deliver at the normal point with this valve.", Basis: basis.DerivedHere, Missing: "a flow that the valve meets"}}
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
				ID: "velocity-too-high", Severity: Condition, Value: most.Velocity, Limit: limit, Basis: limit.Source,
				Text: fmt.Sprintf("The greatest velocity is %s (%s), above the %s that pump piping is made for.", b.show(most.Velocity), most.Name, b.show(limit)), Mend: "a larger size",
			})
		}
	}
	return out
}

// belowFullOpen is the finding that normal flow does not hold the element still.
const belowFullOpen = "velocity-below-full-open"

func (b *bench) normalVelocity() Finding {
	v, full := b.out.Governing.Velocity, b.out.FullOpenVelocity
	margin := b.limit("full-open-margin").SI
	f := Finding{ID: "velocity-full-open", Severity: Pass, Value: v, Limit: full, Basis: b.limit("full-open-margin").Source}
	f.Text = fmt.Sprintf("Normal velocity %s, %s from %s: it stands still.", b.show(v), openWord(b.Mech), b.show(full))
	switch {
	case v.SI < margin*full.SI:
		f.ID, f.Severity, f.Mend = belowFullOpen, Condition, "a smaller size, or a type that opens at less"
		f.Text = fmt.Sprintf("Normal velocity %s is below the %s that opens it in full (now %s, %s open): it flutters and wears.", b.show(v), b.show(full), b.out.Governing.State, b.show(b.out.Governing.Opening))
	case v.Low < margin*full.SI:
		f.ID, f.Severity, f.Missing = "velocity-to-confirm", Unchecked, "normal flow"
		f.Text = fmt.Sprintf("Normal velocity may be as low as %s; it takes %s to open it in full.", b.Station.Units.Format(v.Kind, v.Low), b.show(full))
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
		ID: "velocity-least-too-low", Severity: Condition, Value: least.Velocity, Limit: full, Basis: margin.Source,
		Text: fmt.Sprintf("At %s the velocity is %s, less than %s of the %s that opens it in full.", least.Name, b.show(least.Velocity), quantity.US.Format(quantity.Fraction, margin.SI), b.show(full)),
		Mend: "a smaller size, a type that opens at less, or a higher least speed",
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
	f := Finding{ID: "loss", Severity: Note, Value: h, Limit: limit, Basis: basis.DerivedHere, Text: fmt.Sprintf("It loses %s at normal flow.", b.show(h))}
	if head > 0 && h.SI > limit.SI*head {
		f.ID, f.Severity, f.Basis, f.Mend = "loss-large", Condition, limit.Source, "a larger size or a type with less loss"
		f.Text = fmt.Sprintf("It loses %s at normal flow, %s of the pump's head.", b.show(h), quantity.US.Format(quantity.Fraction, h.SI/head))
	}
	return []Finding{f}
}

// pressureFormula turns head into pressure.
var pressureFormula = basis.Formula{
	ID: "head-to-pressure", Title: "Pressure of a head", Expr: "p = ρ g H", Symbols: []string{"ρ", "H"},
	Kind: quantity.Pressure, Ref: basis.DerivedHere, Range: "liquid at rest",
}

func (b *bench) pressure(name string, head basis.Value) basis.Value {
	return pressureFormula.Eval(name, func(x []float64) float64 { return x[0] * quantity.StandardGravity * x[1] }, b.Station.Fluid.Density, head)
}

// rating weighs shut-off pressure, alone and with the surge of the slam, against the
// ratings of the valve and its ends.
func rating(b *bench) []Finding {
	own := b.Item.Rating
	if !own.Known() {
		return []Finding{{ID: "rating-unknown", Severity: Unchecked, Text: "The catalog gives no pressure rating.", Basis: "catalog", Missing: "pressure rating of the valve"}}
	}
	own = WeakestRating(b.Item)
	if called := b.Station.Valve.Rating; called.Known() && called.SI > own.SI*1.001 {
		return []Finding{{ID: "rating-below-called", Severity: Rejects, Value: own, Limit: called, Text: fmt.Sprintf("Rated %s; %s is called for.", b.show(own), b.show(called)), Basis: "catalog", Mend: "a higher class"}}
	}
	head := basis.Value{}
	for _, p := range b.Station.Pumps {
		if p.ShutoffHead.SI > head.SI {
			head = p.ShutoffHead
		}
	}
	rest := b.pressure("pressure at pump shut-off", head)
	f := Finding{ID: "rating", Severity: Pass, Value: rest, Limit: own, Basis: "catalog"}
	f.Text = fmt.Sprintf("Rated %s; the pump at shut-off makes %s.", b.show(own), b.show(rest))
	if rest.SI > own.SI {
		f.ID, f.Severity, f.Mend = "rating-too-low", Rejects, "a higher class"
		return []Finding{f}
	}
	rise := b.out.Slam.HeadRise
	if !rise.Known() {
		return []Finding{f, {ID: "rating-surge-unknown", Severity: Unchecked, Text: "Surge above the standing head was not worked out.", Limit: own, Basis: basis.DerivedHere, Missing: "the slam verdict"}}
	}
	total := addFormula.Eval("standing head and slam", func(x []float64) float64 { return x[0] + x[1] }, b.standing(), rise)
	surge := b.pressure("pressure with slam", total)
	if surge.High > own.SI {
		word := "may reach"
		if surge.SI > own.SI {
			word = "reaches"
		}
		return []Finding{f, {
			ID: "rating-surge", Severity: Condition, Value: surge, Limit: own, Basis: "joukowsky-1898", Mend: "surge control, or a higher class",
			Text: fmt.Sprintf("With slam the pressure %s %s, above the rating of %s; nothing above a rating is counted on.", word, b.Station.Units.Format(surge.Kind, math.Max(surge.SI, surge.High)), b.show(own)),
		}}
	}
	return []Finding{f}
}

// standing is the head on which the slam's rise stands: the static head, or that of
// the header where it is held by running pumps or an air vessel and is higher.
func (b *bench) standing() basis.Value {
	if stop, ok := b.Stops.Worst(); ok && stop.Held && stop.Head.SI > b.Station.StaticHigh.SI {
		return stop.Head
	}
	return b.Station.StaticHigh
}

var addFormula = basis.Formula{
	ID: "standing-and-rise", Title: "Standing head and head rise", Expr: "H + ΔH", Symbols: []string{"H", "ΔH"},
	Kind: quantity.Head, Ref: basis.DerivedHere, Range: "rise on the head that stands behind the valve",
}

// WeakestRating is the rating of the valve, or of the weakest ends offered in its size: a
// buyer may order better ones, but does not get them unasked.
func WeakestRating(it *catalog.Item) basis.Value {
	own := it.Rating
	for _, e := range it.Family.Ends {
		if e.Rating.Known() && e.Covers(it.Size) && e.Rating.SI < own.SI {
			own = e.Rating
		}
	}
	return own
}

// PresentValue is the worth today of equal yearly sums, as years:
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
	ID: "present-value", Title: "Worth today of equal yearly sums", Expr: "a = (1 − (1+i)^−n)/i", Symbols: []string{"i", "n"},
	Kind: quantity.Number, Ref: basis.DerivedHere, Range: "sums at each year's end",
}

var yearlyCost = basis.Formula{
	ID: "yearly-cost", Title: "Cost of energy in a year", Expr: "C = E p", Symbols: []string{"E", "p"}, Kind: quantity.AnnualCost, Ref: basis.DerivedHere, Range: "one tariff",
}

var lifeCycle = basis.Formula{
	ID: "life-cycle-cost", Title: "Price and worth of the energy", Expr: "L = P + a C", Symbols: []string{"P", "a", "C"}, Kind: quantity.Cost, Ref: basis.DerivedHere, Range: "without maintenance",
}

// cost works out energy and money; it is told, not weighed.
func cost(b *bench) []Finding {
	if b.Mech == nil || !b.out.Governing.Loss.Known() {
		return nil
	}
	g, lead, op := b.out.Governing, b.Station.Pumps[0], b.Station.Operation
	efficiency := basis.NewSimulated("efficiency of pump and motor, "+g.Name, quantity.Fraction, lead.Performance.Efficiency(g.Flow.SI).SI*lead.MotorEfficiency.SI, "read off the pump's curve, times the motor's", g.Flow, lead.MotorEfficiency)
	if !(efficiency.SI > 0) {
		return []Finding{{ID: "cost-unknown", Severity: Note, Text: "Energy was not worked out: no efficiency at this flow.", Basis: basis.DerivedHere}}
	}
	out := &b.out
	out.EnergyPerYear = pump.HeadEnergyFormula.Eval("energy lost in the valve in a year", func(x []float64) float64 { return pump.HeadEnergy(x[0], x[1], x[2], x[3], x[4]) },
		b.Station.Fluid.Density, g.Flow, g.Loss, op.RunningTime, efficiency)
	out.CostPerYear = yearlyCost.Eval("cost of that energy in a year", func(x []float64) float64 { return x[0] * x[1] }, out.EnergyPerYear, op.Tariff)
	if b.Item.Price.Known() {
		worth := PresentValueFormula.Eval("worth of one a year", func(x []float64) float64 { return PresentValue(x[0], x[1]) }, op.Interest, op.Years)
		out.LifeCycleCost = lifeCycle.Eval("life-cycle cost", func(x []float64) float64 { return x[0] + x[1]*x[2] }, b.Item.Price, worth, out.CostPerYear)
	}
	return []Finding{{
		ID: "cost", Severity: Note, Value: out.CostPerYear, Basis: basis.DerivedHere,
		Text: fmt.Sprintf("Its loss costs %s a year (%s), in your currency.", b.Station.Units.Number(quantity.AnnualCost, out.CostPerYear.SI), b.Station.Units.Format(quantity.Energy, out.EnergyPerYear.SI)),
	}}
}
