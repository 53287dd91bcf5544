package valve

import "seatward/basis"

// tiltingLaw are the numbers of the law: gaps on both sides of the pin, the same jets, and a
// passage that is what the disc's outline leaves of the body, since the disc stays in the
// stream. Torque per pressure drop runs straight from the seat to the stop. Not computed.
var tiltingLaw = with(
	[]Param{partOpenLoss, chamberParam(1.35, 1.35, 1.35, "bodies bulge round the disc; "+notComputed,
		"disc-computation")},
	gapParams, []Param{partOpenForce},
)

var tiltingSeat = fixed(0.175, 0.087, 0.26, "resting angles of 5° to 15°", basis.CommonPractice)

var _ = register(Type{
	Key:   "tilting-disc",
	Title: "Tilting disc",
	Description: "A disc turns about a pivot a little off its own middle, so that one side swings with the flow and the other against it. " +
		"Little water is swept and the arm is short: it closes quickly, and stands in the flow when open. Loss and torque at part opening follow from the law of the computed swing disc; for a tilting disc they are not computed.",
	Params:     with(hingedParams(tiltingSeat, steel, steelWhy), tiltingLaw, swingOpening, common(bodyFactor)),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.05, 0.3},
	Traits:     Traits{Style: StyleTilting, Element: "disc", Hinged: true, Drawing: "tilting-disc"},
	Looks:      []Look{{At: "Pivots: play of pins and bushes"}, {At: "Disc: mass", Mass: true}, seatLook, stopLook},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "205 mm", "hinge_to_center": "30 mm", "disc_mass": "7 kg",
		"stroke_angle":   "50 deg",
		"full_open_loss": "0.9", "full_open_velocity": "1.8 m/s",
	},
	build: func(v *Reader, s Setting) (Frame, Law, error) {
		h, err := newHinged("tilting-disc", v, s)
		if err != nil {
			return Frame{}, nil, err
		}
		h.projected, h.partLoss = true, v.SI("part_open_loss")
		h.pull += s.DensityKgM3 * v.SI("displaced_volume") * v.SI("hinge_to_gravity_center")
		return h.fit("tilting-disc", v, s, likeTheDisc)
	},
})
