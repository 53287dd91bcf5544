package valve

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// CushionForce is the resistance of a piston that presses oil through an orifice,
// in N s²/m² (times the square of the piston's speed):
//
//	F/u² = ½ ρ_o A_p³ / (C_d A_o)²
//
// ρ_o oilDensityKgM3, A_p pistonAreaM2, A_o orificeAreaM2, C_d discharge. Derived
// here from the loss of the orifice.
func CushionForce(oilDensityKgM3, pistonAreaM2, orificeAreaM2, discharge float64) float64 {
	jet := discharge * orificeAreaM2
	return 0.5 * oilDensityKgM3 * pistonAreaM2 * pistonAreaM2 * pistonAreaM2 / (jet * jet)
}

// CushionForceFormula is CushionForce.
var CushionForceFormula = basis.Formula{
	ID:      "cushion-force",
	Title:   "Resistance of a dashpot",
	Expr:    "F/u² = ½ ρ_o A_p³ / (C_d A_o)²",
	Symbols: []string{"ρ_o", "A_p", "A_o", "C_d"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "turbulent orifice; C_d 0.6 to 0.7",
}

// CushionSpeedMS is the steady speed in m/s of the piston under the force F forceN:
// u = (C_d A_o/A_p) √(2F/(ρ_o A_p)), the balance of CushionForce.
func CushionSpeedMS(forceN, oilDensityKgM3, pistonAreaM2, orificeAreaM2, discharge float64) float64 {
	return math.Sqrt(forceN / CushionForce(oilDensityKgM3, pistonAreaM2, orificeAreaM2, discharge))
}

var cushionParams = []Param{
	{
		Key: "cushion_share", Title: "share of the stroke, next to the seat, over which the cushion is met",
		Kind: quantity.Fraction, Required: true, Positive: true, Most: 1,
		Doc: "0.3: the last 30 % of closing is cushioned.",
	},
	{
		Key: "cushion_arm", Title: "distance from the shaft to the cushion's piston", Kind: quantity.Diameter,
		Required: true, Positive: true,
		Doc: "Lever of the piston rod.",
	},
	{
		Key: "piston_diameter", Title: "diameter of the cushion's piston", Kind: quantity.Diameter, Required: true,
		Positive: true,
		Doc:      "Pressed area of the oil cylinder.",
	},
	{
		Key: "orifice_diameter", Title: "diameter of the cushion's orifice", Kind: quantity.Diameter, Tried: true,
		Required: true, Positive: true,
		Doc: "The free opening at the setting of the needle valve, as a round hole of equal area.",
	},
	{
		Key: "oil_density", Title: "density of the cushion's oil", Kind: quantity.Density, Positive: true,
		Doc: "Hydraulic oil.", Default: fixed(870, 850, 900, "mineral hydraulic oil", basis.CommonPractice),
	},
	{
		Key: "orifice_discharge", Title: "discharge coefficient of the cushion's orifice", Kind: quantity.Number,
		Positive: true, Most: 1,
		Doc: "Turbulent oil.", Default: fixed(0.65, 0.6, 0.7, "sharp-edged orifice", basis.FromMemory),
	},
}

var _ = register(Type{
	Key:   "swing-cushioned",
	Title: "Swing with oil cushion",
	Description: "A swing check, usually with lever and weight, whose last part of closing is slowed by an oil cylinder. " +
		"The disc seats softly, at the price of water running back while it closes: the pump must bear that.",
	Params:     with(swingParams, assistParams, cushionParams),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.5, 1.2},
	Traits: Traits{
		Style: StyleSwing, Element: "disc", Hinged: true, Lever: true, Drawing: "swing-lever",
		Weight: "lever_mass", Spring: "spring_torque", Cushion: "orifice_diameter",
	},
	Looks: []Look{
		hingeLook, discLook, seatLook, stopLook, leverLook,
		{At: "Oil cushion: oil level, leakage at the rod, needle setting"},
	},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "220 mm", "hinge_to_center": "125 mm", "hinge_to_gravity_center": "118 mm",
		"disc_mass": "8 kg", "disc_inertia": "0.15 kg m2", "stroke_angle": "65 deg", "friction": "0.2 N m",
		"lever_mass": "5 kg", "lever_arm": "200 mm",
		"cushion_share": "0.3", "cushion_arm": "150 mm", "piston_diameter": "80 mm", "orifice_diameter": "4 mm",
		"full_open_loss": "1.0", "full_open_velocity": "2.6 m/s",
	},
	build: func(v *Reader, s Setting) (Frame, Law, error) {
		h, err := newOutside("swing-cushioned", v, s)
		if err != nil {
			return Frame{}, nil, err
		}
		h.assist(v, s)
		if err := h.addCushion(v); err != nil {
			return Frame{}, nil, err
		}
		return h.fit("swing-cushioned", v, s, computedDisc)
	},
})

// slowestCushionS is the longest that a cushion is believed to take under 1 m of water
// across the disc.
const slowestCushionS = 60

// addCushion adds the oil cylinder to the disc.
func (h *hinged) addCushion(v *Reader) error {
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	piston, orifice, arm := area(v.SI("piston_diameter")), area(v.SI("orifice_diameter")), v.SI("cushion_arm")
	h.cushion = arm * arm * arm * CushionForce(v.SI("oil_density"), piston, orifice, v.SI("orifice_discharge"))
	h.cushionBelow = v.SI("cushion_share") * h.stroke
	const meterPa = 1000 * quantity.StandardGravity
	speed := CushionSpeedMS(meterPa*h.geometry/arm, v.SI("oil_density"), piston, orifice,
		v.SI("orifice_discharge")) / arm
	if took := h.cushionBelow / speed; took > slowestCushionS {
		return &ParamError{
			Type: "swing-cushioned", Key: "orifice_diameter",
			Found:    quantity.SI.Format(quantity.Diameter, v.SI("orifice_diameter")),
			Expected: fmt.Sprintf("an orifice through which 1 m of water closes the disc within %d s; this one takes %.0f s", slowestCushionS, took),
			Mend:     "check piston, orifice and arm",
		}
	}
	return nil
}
