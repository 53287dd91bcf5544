package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// hinged is a disc on a hinge outside it: swing, tilting disc and flap, with or
// without lever, spring and cushion. Angles are from the seat.
type hinged struct {
	*swinging
	moment        float64 // submerged weight times its arm, N m
	tilt          float64 // angle of the seat and the line: moment acts with sin(θ + tilt)
	lever         float64 // weight on the lever times its arm, N m
	leverAngle    float64 // of the lever above the horizontal when seated; it acts with the cosine
	spring, rate  float64 // torque when seated, N m, and stiffness, N m/rad
	inertia       float64 // dry, kg m²
	added         float64 // of water, in unbounded water, kg m²
	pull          float64 // torque per dV/dt with the disc square to the flow, kg m
	friction      float64 // N m
	cushion       float64 // torque per u², N m s²
	cushionBelow  float64 // angle below which the cushion is met
	submergedMass float64
}

// lawNote says how far the law of a type that swings may be off.
func lawNote(known Knowledge) Note {
	if known == computedDisc {
		return Note{
			Key:  "part_open_law",
			Text: "loss and torque are computed for a generic body, not measured: loss to 12 to 20 %, and 0.7 to 2.5 times that from body to body",
		}
	}
	return Note{
		Key:  "part_open_law",
		Text: "loss and torque at part opening follow from the law of a computed swing disc and this type's geometry; they are neither computed nor measured for it",
	}
}

// closing is the torque at the angle.
func (h *hinged) closing(angle float64) float64 {
	torque := h.moment*math.Sin(angle+h.tilt) + h.spring + h.rate*angle
	if h.lever != 0 {
		torque += h.lever * math.Cos(angle+h.leverAngle)
	}
	return torque
}

// state is the law that a lattice is made of: without slopes and cushion.
func (h *hinged) state(angle float64, s *State) {
	cos := math.Cos(angle + h.across)
	s.Closing, s.Friction = h.closing(angle), h.friction
	if !h.outside {
		s.Terms[0], s.Mass, s.Coupling = h.term(angle, 1, 1), h.inertia+h.added, h.pull*cos
		return
	}
	d := discAt(angle)
	s.Terms[0] = h.term(angle, d.efficiency, d.back)
	s.Mass, s.Coupling = h.inertia+h.added*d.inertia, h.pull*d.crowding*cos
}

// hingedParams are the numbers of any hinged disc. density is that of the moving
// parts where displaced_volume is not given: best, low, high.
func hingedParams(seatAngle *Default, density [3]float64, why string) []Param {
	length := func(key, title, doc string, fallback *Default) Param {
		return Param{
			Key: key, Title: title, Kind: quantity.Diameter, Required: fallback == nil, Positive: true,
			Doc: doc, Default: fallback,
		}
	}
	return []Param{
		length("bore", "bore of the valve", "Diameter on which velocities and losses rest.", nil),
		length("disc_diameter", "diameter of the disc", "Outer diameter of the part that the pressure acts on.", nil),
		length("seat_diameter", "diameter of the seat's opening", "Inner edge of the seat, where the gap begins.",
			scaled("bore", 1, 1, 1, "the seat is as wide as the bore", basis.CommonPractice)),
		length("hinge_to_center", "distance from the hinge to the middle of the disc", "Along the disc.", nil),
		length("hinge_to_gravity_center", "distance from the hinge to the center of gravity of the moving parts",
			"Disc and arm together.", scaled("hinge_to_center", 0.95, 0.85, 1,
				"the arm draws the center of gravity toward the hinge", basis.CommonPractice)),
		{
			Key: "disc_mass", Title: "mass of the moving parts", Kind: quantity.Mass, Tried: true, Required: true,
			Positive: true,
			Doc:      "Disc and arm, without a weight on an outside lever.",
		},
		{
			Key: "displaced_volume", Title: "volume of the moving parts", Kind: quantity.Volume,
			Doc: "Water that they displace.", Most: 100,
			Default: &Default{
				Of: func(v *Reader) (float64, float64, float64) {
					m := v.SI("disc_mass")
					return m / density[0], m / density[2], m / density[1]
				},
				Reason: why, Source: basis.CommonPractice,
			},
		},
		{
			Key: "disc_inertia", Title: "moment of inertia of the moving parts about the hinge", Kind: quantity.Inertia,
			Positive: true,
			Doc:      "Dry.",
			Default: &Default{
				Of: func(v *Reader) (float64, float64, float64) {
					r, l := v.SI("disc_diameter")/2, v.SI("hinge_to_gravity_center")
					i := v.SI("disc_mass") * (l*l + r*r/4)
					return i, 0.9 * i, 1.2 * i
				},
				Reason: "a thin disc of the same mass with its middle at the center of gravity",
				Source: basis.DerivedHere,
			},
		},
		{
			Key: "seat_angle", Title: "inclination of the seat", Kind: quantity.Angle, Most: math.Pi / 3,
			Doc: "Between the closed disc and the plane across the pipe.", Default: seatAngle,
		},
		{
			Key: "stroke_angle", Title: "angle from the seat to the stop", Kind: quantity.Angle, Required: true,
			Positive: true, Most: math.Pi / 2,
			Doc: "Least 0.",
		},
		{
			Key: "friction", Title: "friction torque at the hinge", Kind: quantity.Torque, Most: 1e6,
			Doc: "Constant, against motion: pin, packing of the lever shaft.",
			Default: &Default{
				Of: func(v *Reader) (float64, float64, float64) {
					return 0, 0, 0.05 * v.SI("disc_mass") * quantity.StandardGravity * v.SI("hinge_to_gravity_center")
				},
				Reason: "bushings in good order; up to a twentieth of the dry weight's torque",
				Source: basis.CommonPractice,
			},
		},
	}
}

// newHinged builds the disc itself: weight, inertia, water and loss. Lever, spring and
// cushion are set by the types that have them before fit is called.
func newHinged(typeKey string, v *Reader, s Setting) (*hinged, error) {
	radius, arm := v.SI("disc_diameter")/2, v.SI("hinge_to_center")
	law, err := newSwinging(typeKey, v, HingedGapArea(v.SI("seat_diameter")/2, arm, math.Pi), math.Pi*radius*radius*arm,
		v.SI("seat_angle"))
	if err != nil {
		return nil, err
	}
	factor := v.SI("added_mass_factor")
	h := &hinged{
		swinging: law, friction: v.SI("friction"), inertia: v.SI("disc_inertia"),
		added: factor * DiscAddedInertia(s.DensityKgM3, radius, arm),
		pull:  factor * DiscAddedMass(s.DensityKgM3, radius) * arm,
	}
	h.weigh(v, s)
	return h, nil
}

// newOutside is a disc that hangs from a hinge beside the bore, as the computed one does.
func newOutside(typeKey string, v *Reader, s Setting) (*hinged, error) {
	h, err := newHinged(typeKey, v, s)
	if err == nil {
		h.outside, h.lossBack = true, discBackLoss*h.loss
	}
	return h, err
}

// weigh sets what depends on the liquid's density and the position.
func (h *hinged) weigh(v *Reader, s Setting) {
	h.submergedMass = v.SI("disc_mass") - s.DensityKgM3*v.SI("displaced_volume")
	h.moment = h.submergedMass * s.GravityMS2 * v.SI("hinge_to_gravity_center")
	h.tilt = h.across + s.InclinationRad
}

// fit finds the efficiency at full opening and returns what a Build returns. known says how
// its law is.
func (h *hinged) fit(typeKey string, v *Reader, s Setting, known Knowledge) (Frame, Law, error) {
	tested := *h
	eta, notes, err := openingFit(typeKey, v, s, h.geometry, func(ref Setting) float64 {
		tested.weigh(v, ref)
		return tested.closing(h.stroke)
	})
	if err != nil {
		return Frame{}, nil, err
	}
	h.settle(eta)
	notes = append(notes, lawNote(known))
	frame := Frame{
		BoreM: v.SI("bore"), Stroke: h.stroke, Rotary: true, Efficiency: h.atStop, Notes: notes, Known: known,
		SubmergedN: h.submergedMass * s.GravityMS2,
		HoldPa:     max(0, -h.closing(0)) / h.geometry,
		CushionXi:  h.cushionBelow,
	}
	return frame, h.law(), nil
}

// law is the Law: the lattice and the cushion.
func (h *hinged) law() Law {
	written := newLattice(h.state, h.stroke)
	if h.cushion == 0 {
		return written.state
	}
	below, cushion := h.cushionBelow, h.cushion
	return func(angle float64, s *State) {
		written.state(angle, s)
		if angle < below {
			s.Cushion = cushion
		}
	}
}
