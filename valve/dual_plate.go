package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// plateLaw are the numbers of the law: gaps all round, the same jets, and a passage that is
// what the outline of the plates leaves of the body, since the plates stay in the stream; their
// wake is in the full-open loss. Torque per pressure drop runs straight from the seat to the
// stop. Not computed.
var plateLaw = with(
	[]Param{partOpenLoss, {
		Key: "chamber_diameter", Title: "inner diameter of the body at the plates", Kind: quantity.Diameter,
		Positive: true,
		Doc:      "Where the plates swing, or of a round one of equal area. It sets the passage beside the plates.",
		Default:  scaled("disc_diameter", 1.1, 1.1, 1.1, "the plates clear the body; "+notComputed, "disc-computation"),
	}},
	gapParams, []Param{partOpenForce},
)

var dualPlateParams = []Param{
	{
		Key: "bore", Title: "bore of the valve", Kind: quantity.Diameter, Required: true, Positive: true,
		Doc: "Diameter on which velocities and losses rest.",
	},
	{
		Key: "disc_diameter", Title: "diameter of the two plates together", Kind: quantity.Diameter, Positive: true,
		Doc:     "Of the circle that the two halves make.",
		Default: scaled("bore", 1, 0.95, 1.05, "plates as wide as the bore", basis.CommonPractice),
	},
	{
		Key: "plates_mass", Title: "mass of both plates", Kind: quantity.Mass, Tried: true, Required: true, Positive: true,
		Doc: "The pair.",
	},
	{
		Key: "displaced_volume", Title: "volume of both plates", Kind: quantity.Volume, Most: 100,
		Doc: "Water that they displace.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				m := v.SI("plates_mass")
				return m / 7850, m / 8000, m / 7100
			},
			Reason: steelWhy, Source: basis.CommonPractice,
		},
	},
	{
		Key: "plates_inertia", Title: "moment of inertia of both plates about the pin", Kind: quantity.Inertia,
		Positive: true, Doc: "Dry.",
		Default: &Default{
			Of: func(v *Reader) (float64, float64, float64) {
				i := v.SI("plates_mass") * v.SI("disc_diameter") * v.SI("disc_diameter") / 16
				return i, 0.9 * i, 1.3 * i
			},
			Reason: "two half discs of even thickness", Source: basis.DerivedHere,
		},
	},
	{
		Key: "stroke_angle", Title: "angle from the seat to the stop", Kind: quantity.Angle, Required: true,
		Positive: true, Most: math.Pi / 2, Doc: "Of each plate.",
	},
	{
		Key: "spring_torque", Title: "torque of the springs when the valve is closed", Kind: quantity.Torque, Tried: true,
		Required: true, Most: 1e6, Doc: "Of both plates together; closing is positive.",
	},
	{
		Key: "spring_stiffness", Title: "stiffness of the springs", Kind: quantity.Stiffness, Tried: true, Required: true,
		Most: 1e6, Doc: "Torque of both plates together, added for each angle of opening.",
	},
	{
		Key: "friction", Title: "friction torque of both plates", Kind: quantity.Torque, Most: 1e6,
		Doc: "Constant, against motion.",
		Default: scaled("spring_torque", 0, 0, 0.1, "clean pins; up to a tenth of the springs' torque",
			basis.CommonPractice),
	},
}

// halves are two half discs of radius R hinged on their common diameter. One angle
// and one torque, of both together, stand for the pair.
type halves struct {
	*swinging
	spring, rate, weight float64 // N m, N m/rad, submerged weight's torque with the plates square to the flow
	inertia, pull        float64
	friction             float64
}

func (h *halves) closing(angle float64) float64 {
	return h.spring + h.rate*angle + h.weight*math.Cos(angle)
}

// state is the law that a lattice is made of: without slopes.
func (h *halves) state(angle float64, s *State) {
	s.Terms[0] = h.term(angle, 1, 1)
	s.Closing, s.Friction = h.closing(angle), h.friction
	s.Mass, s.Coupling = h.inertia, h.pull*math.Cos(angle)
}

var _ = register(Type{
	Key:   "dual-plate",
	Title: "Dual plate",
	Description: "Two half discs fold back from a pin across the bore; springs push them shut. " +
		"Short in the line and quick to close, with pin and springs in the stream: no valve for rags. Loss and torque at part opening follow from the law of the computed swing disc; for plates they are not computed.",
	Params:     with(dualPlateParams, plateLaw, swingOpening, common(bodyFactor)),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.15, 0.45},
	Traits: Traits{
		Style: StyleDual, Element: "plates", Hinged: true, Whole: true, Drawing: "dual-plate",
		Spring: "spring_torque",
	},
	Looks: []Look{
		{At: "Pins: play of hinge pin and stop pin"},
		{At: "Plates: mass", Mass: true},
		seatLook,
		{At: "Springs: torque at the seat", Param: "spring_torque"},
	},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "195 mm", "plates_mass": "3 kg", "stroke_angle": "80 deg",
		"spring_torque": "2.5 N m", "spring_stiffness": "2.5 N m/rad",
		"full_open_loss": "2.0", "full_open_velocity": "2.2 m/s",
	},
	build: buildDualPlate,
})

func buildDualPlate(v *Reader, s Setting) (Frame, Law, error) {
	const key = "dual-plate"
	radius := v.SI("disc_diameter") / 2
	r3 := radius * radius * radius
	law, err := newSwinging(key, v, HingedGapArea(radius, 0, math.Pi), 4.0/3*r3, 0)
	if err != nil {
		return Frame{}, nil, err
	}
	law.projected, law.partLoss = true, v.SI("part_open_loss")
	factor := v.SI("added_mass_factor")
	center := 4 * radius / (3 * math.Pi) // of gravity of a half disc, from the pin
	submerged := func(s Setting) float64 {
		return (v.SI("plates_mass") - s.DensityKgM3*v.SI("displaced_volume")) * s.GravityMS2
	}
	torque := func(s Setting) float64 { return submerged(s) * center * math.Sin(s.InclinationRad) }
	h := &halves{
		swinging: law, spring: v.SI("spring_torque"), rate: v.SI("spring_stiffness"), weight: torque(s),
		inertia:  v.SI("plates_inertia") + factor*HalvesAddedInertia(s.DensityKgM3, radius),
		pull:     factor*s.DensityKgM3*r3*radius + s.DensityKgM3*v.SI("displaced_volume")*center,
		friction: v.SI("friction"),
	}
	eta, notes, err := openingFit(key, v, s, h.geometry, func(ref Setting) float64 {
		return h.spring + h.rate*h.stroke + torque(ref)*math.Cos(h.stroke)
	})
	if err != nil {
		return Frame{}, nil, err
	}
	h.settle(eta)
	return Frame{
		BoreM: v.SI("bore"), Stroke: h.stroke, Rotary: true, Efficiency: eta,
		Notes: append(notes, lawNote(likeTheDisc)), Known: likeTheDisc,
		SubmergedN: submerged(s), HoldPa: max(0, -h.closing(0)) / h.geometry,
	}, newLattice(h.state, h.stroke).state, nil
}
