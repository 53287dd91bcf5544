package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// The flow coefficients: Kv is the flow in m³/h of water of 1000 kg/m³ at a pressure
// drop of 1 bar, Cv the flow in US gal/min of water of 60 °F at 1 psi.
const (
	kvDensity   = 1000.0
	waterAt60F  = 999.016 // kg/m³, IAPWS
	inchM       = 0.0254
	psiPa       = 6894.757293168361
	gpmM3S      = 231 * inchM * inchM * inchM / 60
	handbook890 = 890.0
)

// KvPerCv is Kv over Cv for the same liquid, from the exact units: handbooks print
// 0.865.
func KvPerCv() float64 { return gpmM3S * 3600 * math.Sqrt(1e5/psiPa) }

// LossFromKv is the loss coefficient K on the velocity head of a bore from the flow
// coefficient, by the definitions of both:
//
//	K = 2·10⁵ A²/(1000 (Kv/3600)²) = 1.59888·10⁻³ d⁴/Kv²  (d in mm)
//
// Kv kv in m³/h, D boreM in m, A its area.
func LossFromKv(kv, boreM float64) float64 {
	a, q := math.Pi/4*boreM*boreM, kv/3600
	return 2e5 * a * a / (kvDensity * q * q)
}

// LossFromKvFormula is LossFromKv.
var LossFromKvFormula = basis.Formula{
	ID:      "loss-from-kv",
	Title:   "Loss coefficient from the flow coefficient",
	Expr:    "K = 2·10⁵ A² / (1000 (Kv/3600)²)",
	Symbols: []string{"Kv", "D"},
	Kind:    quantity.Number,
	Ref:     "iec-60534-2-1",
	Range:   "turbulent, not choked",
}

// KvFromLoss is the flow coefficient in m³/h of a valve of the loss coefficient K loss
// on the bore D boreM: the inverse of LossFromKv.
func KvFromLoss(loss, boreM float64) float64 {
	return 3600 * math.Pi / 4 * boreM * boreM * math.Sqrt(2e5/(kvDensity*loss))
}

// KvFromLossFormula is KvFromLoss.
var KvFromLossFormula = basis.Formula{
	ID:      "kv-from-loss",
	Title:   "Flow coefficient from the loss coefficient",
	Expr:    "Kv = 3600 A √(2·10⁵ / (1000 K))",
	Symbols: []string{"K", "D"},
	Kind:    quantity.FlowCoefficient,
	Ref:     "iec-60534-2-1",
	Range:   "turbulent, not choked",
}

// LossFromCv is the loss coefficient on the bore D boreM from Cv, by its definition
// with water of 60 °F: K = 890.36 d⁴/Cv², d in inches. Handbooks print 890 or 891.
func LossFromCv(cv, boreM float64) float64 {
	a, q := math.Pi/4*boreM*boreM, cv*gpmM3S
	return 2 * psiPa * a * a / (waterAt60F * q * q)
}

// LossFromCvFormula is LossFromCv.
var LossFromCvFormula = basis.Formula{
	ID:      "loss-from-cv",
	Title:   "Loss coefficient from Cv",
	Expr:    "K = 890.36 d⁴ / Cv²",
	Symbols: []string{"Cv", "d"},
	Kind:    quantity.Number,
	Ref:     "tp410",
	Range:   "turbulent, not choked; d in inches",
}

// CvFromLossByHand is Cv of a valve of the loss coefficient K on the bore D boreM by the
// rounded form that engineers write, Cv = √(890/K) d² = 29.8 d²/√K, d in inches.
func CvFromLossByHand(loss, boreM float64) float64 {
	d := boreM / inchM
	return math.Sqrt(handbook890/loss) * d * d
}

// CvFromLossByHandFormula is CvFromLossByHand.
var CvFromLossByHandFormula = basis.Formula{
	ID:      "cv-from-loss-by-hand",
	Title:   "Cv from the loss coefficient, hand form",
	Expr:    "Cv = 29.8 d² / √K",
	Symbols: []string{"K", "d"},
	Kind:    quantity.Number,
	Ref:     "tp410",
	Range:   "turbulent, not choked; d in inches",
}

// KvDrop is the pressure drop in Pa of the flow Q flowM3S in m³/s through a valve of the
// flow coefficient Kv kv for a liquid of the density ρ densityKgM3:
//
//	Δp = 10⁵ (ρ/1000) (3600 Q/Kv)²
func KvDrop(flowM3S, kv, densityKgM3 float64) float64 {
	r := 3600 * flowM3S / kv
	return 1e5 * densityKgM3 / kvDensity * r * r
}

// KvDropFormula is KvDrop.
var KvDropFormula = basis.Formula{
	ID:      "kv-drop",
	Title:   "Pressure drop from the flow coefficient",
	Expr:    "Δp = 10⁵ (ρ/1000) (3600 Q/Kv)²",
	Symbols: []string{"Q", "Kv", "ρ"},
	Kind:    quantity.Pressure,
	Ref:     "iec-60534-2-1",
	Range:   "turbulent, not choked",
}

// KvNeeded is the flow coefficient that passes the flow at the drop, the inverse of
// KvDrop: Kv = 3600 Q √(10⁵ ρ/(1000 Δp)); Δp dropPa.
func KvNeeded(flowM3S, dropPa, densityKgM3 float64) float64 {
	return 3600 * flowM3S * math.Sqrt(1e5*densityKgM3/(kvDensity*dropPa))
}

// KvNeededFormula is KvNeeded.
var KvNeededFormula = basis.Formula{
	ID:      "kv-needed",
	Title:   "Flow coefficient that a flow and a drop ask for",
	Expr:    "Kv = 3600 Q √(10⁵ ρ/(1000 Δp))",
	Symbols: []string{"Q", "Δp", "ρ"},
	Kind:    quantity.FlowCoefficient,
	Ref:     "iec-60534-2-1",
	Range:   "turbulent, not choked",
}

// ReducedSeatLoss is the loss coefficient on the bore of a valve whose seat is narrower
// than its bore, the bore narrowing and widening gradually (Technical Paper 410, formula
// of lift and globe valves):
//
//	K₂ = {K₁ + β [½(1 − β²) + (1 − β²)²]}/β⁴
//
// K₁ seatLoss on the seat's velocity head, β ratio seat over bore diameter.
func ReducedSeatLoss(seatLoss, ratio float64) float64 {
	sq := ratio * ratio
	return (seatLoss + ratio*(0.5*(1-sq)+(1-sq)*(1-sq))) / (sq * sq)
}

// ReducedSeatLossFormula is ReducedSeatLoss.
var ReducedSeatLossFormula = basis.Formula{
	ID:      "reduced-seat-loss",
	Title:   "Loss coefficient of a valve with a reduced seat",
	Expr:    "K₂ = {K₁ + β [½(1 − β²) + (1 − β²)²]}/β⁴",
	Symbols: []string{"K₁", "β"},
	Kind:    quantity.Number,
	Ref:     "tp410 appendix A",
	Range:   "β up to 1",
}
