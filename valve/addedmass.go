package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// DiscAddedMass is the mass in kg of water that moves with a thin round disc moved
// broadside in unbounded water, (8/3) ρ R³ (Lamb 1932); ρ densityKgM3, R radiusM.
func DiscAddedMass(densityKgM3, radiusM float64) float64 {
	return 8.0 / 3 * densityKgM3 * radiusM * radiusM * radiusM
}

// DiscAddedMassFormula is DiscAddedMass.
var DiscAddedMassFormula = basis.Formula{
	ID:      "disc-added-mass",
	Title:   "Added mass of a disc moved broadside",
	Expr:    "m_a = (8/3) ρ R³",
	Symbols: []string{"ρ", "R"},
	Kind:    quantity.Mass,
	Ref:     "lamb art. 108",
	Range:   "thin disc in unbounded water",
}

// DiscAddedInertia is the moment of inertia in kg m² of the water that moves with a
// thin round disc turning about an axis in its plane at the distance L_c from its
// middle:
//
//	I_a = (16/45) ρ R⁵ + (8/3) ρ R³ L_c²
//
// ρ densityKgM3, R radiusM, L_c axisToCenterM (0: about a diameter). Exact in
// unbounded water (Lamb 1932, with the theorem of parallel axes).
func DiscAddedInertia(densityKgM3, radiusM, axisToCenterM float64) float64 {
	r3 := densityKgM3 * radiusM * radiusM * radiusM
	return 16.0/45*r3*radiusM*radiusM + 8.0/3*r3*axisToCenterM*axisToCenterM
}

// DiscAddedInertiaFormula is DiscAddedInertia.
var DiscAddedInertiaFormula = basis.Formula{
	ID:      "disc-added-inertia",
	Title:   "Added inertia of a hinged disc",
	Expr:    "I_a = (16/45) ρ R⁵ + (8/3) ρ R³ L_c²",
	Symbols: []string{"ρ", "R", "L_c"},
	Kind:    quantity.Inertia,
	Ref:     "lamb art. 108",
	Range:   "thin disc in unbounded water",
}

// HalvesAddedInertia is the moment of inertia in kg m² of the water that moves with
// two half discs flapping alike about their common diameter, for both together, near
// the closed position: 0.4517 ρ R⁵, ρ densityKgM3, R radiusM. Computed here from the
// potential of the pair.
func HalvesAddedInertia(densityKgM3, radiusM float64) float64 {
	return 0.4517 * densityKgM3 * math.Pow(radiusM, 5)
}

// The added-mass coefficient of a sphere on the axis of a long tube, by the ratio of
// the diameters, with the far water at rest: multipole solution computed here,
// converged to 5 digits. Its leading term 1 + 2.390 λ³ agrees with the classical
// 3 × 0.797.
var (
	tubeRatios = []float64{0, 0.2, 0.3, 0.4, 0.5, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95}
	tubeMasses = []float64{
		0.5, 0.5096, 0.5330, 0.5806, 0.6660, 0.8127, 0.9223, 1.0693, 1.2721, 1.5653, 2.0218, 2.8351,
		4.7915,
	}
)

// maxTubeRatio is the end of that table.
const maxTubeRatio = 0.95

// tubeCurve interpolates (C_m − ½)(1 − λ)/λ³, which stays tame at both ends: it is
// ½·2.390 at λ = 0.
var tubeCurve = func() curve {
	tame := []float64{0.5 * 2.390}
	for i, r := range tubeRatios[1:] {
		tame = append(tame, (tubeMasses[i+1]-0.5)*(1-r)/(r*r*r))
	}
	return tabulated(tubeRatios, tame)
}()

// SphereTubeAddedMass is the added-mass coefficient of a sphere on the axis of a
// long tube: the mass of the water that moves along is this times the water that the
// sphere displaces. 0.5 in unbounded water.
//
// λ ratio is ball diameter over tube diameter, 0 to 0.95; NaN outside it.
func SphereTubeAddedMass(ratio float64) float64 {
	if !(ratio >= 0 && ratio <= maxTubeRatio) {
		return math.NaN()
	}
	return 0.5 + tubeCurve.at(ratio)*ratio*ratio*ratio/(1-ratio)
}

// SphereTubeAddedMassFormula is SphereTubeAddedMass.
var SphereTubeAddedMassFormula = basis.Formula{
	ID:      "sphere-tube-added-mass",
	Title:   "Added-mass coefficient of a ball in a round chamber",
	Expr:    "C_m(λ), table: 0.5 at 0, 0.67 at 0.5, 1.57 at 0.8, 4.79 at 0.95",
	Symbols: []string{"λ"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "λ 0 to 0.95, ball on the axis of a long tube",
}
