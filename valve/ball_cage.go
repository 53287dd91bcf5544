package valve

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

var cageParams = []Param{
	{
		Key: "chamber_diameter", Title: "diameter of the chamber round the ball", Kind: quantity.Diameter,
		Required: true, Positive: true,
		Doc: "Of a round chamber, or of a round one of equal area.",
	},
	{
		Key: "stroke", Title: "lift of the ball from the seat to its stop", Kind: quantity.Diameter, Required: true,
		Positive: true, Doc: "Along the axis.",
	},
	{
		Key: "body_loss", Title: "loss coefficient of the body without the ball", Kind: quantity.Number, Most: 50,
		Doc:     "Widening into the chamber and narrowing behind the cage.",
		Default: fixed(0.8, 0.5, 1.3, "with the ball's own loss it gives the 0.9 to 1.7 that handbooks have for ball checks", "sanks table B-7"),
	},
	{
		Key: "drag_coefficient", Title: "drag coefficient of a ball in a free stream", Kind: quantity.Number,
		Positive: true, Most: 2,
		Doc:     "Before the drag crisis, which blockage holds off.",
		Default: fixed(0.45, 0.44, 0.46, "sphere at Reynolds numbers of some 1e5", "clift-1978"),
	},
	{
		Key: "blockage_factor", Title: "factor on the drag that the chamber's wall causes", Kind: quantity.Number,
		Positive: true,
		Doc:      "Multiplies the drag law of a ball in a round chamber.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				low, high := BallDragRange(min(v.SI("ball_diameter")/v.SI("chamber_diameter"), maxTubeRatio),
					v.SI("drag_coefficient"))
				return 1, low, high
			},
			Reason: "spread of the accepted drag laws at this ratio of ball and chamber", Source: "achenbach-1974",
		},
	},
}

var _ = register(Type{
	Key:   "ball-cage",
	Title: "Ball in a vertical cage",
	Description: "A ball is lifted straight off its seat and held up in a wider chamber by the water that passes round it. " +
		"A sinking ball needs flow up, a floating one flow down; lying down it has nothing that brings it back but reverse flow.",
	Params: with(ballParams(nil), cageParams,
		common(fixed(1, 1, 1.2, "the chamber's wall is already counted in the coefficient", basis.DerivedHere))),
	Positions:  []Position{FlowUp},
	SweptBores: [2]float64{1, 3},
	Traits:     Traits{Style: StyleBall, Element: "ball", Drawing: "ball-cage", Floats: "ball_density"},
	Looks:      ballLooks,
	Example: map[string]string{
		"bore": "150 mm", "ball_diameter": "190 mm", "chamber_diameter": "242 mm", "stroke": "120 mm",
		"ball_density": "1.5 SG",
	},
	build: buildBallCage,
})

// cage is a ball in a chamber: drag of the stream round it, and the gap at the seat,
// each at its own relative velocity.
type cage struct {
	radius, seat, bore, contraction float64 // m, m, m², −
	chamber                         Term
	seatArea, body                  float64
	closing, mass, pull             float64
}

// state is the Law.
func (c *cage) state(lift float64, s *State) {
	gap := GapLoss(c.bore, BallGapArea(c.radius, c.seat, lift), c.contraction)
	s.Terms[0], s.Terms[1], s.Terms[2] = c.chamber, Both(gap, c.seatArea, c.seatArea/c.bore), Both(c.body, 0, 0)
	s.Closing, s.Mass, s.Coupling = c.closing, c.mass, c.pull
}

func buildBallCage(v *Reader, s Setting) (Frame, Law, error) {
	if err := fits("ball-cage", v); err != nil {
		return Frame{}, nil, err
	}
	ball, ratio := v.SI("ball_diameter"), v.SI("ball_diameter")/v.SI("chamber_diameter")
	if ratio > maxTubeRatio {
		return Frame{}, nil, &ParamError{
			Type: "ball-cage", Key: "chamber_diameter",
			Found:    quantity.SI.Format(quantity.Diameter, v.SI("chamber_diameter")),
			Expected: fmt.Sprintf("at least ball_diameter / %g", maxTubeRatio),
			Mend:     "check both diameters: the ball would fill its chamber",
		}
	}
	disc := func(d float64) float64 { return math.Pi / 4 * d * d }
	bore, chamber := disc(v.SI("bore")), disc(v.SI("chamber_diameter"))
	drag := BallDrag(ratio, v.SI("drag_coefficient")) * v.SI("blockage_factor")
	// Drag D = ½ρ C_D A_b V_rc² with V_rc = y A/A_ch, written as a loss in the chamber
	// that takes the drag as the pressure on the chamber's area.
	loss := drag * disc(ball) / chamber * (bore / chamber) * (bore / chamber)
	weight := SubmergedWeight(v.SI("ball_density"), s.DensityKgM3, ball, s.GravityMS2)
	water := s.DensityKgM3 * SphereVolume(ball)
	added := v.SI("added_mass_factor") * SphereTubeAddedMass(ratio) * water
	c := &cage{
		radius: ball / 2, seat: v.SI("seat_diameter") / 2, bore: bore, contraction: v.SI("contraction"),
		chamber:  Both(loss, chamber, chamber/bore),
		seatArea: disc(v.SI("seat_diameter")), body: v.SI("body_loss"),
		closing: weight * math.Sin(s.InclinationRad),
		mass:    v.SI("ball_density")*SphereVolume(ball) + added,
		pull:    (water + added) * bore / chamber,
	}
	return Frame{
		BoreM: v.SI("bore"), Stroke: v.SI("stroke"), SubmergedN: weight, Known: ballInTube,
		HoldPa: ballHold(weight, c.radius, c.seat, s.InclinationRad),
	}, c.state, nil
}
