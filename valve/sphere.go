package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// SphereVolume is π D³/6 in m³, D diameterM.
func SphereVolume(diameterM float64) float64 { return math.Pi / 6 * diameterM * diameterM * diameterM }

// SubmergedWeight is the weight in N of a ball in a liquid, (ρ_b − ρ) g π D³/6:
// ρ_b ballKgM3 and ρ liquidKgM3 in kg/m³, D diameterM, g gravityMS2. Negative for a
// ball that floats.
func SubmergedWeight(ballKgM3, liquidKgM3, diameterM, gravityMS2 float64) float64 {
	return (ballKgM3 - liquidKgM3) * gravityMS2 * SphereVolume(diameterM)
}

// SubmergedWeightFormula is SubmergedWeight.
var SubmergedWeightFormula = basis.Formula{
	ID:      "submerged-weight",
	Title:   "Weight of the ball in the liquid",
	Expr:    "W' = (ρ_b − ρ) g π D³/6",
	Symbols: []string{"ρ_b", "ρ", "D", "g"},
	Kind:    quantity.Force,
	Ref:     basis.DerivedHere,
	Range:   "ball wholly under water; negative floats",
}

// SphereDrag is the drag coefficient of a sphere in an unbounded stream by the
// Reynolds number re, by the standard curve of Clift, Grace and Weber (1978, table
// 5.2), through the drag crisis. With w = log₁₀ Re its last but one branch is
// 0.1 w − 0.49: the 0.19 w − 0.49 of some copies does not join its neighbors.
//
// Valid for Re > 0; NaN else. Not for a ball in a narrow chamber: see BallDrag.
func SphereDrag(re float64) float64 {
	if !(re > 0) {
		return math.NaN()
	}
	w := math.Log10(re)
	switch {
	case re < 0.01:
		return 24/re + 3.0/16
	case re < 20:
		return 24 / re * (1 + 0.1315*math.Pow(re, 0.82-0.05*w))
	case re < 260:
		return 24 / re * (1 + 0.1935*math.Pow(re, 0.6305))
	case re < 1500:
		return math.Pow(10, 1.6435-1.1242*w+0.1558*w*w)
	case re < 1.2e4:
		return math.Pow(10, -2.4571+2.5558*w-0.9295*w*w+0.1049*w*w*w)
	case re < 4.4e4:
		return math.Pow(10, -1.9181+0.6370*w-0.0636*w*w)
	case re < 3.38e5:
		return math.Pow(10, -4.3390+1.5809*w-0.1546*w*w)
	case re < 4e5:
		return 29.78 - 5.3*w
	case re < 1e6:
		return 0.1*w - 0.49
	}
	return 0.19 - 8e4/re
}

// SphereDragFormula is SphereDrag.
var SphereDragFormula = basis.Formula{
	ID:      "sphere-drag",
	Title:   "Drag coefficient of a sphere in a free stream",
	Expr:    "C_D(Re), standard curve in ten branches",
	Symbols: []string{"Re"},
	Kind:    quantity.Number,
	Ref:     "clift-1978 table 5.2",
	Range:   "Re > 0, smooth sphere, unbounded stream",
}

// SphereDragSmooth is the drag coefficient of a sphere in an unbounded stream by one
// expression, C_D = (24/Re)(1 + 0.150 Re^0.681) + 0.407/(1 + 8710/Re), for
// 0 < Re < 2·10⁵ (Brown and Lawler 2003).
func SphereDragSmooth(re float64) float64 {
	return 24/re*(1+0.150*math.Pow(re, 0.681)) + 0.407/(1+8710/re)
}

// SphereDragSmoothFormula is SphereDragSmooth.
var SphereDragSmoothFormula = basis.Formula{
	ID:      "sphere-drag-smooth",
	Title:   "Drag coefficient of a sphere in a free stream, one expression",
	Expr:    "C_D = (24/Re)(1 + 0.150 Re^0.681) + 0.407/(1 + 8710/Re)",
	Symbols: []string{"Re"},
	Kind:    quantity.Number,
	Ref:     "Brown P.P. and Lawler D.F., J. Environmental Engineering 129, 2003, p. 222",
	Range:   "0 < Re < 2e5",
}

// TerminalSpeed is the speed in m/s at which a ball sinks or rises in still,
// unbounded liquid, √(2 |W'| / (ρ A_b C_D)): W' weightN, ρ densityKgM3, D diameterM,
// C_D drag. It is an upper bound on the chamber velocity that holds a caged ball.
func TerminalSpeed(weightN, densityKgM3, diameterM, drag float64) float64 {
	return math.Sqrt(2 * math.Abs(weightN) / (densityKgM3 * math.Pi / 4 * diameterM * diameterM * drag))
}

// FollowRatio is the acceleration of a free ball over that of the water round it,
// without drag: (1 + C_m)/(SG + C_m), SG specificGravity, C_m addedMass. A ball lighter
// than the water runs ahead of it. Derived here.
func FollowRatio(specificGravity, addedMass float64) float64 {
	return (1 + addedMass) / (specificGravity + addedMass)
}

// FollowRatioFormula is FollowRatio.
var FollowRatioFormula = basis.Formula{
	ID:      "follow-ratio",
	Title:   "How a free ball follows accelerating water",
	Expr:    "b = (1 + C_m)/(SG + C_m)",
	Symbols: []string{"SG", "C_m"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "no drag, ball on the axis",
}
