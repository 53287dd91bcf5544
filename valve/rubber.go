package valve

import (
	"seatward/basis"
	"seatward/quantity"
)

// RubberModulus is Young's modulus in Pa of rubber of the hardness Shore A, by Gent
// (1958):
//
//	E = 0.0981 (56 + 7.62336 S) / [0.137505 (254 − 2.54 S)]  MPa
//
// S shoreA, 20 to 80. Fabric and cold raise the stiffness of a hinge beyond it.
func RubberModulus(shoreA float64) float64 {
	return 1e6 * 0.0981 * (56 + 7.62336*shoreA) / (0.137505 * (254 - 2.54*shoreA))
}

// RubberModulusFormula is RubberModulus.
var RubberModulusFormula = basis.Formula{
	ID:      "rubber-modulus",
	Title:   "Young's modulus of rubber from its hardness",
	Expr:    "E = 0.0981 (56 + 7.62336 S) / [0.137505 (254 − 2.54 S)] MPa",
	Symbols: []string{"S"},
	Kind:    quantity.Modulus,
	Ref:     "gent-1958",
	Range:   "Shore A 20 to 80, unfilled rubber at room temperature",
}

// StripStiffness is the stiffness in N m/rad of a rubber strip bent as a hinge,
// E b t³/(12 ℓ) (beam in bending): E modulusPa, b widthM along the hinge, t
// thicknessM, ℓ lengthM free between its clamped edges.
func StripStiffness(modulusPa, widthM, thicknessM, lengthM float64) float64 {
	return modulusPa * widthM * thicknessM * thicknessM * thicknessM / (12 * lengthM)
}

// StripStiffnessFormula is StripStiffness.
var StripStiffnessFormula = basis.Formula{
	ID:      "strip-stiffness",
	Title:   "Stiffness of a rubber hinge",
	Expr:    "k = E b t³ / (12 ℓ)",
	Symbols: []string{"E", "b", "t", "ℓ"},
	Kind:    quantity.Stiffness,
	Ref:     basis.DerivedHere,
	Range:   "thin strip without fabric; fabric and cold raise it 1.5 to 5 times",
}
