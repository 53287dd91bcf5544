package pump

import (
	"seatward/basis"
	"seatward/quantity"
)

// HydraulicPower is the power that the liquid receives, W:
//
//	P = rho g Q H
//
// with density kg/m3, flow m3/s and head m.
func HydraulicPower(densityKgM3, flowM3S, headM float64) float64 {
	return densityKgM3 * quantity.StandardGravity * flowM3S * headM
}

// ShaftPower is the power at the pump shaft, W: hydraulic power over the pump's
// efficiency (0 to 1, not zero).
func ShaftPower(densityKgM3, flowM3S, headM, efficiency float64) float64 {
	return HydraulicPower(densityKgM3, flowM3S, headM) / efficiency
}

// InputPower is the electric power, W: shaft power over the efficiencies of motor
// and drive (1 where there is no drive).
func InputPower(shaftW, motorEfficiency, driveEfficiency float64) float64 {
	return shaftW / (motorEfficiency * driveEfficiency)
}

// HeadEnergy is the energy, J, spent to overcome the head, m, at the flow, m3/s,
// for the time, s, at the overall efficiency of pump, motor and drive (0 to 1,
// not zero).
func HeadEnergy(densityKgM3, flowM3S, headM, seconds, efficiency float64) float64 {
	return HydraulicPower(densityKgM3, flowM3S, headM) * seconds / efficiency
}

// Efficiency is hydraulic power over shaft power, both W, the shaft power not zero.
func Efficiency(hydraulicW, shaftW float64) float64 { return hydraulicW / shaftW }

// Power and energy as formulas.
var (
	HydraulicPowerFormula = basis.Formula{
		ID: "hydraulic-power", Title: "Power received by the liquid", Expr: "P = ρ g Q H",
		Symbols: []string{"ρ", "Q", "H"}, Kind: quantity.Power, Ref: basis.DerivedHere,
	}
	ShaftPowerFormula = basis.Formula{
		ID: "shaft-power", Title: "Power at the pump shaft", Expr: "P = ρ g Q H / η",
		Symbols: []string{"ρ", "Q", "H", "η"}, Kind: quantity.Power, Ref: "hi-edb Eq. 1.B.4",
	}
	InputPowerFormula = basis.Formula{
		ID: "input-power", Title: "Electric power", Expr: "P_e = P / (η_motor η_drive)",
		Symbols: []string{"P", "η_motor", "η_drive"}, Kind: quantity.Power, Ref: "tp410 ex. 7.34",
	}
	HeadEnergyFormula = basis.Formula{
		ID: "head-energy", Title: "Energy spent on a head", Expr: "E = ρ g Q H t / η",
		Symbols: []string{"ρ", "Q", "H", "t", "η"}, Kind: quantity.Energy, Ref: basis.DerivedHere,
	}
	EfficiencyFormula = basis.Formula{
		ID: "pump-efficiency", Title: "Pump efficiency", Expr: "η = P_hydraulic / P_shaft",
		Symbols: []string{"P_hydraulic", "P_shaft"}, Kind: quantity.Fraction, Ref: basis.DerivedHere,
	}
)

// AssumedMotorEfficiency is the default for the full-load efficiency of a motor
// of the rated power, W.
func AssumedMotorEfficiency(ratedW float64) basis.Value {
	best, low, high := 0.93, 0.88, 0.96
	switch {
	case ratedW < 4e3:
		best, low, high = 0.83, 0.70, 0.89
	case ratedW < 30e3:
		best, low, high = 0.89, 0.82, 0.935
	}
	return basis.NewAssumed("motor efficiency", quantity.Fraction, best, low, high,
		"not given: a squirrel-cage motor of this size at or near full load", basis.CommonPractice)
}
