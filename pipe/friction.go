package pipe

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Regime names how water flows in a pipe.
type Regime uint8

// The regimes, from slow to fast.
const (
	AtRest     Regime = iota // no flow
	Laminar                  // Re ≤ 2000
	Critical                 // 2000 < Re < 4000: laminar or turbulent, no formula is exact
	Turbulent                // Re ≥ 4000: friction falls with Re
	FullyRough               // turbulent, and roughness alone sets the friction
)

// String names the regime in plain words.
func (r Regime) String() string {
	return [...]string{"at rest", "laminar", "critical zone", "turbulent", "fully rough"}[r]
}

// The ends of the regimes and of the Moody chart.
const (
	LaminarEndRe    = 2000.0
	TurbulentFromRe = 4000.0
	minRe           = 1e-300 // below it 64/Re is no number any more
	maxRe           = 1e8
	maxRelRoughness = 0.05
	// roughLine is Rouse's limit of the fully rough zone, Re √f ε/D = 200, as
	// Moody (1944) draws it.
	roughLine = 200.0
)

// Reynolds returns the Reynolds number of a pipe:
//
//	Re = ρ |V| D / μ
//
// V velocityMS in m/s, D diameterM in m, ρ densityKgM3 in kg/m³, μ viscosityPaS
// in Pa s. Valid for positive D, ρ and μ.
func Reynolds(velocityMS, diameterM, densityKgM3, viscosityPaS float64) float64 {
	return densityKgM3 * math.Abs(velocityMS) * diameterM / viscosityPaS
}

// ReynoldsFormula is Reynolds.
var ReynoldsFormula = basis.Formula{
	ID:      "reynolds-number",
	Title:   "Reynolds number",
	Expr:    "Re = ρ |V| D / μ",
	Symbols: []string{"V", "D", "ρ", "μ"},
	Kind:    quantity.Number,
	Ref:     "hi-edb section III",
	Range:   "full round pipes",
}

// FrictionFactor returns the Darcy friction factor f of a full round pipe and
// the regime it was found in.
//
//	laminar, Re ≤ 2000:        f = 64/Re  (Hagen-Poiseuille)
//	turbulent, Re ≥ 4000:      1/√f = -2 log₁₀[ε/(3.7 D) + 2.51/(Re √f)]  (Colebrook 1939)
//	critical, between the two: a straight line in Re from one to the other
//
// Re re, ε/D relRoughness. Colebrook-White is solved to round-off. In the
// critical zone no formula is exact, because the flow may be of either kind;
// the straight line is this program's choice: it is continuous and makes the
// loss rise with the flow. The regime FullyRough is reported where
// Re √f ε/D ≥ 200; the factor is Colebrook's there too.
//
// Valid for 0 < Re ≤ 1e8 and 0 ≤ ε/D ≤ 0.05 (the Moody chart); anything else
// is an error that wraps ErrRange. Constants 3.7 and 2.51 as Colebrook has
// them: handbooks that print 3.71 or 3.7065 and 2.5226 differ by 0.05 %.
func FrictionFactor(re, relRoughness float64) (float64, Regime, error) {
	if !(re >= minRe && re <= maxRe) {
		return 0, AtRest, fmt.Errorf("friction factor at Re = %.4g: %w: above 0 to 1e8", re, ErrRange)
	}
	if !(relRoughness >= 0 && relRoughness <= maxRelRoughness) {
		return 0, AtRest, fmt.Errorf("friction factor at relative roughness %.4g: %w: 0 to 0.05", relRoughness,
			ErrRange)
	}
	if re <= LaminarEndRe {
		return 64 / re, Laminar, nil
	}
	if re < TurbulentFromRe {
		part := (re - LaminarEndRe) / (TurbulentFromRe - LaminarEndRe)
		return (1-part)*64/LaminarEndRe + part*colebrook(TurbulentFromRe, relRoughness), Critical, nil
	}
	f := colebrook(re, relRoughness)
	if re*math.Sqrt(f)*relRoughness >= roughLine {
		return f, FullyRough, nil
	}
	return f, Turbulent, nil
}

// FrictionFactorFormula is FrictionFactor.
var FrictionFactorFormula = basis.Formula{
	ID:      "colebrook-white",
	Title:   "Darcy friction factor",
	Expr:    "1/√f = -2 log₁₀[ε/(3.7 D) + 2.51/(Re √f)]; f = 64/Re if Re ≤ 2000",
	Symbols: []string{"Re", "ε/D"},
	Kind:    quantity.Number,
	Ref:     "colebrook-1939",
	Range:   "0 < Re ≤ 1e8, 0 ≤ ε/D ≤ 0.05; interpolated for Re 2000 to 4000",
}

// colebrook solves x = 1/√f from x + (2/ln 10) ln(a + b x) = 0 by Newton's
// method. The function is increasing and concave, so that from the second step
// on the iterates rise towards the root and cannot overshoot; from the start of
// Swamee and Jain (1976) three steps reach round-off.
func colebrook(re, relRoughness float64) float64 {
	const twoPerLn10 = 2 / math.Ln10
	a, b := relRoughness/3.7, 2.51/re
	x := -twoPerLn10 * math.Log(a+5.74/math.Pow(re, 0.9))
	for range 10 {
		inside := a + b*x
		step := (x + twoPerLn10*math.Log(inside)) / (1 + twoPerLn10*b/inside)
		x -= step
		if math.Abs(step) < 1e-14*x {
			break
		}
	}
	return 1 / (x * x)
}

// RoughPipeFactor returns the Darcy friction factor of complete turbulence, to
// which Colebrook-White tends as Re grows:
//
//	1/√f = 2 log₁₀(3.7 D/ε)
//
// ε/D relRoughness. Valid for 0 < ε/D ≤ 0.05; anything else is an error that
// wraps ErrRange. Source: von Karman, in Colebrook 1939.
func RoughPipeFactor(relRoughness float64) (float64, error) {
	if !(relRoughness > 0 && relRoughness <= maxRelRoughness) {
		return 0, fmt.Errorf("complete turbulence at relative roughness %.4g: %w: above 0 to 0.05", relRoughness,
			ErrRange)
	}
	x := 2 * math.Log10(3.7/relRoughness)
	return 1 / (x * x), nil
}

// RoughPipeFactorFormula is RoughPipeFactor.
var RoughPipeFactorFormula = basis.Formula{
	ID:      "rough-pipe-factor",
	Title:   "Friction factor in complete turbulence",
	Expr:    "1/√f_T = 2 log₁₀(3.7 D/ε)",
	Symbols: []string{"ε/D"},
	Kind:    quantity.Number,
	Ref:     "colebrook-1939",
	Range:   "0 < ε/D ≤ 0.05, fully rough zone",
}
