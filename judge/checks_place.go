package judge

import (
	"fmt"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// position weighs the position against what the maker allows.
func position(b *bench) []Finding {
	p := b.Station.Valve.Position
	f := Finding{
		Kind: PositionAllowed, Text: "The maker allows it " + inPosition(p) + ".",
		Value: b.Station.Valve.Angle, Basis: FromCatalog,
	}
	switch {
	case !b.Item.Allows(p):
		f.Kind, f.Maker = PositionNotAllowed, true
		f.Text = "The maker does not allow it " + inPosition(p) + ", only " + valve.PositionWords(b.Item.Positions,
			" or ") + "."
		f.Mend = "another place in the pipework"
	case !b.Station.Valve.PositionGiven:
		f.Kind, f.Missing, f.Text = PositionToConfirm, "position of the valve", "The position was not given; taken as "+
			inPosition(p)+"."
	}
	return []Finding{f}
}

func inPosition(p valve.Position) string {
	if p == valve.Horizontal {
		return p.String()
	}
	return "vertical, " + p.String()
}

// closing asks whether anything brings the element back in this position.
func closing(b *bench) []Finding {
	if b.Mech == nil {
		return nil
	}
	f := Finding{
		Kind: ClosesByItself, Text: "Weight, spring or lever closes it in this position.",
		Value: b.out.SubmergedWeight, Basis: basis.DerivedHere,
	}
	if yes, stuck := b.Mech.SelfClosing(); !yes {
		f.Kind = DoesNotClose
		f.Text = fmt.Sprintf("Nothing brings the element back from %.0f%% of its stroke in this position.", 100*stuck)
		if ball, ok := b.Item.Params["ball_density"]; ok {
			kind := "sinking"
			if ball.SI < b.Station.Fluid.Density.SI {
				kind = "floating"
			}
			f.Text = fmt.Sprintf("A %s ball (SG %s) does not return to its seat in this position (%s).", kind,
				quantity.Figures(ball.SI/b.Station.Fluid.Density.SI, 3), inPosition(b.Station.Valve.Position))
			f.Mend = "flow up takes a sinking ball, flow down a floating one"
		}
	}
	return []Finding{f}
}

// backHead weighs the least static head against what seals the valve.
func backHead(b *bench) []Finding {
	if b.Mech == nil {
		return nil
	}
	need, have := b.out.BackHead, b.Station.StaticLow
	if !need.Known() {
		return []Finding{{
			Kind: BackHeadUnknown, Text: "The catalog gives no minimum back head to seal.", Value: have,
			Basis: FromCatalog, Missing: "minimum back head to seal",
		}}
	}
	f := Finding{Kind: BackHeadSeals, Value: have, Limit: need, Basis: need.Source}
	f.Text = fmt.Sprintf("Static head %s seals it; minimum back head to seal is %s.", b.show(have), b.show(need))
	switch {
	case have.SI < need.SI:
		f.Kind, f.Mend = BackHeadTooSmall, "a vertical position, or a type with a spring and soft seat"
		f.Text = fmt.Sprintf("Static head %s does not seal it; minimum back head to seal is %s.", b.show(have),
			b.show(need))
	case have.Low < need.SI:
		f.Kind, f.Missing = BackHeadToConfirm, "static head"
	}
	return []Finding{f}
}

// size tells when the valve is not of the pipe's size, and when the size was assumed.
func size(b *bench) []Finding {
	pipe := b.Station.Valve.Size
	if b.Item.Size == pipe {
		return []Finding{{Kind: LineSize, Text: "Line size.", Basis: FromCatalog}}
	}
	what := "smaller"
	if b.Item.Size.DN > pipe.DN {
		what = "larger"
	}
	return []Finding{{
		Kind: SizeDiffers, Text: fmt.Sprintf("It is %s, %s than the %s pipe; a reducer and an increaser are needed.",
			b.Item.Size.Format(b.Station.Units), what, pipe.Format(b.Station.Units)),
		Basis: basis.CommonPractice, Mend: "order the reducer and the increaser; their head losses are counted, their length is not",
	}}
}

// straight weighs straight pipe before the valve.
func straight(b *bench) []Finding {
	need := b.Item.Family.StraightBefore
	if !need.Known() {
		need = b.limit("straight-before")
	}
	d := b.Station.Branch.Runs[0].InnerDiameter.SI
	have := b.Station.Valve.StraightBefore
	if !have.Known() {
		return []Finding{{
			Kind: StraightUnknown,
			Text: fmt.Sprintf("Straight pipe required upstream: %s diameters; what there is was not given.",
				quantity.Figures(need.SI, 2)), Limit: need, Basis: need.Source,
			Missing: "straight pipe upstream of the valve",
		}}
	}
	f := Finding{Kind: StraightEnough, Value: have, Limit: need, Basis: need.Source}
	f.Text = fmt.Sprintf("Straight pipe upstream: %s, %s diameters; %s required.", b.show(have),
		quantity.Figures(have.SI/d, 2), quantity.Figures(need.SI, 2))
	if have.SI < need.SI*d*0.99 {
		f.Kind, f.Mend = StraightTooShort, "move it away from the upstream fitting, or ask the maker; turbulence wears the element"
	}
	return []Finding{f}
}

// clearance weighs the free height over the valve.
func clearance(b *bench) []Finding {
	var out []Finding
	need, have := b.Item.Clearance, b.Station.Valve.Clearance
	shown := have
	shown.Kind = need.Kind // two heights side by side have one unit
	switch {
	case !need.Known():
	case !have.Known():
		out = append(out, Finding{
			Kind: ClearanceUnknown,
			Text: fmt.Sprintf("Clearance required above its axis to lift out cover and element: %s; what there is was not given.", b.show(need)), Limit: need, Basis: FromCatalog, Missing: "clearance above the valve",
		})
	case have.SI < need.SI:
		out = append(out, Finding{
			Kind: ClearanceTooSmall, Value: have, Limit: need,
			Text: fmt.Sprintf("Clearance above its axis %s; %s required to lift out cover and element.", b.show(shown),
				b.show(need)), Basis: FromCatalog, Mend: "turn or move it, or take it out in one piece",
		})
	default:
		out = append(out, Finding{
			Kind: ClearanceEnough, Value: have, Limit: need,
			Text: fmt.Sprintf("Clearance above its axis %s; %s required.", b.show(shown),
				b.show(need)), Basis: FromCatalog,
		})
	}
	return out
}

// place weighs where the valve would be.
func place(b *bench) []Finding {
	if b.Station.Valve.Where == "wet well" {
		return []Finding{{
			Kind: InWetWell, Text: "Valves should not be in the wet well, where nobody can service them.",
			Basis: "ten-states sec. 42.5 (from memory)", Mend: "a valve vault or dry pit",
		}}
	}
	return nil
}

// layingLength weighs the length between flanges against what is free.
func layingLength(b *bench) []Finding {
	have, own := b.Station.Valve.LayingLength, b.Item.FaceToFace
	if !have.Known() {
		return nil
	}
	if !own.Known() {
		return []Finding{{
			Kind: LayingLengthUnknown, Text: "The catalog gives no laying length.", Value: have,
			Basis: FromCatalog, Missing: "laying length of the valve",
		}}
	}
	const tolerance = 0.003 // B16.10 allows 1.5 to 3 mm (from memory)
	f := Finding{
		Kind: LayingLengthFits, Value: own, Limit: have, Basis: FromCatalog,
		Text: fmt.Sprintf("It is %s long and fits the gap.", b.show(own)),
	}
	switch d := own.SI - have.SI; {
	case d > tolerance:
		f.Kind, f.Mend = LayingLengthTooLong, "cut the pipe"
		f.Text = fmt.Sprintf("It is %s long; the gap is only %s.", b.show(own), b.show(have))
	case d < -tolerance:
		f.Kind, f.Mend = LayingLengthGap, "a spacer for the difference"
		f.Text = fmt.Sprintf("It is %s long; the gap is %s.", b.show(own), b.show(have))
	}
	return []Finding{f}
}

// lifting weighs the parts against what one person may lift.
func lifting(b *bench) []Finding {
	limit := b.limit("one-person-mass")
	var heaviest basis.Value
	for _, m := range []basis.Value{b.Item.ElementMass, b.Item.CoverMass} {
		if m.Known() && m.SI > heaviest.SI {
			heaviest = m
		}
	}
	if !heaviest.Known() {
		return []Finding{{
			Kind: LiftingUnknown, Text: "The catalog gives no weights of the parts.", Limit: limit,
			Basis: "niosh-1994", Missing: "weights of cover and element",
		}}
	}
	f := Finding{Kind: LiftingTold, Value: heaviest, Limit: limit, Basis: "niosh-1994"}
	if heaviest.SI <= limit.SI {
		f.Text = fmt.Sprintf("Its heaviest part to lift out weighs %s; one person may lift at most %s, less with reach and bending.", b.show(heaviest), b.show(limit))
		return []Finding{f}
	}
	f.Kind, f.Mend = LiftingPlan, "a lifting plan with the maker's lifting points"
	f.Text = fmt.Sprintf("Its heaviest part to lift out weighs %s, more than the %s that one person may lift at best.",
		b.show(heaviest), b.show(limit))
	return []Finding{f}
}

// indication notes whether one sees from outside where the element stands.
func indication(b *bench) []Finding {
	if b.Item.Family.Indication == "none" || b.Item.Family.Indication == "" {
		return []Finding{{
			Kind: NotIndicated,
			Text: "No position indicator; some owners require an external lever or a limit switch.", Basis: FromCatalog,
		}}
	}
	return []Finding{{
		Kind: Indicated, Text: "Position indicator: " + b.Item.Family.Indication + ".",
		Basis: FromCatalog,
	}}
}
