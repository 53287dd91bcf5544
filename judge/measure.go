package judge

import (
	"slices"

	"seatward/basis"
	"seatward/pipe"
	"seatward/plant"
	"seatward/quantity"
	"seatward/valve"
)

// measure works out what the valve does at every operating point, and what it is.
func (b *bench) measure() {
	m, out := b.Mech, &b.out
	for _, p := range b.Points {
		out.Duties = append(out.Duties, b.duty(p))
		if p.Normal {
			out.Governing = out.Duties[len(out.Duties)-1]
		}
	}
	opening := m.FullOpenVelocity()
	if opening.Meaning != valve.FallsOpen {
		out.FullOpenVelocity = basis.NewSimulated("full-open velocity", quantity.Velocity, opening.VelocityMS,
			opening.Meaning.String()+", by the balance of hydraulic and closing force", b.params()...)
	}
	out.CrackingHead = basis.NewSimulated("cracking head", quantity.Head, m.CrackingHeadM(),
		"closing force over the seat's area", b.params()...)
	out.SubmergedWeight = basis.NewSimulated("submerged weight of the moving element", quantity.Force, m.SubmergedN,
		"weight less buoyancy", b.Station.Fluid.Density)
	b.backHeadNeeded()
}

// params lists the item's mechanical data, completed with what the type assumes.
func (b *bench) params() []basis.Value {
	if b.about == nil {
		b.about = slices.Clip(b.listParams())
	}
	return b.about
}

func (b *bench) listParams() []basis.Value {
	full, err := b.Item.Family.Type.Complete(b.Item.Params)
	if err != nil {
		return nil
	}
	var out []basis.Value
	for _, spec := range b.Item.Family.Type.Params {
		if v, ok := full[spec.Key]; ok {
			out = append(out, v)
		}
	}
	return append(out, b.Station.Fluid.Density)
}

func (b *bench) duty(p plant.OperatingPoint) Duty {
	d := Duty{Name: p.Name, Flow: p.Flow, PumpsHeld: p.PumpsRunning}
	d.Velocity = pipe.VelocityMSFormula.Eval2("velocity in the valve, "+p.Name, pipe.VelocityMS, p.Flow, b.Item.Bore)
	rest := b.Mech.Settle(d.Velocity.SI)
	d.State = rest.Standing.String()
	const how = "balance of hydraulic and closing force at the moving element"
	d.Opening = basis.NewSimulated("opening, "+p.Name, quantity.Fraction, rest.Share, how, d.Velocity)
	d.Loss = basis.NewSimulated("head lost in the valve, "+p.Name, quantity.Head, rest.HeadM,
		"K V²/(2g) at the opening of this flow", d.Velocity, d.Opening,
		basis.NewSimulated("loss coefficient, "+p.Name, quantity.Number, rest.Loss, how, b.params()...))
	low, high := b.Mech.Settle(d.Velocity.Low).HeadM, b.Mech.Settle(d.Velocity.High).HeadM
	d.Loss = d.Loss.WithRange(min(low, high), max(low, high))
	return d
}

// backHeadNeeded is the head that seals the valve: the maker's number, for a ball
// lying down the rule of thumb where the maker gives none, and never less than what
// keeps the element on its seat.
func (b *bench) backHeadNeeded() {
	out := &b.out
	position := b.Station.Valve.Position
	if v, ok := b.Item.Family.BackHead[position]; ok {
		out.BackHead = v
	} else if position == valve.Horizontal && b.Item.Family.Type.Traits.Style == valve.StyleBall {
		out.BackHead = b.limit("horizontal-ball-back-head")
	}
	if hold := b.Mech.LeastBackHeadM(); out.BackHead.Known() && hold > out.BackHead.SI {
		out.BackHead = basis.NewSimulated("minimum back head to seal", quantity.Head, hold,
			"holds the element on its seat against its own weight", out.SubmergedWeight)
	}
}

// extreme gives the duty with the least or the greatest velocity.
func (b *bench) extreme(least bool) (Duty, bool) {
	var out Duty
	found := false
	for _, d := range b.out.Duties {
		if !found || (least && d.Velocity.SI < out.Velocity.SI) || (!least && d.Velocity.SI > out.Velocity.SI) {
			out, found = d, true
		}
	}
	return out, found
}
