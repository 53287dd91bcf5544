package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

const bodyLike = "as in the body for which the curves were computed"

var pocketParams = []Param{
	{
		Key: "travel", Title: "travel of the ball along its guide", Kind: quantity.Diameter, Positive: true,
		Doc:     "From the seat to the end of the pocket.",
		Default: scaled("bore", 1.225, 1.1, 1.35, bodyLike, "pocket-computation"),
	},
	{
		Key: "pocket_diameter", Title: "diameter of the pocket", Kind: quantity.Diameter, Positive: true,
		Doc:     "Round, closed at its end.",
		Default: scaled("ball_diameter", 1.08, 1.04, 1.16, bodyLike, "pocket-computation"),
	},
	{
		Key: "guide_angle", Title: "angle between the guide and the axis of the pipe", Kind: quantity.Angle,
		Positive: true, Most: math.Pi / 2,
		Doc:     "Upward along the flow when the pipe lies.",
		Default: fixed(math.Pi/4, math.Pi/4, math.Pi/4, bodyLike, "pocket-computation"),
	},
	{
		Key: "seat_tilt", Title: "tilt of the seat", Kind: quantity.Angle, Most: math.Pi / 3,
		Doc:     "Of the seat's plane against the plane across the pipe.",
		Default: fixed(25*math.Pi/180, 25*math.Pi/180, 25*math.Pi/180, bodyLike, "pocket-computation"),
	},
	{
		Key: "rolling_inertia", Title: "moment of inertia of the ball over mass and radius squared",
		Kind: quantity.Fraction, Most: 1,
		Doc: "2/5 for a solid ball, 2/3 for a thin shell.",
		Default: fixed(0.45, 0.4, 0.667, "a hollow core under a thick lining lies between solid ball and shell",
			basis.DerivedHere),
	},
	{
		Key: "opening_force_shift", Title: "opening force, in standard deviations from its best value",
		Kind: quantity.Number, Least: -3, Most: 3,
		Doc: "Of the computed curve.", Default: fixed(0, -1, 1, "scatter of the computed force, 15 to 25 %",
			"pocket-computation"),
	},
	{
		Key: "closing_force_shift", Title: "closing force in reverse flow, in standard deviations from its best value",
		Kind: quantity.Number, Least: -3, Most: 3,
		Doc: "Of the computed curve.", Default: fixed(0, -1, 1, "scatter of the computed force, 10 to 15 %",
			"pocket-computation"),
	},
	{
		Key: "loss_factor", Title: "loss over the computed loss", Kind: quantity.Number, Positive: true,
		Doc: "Of this body against the generic one.",
		Default: fixed(1, 0.75, 1.3, "computed to 10 to 17 %; bodies differ by 10 to 30 % more",
			"pocket-computation"),
	},
	{
		Key: "pocket_drag", Title: "share of the drag of water pressed round the ball in its pocket",
		Kind: quantity.Fraction, Most: 1,
		Doc: "0 without, 1 with all of it.",
		Default: fixed(0.5, 0, 1, "the drag of a ball in a tube as wide as the pocket is a bound",
			"pocket-computation"),
	},
	{
		Key: "full_open_loss", Title: "loss coefficient at full opening", Kind: quantity.Number, Positive: true,
		Doc: "Only together with full_open_velocity: then these two stand in for the computed curves.",
	},
	{
		Key: "full_open_velocity", Title: "least velocity that holds the ball fully open", Kind: quantity.Velocity,
		Positive: true,
		Doc:      "Only together with full_open_loss, in water of reference_density and the position of reference_inclination.",
	},
}

var _ = register(Type{
	Key:   "ball-pocket",
	Title: "Ball in an inclined pocket",
	Description: "A ball rolls off its seat up a slanting guide into a pocket beside the stream, and rolls back when the flow stops. " +
		"Nothing stands in the clear bore and the ball turns as it works, so rags find no hold. " +
		"In steady flow it parks part-way: beyond the middle of its travel the water pushes it back out of the pocket.",
	Params: with(
		ballParams(scaled("bore", 1.25, 1.2, 1.3, bodyLike, "pocket-computation")), pocketParams, openingParams[3:],
		common(fixed(1, 0.9, 1.2, "the walls are already counted in the computed coefficient", "pocket-computation")),
	),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.4, 1.2},
	Traits:     Traits{Style: StyleBall, Element: "ball", Drawing: "ball-pocket", Floats: "ball_density"},
	Looks:      ballLooks,
	Example:    map[string]string{"bore": "150 mm", "ball_density": "1.5 SG"},
	build:      buildBallPocket,
})

// pocket is a ball that rolls in an inclined guide.
type pocket struct {
	flow                            pocketFlow
	travel, radius, seat, bore      float64 // m, m, m, m²
	contraction, gapScale, seated   float64
	closing, rolling, water, factor float64 // N, kg dry with rolling, kg displaced, added-mass factor
	drag, lossFactor                float64
	catalog                         *whole // stands in for the computed curves; nil else
}

func buildBallPocket(v *Reader, s Setting) (Frame, Law, error) {
	if err := fits("ball-pocket", v); err != nil {
		return Frame{}, nil, err
	}
	ball := v.SI("ball_diameter")
	if ball >= v.SI("pocket_diameter") {
		return Frame{}, nil, &ParamError{
			Type: "ball-pocket", Key: "pocket_diameter",
			Found:    quantity.SI.Format(quantity.Diameter, v.SI("pocket_diameter")),
			Expected: "more than ball_diameter", Mend: "check both diameters",
		}
	}
	p := &pocket{
		travel: v.SI("travel"), radius: ball / 2, seat: v.SI("seat_diameter") / 2,
		bore:        math.Pi / 4 * v.SI("bore") * v.SI("bore"),
		contraction: v.SI("contraction"), lossFactor: v.SI("loss_factor"),
		seated:  math.Cos(v.SI("guide_angle")-v.SI("seat_tilt")) * v.SI("seat_diameter") * v.SI("seat_diameter") / (v.SI("bore") * v.SI("bore")),
		rolling: (1 + v.SI("rolling_inertia")) * v.SI("ball_density") * SphereVolume(ball),
		water:   s.DensityKgM3 * SphereVolume(ball), factor: v.SI("added_mass_factor"),
	}
	var err error
	if p.flow, err = newPocketFlow(p.seated, v.SI("opening_force_shift"), v.SI("closing_force_shift")); err != nil {
		return Frame{}, nil, err
	}
	p.gapScale = pocketForward[0].loss / p.gap(pocketGapBelow*p.travel)
	squeeze := BallDrag(min(ball/v.SI("pocket_diameter"), maxTubeRatio), freeDrag)
	p.drag = v.SI("pocket_drag") * 0.5 * s.DensityKgM3 * math.Pi * p.radius * p.radius * squeeze
	frame := Frame{BoreM: v.SI("bore"), Stroke: p.travel, Notes: []Note{computedNote}, Known: computedPocket}
	weigh := func(s Setting) float64 {
		return SubmergedWeight(v.SI("ball_density"), s.DensityKgM3, ball, s.GravityMS2)
	}
	frame.SubmergedN = weigh(s)
	along := func(s Setting) float64 { return weigh(s) * math.Sin(v.SI("guide_angle")+s.InclinationRad) }
	p.closing = along(s)
	frame.HoldPa = ballHold(frame.SubmergedN, p.radius, p.seat, v.SI("seat_tilt")+s.InclinationRad)
	switch lossKnown, speedKnown := v.Has("full_open_loss"), v.Has("full_open_velocity"); {
	case lossKnown != speedKnown:
		return Frame{}, nil, &ParamError{
			Type: "ball-pocket", Key: "full_open_loss", Found: "full_open_loss or full_open_velocity alone",
			Expected: "both or none",
			Mend:     "add the other; with none the computed curves are used",
		}
	case lossKnown:
		if frame.Notes, err = p.byCatalog(v, s, along); err != nil {
			return Frame{}, nil, err
		}
		frame.Efficiency, frame.Known = p.catalog.atStop, gapFormula
	}
	return frame, p.state, nil
}

// freeDrag is the drag coefficient of the ball in a free stream, as in BallDrag.
const freeDrag = 0.45

var computedNote = Note{
	Key:  "ball-pocket",
	Text: "loss and forces are computed for a generic body, not measured: loss to 10 to 17 %, and 10 to 30 % more from body to body",
}

var catalogNote = Note{
	Key:  "ball-pocket",
	Text: "loss and forces follow from full-open loss and full-open velocity by a straight line of force efficiency, not from the computed curves; beyond half travel that is coarse",
}

// byCatalog makes loss and efficiency follow from full-open loss and velocity.
func (p *pocket) byCatalog(v *Reader, s Setting, along func(Setting) float64) ([]Note, error) {
	p.catalog = &whole{
		stroke: p.travel, area: p.bore, loss: v.SI("full_open_loss"), geometry: p.seated * p.bore,
		gap: p.gap,
	}
	p.catalog.gapOpen = p.gap(p.travel)
	notes, err := p.catalog.fitAtStop("ball-pocket", v, s, along)
	return append(notes, catalogNote), err
}

// gap is the loss of the gap at the seat.
func (p *pocket) gap(x float64) float64 {
	return GapLoss(p.bore, BallGapArea(p.radius, p.seat, x), p.contraction)
}

// state is the Law.
func (p *pocket) state(x float64, s *State) {
	share := x / p.travel
	exposed := p.flow.exposed.at(share)
	added, displaced := p.factor*p.water, 1.5*p.water
	s.Terms[0] = p.term(x, share, exposed)
	s.Closing = p.closing
	s.Mass, s.MassSlope = p.rolling+added*p.flow.added.at(share), added*p.flow.added.slope(share)/p.travel
	s.Coupling, s.CouplingSlope = displaced*p.flow.pull.at(share), displaced*p.flow.pull.slope(share)/p.travel
	s.Drag = p.drag * (1 - exposed) // the share of the ball that is out of the stream is in the pocket
}

// term is the one resistance. What the ball sweeps falls with its exposed share; on
// the seat it is what the pressure works on.
func (p *pocket) term(x, s, exposed float64) Term {
	swept := p.seated * exposed
	if p.catalog != nil {
		t := p.catalog.term(x)
		t.Swept = swept
		return t
	}
	forward := Side{Area: p.flow.efficiency.at(s) * p.bore}
	if s < pocketGapBelow {
		forward.Loss = p.gapScale * p.gap(x)
	} else {
		forward.Loss = math.Exp(p.flow.logLoss.at(s))
	}
	// A body that loses more pushes no harder, but on the seat the gap alone counts.
	body := 1 + (p.lossFactor-1)*min(1, s/(2*pocketGapBelow))
	forward.Loss *= body
	reverse := Side{
		Loss: forward.Loss * math.Exp(p.flow.logReverseRatio.at(s)),
		Area: p.flow.reverseForce.at(s) * p.bore,
	}
	forward.Area /= body
	reverse.Area /= body
	return Term{Forward: forward, Reverse: reverse, Swept: swept}
}
