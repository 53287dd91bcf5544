package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// BallDrag is the drag coefficient of a ball on the axis of a round chamber, on the
// velocity that the water would have in the empty chamber:
//
//	C_D = C_D∞ (1 + 1.45 λ^4.5)/(1 − λ²)²
//
// λ ratio is ball diameter over chamber diameter, below 1; C_D∞ free the coefficient
// in a free stream, 0.44 to 0.46: blockage holds off the drag crisis. A fit to
// Achenbach (1974) in Clift, Grace and Weber (1978), from memory; BallDragRange shows
// how far other laws lie from it.
func BallDrag(ratio, free float64) float64 {
	gap := 1 - ratio*ratio
	return free * (1 + 1.45*math.Pow(ratio, 4.5)) / (gap * gap)
}

// BallDragFormula is BallDrag.
var BallDragFormula = basis.Formula{
	ID:      "ball-drag",
	Title:   "Drag coefficient of a ball in a round chamber",
	Expr:    "C_D = C_D∞ (1 + 1.45 λ^4.5)/(1 − λ²)²",
	Symbols: []string{"λ", "C_D∞"},
	Kind:    quantity.Number,
	Ref:     "achenbach-1974",
	Range:   "λ 0.5 to 0.92, Re 3e4 to 2e6",
}

// BallDragSettling is the same by the settling law of a sphere in a tube,
// C_D∞/(1 − λ^1.5)² (Munroe, from memory).
func BallDragSettling(ratio, free float64) float64 {
	f := 1 - math.Pow(ratio, 1.5)
	return free / (f * f)
}

// BallDragSettlingFormula is BallDragSettling.
var BallDragSettlingFormula = basis.Formula{
	ID:      "ball-drag-settling",
	Title:   "Drag coefficient of a ball in a round chamber, from settling",
	Expr:    "C_D = C_D∞/(1 − λ^1.5)²",
	Symbols: []string{"λ", "C_D∞"},
	Kind:    quantity.Number,
	Ref:     basis.FromMemory,
	Range:   "turbulent, λ below 1",
}

// BallDragWall is the same by the wall correction of Kehlenbeck and Di Felice (1999,
// from memory) at the Reynolds number re of the free sphere, above 35:
//
//	C_D = C_D∞/f²,  f = (1 − λ^p)/(1 + (λ/λ₀)^p),  p = 2.3 + 37.3 Re^−0.8686
//	(λ₀ − 0.283)/(1.2 − λ₀) = 0.041 Re^0.524
func BallDragWall(ratio, free, re float64) float64 {
	p := 2.3 + 37.3*math.Pow(re, -0.8686)
	if re < 35 {
		p = 1.44 + 0.5466*math.Pow(re, 0.434)
	}
	q := 0.041 * math.Pow(re, 0.524)
	lambda0 := (0.283 + 1.2*q) / (1 + q)
	f := (1 - math.Pow(ratio, p)) / (1 + math.Pow(ratio/lambda0, p))
	return free / (f * f)
}

// BallDragWallFormula is BallDragWall.
var BallDragWallFormula = basis.Formula{
	ID:      "ball-drag-wall",
	Title:   "Drag coefficient of a ball in a round chamber, by wall correction",
	Expr:    "C_D = C_D∞/f², f = (1 − λ^p)/(1 + (λ/λ₀)^p)",
	Symbols: []string{"λ", "C_D∞", "Re"},
	Kind:    quantity.Number,
	Ref:     "Kehlenbeck R. and Di Felice R., Chemical Engineering and Technology 21, 1999, p. 303 (from memory)",
	Range:   "λ below 1",
}

// BallDragExpansion is the same by the momentum balance of a jet that fills the
// chamber again behind the ball, (r − 1)²/λ², r = 1/(1 − λ²). Derived here; low below
// λ = 0.65, where the ball's own wake counts.
func BallDragExpansion(ratio float64) float64 {
	square := ratio * ratio
	r := square / (1 - square) // r − 1
	return r * r / square
}

// BallDragExpansionFormula is BallDragExpansion.
var BallDragExpansionFormula = basis.Formula{
	ID:      "ball-drag-expansion",
	Title:   "Drag coefficient of a ball in a round chamber, by momentum",
	Expr:    "C_D = (r − 1)²/λ², r = 1/(1 − λ²)",
	Symbols: []string{"λ"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "λ above 0.65",
}

// blockageRe is the Reynolds number at which the laws are compared: a ball of 0.2 m
// in 1 m/s of water.
const blockageRe = 2e5

// BallDragRange is the least and the greatest of the laws above as a multiple of
// BallDrag at the ratio λ, never above 1 or below 1: what is not known about the drag.
// The momentum balance counts where it holds, from λ = 0.65.
func BallDragRange(ratio, free float64) (low, high float64) {
	best := BallDrag(ratio, free)
	others := []float64{BallDragSettling(ratio, free), BallDragWall(ratio, free, blockageRe)}
	if ratio >= 0.65 {
		others = append(others, BallDragExpansion(ratio))
	}
	low, high = 1, 1
	for _, c := range others {
		low, high = min(low, c/best), max(high, c/best)
	}
	return low, high
}

// HoldingVelocity is the velocity in m/s in the bore that holds a ball up in its
// chamber, clear of the seat:
//
//	V = (A_ch/A) √(2 W' / (ρ A_b C_D))
//
// W' weightN, ρ densityKgM3, D_b ballM, D_ch chamberM, D boreM in m, C_D drag on the
// chamber velocity. Derived here. In a straight chamber the ball floats there
// indifferently; below that velocity it falls to the seat's neighborhood.
func HoldingVelocity(weightN, densityKgM3, ballM, chamberM, boreM, drag float64) float64 {
	ratio := chamberM / boreM
	return ratio * ratio * TerminalSpeed(weightN, densityKgM3, ballM, drag)
}

// HoldingVelocityFormula is HoldingVelocity.
var HoldingVelocityFormula = basis.Formula{
	ID:      "holding-velocity",
	Title:   "Velocity that holds a caged ball up",
	Expr:    "V = (A_ch/A) √(2 W'/(ρ A_b C_D))",
	Symbols: []string{"W'", "ρ", "D_b", "D_ch", "D", "C_D"},
	Kind:    quantity.Velocity,
	Ref:     basis.DerivedHere,
	Range:   "vertical cage; −8 to +11 % by other accepted drag laws",
}

// HoldingVelocityByHand is HoldingVelocity for a ball that fills most of its chamber,
// λ ≥ 0.7, by the momentum balance alone:
//
//	V ≈ (A_ann/A)(1/λ) √((4/3) g D_b |SG − 1|),  A_ann = A_ch − A_b
//
// D_b ballM, D_ch chamberM, D boreM in m, SG specificGravity of the ball, g gravityMS2.
// Derived here.
func HoldingVelocityByHand(ballM, chamberM, boreM, specificGravity, gravityMS2 float64) float64 {
	annulus := (chamberM*chamberM - ballM*ballM) / (boreM * boreM)
	return annulus * chamberM / ballM * math.Sqrt(4.0/3*gravityMS2*ballM*math.Abs(specificGravity-1))
}

// HoldingVelocityByHandFormula is HoldingVelocityByHand.
var HoldingVelocityByHandFormula = basis.Formula{
	ID:      "holding-velocity-by-hand",
	Title:   "Velocity that holds a caged ball up, hand form",
	Expr:    "V ≈ (A_ann/A)(1/λ) √((4/3) g D_b |SG − 1|)",
	Symbols: []string{"D_b", "D_ch", "D", "SG", "g"},
	Kind:    quantity.Velocity,
	Ref:     basis.DerivedHere,
	Range:   "λ ≥ 0.7",
}
