package pipe

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// DarcyLossM returns the friction loss of a straight pipe in m of the flowing
// liquid, with the sign of the velocity:
//
//	h = f (L/D) V|V| / (2 g)
//
// f Darcy friction factor, L lengthM and D diameterM in m, V velocityMS in m/s.
// Valid for full pipes and positive D. Source: Darcy and Weisbach; Hydraulic
// Institute, Engineering Data Book, section III.
func DarcyLossM(f, lengthM, diameterM, velocityMS float64) float64 {
	return f * lengthM / diameterM * velocityMS * math.Abs(velocityMS) / (2 * quantity.StandardGravity)
}

// DarcyLossMFormula is DarcyLossM.
var DarcyLossMFormula = basis.Formula{
	ID:      "darcy-weisbach",
	Title:   "Friction head loss",
	Expr:    "h = f (L/D) V|V| / (2 g)",
	Symbols: []string{"f", "L", "D", "V"},
	Kind:    quantity.Head,
	Ref:     "hi-edb section III",
	Range:   "full round pipes, steady flow",
}

// FittingLossM returns the loss of fittings in m of the flowing liquid, with the
// sign of the velocity:
//
//	h = K V|V| / (2 g)
//
// K loss coefficient, referred to V velocityMS in m/s. Valid for turbulent flow.
func FittingLossM(k, velocityMS float64) float64 {
	return k * velocityMS * math.Abs(velocityMS) / (2 * quantity.StandardGravity)
}

// FittingLossMFormula is FittingLossM.
var FittingLossMFormula = basis.Formula{
	ID:      "fitting-loss",
	Title:   "Head loss of fittings",
	Expr:    "h = K V|V| / (2 g)",
	Symbols: []string{"K", "V"},
	Kind:    quantity.Head,
	Ref:     "hi-edb section III",
	Range:   "turbulent flow",
}

// hazenWilliams is the constant of the velocity form in SI units.
const hazenWilliams = 0.849

// HazenWilliamsLossM returns the friction loss of a straight pipe in m of water,
// with the sign of the flow, from the velocity form of Hazen and Williams:
//
//	V = 0.849 C R^0.63 S^0.54,  R = D/4,  h = L S
//
// Q flowM3S in m³/s, C c, D diameterM and L lengthM in m. The loss is that of
// water near 16 °C; the formula knows no viscosity. Valid for 40 ≤ C ≤ 160 and
// positive D and L; anything else is an error that wraps ErrRange. It drifts
// from Colebrook-White away from 1 to 3 m/s and from bores of 0.15 to 1.8 m.
// The other forms in print (10.44 Q^1.85 in gpm and inches; 10.67 in SI) differ
// from it by up to 0.7 %. Source: Williams and Hazen 1905 (constant from memory).
func HazenWilliamsLossM(flowM3S, c, diameterM, lengthM float64) (float64, error) {
	switch {
	case !(c >= 40 && c <= 160):
		return 0, fmt.Errorf("Hazen-Williams C of %.4g: %w: 40 to 160", c, ErrRange)
	case !finitePositive(diameterM) || !(lengthM >= 0) || math.IsInf(lengthM, 1):
		return 0, fmt.Errorf("Hazen-Williams with a bore of %.4g m and a length of %.4g m: %w: both positive",
			diameterM, lengthM, ErrRange)
	case math.IsNaN(flowM3S) || math.IsInf(flowM3S, 0):
		return 0, fmt.Errorf("Hazen-Williams with a flow of %g m³/s: %w: a finite flow", flowM3S, ErrRange)
	}
	velocity := math.Abs(flowM3S) / AreaM2(diameterM)
	slope := math.Pow(velocity/(hazenWilliams*c*math.Pow(diameterM/4, 0.63)), 1/0.54)
	return math.Copysign(lengthM*slope, flowM3S), nil
}

// HazenWilliamsLossMFormula is HazenWilliamsLossM.
var HazenWilliamsLossMFormula = basis.Formula{
	ID:      "hazen-williams",
	Title:   "Friction head loss (Hazen-Williams)",
	Expr:    "V = 0.849 C (D/4)^0.63 (h/L)^0.54",
	Symbols: []string{"Q", "C", "D", "L"},
	Kind:    quantity.Head,
	Ref:     "hazen-williams-1905",
	Range:   "water near 16 °C, turbulent, 40 ≤ C ≤ 160",
}

// AreaM2 returns the area of a round bore in m², π D²/4, D diameterM in m.
func AreaM2(diameterM float64) float64 { return math.Pi / 4 * diameterM * diameterM }

// Run is a straight length of pipe of one bore with its fittings.
type Run struct {
	LengthM    float64
	DiameterM  float64 // true inner diameter
	RoughnessM float64 // absolute, ε
	K          float64 // sum of the fittings' loss coefficients, referred to this bore
	Multiplier float64 // on the straight pipe's friction, for sludge; 1 for water
}

// Loss is what a run loses, and how it was found.
type Loss struct {
	VelocityMS, Reynolds float64
	Factor               float64 // Darcy friction factor, 0 at rest
	Regime               Regime
	FrictionM            float64 // of the straight pipe, m of the liquid, with the flow's sign
	FittingsM            float64 // of the fittings
}

// TotalM is the whole loss in m.
func (l Loss) TotalM() float64 { return l.FrictionM + l.FittingsM }

// Loss returns the head loss of the run by Darcy-Weisbach and Colebrook-White at
// the flow flowM3S in m³/s (either sign), for a liquid of densityKgM3 in kg/m³
// and viscosityPaS in Pa s. Arguments outside the range of FrictionFactor give
// an error that wraps ErrRange. A run at rest loses nothing.
func (r Run) Loss(flowM3S, densityKgM3, viscosityPaS float64) (Loss, error) {
	switch {
	case !finitePositive(r.DiameterM) || !(r.LengthM >= 0) || math.IsInf(r.LengthM, 1):
		return Loss{}, fmt.Errorf("pipe run with a bore of %.4g m and a length of %.4g m: %w: both positive",
			r.DiameterM, r.LengthM, ErrRange)
	case !(r.K >= 0) || math.IsInf(r.K, 1) || !finitePositive(r.Multiplier):
		return Loss{}, fmt.Errorf("pipe run with K = %.4g and a friction multiplier of %.4g: %w: K not negative, multiplier positive", r.K, r.Multiplier, ErrRange)
	case !finitePositive(densityKgM3) || !finitePositive(viscosityPaS):
		return Loss{}, fmt.Errorf("liquid of %.4g kg/m³ and %.4g Pa s: %w: both positive", densityKgM3, viscosityPaS,
			ErrRange)
	}
	v := flowM3S / AreaM2(r.DiameterM)
	out := Loss{VelocityMS: v, Reynolds: Reynolds(v, r.DiameterM, densityKgM3, viscosityPaS)}
	if out.Reynolds < minRe {
		return Loss{Regime: AtRest}, nil
	}
	var err error
	if out.Factor, out.Regime, err = FrictionFactor(out.Reynolds, r.RoughnessM/r.DiameterM); err != nil {
		return Loss{}, err
	}
	out.FrictionM = r.Multiplier * DarcyLossM(out.Factor, r.LengthM, r.DiameterM, v)
	out.FittingsM = FittingLossM(r.K, v)
	return out, nil
}

func finitePositive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

// VelocityMS returns the mean velocity in m/s in a full round bore:
//
//	V = 4 Q / (π D²)
//
// Q flowM3S in m³/s, D diameterM in m, positive.
func VelocityMS(flowM3S, diameterM float64) float64 { return flowM3S / AreaM2(diameterM) }

// VelocityMSFormula is VelocityMS.
var VelocityMSFormula = basis.Formula{
	ID:      "velocity",
	Title:   "Mean velocity",
	Expr:    "V = 4 Q / (π D²)",
	Symbols: []string{"Q", "D"},
	Kind:    quantity.Velocity,
	Ref:     basis.DerivedHere,
	Range:   "full round bores",
}
