package pipe

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Anchoring says how a pipe is held along its length.
type Anchoring uint8

// The three cases in use for the speed of pressure waves.
const (
	AnchoredThroughout Anchoring = iota // no strain along the pipe: buried, or thrust blocks and fixed supports
	AnchoredUpstream                    // held at one end only
	ExpansionJoints                     // free to move throughout: push-on or expansion joints
)

// RestraintThin returns the factor c₁ of a thin-walled pipe in the formula of
// the wave speed:
//
//	anchored throughout:  c₁ = 1 - ν²
//	upstream end only:    c₁ = 1 - ν/2
//	expansion joints:     c₁ = 1
//
// ν poisson, Poisson's ratio of the wall. Valid for D/e above about 25; thicker
// walls take RestraintThick. Source: Wylie and Streeter 1993. Older books
// (Parmakian) print 5/4 - ν for the second case, which makes the wave some
// percent slower.
func RestraintThin(a Anchoring, poisson float64) float64 {
	switch a {
	case AnchoredUpstream:
		return 1 - poisson/2
	case ExpansionJoints:
		return 1
	default:
		return 1 - poisson*poisson
	}
}

// RestraintThick returns the factor c₁ for a wall of any thickness:
//
//	c₁ = (2e/D)(1 + ν) + D/(D + e) c₁(thin)
//
// e wallM and D diameterM (inner) in m, ν poisson. It tends to RestraintThin as
// e/D tends to 0. Valid for positive e and D. Source: Wylie and Streeter 1993.
func RestraintThick(a Anchoring, poisson, wallM, diameterM float64) float64 {
	return 2*wallM/diameterM*(1+poisson) + diameterM/(diameterM+wallM)*RestraintThin(a, poisson)
}

// WaveSpeedMS returns the speed of a pressure wave in m/s in a full pipe:
//
//	a = √(K/ρ) / √(1 + c₁ K D/(E e))
//
// K bulkPa bulk modulus of the liquid in Pa, ρ densityKgM3 in kg/m³, E modulusPa
// of the wall in Pa (for plastics the short-term one), D diameterM inner
// diameter and e wallM thickness in m, c₁ restraint from RestraintThin or
// RestraintThick. Valid for positive arguments; WaveSpeed checks them. Source:
// Korteweg 1878 and Joukowsky 1898, as in Wylie and Streeter 1993.
func WaveSpeedMS(bulkPa, densityKgM3, modulusPa, diameterM, wallM, restraint float64) float64 {
	return math.Sqrt(bulkPa/densityKgM3) / math.Sqrt(1+restraint*bulkPa*diameterM/(modulusPa*wallM))
}

// WaveSpeedMSFormula is WaveSpeedMS.
var WaveSpeedMSFormula = basis.Formula{
	ID:      "wave-speed",
	Title:   "Speed of pressure waves",
	Expr:    "a = √(K/ρ) / √(1 + c₁ K D/(E e))",
	Symbols: []string{"K", "ρ", "E", "D", "e", "c₁"},
	Kind:    quantity.Velocity,
	Ref:     "wylie-streeter-1993",
	Range:   "full round pipes, elastic wall",
}

// EquivalentWallM returns the thickness in m of wall material that is as stiff
// as the wall with its bonded lining:
//
//	e_eq = e + t E_l/E
//
// e wallM and t liningM in m, E modulusPa and E_l liningModulusPa in Pa. Layers
// that are bonded share the hoop strain, so their forces add as E times
// thickness (derived here). A cracked lining carries no tension: take t = 0 as
// the low end. Valid for positive e and E and t ≥ 0.
func EquivalentWallM(wallM, modulusPa, liningM, liningModulusPa float64) float64 {
	return wallM + liningM*liningModulusPa/modulusPa
}

// EquivalentWallMFormula is EquivalentWallM.
var EquivalentWallMFormula = basis.Formula{
	ID:      "lined-wall",
	Title:   "Wall thickness equivalent to wall and lining",
	Expr:    "e_eq = e + t E_l/E",
	Symbols: []string{"e", "E", "t", "E_l"},
	Kind:    quantity.Diameter,
	Ref:     basis.DerivedHere,
	Range:   "bonded, uncracked lining",
}

// Wave is all that the speed of a pressure wave depends on.
type Wave struct {
	BulkPa, DensityKgM3 float64 // of the liquid
	ModulusPa, Poisson  float64 // of the wall
	WallM               float64
	DiameterM           float64 // inner, of the wet bore
	Anchoring           Anchoring
	ThinWall            bool    // take the thin-wall restraint however thick the wall
	LiningM             float64 // 0: bare, or a lining that carries no tension
	LiningModulusPa     float64
}

// WaveSpeed returns the speed of a pressure wave in m/s by WaveSpeedMS, with the
// restraint of the anchoring and the stiffness of the lining. Arguments that are
// not positive and finite, or a Poisson's ratio outside 0 to 0.5, give an error
// that wraps ErrRange.
func WaveSpeed(w Wave) (float64, error) {
	for _, x := range []struct {
		name  string
		value float64
	}{
		{"bulk modulus", w.BulkPa},
		{"density", w.DensityKgM3},
		{"modulus of the wall", w.ModulusPa},
		{"wall", w.WallM},
		{"bore", w.DiameterM},
	} {
		if !finitePositive(x.value) {
			return 0, fmt.Errorf("wave speed with a %s of %.4g: %w: positive", x.name, x.value, ErrRange)
		}
	}
	if !(w.Poisson >= 0 && w.Poisson <= 0.5) {
		return 0, fmt.Errorf("wave speed with a Poisson's ratio of %.4g: %w: 0 to 0.5", w.Poisson, ErrRange)
	}
	wall := w.WallM
	if w.LiningM != 0 {
		if !finitePositive(w.LiningM) || !finitePositive(w.LiningModulusPa) {
			return 0, fmt.Errorf("wave speed with a lining of %.4g m and %.4g Pa: %w: both positive", w.LiningM,
				w.LiningModulusPa, ErrRange)
		}
		wall = EquivalentWallM(wall, w.ModulusPa, w.LiningM, w.LiningModulusPa)
	}
	restraint := RestraintThick(w.Anchoring, w.Poisson, wall, w.DiameterM)
	if w.ThinWall {
		restraint = RestraintThin(w.Anchoring, w.Poisson)
	}
	return WaveSpeedMS(w.BulkPa, w.DensityKgM3, w.ModulusPa, w.DiameterM, wall, restraint), nil
}
