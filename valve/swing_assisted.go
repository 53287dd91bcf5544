package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// assistParams are lever, weight and spring.
var assistParams = []Param{
	{
		Key: "lever_mass", Title: "mass of the weight on the lever", Kind: quantity.Mass, Tried: true, Most: 1e5,
		Doc: "Outside, in air.", Default: fixed(0, 0, 0, "no weight is mentioned", basis.CommonPractice),
	},
	{
		Key: "lever_arm", Title: "distance from the shaft to the weight on the lever", Kind: quantity.Diameter,
		Most: 10,
		Doc:  "Where the weight is clamped.", Default: fixed(0, 0, 0, "no lever is mentioned", basis.CommonPractice),
	},
	{
		Key: "lever_angle", Title: "angle of the lever above the horizontal when the valve is closed",
		Kind: quantity.Angle, Least: -math.Pi / 2, Most: math.Pi / 2,
		Doc: "As clamped in the position where the valve stands. It rises as the valve opens.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				half := v.SI("stroke_angle") / 2
				return -half, -2 * half, 0
			},
			Reason: "the lever is level at half opening", Source: basis.CommonPractice,
		},
	},
	{
		Key: "spring_torque", Title: "torque of the spring when the valve is closed", Kind: quantity.Torque,
		Tried: true, Most: 1e6,
		Doc: "Closing is positive.", Default: fixed(0, 0, 0, "no spring is mentioned", basis.CommonPractice),
	},
	{
		Key: "spring_stiffness", Title: "stiffness of the spring", Kind: quantity.Stiffness, Tried: true, Most: 1e6,
		Doc:     "Torque added per angle of opening.",
		Default: fixed(0, 0, 0, "no spring is mentioned", basis.CommonPractice),
	},
}

// assist adds lever, weight and spring to the disc.
func (h *hinged) assist(v *Reader, s Setting) {
	arm := v.SI("lever_arm")
	h.lever, h.leverAngle = v.SI("lever_mass")*s.GravityMS2*arm, v.SI("lever_angle")
	h.inertia += v.SI("lever_mass") * arm * arm
	h.spring, h.rate = v.SI("spring_torque"), v.SI("spring_stiffness")
}

var _ = register(Type{
	Key:   "swing-assisted",
	Title: "Swing with lever and weight or spring",
	Description: "A swing check whose shaft comes out of the body and carries a lever with a weight, a spring, or both. " +
		"The help closes it earlier; a weight must itself be set in motion, a spring need not.",
	Params:     with(swingParams, assistParams),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.5, 1.2},
	Traits: Traits{
		Style: StyleSwing, Element: "disc", Hinged: true, Lever: true, Quick: true,
		Drawing: "swing-lever", Weight: "lever_mass", Spring: "spring_torque",
	},
	Looks: []Look{hingeLook, discLook, seatLook, stopLook, leverLook},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "220 mm", "hinge_to_center": "125 mm", "hinge_to_gravity_center": "118 mm",
		"disc_mass": "8 kg", "disc_inertia": "0.15 kg m2", "stroke_angle": "65 deg", "friction": "0.2 N m",
		"lever_mass": "5 kg", "lever_arm": "200 mm",
		"full_open_loss": "1.0", "full_open_velocity": "2.6 m/s",
	},
	build: func(v *Reader, s Setting) (Frame, Law, error) {
		if v.SI("lever_mass")*v.SI("lever_arm") == 0 && v.SI("spring_torque") == 0 && v.SI("spring_stiffness") == 0 {
			return Frame{}, nil, &ParamError{
				Type: "swing-assisted", Key: "lever_mass", Found: "neither a weight on a lever nor a spring",
				Expected: "one of them",
				Mend:     "give lever_mass and lever_arm, or spring_torque, or take type swing",
			}
		}
		h, err := newOutside("swing-assisted", v, s)
		if err != nil {
			return Frame{}, nil, err
		}
		h.assist(v, s)
		return h.fit("swing-assisted", v, s, computedDisc)
	},
})
