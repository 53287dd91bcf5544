package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// GapLoss is the loss coefficient, on the bore's velocity head, of a gap through
// which the water contracts to a jet that then fills the bore again:
//
//	K = max(0, A/(C_c A_g) − 1)²
//
// A boreAreaM2 in m², A_g gapAreaM2 in m², C_c contraction. It is the loss of a
// sudden widening from the jet to the bore (Borda and Carnot), derived here, and
// holds to some 30 to 40 % at mid-stroke. It grows without bound as the gap closes.
func GapLoss(boreAreaM2, gapAreaM2, contraction float64) float64 {
	r := boreAreaM2/(contraction*gapAreaM2) - 1
	if r <= 0 {
		return 0
	}
	return r * r
}

// GapLossFormula is GapLoss.
var GapLossFormula = basis.Formula{
	ID:      "gap-loss",
	Title:   "Loss coefficient of the gap at the seat",
	Expr:    "K = max(0, A/(C_c A_g) − 1)²",
	Symbols: []string{"A", "A_g", "C_c"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "turbulent flow; 30 to 40 % at mid-stroke",
}

// BallGapArea is the area in m² between a ball and a sharp round seat, the side of
// the frustum whose generating line runs from the seat's edge to the ball's center:
//
//	A_g = π (r_s + R r_s/d)(d − R),  d = √(r_s² + (h_0 + x)²),  h_0 = √(R² − r_s²)
//
// R ballRadiusM, r_s seatRadiusM < R and x liftM in m. Derived here.
func BallGapArea(ballRadiusM, seatRadiusM, liftM float64) float64 {
	h := math.Sqrt(ballRadiusM*ballRadiusM-seatRadiusM*seatRadiusM) + liftM
	d := math.Hypot(seatRadiusM, h)
	// d − R without loss of digits for small lifts: d² − R² = x(2h₀ + x).
	above := liftM * (2*h - liftM) / (d + ballRadiusM)
	return math.Pi * seatRadiusM * (1 + ballRadiusM/d) * above
}

// HingedGapArea is the area in m² between a disc that swings about an axis and its round
// seat, the surface of straight lines that join equal points of the two:
//
//	A_g = 4π r_s e sin(θ/2)                            axis outside the seat, e ≥ r_s
//	A_g = 8 r_s sin(θ/2) [e arcsin(e/r_s) + √(r_s² − e²)]  axis inside it
//
// r_s seatRadiusM, e axisToCenterM from the axis to the middle of the seat in m, θ angleRad.
// With e = 0 it holds for two half discs on one pin too, 8 r_s² sin(θ/2). Derived here, exact.
func HingedGapArea(seatRadiusM, axisToCenterM, angleRad float64) float64 {
	half := math.Sin(angleRad / 2)
	if axisToCenterM >= seatRadiusM {
		return 4 * math.Pi * seatRadiusM * axisToCenterM * half
	}
	mean := axisToCenterM*math.Asin(axisToCenterM/seatRadiusM) + math.Sqrt(
		seatRadiusM*seatRadiusM-axisToCenterM*axisToCenterM)
	return 8 * seatRadiusM * mean * half
}

// LiftGapArea is the area in m² of the gap of a disc or cone lifted straight from
// its seat: A_g = π D_s x sin ψ, D_s seatDiameterM and x liftM in m, ψ halfAngleRad
// the half angle of the cone, π/2 for a flat disc.
func LiftGapArea(seatDiameterM, liftM, halfAngleRad float64) float64 {
	return math.Pi * seatDiameterM * liftM * math.Sin(halfAngleRad)
}
