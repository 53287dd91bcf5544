package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// The forms below give how fast the flow falls after a pump stops, for a first verdict
// with little data. H is the static head against which the water runs: it absorbs the
// friction nearly. The pump's torque and head are taken to follow the square of the
// speed, so that its speed falls as N/N₀ = 1/(1 + t/T_a); T_a = I ω²/P is the time in
// which the set's stored motion would be used up at full power.

// ColumnTime is the time in s in which the head H alone would stop the water column,
// τ = L V₀/(g H): L lengthM, V₀ velocityMS, H headM, g gravityMS2.
func ColumnTime(lengthM, velocityMS, headM, gravityMS2 float64) float64 {
	return lengthM * velocityMS / (gravityMS2 * headM)
}

// ColumnTimeFormula is ColumnTime.
var ColumnTimeFormula = basis.Formula{
	ID:      "column-time",
	Title:   "Stopping time of the water column without pump",
	Expr:    "τ = L V₀ / (g H)",
	Symbols: []string{"L", "V₀", "H", "g"},
	Kind:    quantity.Time,
	Ref:     basis.DerivedHere,
	Range:   "rigid column, no friction",
}

// ReversalTime is when the flow turns, s, for a rigid column behind a pump that runs
// down:
//
//	t_r = (τ/2)[1 + √(1 + 4 T_a/τ)]
//
// from V(t) = V₀ − (gH/L) t²/(T_a + t). τ columnTimeS, T_a inertiaTimeS. Derived here.
func ReversalTime(columnTimeS, inertiaTimeS float64) float64 {
	return columnTimeS / 2 * (1 + math.Sqrt(1+4*inertiaTimeS/columnTimeS))
}

// ReversalTimeFormula is ReversalTime.
var ReversalTimeFormula = basis.Formula{
	ID:      "reversal-time",
	Title:   "Time from pump stop to flow reversal",
	Expr:    "t_r = (τ/2)[1 + √(1 + 4 T_a/τ)]",
	Symbols: []string{"τ", "T_a"},
	Kind:    quantity.Time,
	Ref:     basis.DerivedHere,
	Range:   "rigid column: t_r well above 2L/a",
}

// ReversalDeceleration is how fast the flow falls as it turns, m/s²:
//
//	α = (gH/L)[1 − (1 + t_r/T_a)⁻²]
//
// With no inertia it is gH/L. L lengthM, H headM, V₀ velocityMS, T_a inertiaTimeS,
// g gravityMS2. Derived here.
//
// With other pumps running on, or an air vessel near the station, H is the head of the
// header and L the branch up to it: then it is many times that of the long main.
func ReversalDeceleration(lengthM, headM, velocityMS, inertiaTimeS, gravityMS2 float64) float64 {
	full := gravityMS2 * headM / lengthM
	if inertiaTimeS <= 0 {
		return full
	}
	x := 1 + ReversalTime(ColumnTime(lengthM, velocityMS, headM, gravityMS2), inertiaTimeS)/inertiaTimeS
	return full * (1 - 1/(x*x))
}

// ReversalDecelerationFormula is ReversalDeceleration.
var ReversalDecelerationFormula = basis.Formula{
	ID:      "reversal-deceleration",
	Title:   "Deceleration of the flow at reversal after a pump stop",
	Expr:    "α = (gH/L)[1 − (1 + t_r/T_a)⁻²]",
	Symbols: []string{"L", "H", "V₀", "T_a", "g"},
	Kind:    quantity.Acceleration,
	Ref:     basis.DerivedHere,
	Range:   "rigid column: t_r well above 2L/a; H static head, or header head for a short branch",
}

// FrictionReversalTime is when the flow turns, s, with quadratic friction and no
// inertia, exact: t_r = [L V₀/(g √(H h_f))] arctan √(h_f/H). L lengthM, H headM static,
// h_f frictionM at V₀ velocityMS, g gravityMS2. Derived here.
func FrictionReversalTime(lengthM, headM, frictionM, velocityMS, gravityMS2 float64) float64 {
	if frictionM <= 0 {
		return ColumnTime(lengthM, velocityMS, headM, gravityMS2)
	}
	return lengthM * velocityMS / (gravityMS2 * math.Sqrt(headM*frictionM)) * math.Atan(math.Sqrt(frictionM/headM))
}

// FrictionReversalTimeFormula is FrictionReversalTime.
var FrictionReversalTimeFormula = basis.Formula{
	ID:      "friction-reversal-time",
	Title:   "Time to flow reversal with friction, without inertia",
	Expr:    "t_r = [L V₀/(g √(H h_f))] arctan √(h_f/H)",
	Symbols: []string{"L", "H", "h_f", "V₀", "g"},
	Kind:    quantity.Time,
	Ref:     basis.DerivedHere,
	Range:   "rigid column; the deceleration at reversal is then gH/L",
}

// ElasticReversalTime is when the flow turns, s, in a main so long that no wave has come
// back by then: t_r = T_a [(1 − aV₀/(gH₀))^−½ − 1]. a waveMS, H₀ headM total, V₀ velocityMS,
// T_a inertiaTimeS, g gravityMS2; +Inf when aV₀/(gH₀) ≥ 1: the first wave does not turn
// the flow, and ReversalDeceleration applies. Derived here.
func ElasticReversalTime(waveMS, headM, velocityMS, inertiaTimeS, gravityMS2 float64) float64 {
	rest := 1 - waveMS*velocityMS/(gravityMS2*headM)
	if rest <= 0 {
		return math.Inf(1)
	}
	return inertiaTimeS * (1/math.Sqrt(rest) - 1)
}

// ElasticReversalTimeFormula is ElasticReversalTime.
var ElasticReversalTimeFormula = basis.Formula{
	ID:      "elastic-reversal-time",
	Title:   "Time to flow reversal in a long elastic main",
	Expr:    "t_r = T_a [(1 − aV₀/(gH₀))^−½ − 1]",
	Symbols: []string{"a", "H₀", "V₀", "T_a", "g"},
	Kind:    quantity.Time,
	Ref:     basis.DerivedHere,
	Range:   "aV₀ < gH₀ and t_r < 2L/a",
}

// ElasticDeceleration is how fast the flow then falls as it turns, m/s²:
//
//	α = (2 g H₀/(a T_a)) (1 + t_r/T_a)⁻³ = (2 g H₀/(a T_a)) (1 − aV₀/(gH₀))^(3/2)
//
// 0 when the first wave does not turn the flow. The symbols are those of
// ElasticReversalTime. Derived here.
func ElasticDeceleration(waveMS, headM, velocityMS, inertiaTimeS, gravityMS2 float64) float64 {
	rest := max(0, 1-waveMS*velocityMS/(gravityMS2*headM))
	return 2 * gravityMS2 * headM / (waveMS * inertiaTimeS) * rest * math.Sqrt(rest)
}

// ElasticDecelerationFormula is ElasticDeceleration.
var ElasticDecelerationFormula = basis.Formula{
	ID:      "elastic-deceleration",
	Title:   "Deceleration at reversal in a long elastic main",
	Expr:    "α = (2gH₀/(aT_a)) (1 − aV₀/(gH₀))^(3/2)",
	Symbols: []string{"a", "H₀", "V₀", "T_a", "g"},
	Kind:    quantity.Acceleration,
	Ref:     basis.DerivedHere,
	Range:   "aV₀ < gH₀ and reversal before 2L/a",
}
