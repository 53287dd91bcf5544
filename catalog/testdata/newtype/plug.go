package valve

import (
	"math"

	"seatward/quantity"
)

// A made-up type: a heavy plug that slides up a guide. This file is all that a new type
// needs: its parameters, its law, what others must know of it, and one line that registers it.

var plugParams = []Param{
	{Key: "bore", Title: "bore of the valve", Kind: quantity.Diameter, Required: true, Positive: true, Doc: "Diameter on which velocities and losses rest."},
	{Key: "stroke", Title: "lift of the plug from the seat to its stop", Kind: quantity.Diameter, Required: true, Positive: true, Doc: "Along the guide."},
	{Key: "moving_mass", Title: "mass of the plug", Kind: quantity.Mass, Tried: true, Required: true, Positive: true, Doc: "Dry."},
	{Key: "guide_angle", Title: "angle between the guide and the axis of the pipe", Kind: quantity.Angle, Required: true, Positive: true, Most: math.Pi / 2, Doc: "Upward along the flow when the pipe lies."},
}

// steelKgM3 is what the plug is made of.
const steelKgM3 = 7850

var _ = register(Type{
	Key:         "plug",
	Title:       "Sliding plug",
	Description: "A heavy plug slides up a slanting guide out of the stream, and its weight brings it back to its seat when the flow stops.",
	Params:      with(plugParams, openingParams, common(bodyFactor)),
	Positions:   []Position{Horizontal, FlowUp},
	SweptBores:  [2]float64{0.2, 1},
	Traits:      Traits{Style: StyleLift, Element: "plug"},
	Looks: []Look{
		{At: "Plug: mass", Mass: true},
		{At: "Guide: wear, rags", Sound: "none"},
		{At: "Plug: lift to the stop", Param: "stroke"},
		seatLook,
	},
	Example: map[string]string{
		"bore": "150 mm", "stroke": "80 mm", "moving_mass": "6 kg", "guide_angle": "45 deg",
		"full_open_loss": "2", "full_open_velocity": "1.31 m/s",
	},
	build: func(v *Reader, s Setting) (Frame, Law, error) {
		size, mass, angle := v.SI("bore"), v.SI("moving_mass"), v.SI("guide_angle")
		bore, volume := math.Pi/4*size*size, mass/steelKgM3
		submerged := func(s Setting) float64 { return (mass - s.DensityKgM3*volume) * s.GravityMS2 }
		along := func(s Setting) float64 { return submerged(s) * math.Sin(angle+s.InclinationRad) }
		w := whole{
			stroke: v.SI("stroke"), area: bore, loss: v.SI("full_open_loss"), geometry: bore,
			gap: func(lift float64) float64 { return GapLoss(bore, LiftGapArea(size, lift, math.Pi/2), 0.8) },
		}
		w.gapOpen = w.gap(w.stroke)
		notes, err := w.fitAtStop("plug", v, s, along)
		if err != nil {
			return Frame{}, nil, err
		}
		added := v.SI("added_mass_factor") * s.DensityKgM3 * volume
		law := func(lift float64, out *State) {
			out.Terms[0], out.Closing = w.term(lift), along(s)
			out.Mass, out.Coupling = mass+added, added+s.DensityKgM3*volume
		}
		return Frame{BoreM: size, Stroke: w.stroke, Efficiency: w.atStop, Notes: notes, SubmergedN: submerged(s)}, law, nil
	},
})
