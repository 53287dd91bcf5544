package valve

import (
	"seatward/basis"
)

// steel is the density of moving parts of steel or iron: best, low, high, kg/m³.
var steel = [3]float64{7850, 7100, 8000}

const steelWhy = "moving parts of steel or iron"

// swingSeat is how a swing check's seat usually leans.
var swingSeat = fixed(0.087, 0, 0.17, "seats lean some 5° so that the disc's weight holds it shut", basis.CommonPractice)

var swingParams = with(hingedParams(swingSeat, steel, steelWhy), openingParams, common(bodyFactor))

var _ = register(Type{
	Key:   "swing",
	Title: "Swing",
	Description: "A disc on an arm hangs from a hinge above the bore. Flow swings it up; its own weight brings it back. " +
		"The bore is clear when it is open, and the way back is long.",
	Params:     swingParams,
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.5, 1.2},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "220 mm", "hinge_to_center": "125 mm", "hinge_to_gravity_center": "118 mm",
		"disc_mass": "8 kg", "disc_inertia": "0.15 kg m2", "stroke_angle": "65 deg",
		"full_open_loss": "1.0", "full_open_velocity": "1.5 m/s",
	},
	build: func(v Values, s Setting) (Frame, Law, error) {
		return newHinged(v, s).fit("swing", v, s)
	},
})
