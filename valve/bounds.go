package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// SweptLengthM is the length of bore, m, whose water the element sweeps from stop to
// seat: the total swept volume over the bore's area. It ranks types before any run:
// short is quick. Where several resistances are swept differently, the greatest counts.
func (m *Mechanism) SweptLengthM() float64 {
	var total [3]float64
	const n = 200
	for i := range n {
		s := m.At((float64(i) + 0.5) / n * m.Stroke)
		for k := range s.Terms {
			total[k] += math.Abs(s.Terms[k].Swept) * m.Stroke / n
		}
	}
	return max(total[0], total[1], total[2])
}

// FollowingReverseVelocity is the reverse velocity in m/s of an element without mass
// that lags the falling flow by the constant slip V_o:
//
//	V_R = √(2 α ℓ) − V_o, not below 0
//
// α decelerationMS2, ℓ sweptM the swept length, V_o slipMS. A check by hand for light
// elements and balls. Derived here.
func FollowingReverseVelocity(decelerationMS2, sweptM, slipMS float64) float64 {
	return max(0, math.Sqrt(2*decelerationMS2*sweptM)-slipMS)
}

// FollowingReverseVelocityFormula is FollowingReverseVelocity.
var FollowingReverseVelocityFormula = basis.Formula{
	ID:      "following-reverse-velocity",
	Title:   "Reverse velocity of an element that follows the flow",
	Expr:    "V_R = √(2 α ℓ) − V_o",
	Symbols: []string{"α", "ℓ", "V_o"},
	Kind:    quantity.Velocity,
	Ref:     basis.DerivedHere,
	Range:   "element without mass; within 20 % of the full model for caged balls above 4 m/s²",
}

// FallingReverseVelocity is the reverse velocity in m/s of a heavy element that a
// constant force closes, without drag:
//
//	V_R = α √(2 M ξ/F) − V_s, not below 0
//
// α decelerationMS2, M mass with the added mass, ξ stroke, F force (or inertia, angle
// and torque), V_s releaseMS the velocity of the flow when it lets the element go.
// Derived here.
func FallingReverseVelocity(decelerationMS2, mass, stroke, force, releaseMS float64) float64 {
	return max(0, decelerationMS2*math.Sqrt(2*mass*stroke/force)-releaseMS)
}

// FallingReverseVelocityFormula is FallingReverseVelocity.
var FallingReverseVelocityFormula = basis.Formula{
	ID:      "falling-reverse-velocity",
	Title:   "Reverse velocity of a heavy element that falls shut",
	Expr:    "V_R = α √(2 M ξ/F) − V_s",
	Symbols: []string{"α", "M", "ξ", "F", "V_s"},
	Kind:    quantity.Velocity,
	Ref:     basis.DerivedHere,
	Range:   "constant closing force, no drag",
}
