package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// ballParams are the numbers of any ball.
func ballParams(diameter *Default) []Param {
	return []Param{
		{
			Key: "bore", Title: "bore of the valve", Kind: quantity.Diameter, Required: true, Positive: true,
			Doc: "Diameter on which velocities and losses rest.",
		},
		{
			Key: "ball_diameter", Title: "diameter of the ball", Kind: quantity.Diameter, Required: diameter == nil,
			Positive: true, Doc: "With its rubber.", Default: diameter,
		},
		{
			Key: "ball_density", Title: "density of the ball", Kind: quantity.Density, Tried: true, Required: true,
			Positive: true,
			Doc:      "Of the whole ball: above the liquid's it sinks, below it floats.",
		},
		{
			Key: "seat_diameter", Title: "diameter of the seat's opening", Kind: quantity.Diameter, Positive: true,
			Doc:     "Inner edge of the seat.",
			Default: scaled("bore", 1, 1, 1, "the seat is as wide as the bore", basis.CommonPractice),
		},
		{
			Key: "contraction", Title: "jet contraction in the gap", Kind: quantity.Number, Positive: true, Most: 1,
			Doc:     "Jet area over gap area.",
			Default: fixed(0.8, 0.65, 0.9, "the ball guides the jet on one side", basis.FromMemory),
		},
	}
}

// ballHold is the pressure in Pa that must press on a seated ball so that its weight
// does not roll it over the lowest edge of the seat. About that edge,
//
//	(Δp π r² + W' sin ε) r = |W'| cos ε · h₀,  h₀ = √(R² − r²)
//
// with ε the angle of the seat's axis, the way the ball leaves, above the horizontal:
// the weight holds with its part along the axis and tips with its part across.
// Derived here. 0 when the weight alone keeps it there.
func ballHold(weightN, ballRadiusM, seatRadiusM, axisRad float64) float64 {
	center := math.Sqrt(ballRadiusM*ballRadiusM - seatRadiusM*seatRadiusM)
	need := math.Abs(weightN)*math.Abs(math.Cos(axisRad))*center/seatRadiusM - weightN*math.Sin(axisRad)
	return max(0, need) / (math.Pi * seatRadiusM * seatRadiusM)
}

// fits says what is wrong with a ball that does not cover its seat.
func fits(typeKey string, v *Reader) error {
	if v.SI("ball_diameter") > v.SI("seat_diameter") {
		return nil
	}
	return &ParamError{
		Type: typeKey, Key: "ball_diameter", Found: quantity.SI.Format(quantity.Diameter, v.SI("ball_diameter")),
		Expected: "more than seat_diameter, " + quantity.SI.Format(quantity.Diameter, v.SI("seat_diameter")),
		Mend:     "check both diameters",
	}
}
