package fluid

import (
	"fmt"
	"math"
)

const (
	criticalK  = 647.096
	criticalPa = 22.064e6
)

// region4 are n_1 to n_10 of IAPWS R7-97(2012) Table 34.
var region4 = [10]float64{
	0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2,
	0.12020824702470e5, -0.32325550322333e7, 0.14915108613530e2,
	-0.48232657361591e4, 0.40511340542057e6, -0.23855557567849,
	0.65017534844798e3,
}

// VaporPressurePa returns the saturation pressure of water, absolute in Pa, at
// tempK in kelvin (IAPWS R7-97(2012) eq. 30):
//
//	p_s/1 MPa = [2C/(-B + √(B²-4AC))]⁴,  ϑ = T + n₉/(T - n₁₀)
//	A = ϑ² + n₁ϑ + n₂,  B = n₃ϑ² + n₄ϑ + n₅,  C = n₆ϑ² + n₇ϑ + n₈
//
// Valid from 273.15 K to 647.096 K; anything else is an error that wraps ErrRange.
func VaporPressurePa(tempK float64) (float64, error) {
	if !(tempK >= freezingK && tempK <= criticalK) {
		return 0, fmt.Errorf("vapor pressure at %.6g K: %w: 273.15 to 647.096 K", tempK, ErrRange)
	}
	return saturationPressure(tempK), nil
}

// saturationPressure is VaporPressurePa without the check of its range.
func saturationPressure(tempK float64) float64 {
	n := &region4
	θ := tempK + n[8]/(tempK-n[9])
	a := θ*θ + n[0]*θ + n[1]
	b := n[2]*θ*θ + n[3]*θ + n[4]
	c := n[5]*θ*θ + n[6]*θ + n[7]
	root := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return root * root * root * root * 1e6
}

// BoilingPointK returns the saturation temperature of water in K at the
// absolute pressure pressurePa in Pa (IAPWS R7-97(2012) eq. 31, the exact
// inverse of the equation for the vapor pressure).
//
// Valid from 611.213 Pa to 22.064 MPa; anything else is an error that wraps ErrRange.
func BoilingPointK(pressurePa float64) (float64, error) {
	if !(pressurePa >= 611.213 && pressurePa <= criticalPa) {
		return 0, fmt.Errorf("boiling point at %.6g Pa: %w: 611.213 Pa to 22.064 MPa", pressurePa, ErrRange)
	}
	n := &region4
	β := math.Pow(pressurePa/1e6, 0.25)
	e := β*β + n[2]*β + n[5]
	f := n[0]*β*β + n[3]*β + n[6]
	g := n[1]*β*β + n[4]*β + n[7]
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	sum := n[9] + d
	return (sum - math.Sqrt(sum*sum-4*(n[8]+n[9]*d))) / 2, nil
}
