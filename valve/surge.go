package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Joukowsky is the head in m by which a sudden change of velocity raises the pressure,
// ΔH = a ΔV/g (Joukowsky 1898): a waveMS in m/s, ΔV changeMS in m/s, g gravityMS2. Behind
// a check valve that shuts on the reverse velocity V_R the head rises by it, before the
// valve it falls by it. It is the full value when the flow stops within 2L/a, whatever
// the law of stopping.
func Joukowsky(waveMS, changeMS, gravityMS2 float64) float64 { return waveMS * changeMS / gravityMS2 }

// JoukowskyFormula is Joukowsky.
var JoukowskyFormula = basis.Formula{
	ID:      "joukowsky",
	Title:   "Head rise of a sudden stop",
	Expr:    "ΔH = a ΔV / g",
	Symbols: []string{"a", "ΔV", "g"},
	Kind:    quantity.Head,
	Ref:     "joukowsky-1898",
	Range:   "stop within 2L/a",
}

// SlowClosure is the head rise in m of a valve that closes evenly in the time T_c
// longer than 2L/a: ΔH ≈ 2 L V/(g T_c) (Michaud 1878). L lengthM, V velocityMS, T_c timeS,
// g gravityMS2.
func SlowClosure(lengthM, velocityMS, timeS, gravityMS2 float64) float64 {
	return 2 * lengthM * velocityMS / (gravityMS2 * timeS)
}

// SlowClosureFormula is SlowClosure.
var SlowClosureFormula = basis.Formula{
	ID:      "slow-closure",
	Title:   "Head rise of a slow closure",
	Expr:    "ΔH ≈ 2 L V / (g T_c)",
	Symbols: []string{"L", "V", "T_c", "g"},
	Kind:    quantity.Head,
	Ref:     "michaud-1878",
	Range:   "T_c > 2L/a",
}

// PartialClosure is the velocity that is left, over the first, just after a valve is
// moved at once to the relative opening τ:
//
//	V₁/V₀ = τ [√(1 + 2ρ* + ρ*² τ²) − ρ* τ],  ρ* = a V₀/(2 g H₀)
//
// Derived here from the characteristic and the orifice. τ opening 0 to 1, ρ* pipeConstant.
func PartialClosure(opening, pipeConstant float64) float64 {
	rt := pipeConstant * opening
	return opening * (math.Sqrt(1+2*pipeConstant+rt*rt) - rt)
}

// PartialClosureFormula is PartialClosure.
var PartialClosureFormula = basis.Formula{
	ID:      "partial-closure",
	Title:   "Velocity left after a sudden partial closure",
	Expr:    "V₁/V₀ = τ [√(1 + 2ρ* + ρ*²τ²) − ρ*τ]",
	Symbols: []string{"τ", "ρ*"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "valve at the end of a long pipe, before any reflection",
}

// PartialClosureHead is the head then, over the first: H₁/H₀ = 1 + 2ρ*(1 − V₁/V₀).
func PartialClosureHead(opening, pipeConstant float64) float64 {
	return 1 + 2*pipeConstant*(1-PartialClosure(opening, pipeConstant))
}

// PartialClosureHeadFormula is PartialClosureHead.
var PartialClosureHeadFormula = basis.Formula{
	ID:      "partial-closure-head",
	Title:   "Head after a sudden partial closure",
	Expr:    "H₁/H₀ = 1 + 2ρ*(1 − V₁/V₀)",
	Symbols: []string{"τ", "ρ*"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "valve at the end of a long pipe, before any reflection",
}
