package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

var flapSeat = fixed(math.Pi/4, 0.5, 0.9, "flap checks have a seat of 30 to 50°", basis.CommonPractice)

// flapLaw are the numbers of the law. The flap swings from beside the bore as the computed
// disc does, and the slant of its seat has it out of the passage sooner. Not computed.
var flapLaw = with(
	[]Param{partOpenLoss, chamberParam(1.4, 1.4, 1.4, notComputed, "disc-computation")},
	gapParams, []Param{partOpenForce},
)

var flapParams = []Param{
	{
		Key: "hinge_torque", Title: "torque of the rubber hinge when the valve is closed", Kind: quantity.Torque,
		Most:    1e6,
		Doc:     "Closing is positive: the flap is molded so that it presses on the seat.",
		Default: fixed(0, 0, 0, "no torque at the seat is mentioned", basis.CommonPractice),
	},
	{
		Key: "hinge_stiffness", Title: "stiffness of the rubber hinge", Kind: quantity.Stiffness, Positive: true,
		Doc: "Torque per angle. Where it is not given it follows from the strip: hardness, width, thickness, length.",
	},
	{
		Key: "hinge_hardness", Title: "hardness of the hinge's rubber, Shore A", Kind: quantity.Number, Least: 20,
		Most: 80, Doc: "At service temperature.",
	},
	{
		Key: "hinge_width", Title: "width of the hinge strip", Kind: quantity.Diameter, Positive: true,
		Doc: "Along the hinge.",
	},
	{
		Key: "hinge_thickness", Title: "thickness of the hinge strip", Kind: quantity.Diameter, Positive: true,
		Doc: "Rubber alone.",
	},
	{
		Key: "hinge_length", Title: "free length of the hinge strip", Kind: quantity.Diameter, Positive: true,
		Doc: "Between its clamped edges.",
	},
	{
		Key: "fabric_factor", Title: "factor on the hinge's stiffness by its fabric", Kind: quantity.Number,
		Positive: true,
		Doc:      "Counts where the stiffness follows from the strip.",
		Default:  fixed(2.5, 1.5, 5, "fabric plies and cold stiffen rubber", basis.FromMemory),
	},
}

var _ = register(Type{
	Key:   "flap",
	Title: "Rubber flap",
	Description: "A rubber-covered flap on a slanting seat bends about its own rubber hinge; there is no pin to wear or to catch rags. " +
		"The slant makes the way short. Loss and torque at part opening are those of the computed swing disc on this geometry; for a flap they are not computed.",
	Params: with(hingedParams(flapSeat, [3]float64{1800, 1300, 4000}, "rubber round a steel plate"), flapParams,
		flapLaw, swingOpening, common(crowdedFactor)),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.25, 0.7},
	Traits:     Traits{Style: StyleFlap, Element: "flap", Hinged: true, Drawing: "flap"},
	Looks: []Look{
		{At: "Flap: tear or crack at the bend", Sound: "none"},
		{At: "Flap: set when laid flat", Sound: "none"},
		{At: "Flap: hardness, Shore A"},
		{At: "Flap: mass", Mass: true},
		seatLook,
	},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "215 mm", "hinge_to_center": "115 mm", "disc_mass": "2.2 kg",
		"seat_angle": "35 deg", "stroke_angle": "40 deg",
		"hinge_torque": "6 N m", "hinge_stiffness": "5 N m/rad",
		"full_open_loss": "1.1", "full_open_velocity": "2.1 m/s",
	},
	build: func(v *Reader, s Setting) (Frame, Law, error) {
		rate, err := hingeStiffness(v)
		if err != nil {
			return Frame{}, nil, err
		}
		h, err := newOutside("flap", v, s)
		if err != nil {
			return Frame{}, nil, err
		}
		h.spring, h.rate, h.partLoss = v.SI("hinge_torque"), rate, v.SI("part_open_loss")
		return h.fit("flap", v, s, likeTheDisc)
	},
})

// hingeStiffness is the stiffness as given, or of the strip that is described.
func hingeStiffness(v *Reader) (float64, error) {
	if v.Has("hinge_stiffness") {
		return v.SI("hinge_stiffness"), nil
	}
	for _, key := range []string{"hinge_hardness", "hinge_width", "hinge_thickness", "hinge_length"} {
		if !v.Has(key) {
			return 0, &ParamError{
				Type: "flap", Key: key, Found: "nothing",
				Expected: "the hinge's stiffness, or its strip in full", Mend: "add hinge_stiffness to the product data",
			}
		}
	}
	e := RubberModulus(v.SI("hinge_hardness"))
	return v.SI("fabric_factor") * StripStiffness(e, v.SI("hinge_width"), v.SI("hinge_thickness"),
		v.SI("hinge_length")), nil
}
