package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

var axialParams = []Param{
	{
		Key: "bore", Title: "bore of the valve", Kind: quantity.Diameter, Required: true, Positive: true,
		Doc: "Diameter on which velocities and losses rest.",
	},
	{
		Key: "disc_diameter", Title: "diameter of the disc", Kind: quantity.Diameter, Positive: true,
		Doc:     "Outer diameter of the part that the pressure acts on.",
		Default: scaled("bore", 1, 0.95, 1.1, "a disc as wide as the bore", basis.CommonPractice),
	},
	{
		Key: "hub_diameter", Title: "inner diameter of a ring-shaped disc", Kind: quantity.Diameter, Most: 10,
		Doc:     "0 for a full disc.",
		Default: fixed(0, 0, 0, "a full disc", basis.CommonPractice),
	},
	{
		Key: "seat_diameter", Title: "diameter of the seat's opening", Kind: quantity.Diameter, Positive: true,
		Doc:     "Inner edge of the seat, where the gap begins.",
		Default: scaled("disc_diameter", 1, 0.95, 1, "the seat is as wide as the disc", basis.CommonPractice),
	},
	{
		Key: "stroke", Title: "lift from the seat to the stop", Kind: quantity.Diameter, Required: true, Positive: true,
		Doc: "Along the axis.",
	},
	{
		Key: "cone_half_angle", Title: "half angle of the disc's cone", Kind: quantity.Angle, Positive: true,
		Most: math.Pi / 2, Doc: "90° for a flat disc.",
		Default: fixed(math.Pi/2, math.Pi/2, math.Pi/2, "a flat disc", basis.CommonPractice),
	},
	{
		Key: "moving_mass", Title: "mass of the moving parts", Kind: quantity.Mass, Tried: true, Required: true,
		Positive: true, Doc: "Disc, stem and a third of the spring.",
	},
	{
		Key: "displaced_volume", Title: "volume of the moving parts", Kind: quantity.Volume, Most: 100,
		Doc: "Water that they displace.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				m := v.SI("moving_mass")
				return m / 7850, m / 8000, m / 4000
			},
			Reason: steelWhy, Source: basis.CommonPractice,
		},
	},
	{
		Key: "spring_force", Title: "force of the spring when the valve is closed", Kind: quantity.Force, Tried: true,
		Required: true, Most: 1e7, Doc: "Closing is positive.",
	},
	{
		Key: "spring_rate", Title: "rate of the spring", Kind: quantity.SpringRate, Tried: true, Required: true, Most: 1e9,
		Doc: "Force added for each length of lift.",
	},
	{
		Key: "contraction", Title: "jet contraction in the gap", Kind: quantity.Number, Positive: true, Most: 1,
		Doc: "Jet area over gap area.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				if v.SI("cone_half_angle") < 1.4 {
					return 0.92, 0.9, 0.95
				}
				return 0.8, 0.7, 0.9
			},
			Reason: "a flat disc; a nozzle guides the jet better", Source: basis.FromMemory,
		},
	},
	{
		Key: "added_mass", Title: "mass of water that moves with the element, in unbounded water", Kind: quantity.Mass,
		Most: 1e6,
		Doc:  "For plugs and other bodies that are no thin disc.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				r, hub := v.SI("disc_diameter")/2, v.SI("hub_diameter")/v.SI("disc_diameter")
				m := DiscAddedMass(1000, r) * max(0, 1-hub*hub*hub)
				return m, m, m
			},
			Reason: "a thin disc moved broadside; a ring has less in proportion", Source: basis.DerivedHere,
		},
	},
	{
		Key: "friction", Title: "friction of the guides", Kind: quantity.Force, Most: 1e6,
		Doc: "Constant, against motion.",
		Default: scaled("spring_force", 0, 0, 0.05, "clean guides; up to a twentieth of the spring's force",
			basis.CommonPractice),
	},
}

// axial is a disc lifted along the axis against a spring.
type axial struct {
	whole
	spring, rate, weight float64 // N, N/m, submerged weight along the axis N
	mass, pull           float64
	friction             float64
}

func (a *axial) closing(lift float64) float64 { return a.spring + a.rate*lift + a.weight }

// state is the Law.
func (a *axial) state(lift float64, s *State) {
	s.Terms[0] = a.term(lift)
	s.Closing, s.Friction = a.closing(lift), a.friction
	s.Mass, s.Coupling = a.mass, a.pull
}

var _ = register(Type{
	Key:   "axial",
	Title: "Axial disc or nozzle with spring",
	Description: "A disc, ring or plug moves along the axis and a spring presses it on its seat. " +
		"The way is short and the spring does not wait for gravity, so it closes first of all; the water must pass round it.",
	Params:     with(axialParams, openingParams, common(bodyFactor)),
	Positions:  []Position{Horizontal, FlowUp, FlowDown},
	SweptBores: [2]float64{0.08, 0.35},
	Traits: Traits{
		Style: StyleAxial, Element: "disc", Whole: true, Quick: true, Drawing: "axial", Spring: "spring_force",
	},
	Looks: []Look{
		{At: "Spring: force at the seat", Param: "spring_force"},
		{At: "Stem and bush: play"},
		{At: "Disc and seat: cut, print unbroken all round", Sound: "unbroken"},
	},
	Example: map[string]string{
		"bore": "200 mm", "stroke": "30 mm", "moving_mass": "3 kg", "spring_force": "40 N", "spring_rate": "1500 N/m",
		"full_open_loss": "2.5", "full_open_velocity": "1.5 m/s",
	},
	build: buildAxial,
})

func buildAxial(v *Reader, s Setting) (Frame, Law, error) {
	bore, seat, psi, cc := math.Pi/4*v.SI("bore")*v.SI("bore"), v.SI("seat_diameter"), v.SI("cone_half_angle"), v.SI("contraction")
	if v.SI("hub_diameter") >= v.SI("disc_diameter") {
		return Frame{}, nil, &ParamError{
			Type: "axial", Key: "hub_diameter", Found: quantity.SI.Format(quantity.Diameter, v.SI("hub_diameter")),
			Expected: "less than disc_diameter", Mend: "check both diameters",
		}
	}
	added := v.SI("added_mass_factor") * v.SI("added_mass") * s.DensityKgM3 / 1000
	displaced := s.DensityKgM3 * v.SI("displaced_volume")
	submerged := func(s Setting) float64 {
		return (v.SI("moving_mass") - s.DensityKgM3*v.SI("displaced_volume")) * s.GravityMS2
	}
	a := &axial{
		whole: whole{
			stroke: v.SI("stroke"), area: bore, loss: v.SI("full_open_loss"),
			geometry: math.Pi / 4 * (v.SI("disc_diameter")*v.SI("disc_diameter") - v.SI("hub_diameter")*v.SI("hub_diameter")),
			gap:      func(lift float64) float64 { return GapLoss(bore, LiftGapArea(seat, lift, psi), cc) },
		},
		spring: v.SI("spring_force"), rate: v.SI("spring_rate"), weight: submerged(s) * math.Sin(s.InclinationRad),
		mass: v.SI("moving_mass") + added, pull: displaced + added, friction: v.SI("friction"),
	}
	a.gapOpen = a.gap(a.stroke)
	notes, err := a.fitAtStop("axial", v, s, func(ref Setting) float64 {
		return a.spring + a.rate*a.stroke + submerged(ref)*math.Sin(ref.InclinationRad)
	})
	if err != nil {
		return Frame{}, nil, err
	}
	return Frame{
		BoreM: v.SI("bore"), Stroke: a.stroke, Efficiency: a.atStop, Notes: notes,
		SubmergedN: submerged(s), HoldPa: max(0, -a.closing(0)) / a.geometry,
	}, a.state, nil
}
