package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// The forms below are for a valve smaller than its line, between reducers, and for
// cavitation that limits its flow (IEC 60534-2-1:2011).

// ReducersLoss is the sum of the loss coefficients of short reducers before and behind a
// valve, on the velocity head of the valve:
//
//	ΣK = ½[1 − (d/D₁)²]² + [1 − (d/D₂)²]² + [1 − (d/D₁)⁴] − [1 − (d/D₂)⁴]
//
// The last two are not losses but the change of velocity head, which the pressure drop
// between the pipes contains. d valveM, D₁ beforeM, D₂ behindM in m.
func ReducersLoss(valveM, beforeM, behindM float64) float64 {
	a, b := valveM*valveM/(beforeM*beforeM), valveM*valveM/(behindM*behindM)
	return 0.5*(1-a)*(1-a) + (1-b)*(1-b) + (1 - a*a) - (1 - b*b)
}

// ReducersLossFormula is ReducersLoss.
var ReducersLossFormula = basis.Formula{
	ID:      "reducers-loss",
	Title:   "Loss of reducers before and behind a valve",
	Expr:    "ΣK = ½[1 − (d/D₁)²]² + [1 − (d/D₂)²]² + (d/D₂)⁴ − (d/D₁)⁴",
	Symbols: []string{"d", "D₁", "D₂"},
	Kind:    quantity.Number,
	Ref:     "iec-60534-2-1 eq. 17 to 21",
	Range:   "short concentric reducers",
}

// ReducersFactor is F_P, the flow coefficient of valve and reducers over that of the
// valve alone: 1/√[1 + ΣK Kv²/(d⁴/1.59888·10⁻³)], written with the loss of the valve as
// F_P = √[K/(K + ΣK)]. Kv kv in m³/h, d valveM in m, ΣK reducersLoss.
func ReducersFactor(kv, valveM, reducersLoss float64) float64 {
	k := LossFromKv(kv, valveM)
	return math.Sqrt(k / (k + reducersLoss))
}

// ReducersFactorFormula is ReducersFactor.
var ReducersFactorFormula = basis.Formula{
	ID:      "reducers-factor",
	Title:   "Factor on the flow coefficient by reducers",
	Expr:    "F_P = √[K/(K + ΣK)]",
	Symbols: []string{"Kv", "d", "ΣK"},
	Kind:    quantity.Number,
	Ref:     "iec-60534-2-1 eq. 15",
	Range:   "turbulent, not choked",
}

// CriticalPressureRatio is F_F, the pressure in the jet of a choked valve over the vapor
// pressure: 0.96 − 0.28 √(p_v/p_c); p_v vaporPa, p_c criticalPa of the liquid (22.064 MPa
// for water).
func CriticalPressureRatio(vaporPa, criticalPa float64) float64 {
	return 0.96 - 0.28*math.Sqrt(vaporPa/criticalPa)
}

// CriticalPressureRatioFormula is CriticalPressureRatio.
var CriticalPressureRatioFormula = basis.Formula{
	ID:      "critical-pressure-ratio",
	Title:   "Pressure in the jet of a choked valve over vapor pressure",
	Expr:    "F_F = 0.96 − 0.28 √(p_v/p_c)",
	Symbols: []string{"p_v", "p_c"},
	Kind:    quantity.Number,
	Ref:     "iec-60534-2-1",
	Range:   "liquids",
}

// ChokedDrop is the pressure drop in Pa beyond which more drop gives no more flow,
// because the jet boils: Δp = F_L² (p₁ − F_F p_v). F_L recovery of the valve, p₁ inletPa and
// p_v vaporPa absolute, p_c criticalPa.
func ChokedDrop(recovery, inletPa, vaporPa, criticalPa float64) float64 {
	return recovery * recovery * (inletPa - CriticalPressureRatio(vaporPa, criticalPa)*vaporPa)
}

// ChokedDropFormula is ChokedDrop.
var ChokedDropFormula = basis.Formula{
	ID:      "choked-drop",
	Title:   "Pressure drop at which a valve chokes",
	Expr:    "Δp = F_L² (p₁ − F_F p_v)",
	Symbols: []string{"F_L", "p₁", "p_v", "p_c"},
	Kind:    quantity.Pressure,
	Ref:     "iec-60534-2-1",
	Range:   "liquids",
}
