package fluid

import (
	"fmt"
	"math"
)

// gasConstant is the specific gas constant of water in J/(kg K), IAPWS R7-97(2012) eq. 1.
const gasConstant = 461.526

// State is a state of liquid water by region 1 of IAPWS-IF97.
type State struct {
	VolumeM3Kg          float64 // specific volume
	EnthalpyJKg         float64 // above the triple point's liquid
	HeatCapacityJKgK    float64 // at constant pressure
	SoundSpeedMS        float64
	IsothermalModulusPa float64 // 1/κ_T, the stiffness under slow compression
}

// The range of region 1. The formulation says that it also holds in the
// superheated liquid "close to the saturated liquid line"; that is taken here
// as a tenth of the vapor pressure below it.
const (
	minRegion1K   = freezingK
	maxRegion1K   = 623.15
	maxRegion1Pa  = 100e6
	metastableMin = 0.9
)

// Region1 returns the state of liquid water at tempK in kelvin and pressurePa
// absolute in pascal, from the basic equation for the specific Gibbs free
// energy (IAPWS R7-97(2012) eq. 7 and Table 3):
//
//	g/(R T) = γ(π, τ) = Σ n_i (7.1-π)^I_i (τ-1.222)^J_i,  π = p/16.53 MPa, τ = 1386 K/T
//	v = (R T/p) π γ_π      h = R T τ γ_τ      c_p = -R τ² γ_ττ
//	w² = R T γ_π² / [(γ_π - τ γ_πτ)²/(τ² γ_ττ) - γ_ππ]      1/κ_T = -γ_π p/(π γ_ππ)
//
// Valid from 273.15 K to 623.15 K and from 0.9 times the vapor pressure to
// 100 MPa; anything else is an error that wraps ErrRange.
func Region1(tempK, pressurePa float64) (State, error) {
	if !(tempK >= minRegion1K && tempK <= maxRegion1K) {
		return State{}, fmt.Errorf("liquid water at %.6g K: %w: 273.15 to 623.15 K", tempK, ErrRange)
	}
	if !(pressurePa <= maxRegion1Pa && pressurePa >= metastableMin*saturationPressure(tempK)) {
		return State{}, fmt.Errorf("liquid water at %.6g K and %.6g Pa: %w: vapor pressure to 100 MPa", tempK,
			pressurePa, ErrRange)
	}
	return region1(tempK, pressurePa), nil
}

// region1Terms are I, J and n of IAPWS R7-97(2012) Table 2.
var region1Terms = [34]struct {
	i, j int
	n    float64
}{
	{0, -2, 0.14632971213167},
	{0, -1, -0.84548187169114},
	{0, 0, -0.37563603672040e1},
	{0, 1, 0.33855169168385e1},
	{0, 2, -0.95791963387872},
	{0, 3, 0.15772038513228},
	{0, 4, -0.16616417199501e-1},
	{0, 5, 0.81214629983568e-3},
	{1, -9, 0.28319080123804e-3},
	{1, -7, -0.60706301565874e-3},
	{1, -1, -0.18990068218419e-1},
	{1, 0, -0.32529748770505e-1},
	{1, 1, -0.21841717175414e-1},
	{1, 3, -0.52838357969930e-4},
	{2, -3, -0.47184321073267e-3},
	{2, 0, -0.30001780793026e-3},
	{2, 1, 0.47661393906987e-4},
	{2, 3, -0.44141845330846e-5},
	{2, 17, -0.72694996297594e-15},
	{3, -4, -0.31679644845054e-4},
	{3, 0, -0.28270797985312e-5},
	{3, 6, -0.85205128120103e-9},
	{4, -5, -0.22425281908000e-5},
	{4, -2, -0.65171222895601e-6},
	{4, 10, -0.14341729937924e-12},
	{5, -8, -0.40516996860117e-6},
	{8, -11, -0.12734301741641e-8},
	{8, -6, -0.17424871230634e-9},
	{21, -29, -0.68762131295531e-18},
	{23, -31, 0.14478307828521e-19},
	{29, -38, 0.26335781662795e-22},
	{30, -39, -0.11947622640071e-22},
	{31, -40, 0.18228094581404e-23},
	{32, -41, -0.93537087292458e-25},
}

// The greatest exponents in region1Terms.
const (
	topI    = 32
	topJ    = 17
	bottomJ = -41
)

// region1 is Region1 without the check of its range.
func region1(tempK, pressurePa float64) State {
	const pStar, tStar = 16.53e6, 1386.0
	π, τ := pressurePa/pStar, tStar/tempK
	a, b := 7.1-π, τ-1.222

	// Powers by repeated multiplication: a hundred products are cheaper than
	// sixty-eight calls of math.Pow. The offsets keep the second derivatives'
	// exponents (two less) inside the arrays.
	const off = 2 - bottomJ
	var powA [topI + 3]float64           // powA[k+2] = a^k
	var powB [topJ - bottomJ + 3]float64 // powB[k+off] = b^k
	powA[2], powB[off] = 1, 1
	for k := 1; k <= topI; k++ {
		powA[k+2] = powA[k+1] * a
	}
	for k := 1; k <= topJ; k++ {
		powB[off+k] = powB[off+k-1] * b
	}
	for k, inverse := 1, 1/b; k <= off; k++ {
		powB[off-k] = powB[off-k+1] * inverse
	}

	var γπ, γππ, γτ, γττ, γπτ float64
	for _, t := range region1Terms {
		i, j := float64(t.i), float64(t.j)
		// Where i or i-1 is zero the factor is zero and so is the unset power.
		γπ -= t.n * i * powA[t.i+1] * powB[t.j+off]
		γππ += t.n * i * (i - 1) * powA[t.i] * powB[t.j+off]
		γτ += t.n * j * powA[t.i+2] * powB[t.j-1+off]
		γττ += t.n * j * (j - 1) * powA[t.i+2] * powB[t.j-2+off]
		γπτ -= t.n * i * j * powA[t.i+1] * powB[t.j-1+off]
	}
	rt := gasConstant * tempK
	mixed := γπ - τ*γπτ
	return State{
		VolumeM3Kg:          rt * γπ / pStar,
		EnthalpyJKg:         rt * τ * γτ,
		HeatCapacityJKgK:    -gasConstant * τ * τ * γττ,
		SoundSpeedMS:        math.Sqrt(rt * γπ * γπ / (mixed*mixed/(τ*τ*γττ) - γππ)),
		IsothermalModulusPa: -γπ * pStar / γππ,
	}
}
