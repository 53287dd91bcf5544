package pump

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// PumpInertia estimates the inertia of a pump with shaft and entrained water,
// kg m2, from the shaft power, W, and speed, rad/s, at best efficiency:
//
//	I = 1.5e7 (P/N^3)^0.9556     P in kW, N in rpm
//
// after Linton (1979); Thorley prints the same law as 0.03768 (P/N^3)^0.9556 with
// N in thousands of rpm. Power and speed must be above zero.
func PumpInertia(shaftW, omega float64) float64 {
	n := omega / rpm
	return 1.5e7 * math.Pow(shaftW/1e3/(n*n*n), 0.9556)
}

// LightPumpInertia estimates the inertia of a pump of later, lighter design,
// kg m2:
//
//	I = 0.03407 (P/N^3)^0.844     P in kW, N in thousands of rpm
//
// after Thorley (2004), from memory. Power, W, and speed, rad/s, must be above zero.
func LightPumpInertia(shaftW, omega float64) float64 {
	n := omega / rpm / 1e3
	return 0.03407 * math.Pow(shaftW/1e3/(n*n*n), 0.844)
}

// MotorInertia estimates the inertia of a motor's rotor, kg m2:
//
//	I = 118 (P/N)^1.48     P in kW, N in rpm
//
// after Linton (1979), from memory; Thorley prints 0.0043 with N in thousands of
// rpm. Rated power, W, and speed, rad/s, must be above zero.
func MotorInertia(ratedW, omega float64) float64 {
	return 118 * math.Pow(ratedW/1e3/(omega/rpm), 1.48)
}

// RotorInertia estimates the inertia of a squirrel-cage motor's rotor, kg m2:
//
//	Wk2 = 0.02 2^(p/2) hp^(1.35 - 0.05 p/2)     lb ft2
//
// with p poles, after NEMA MG 1 14.46. The rated power, W, must be above zero.
func RotorInertia(ratedW, poles float64) float64 {
	pairs := poles / 2
	return poundFoot2 * 0.02 * math.Pow(2, pairs) * math.Pow(ratedW/horsepower, 1.35-0.05*pairs)
}

// DiscInertia is the inertia of a flywheel, kg m2: a flat ring of even thickness
// with the mass, kg, and the outer diameter and bore, m (bore 0 for a full disc):
//
//	I = m (D^2 + d^2)/8
func DiscInertia(massKg, outerM, boreM float64) float64 {
	return massKg * (outerM*outerM + boreM*boreM) / 8
}

// InertiaTime is the time, s, that the kinetic energy of the rotor measures:
//
//	T_a = I omega^2 / P
//
// with inertia kg m2, speed rad/s and shaft power W before the trip. After it the
// speed falls as 1/(1 + t/T_a) while the pump's torque follows speed squared.
func InertiaTime(inertiaKgM2, omega, shaftW float64) float64 {
	return inertiaKgM2 * omega * omega / shaftW
}

// MaxLoadInertia is the greatest inertia of load, without the motor's own, that a
// squirrel-cage motor is held to accelerate, kg m2:
//
//	Wk2 = A hp^0.95/(N/1000)^2.4 - 0.0685 hp^1.5/(N/1000)^1.8     lb ft2
//
// with A = 24 up to 1800 rpm and 27 above, from the rated power, W, and the
// synchronous speed, rad/s, after NEMA MG 1 Table 12-7. It holds from 1 hp to the
// table's end (some 125 to 500 hp by speed).
func MaxLoadInertia(ratedW, omega float64) float64 {
	hp, n := ratedW/horsepower, omega/rpm/1e3
	a := 24.0
	if n > 1.8*(1+1e-9) {
		a = 27
	}
	return poundFoot2 * (a*math.Pow(hp, 0.95)/math.Pow(n, 2.4) - 0.0685*math.Pow(hp, 1.5)/math.Pow(n, 1.8))
}

// The inertias as formulas.
var (
	PumpInertiaFormula = basis.Formula{
		ID: "pump-inertia", Title: "Inertia of pump and entrained water, estimate",
		Expr:    "I = 1.5e7 (P/N³)^0.9556 (kW, rpm, kg m2)",
		Symbols: []string{"P", "N"}, Kind: quantity.Inertia, Ref: "linton-1979",
		Range: "single-stage pumps, some 1 to 4000 kW; wide scatter",
	}
	LightPumpInertiaFormula = basis.Formula{
		ID: "pump-inertia-light", Title: "Inertia of a lighter pump, estimate",
		Expr:    "I = 0.03407 (P/N³)^0.844 (kW, 1000 rpm, kg m2)",
		Symbols: []string{"P", "N"}, Kind: quantity.Inertia, Ref: "thorley-2004",
		Range: "later, lighter designs; wide scatter; from memory",
	}
	MotorInertiaFormula = basis.Formula{
		ID: "motor-inertia", Title: "Inertia of motor, estimate", Expr: "I = 118 (P/N)^1.48 (kW, rpm, kg m2)",
		Symbols: []string{"P", "N"}, Kind: quantity.Inertia, Ref: "linton-1979",
		Range: "dry-mounted motors; wide scatter; from memory",
	}
	RotorInertiaFormula = basis.Formula{
		ID: "rotor-inertia", Title: "Inertia of a squirrel-cage rotor, estimate",
		Expr:    "Wk² = 0.02 · 2^(p/2) hp^(1.35 - 0.05 p/2) (lb ft2)",
		Symbols: []string{"P", "p"}, Kind: quantity.Inertia, Ref: "nema-mg1 14.46", Range: "2 to 8 poles",
	}
	DiscInertiaFormula = basis.Formula{
		ID: "disc-inertia", Title: "Inertia of a flywheel", Expr: "I = m (D² + d²)/8",
		Symbols: []string{"m", "D", "d"}, Kind: quantity.Inertia, Ref: basis.DerivedHere,
		Range: "disc or ring of even thickness",
	}
	InertiaTimeFormula = basis.Formula{
		ID: "inertia-time", Title: "Inertia time", Expr: "T_a = I ω² / P",
		Symbols: []string{"I", "ω", "P"}, Kind: quantity.Time, Ref: basis.DerivedHere,
	}
	MaxLoadInertiaFormula = basis.Formula{
		ID: "max-load-inertia", Title: "Greatest load inertia a motor is held to start",
		Expr:    "Wk² = A hp^0.95/(N/1000)^2.4 - 0.0685 hp^1.5/(N/1000)^1.8 (lb ft2)",
		Symbols: []string{"P", "N"}, Kind: quantity.Inertia, Ref: "nema-mg1 Table 12-7",
		Range: "squirrel-cage motors, 60 Hz, 1 to some 500 hp, 514 to 3600 rpm",
	}
	totalInertiaFormula = basis.Formula{
		ID: "total-inertia", Title: "Inertia of what turns", Expr: "I = I_pump + I_motor + I_flywheel",
		Symbols: []string{"I_pump", "I_motor", "I_flywheel"}, Kind: quantity.Inertia, Ref: basis.DerivedHere,
	}
)
