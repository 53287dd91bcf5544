package fluid

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near fails unless got is within a relative tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s = %.10g, want %.10g within %g of it", what, got, want, tolerance)
	}
}

// IAPWS R7-97(2012) Table 5: nine figures are printed.
func TestRegion1Verification(t *testing.T) {
	cases := []struct{ tempK, pressurePa, volume, enthalpy, heat, sound float64 }{
		{300, 3e6, 1.00215168e-3, 115.331273e3, 4.17301218e3, 1507.73921},
		{300, 80e6, 9.71180894e-4, 184.142828e3, 4.01008987e3, 1634.69054},
		{500, 3e6, 1.20241800e-3, 975.542239e3, 4.65580682e3, 1240.71337},
	}
	for _, c := range cases {
		got, err := Region1(c.tempK, c.pressurePa)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "volume", got.VolumeM3Kg, c.volume, 5e-9)
		near(t, "enthalpy", got.EnthalpyJKg, c.enthalpy, 5e-9)
		near(t, "heat capacity", got.HeatCapacityJKgK, c.heat, 5e-9)
		near(t, "speed of sound", got.SoundSpeedMS, c.sound, 5e-9)
	}
}

// IAPWS R7-97(2012) Tables 35 and 36.
func TestSaturationVerification(t *testing.T) {
	for tempK, want := range map[float64]float64{300: 3.53658941e3, 500: 2.63889776e6, 600: 12.3443146e6} {
		got, err := VaporPressurePa(tempK)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "vapor pressure", got, want, 5e-9)
	}
	for pressurePa, want := range map[float64]float64{0.1e6: 372.755919, 1e6: 453.035632, 10e6: 584.149488} {
		got, err := BoilingPointK(pressurePa)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "boiling point", got, want, 5e-9)
	}
}

// IAPWS R12-08 Table 4.
func TestViscosityVerification(t *testing.T) {
	for _, c := range [][3]float64{
		{298.15, 998, 889.735100e-6},
		{298.15, 1200, 1437.649467e-6},
		{373.15, 1000, 307.883622e-6},
		{873.15, 600, 77.430195e-6},
		{1173.15, 400, 64.154608e-6},
	} {
		got, err := ViscosityPaS(c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "viscosity", got, c[2], 1e-8)
	}
}

func TestWaterAtRoom(t *testing.T) {
	got, err := Water(293.15, 101325)
	if err != nil {
		t.Fatal(err)
	}
	// IAPWS-95 (R6-95) at 20 °C and 101.325 kPa: 998.20715 kg/m³, 1482.3462 m/s.
	near(t, "density", got.DensityKgM3, 998.20715, 1e-5)
	near(t, "speed of sound", got.SoundSpeedMS, 1482.3462, 1e-3)
	// IAPWS R7-97 and R12-08 evaluated apart from this program.
	near(t, "bulk modulus", got.BulkModulusPa, 2.19658e9, 3e-6)
	near(t, "kinematic viscosity", got.ViscosityPaS/got.DensityKgM3, 1.003397e-6, 5e-7)
	near(t, "vapor pressure", got.VaporPressurePa, 2339.21, 3e-6)
}

func TestWaterOutOfRange(t *testing.T) {
	for _, c := range [][2]float64{
		{272, 1e5},
		{374, 2e5},
		{293.15, 101e5},
		{293.15, 2000},
		{293.15, -1},
		{293.15, 0},
		{math.NaN(), 1e5},
		{293.15, math.NaN()},
		{math.Inf(1), 1e5},
		{293.15, math.Inf(1)},
	} {
		if got, err := Water(c[0], c[1]); !errors.Is(err, ErrRange) || got != (Properties{}) {
			t.Errorf("Water(%g, %g) = %+v, %v; want an error of range and no numbers", c[0], c[1], got, err)
		}
	}
}

func TestKernelsOutOfRange(t *testing.T) {
	nan := math.NaN()
	calls := map[string]func() (float64, error){
		"vapor cold":      func() (float64, error) { return VaporPressurePa(273) },
		"vapor hot":       func() (float64, error) { return VaporPressurePa(648) },
		"boiling low":     func() (float64, error) { return BoilingPointK(600) },
		"boiling high":    func() (float64, error) { return BoilingPointK(23e6) },
		"viscosity dense": func() (float64, error) { return ViscosityPaS(300, 1201) },
		"viscosity none":  func() (float64, error) { return ViscosityPaS(300, 0) },
		"viscosity cold":  func() (float64, error) { return ViscosityPaS(nan, 1000) },
		"air high":        func() (float64, error) { return AtmospherePa(11001) },
		"air low":         func() (float64, error) { return AtmospherePa(-2001) },
		"air nan":         func() (float64, error) { return AtmospherePa(nan) },
		"gas all":         func() (float64, error) { return BulkModulusWithGas(2e9, 1, 1, 1e5) },
		"gas negative":    func() (float64, error) { return BulkModulusWithGas(2e9, -1e-9, 1, 1e5) },
		"gas exponent":    func() (float64, error) { return BulkModulusWithGas(2e9, 1e-4, 1.5, 1e5) },
		"gas vacuum":      func() (float64, error) { return BulkModulusWithGas(2e9, 1e-4, 1, 0) },
		"gas rigid":       func() (float64, error) { return BulkModulusWithGas(math.Inf(1), 1e-4, 1, 1e5) },
		"region 1 hot":    func() (float64, error) { s, err := Region1(624, 50e6); return s.VolumeM3Kg, err },
		"region 1 vapor":  func() (float64, error) { s, err := Region1(400, 1e5); return s.VolumeM3Kg, err },
		"region 1 deep":   func() (float64, error) { s, err := Region1(300, 101e6); return s.VolumeM3Kg, err },
	}
	for name, call := range calls {
		if got, err := call(); !errors.Is(err, ErrRange) || got != 0 {
			t.Errorf("%s: got %g, %v; want an error of range", name, got, err)
		}
	}
}

// ISO 2533:1975 Table 1 (from memory): geometric elevation, pressure.
func TestAtmosphere(t *testing.T) {
	for elevationM, want := range map[float64]float64{0: 101325, 1000: 89876, 5000: 54048, 10000: 26500} {
		got, err := AtmospherePa(elevationM)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "atmosphere", got, want, 3e-5)
	}
}

func TestPropertiesOfWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tempK := rapid.Float64Range(minWaterK, maxWaterK-1).Draw(t, "temperature")
		pressurePa := rapid.Float64Range(1.1e5, 99e5).Draw(t, "pressure")
		here, err := Water(tempK, pressurePa)
		if err != nil {
			t.Fatal(err)
		}
		warmer, err := Water(tempK+1, pressurePa)
		if err != nil {
			t.Fatal(err)
		}
		deeper, err := Water(tempK, pressurePa+1e5)
		if err != nil {
			t.Fatal(err)
		}
		if here.DensityKgM3 < 950 || here.DensityKgM3 > 1006 {
			t.Errorf("density %g", here.DensityKgM3)
		}
		if warmer.ViscosityPaS >= here.ViscosityPaS || warmer.VaporPressurePa <= here.VaporPressurePa {
			t.Error("viscosity must fall and vapor pressure rise with temperature")
		}
		if deeper.DensityKgM3 <= here.DensityKgM3 || deeper.SoundSpeedMS <= here.SoundSpeedMS {
			t.Error("density and speed of sound must rise with pressure")
		}
		state, err := Region1(tempK, pressurePa)
		if err != nil {
			t.Fatal(err)
		}
		// Thermodynamics: the isentropic modulus is never below the isothermal one.
		if here.BulkModulusPa < state.IsothermalModulusPa {
			t.Errorf("isentropic %g below isothermal %g", here.BulkModulusPa, state.IsothermalModulusPa)
		}
		// The slope of the density must be the modulus that is stated.
		slope := (deeper.DensityKgM3/here.DensityKgM3 - 1) / 1e5
		if math.Abs(slope*state.IsothermalModulusPa-1) > 1e-3 {
			t.Errorf("ρ rises by %g per Pa, 1/K_T is %g", slope, 1/state.IsothermalModulusPa)
		}
	})
}

func TestSaturationInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tempK := rapid.Float64Range(273.16, 647).Draw(t, "temperature")
		pressurePa, err := VaporPressurePa(tempK)
		if err != nil {
			t.Fatal(err)
		}
		back, err := BoilingPointK(pressurePa)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-tempK) > 1e-6 {
			t.Errorf("%g K went to %g K", tempK, back)
		}
	})
}

func TestGasLowersModulus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bulk := rapid.Float64Range(1e9, 3e9).Draw(t, "bulk modulus")
		x := rapid.Float64Range(0, 0.5).Draw(t, "gas fraction")
		n := rapid.Float64Range(1, 1.4).Draw(t, "exponent")
		p := rapid.Float64Range(1e3, 1e7).Draw(t, "pressure")
		mix, err := BulkModulusWithGas(bulk, x, n, p)
		if err != nil {
			t.Fatal(err)
		}
		if mix <= 0 || mix > bulk*(1+1e-12) {
			t.Errorf("mixture %g, water %g", mix, bulk)
		}
		more, err := BulkModulusWithGas(bulk, x+0.1, n, p)
		if err != nil {
			t.Fatal(err)
		}
		if more >= mix {
			t.Error("more gas must be softer")
		}
	})
}

func BenchmarkWater(b *testing.B) {
	for b.Loop() {
		if _, err := Water(288.15, 4e5); err != nil {
			b.Fatal(err)
		}
	}
}
