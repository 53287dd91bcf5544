package fluid

import (
	"seatward/basis"
	"seatward/quantity"
)

// The written forms of this package's formulas. The arguments of each kernel
// stand in the order of the formula's symbols.
var (
	// DensityFormula is the density in Water.
	DensityFormula = basis.Formula{
		ID:      "water-density",
		Title:   "Density of water",
		Expr:    "ρ = p / (R T π γ_π(π, τ))",
		Symbols: []string{"T", "p"},
		Kind:    quantity.Density,
		Ref:     "iapws-if97 eq. 7, region 1",
		Range:   "liquid, 0 to 100 °C, to 100 bar",
	}
	// SoundSpeedFormula is the speed of sound in Water.
	SoundSpeedFormula = basis.Formula{
		ID:      "water-sound-speed",
		Title:   "Speed of sound in water",
		Expr:    "w² = R T γ_π² / [(γ_π - τ γ_πτ)²/(τ² γ_ττ) - γ_ππ]",
		Symbols: []string{"T", "p"},
		Kind:    quantity.Velocity,
		Ref:     "iapws-if97 eq. 7, region 1",
		Range:   "liquid, 0 to 100 °C, to 100 bar",
	}
	// BulkModulusPaFormula is BulkModulusPa.
	BulkModulusPaFormula = basis.Formula{
		ID:      "water-bulk-modulus",
		Title:   "Bulk modulus of water (isentropic)",
		Expr:    "K = ρ w²",
		Symbols: []string{"ρ", "w"},
		Kind:    quantity.Modulus,
		Ref:     "iapws-if97 eq. 7, region 1",
		Range:   "liquid, 0 to 100 °C, to 100 bar",
	}
	// VaporPressurePaFormula is VaporPressurePa.
	VaporPressurePaFormula = basis.Formula{
		ID:      "water-vapor-pressure",
		Title:   "Vapor pressure of water",
		Expr:    "p_v = 1 MPa [2C/(-B + √(B² - 4AC))]⁴",
		Symbols: []string{"T"},
		Kind:    quantity.AbsolutePressure,
		Ref:     "iapws-if97 eq. 30, region 4",
		Range:   "0 °C to the critical point",
	}
	// ViscosityPaSFormula is ViscosityPaS.
	ViscosityPaSFormula = basis.Formula{
		ID:      "water-viscosity",
		Title:   "Viscosity of water",
		Expr:    "μ = μ₀(T) exp[ρ̄ Σ (1/T̄ - 1)^i Σ H_ij (ρ̄ - 1)^j]",
		Symbols: []string{"T", "ρ"},
		Kind:    quantity.Viscosity,
		Ref:     "iapws-r12-08 eqs. 10-12, μ₂ = 1",
		Range:   "0 to 900 °C, to 1200 kg/m³",
	}
	// AtmospherePaFormula is AtmospherePa.
	AtmospherePaFormula = basis.Formula{
		ID:      "atmosphere-pressure",
		Title:   "Atmospheric pressure at an elevation",
		Expr:    "p = 101325 (1 - 0.0065 H/288.15)^5.2559, H = r z/(r + z)",
		Symbols: []string{"z"},
		Kind:    quantity.AbsolutePressure,
		Ref:     "iso-2533",
		Range:   "-2000 to 11000 m",
	}
	// BulkModulusWithGasFormula is BulkModulusWithGas.
	BulkModulusWithGasFormula = basis.Formula{
		ID:      "gas-bulk-modulus",
		Title:   "Bulk modulus of water with free gas",
		Expr:    "1/K_mix = (1 - x)/K_w + x/(n p)",
		Symbols: []string{"K_w", "x", "n", "p"},
		Kind:    quantity.Modulus,
		Ref:     "wylie-streeter-1993",
		Range:   "small bubbles, 0 ≤ x < 1, 1 ≤ n ≤ 1.4",
	}
)
