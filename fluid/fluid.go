// Package fluid gives the properties of liquid water that hydraulics needs
// (density, viscosity, vapor pressure, speed of sound, bulk modulus), the
// pressure of the atmosphere at an elevation, and what free gas does to the
// stiffness of water.
//
// Water follows the formulations of the International Association for the
// Properties of Water and Steam (IAPWS): the Industrial Formulation 1997 for
// the liquid (region 1) and its saturation line (region 4), and R12-08 for the
// viscosity. Nothing is extrapolated: outside the stated range there is an
// error, which wraps ErrRange.
package fluid

import (
	"errors"
	"fmt"
	"math"
)

// ErrRange is wrapped by every error about an argument outside the range of a
// formula.
var ErrRange = errors.New("outside the range of the formula")

const (
	freezingK = 273.15 // 0 °C

	// The range of Water: 0 to 100 °C, to 100 bar.
	minWaterK  = freezingK
	maxWaterK  = freezingK + 100
	maxWaterPa = 100e5
)

// Properties are those of liquid water at one temperature and pressure.
type Properties struct {
	DensityKgM3     float64
	ViscosityPaS    float64 // dynamic viscosity
	VaporPressurePa float64 // absolute, over a flat surface of pure water
	SoundSpeedMS    float64 // in unbounded water
	BulkModulusPa   float64 // isentropic, K = ρ w²: the one that pressure waves feel
}

// Water returns the properties of liquid water at tempK in kelvin and the
// absolute pressure pressurePa in pascal.
//
// Valid from 273.15 K to 373.15 K (0 to 100 °C) and from the vapor pressure to
// 100 bar; anything else is an error that wraps ErrRange. Sources: IAPWS
// R7-97(2012) regions 1 and 4, IAPWS R12-08.
//
// The speed of sound of IAPWS-IF97 lies up to 0.2 % above the scientific
// formulation IAPWS-95 between 20 and 100 °C; the bulk modulus up to 0.4 %.
func Water(tempK, pressurePa float64) (Properties, error) {
	if !(tempK >= minWaterK && tempK <= maxWaterK) {
		return Properties{}, fmt.Errorf("water at %.4g °C: %w: 0 to 100 °C", tempK-freezingK, ErrRange)
	}
	if !(pressurePa <= maxWaterPa) {
		return Properties{}, fmt.Errorf("water at %.4g bar absolute: %w: at most 100 bar", pressurePa/1e5, ErrRange)
	}
	vapor := saturationPressure(tempK)
	if !(pressurePa >= vapor) {
		return Properties{}, fmt.Errorf("water at %.4g °C and %.4g bar absolute is vapor: %w: at least the vapor pressure, %.4g bar",
			tempK-freezingK, pressurePa/1e5, ErrRange, vapor/1e5)
	}
	state := region1(tempK, pressurePa)
	density := 1 / state.VolumeM3Kg
	return Properties{
		DensityKgM3:     density,
		ViscosityPaS:    viscosity(tempK, density),
		VaporPressurePa: vapor,
		SoundSpeedMS:    state.SoundSpeedMS,
		BulkModulusPa:   BulkModulusPa(density, state.SoundSpeedMS),
	}, nil
}

// BulkModulusPa returns the isentropic bulk modulus K in Pa of a liquid:
//
//	K = ρ w²
//
// ρ densityKgM3 in kg/m³, w soundSpeedMS in m/s. It is the modulus of a
// pressure wave, which passes too fast for heat to flow; for water it is above
// the isothermal one by the ratio of the heat capacities, 1 % at 25 °C and
// 12 % at 100 °C. Valid for any positive arguments.
func BulkModulusPa(densityKgM3, soundSpeedMS float64) float64 {
	return densityKgM3 * soundSpeedMS * soundSpeedMS
}

// BulkModulusWithGas returns the bulk modulus in Pa of water that carries free
// gas in small bubbles:
//
//	1/K_mix = (1-x)/K_w + x/(n p)
//
// K_w bulkPa in Pa, x gasFraction the volume fraction of gas at the pressure p,
// n polytropic (1 when the bubbles stay at the temperature of the water, 1.4
// when they exchange no heat), p pressurePa absolute in Pa.
//
// Valid for 0 ≤ x < 1, 1 ≤ n ≤ 1.4 and positive K_w and p; anything else is an
// error that wraps ErrRange. Surface tension, gas going into solution and slip
// are left out. Source: Wylie and Streeter, Fluid Transients in Systems, 1993,
// wave speed with small gas content (from memory).
func BulkModulusWithGas(bulkPa, gasFraction, polytropic, pressurePa float64) (float64, error) {
	switch {
	case !(gasFraction >= 0 && gasFraction < 1):
		return 0, fmt.Errorf("gas fraction %.4g: %w: 0 up to 1", gasFraction, ErrRange)
	case !(polytropic >= 1 && polytropic <= 1.4):
		return 0, fmt.Errorf("polytropic exponent %.4g: %w: 1 to 1.4", polytropic, ErrRange)
	case !positive(bulkPa) || !positive(pressurePa):
		return 0, fmt.Errorf("bulk modulus %.4g Pa at %.4g Pa: %w: both positive", bulkPa, pressurePa, ErrRange)
	}
	return 1 / ((1-gasFraction)/bulkPa + gasFraction/(polytropic*pressurePa)), nil
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }
