package pump

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// SpecificSpeed is n = N Q^0.5 / H^0.75 with N in rpm, Q in m3/s and H in m (per
// stage), from the speed omega, rad/s, and flow and head at best efficiency. Flow
// and head must be above zero. A double-suction pump is taken whole; where a
// source counts the flow of one eye its number is 0.707 of this one.
func SpecificSpeed(omega, flowM3S, headM float64) float64 {
	return omega / rpm * math.Sqrt(flowM3S) / math.Pow(headM, 0.75)
}

// SpecificSpeedUS is the same with Q in US gallons a minute and H in feet: 51.64
// times SpecificSpeed.
func SpecificSpeedUS(omega, flowM3S, headM float64) float64 {
	return omega / rpm * math.Sqrt(flowM3S/gpm) / math.Pow(headM/foot, 0.75)
}

// The specific speeds as formulas.
var (
	SpecificSpeedFormula = basis.Formula{
		ID: "specific-speed", Title: "Specific speed", Expr: "n_s = N √Q / H^0.75 (rpm, m3/s, m)",
		Symbols: []string{"N", "Q", "H"}, Kind: quantity.Number, Ref: "hi-edb I.D",
		Range: "flow and head at best efficiency, one stage",
	}
	SpecificSpeedUSFormula = basis.Formula{
		ID: "specific-speed-us", Title: "Specific speed, US units", Expr: "N_s = N √Q / H^0.75 (rpm, gpm, ft)",
		Symbols: []string{"N", "Q", "H"}, Kind: quantity.Number, Ref: "hi-edb I.D",
		Range: "flow and head at best efficiency, one stage",
	}
)
