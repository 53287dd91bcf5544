package valve

import (
	"seatward/basis"
)

// steel is the density of moving parts of steel or iron: best, low, high, kg/m³.
var steel = [3]float64{7850, 7100, 8000}

const steelWhy = "moving parts of steel or iron"

// swingSeat is how a swing check's seat usually leans.
var swingSeat = fixed(0.087, 0, 0.17, "seats lean some 5° so that the disc's weight holds it shut",
	basis.CommonPractice)

// discLaw are the numbers of a disc whose law is the computed one.
var discLaw = with(
	[]Param{chamberParam(1.4, 1.25, 1.7,
		"as in the body for which the law was computed; it is the greatest difference between bodies",
		"disc-computation")},
	gapParams, []Param{partOpenForce},
)

// crowdedFactor is the default of added_mass_factor where the body is in the curves.
var crowdedFactor = fixed(1, 0.8, 1.3, "the walls are in the computed curves; bodies differ", "disc-computation")

var swingParams = with(hingedParams(swingSeat, steel, steelWhy), discLaw, swingOpening, common(crowdedFactor))

var _ = register(Type{
	Key:   "swing",
	Title: "Swing",
	Description: "A disc on an arm hangs from a hinge above the bore. Flow swings it up; its own weight brings it back. " +
		"The bore is clear when it is open, and the way back is long.",
	Params:     swingParams,
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.5, 1.2},
	Traits:     Traits{Style: StyleSwing, Element: "disc", Hinged: true, Drawing: "swing"},
	Looks:      []Look{hingeLook, discLook, seatLook, stopLook},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "220 mm", "hinge_to_center": "125 mm", "hinge_to_gravity_center": "118 mm",
		"disc_mass": "8 kg", "disc_inertia": "0.15 kg m2", "stroke_angle": "65 deg",
		"full_open_loss": "1.0", "full_open_velocity": "1.8 m/s",
	},
	build: func(v *Reader, s Setting) (Frame, Law, error) {
		h, err := newOutside("swing", v, s)
		if err != nil {
			return Frame{}, nil, err
		}
		return h.fit("swing", v, s, computedDisc)
	},
})
