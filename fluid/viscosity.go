package fluid

import (
	"fmt"
	"math"
)

// viscosityH is H_ij of IAPWS R12-08 Table 2: row i, column j.
var viscosityH = [6][7]float64{
	{5.20094e-1, 2.22531e-1, -2.81378e-1, 1.61913e-1, -3.25372e-2, 0, 0},
	{8.50895e-2, 9.99115e-1, -9.06851e-1, 2.57399e-1, 0, 0, 0},
	{-1.08374, 1.88797, -7.72479e-1, 0, 0, 0, 0},
	{-2.89555e-1, 1.26613, -4.89837e-1, 0, 6.98452e-2, 0, -4.35673e-3},
	{0, 0, -2.57040e-1, 0, 0, 8.72102e-3, 0},
	{0, 1.20573e-1, 0, 0, 0, 0, -5.93264e-4},
}

// ViscosityPaS returns the dynamic viscosity of water in Pa s at tempK in
// kelvin and densityKgM3 in kg/m³ (IAPWS R12-08 eqs. 10 to 12, without the
// enhancement at the critical point, which the release allows to be left out
// for industrial use):
//
//	μ = μ₀(T̄) μ₁(T̄, ρ̄),  T̄ = T/647.096 K, ρ̄ = ρ/322 kg/m³
//	μ₀ = 100 √T̄ / Σ H_i/T̄^i  μPa s,  μ₁ = exp[ρ̄ Σ_i (1/T̄-1)^i Σ_j H_ij (ρ̄-1)^j]
//
// Valid from 273.15 K to 1173.15 K and 0 < ρ ≤ 1200 kg/m³; anything else is an
// error that wraps ErrRange.
func ViscosityPaS(tempK, densityKgM3 float64) (float64, error) {
	if !(tempK >= freezingK && tempK <= 1173.15) {
		return 0, fmt.Errorf("viscosity of water at %.6g K: %w: 273.15 to 1173.15 K", tempK, ErrRange)
	}
	if !(densityKgM3 > 0 && densityKgM3 <= 1200) {
		return 0, fmt.Errorf("viscosity of water at %.6g kg/m³: %w: above 0 to 1200 kg/m³", densityKgM3, ErrRange)
	}
	return viscosity(tempK, densityKgM3), nil
}

// viscosity is ViscosityPaS without the check of its range.
func viscosity(tempK, densityKgM3 float64) float64 {
	t, ρ := tempK/criticalK, densityKgM3/322
	inverse := 1 / t
	dilute := 100 * math.Sqrt(t) / (1.67752 + inverse*(2.20462+inverse*(0.6366564-inverse*0.241605)))
	sum := 0.0
	for i := len(viscosityH) - 1; i >= 0; i-- {
		row := 0.0
		for j := len(viscosityH[i]) - 1; j >= 0; j-- {
			row = row*(ρ-1) + viscosityH[i][j]
		}
		sum = sum*(inverse-1) + row
	}
	return 1e-6 * dilute * math.Exp(ρ*sum)
}
