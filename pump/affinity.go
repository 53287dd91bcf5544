package pump

import (
	"fmt"

	"seatward/basis"
	"seatward/quantity"
)

// AffinityFlow is the flow at another speed, in the unit of q: q times the ratio
// of the new speed to the old.
func AffinityFlow(q, ratio float64) float64 { return q * ratio }

// AffinityHead is the head at another speed, in the unit of h: h times the speed
// ratio squared.
func AffinityHead(h, ratio float64) float64 { return h * ratio * ratio }

// AffinityPower is the shaft power at another speed, in the unit of p: p times
// the speed ratio cubed.
func AffinityPower(p, ratio float64) float64 { return p * ratio * ratio * ratio }

const affinityRange = "same pump and liquid, efficiency unchanged: speed ratio about 0.5 to 1.2"

// The affinity laws as formulas.
var (
	AffinityFlowFormula = basis.Formula{
		ID: "affinity-flow", Title: "Flow at another speed", Expr: "Q2 = Q1 (N2/N1)",
		Symbols: []string{"Q1", "N2/N1"}, Kind: quantity.Flow, Ref: "hi-edb I.B", Range: affinityRange,
	}
	AffinityHeadFormula = basis.Formula{
		ID: "affinity-head", Title: "Head at another speed", Expr: "H2 = H1 (N2/N1)²",
		Symbols: []string{"H1", "N2/N1"}, Kind: quantity.Head, Ref: "hi-edb I.B", Range: affinityRange,
	}
	AffinityPowerFormula = basis.Formula{
		ID: "affinity-power", Title: "Shaft power at another speed", Expr: "P2 = P1 (N2/N1)³",
		Symbols: []string{"P1", "N2/N1"}, Kind: quantity.Power, Ref: "hi-edb I.B", Range: affinityRange,
	}
)

// SpeedError says that a speed ratio is not one at which a curve can be given.
type SpeedError struct{ Ratio float64 }

// Error says what is allowed.
func (e *SpeedError) Error() string {
	return fmt.Sprintf("speed ratio %.4g: it must be above 0 and not above 2", e.Ratio)
}

// AtSpeed returns the curve at ratio times its speed, by the affinity laws. The
// error is a *SpeedError when the ratio is not above 0 and up to 2, or when the
// speeds multiplied leave that range.
func (c Curve) AtSpeed(ratio float64) (Curve, error) {
	if !(ratio > 0 && ratio <= 2) || !(c.ratio*ratio > 1e-3 && c.ratio*ratio <= 2) {
		return Curve{}, &SpeedError{ratio}
	}
	c.ratio *= ratio
	return c, nil
}
