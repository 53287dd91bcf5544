package truth

import (
	"errors"
	"fmt"

	"seatward/fluid"
	"seatward/quantity"
)

// published is the size of the unit in which a row's number was published, by
// its input "as"; 1 when the row has none and the number is in SI.
func published(in Inputs) float64 {
	if !in.Has("as") {
		return 1
	}
	const (
		inch  = 0.0254
		foot  = 12 * inch
		pound = 0.45359237
		psi   = pound * quantity.StandardGravity / (inch * inch)
	)
	units := map[string]float64{
		"MPa": 1e6, "kPa": 1e3, "bar": 1e5, "GPa": 1e9, "psi": psi, "uPa s": 1e-6, "mPa s": 1e-3, "mm2/s": 1e-6,
		"kJ/kg": 1e3, "lb/ft3": pound / (foot * foot * foot), "ft": foot, "in": inch, "mm": 1e-3, "um": 1e-6,
		"ft/s": foot, "gpm": 231 * inch * inch * inch / 60,
	}
	unit, known := units[in.S("as")]
	if !known {
		in.r.faults = append(in.r.faults, fmt.Sprintf("input as=%s is no unit known here", in.S("as")))
		return 1
	}
	return unit
}

// pressure reads p, which may be the word "saturated".
func pressure(in Inputs) (float64, error) {
	if in.S("p") == "saturated" {
		return fluid.VaporPressurePa(in.F("T"))
	}
	return in.F("p"), nil
}

// ofWater evaluates one property of fluid.Water at T and p.
func ofWater(pick func(fluid.Properties) float64) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		unit := published(in)
		p, err := pressure(in)
		if err != nil {
			return 0, err
		}
		w, err := fluid.Water(in.F("T"), p)
		return pick(w) / unit, err
	}
}

// ofRegion1 evaluates one property of fluid.Region1 at T and p, beyond the
// range that Water has.
func ofRegion1(pick func(fluid.State) float64) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		unit := published(in)
		p, err := pressure(in)
		if err != nil {
			return 0, err
		}
		s, err := fluid.Region1(in.F("T"), p)
		return pick(s) / unit, err
	}
}

var (
	_ = evaluator("water-density", "fluid.Water", ofWater(func(w fluid.Properties) float64 { return w.DensityKgM3 }))
	_ = evaluator("water-density/region-1", "fluid.Region1",
		ofRegion1(func(s fluid.State) float64 { return 1 / s.VolumeM3Kg }))
	_ = evaluator("water-density/volume", "fluid.Region1",
		ofRegion1(func(s fluid.State) float64 { return s.VolumeM3Kg }))
	_ = evaluator("water-density/enthalpy", "fluid.Region1",
		ofRegion1(func(s fluid.State) float64 { return s.EnthalpyJKg }))
	_ = evaluator("water-density/heat-capacity", "fluid.Region1",
		ofRegion1(func(s fluid.State) float64 { return s.HeatCapacityJKgK }))

	_ = evaluator("water-sound-speed", "fluid.Water",
		ofWater(func(w fluid.Properties) float64 { return w.SoundSpeedMS }))
	_ = evaluator("water-sound-speed/region-1", "fluid.Region1",
		ofRegion1(func(s fluid.State) float64 { return s.SoundSpeedMS }))

	_ = evaluator("water-bulk-modulus", "fluid.BulkModulusPa", ofRegion1(func(s fluid.State) float64 {
		return fluid.BulkModulusPa(1/s.VolumeM3Kg, s.SoundSpeedMS)
	}))
	_ = evaluator("water-bulk-modulus/isothermal", "fluid.Region1",
		ofRegion1(func(s fluid.State) float64 { return s.IsothermalModulusPa }))

	_ = evaluator("water-viscosity/at-pressure", "fluid.Water",
		ofWater(func(w fluid.Properties) float64 { return w.ViscosityPaS }))
	_ = evaluator("water-viscosity", "fluid.ViscosityPaS", func(in Inputs) (float64, error) {
		mu, err := fluid.ViscosityPaS(in.F("T"), in.F("rho"))
		return mu / published(in), err
	})
	_ = evaluator("water-viscosity/region-1", "fluid.Region1, fluid.ViscosityPaS", func(in Inputs) (float64, error) {
		mu, _, err := viscosityAt(in)
		return mu / published(in), err
	})
	_ = evaluator("water-viscosity/kinematic", "fluid.Region1, fluid.ViscosityPaS", func(in Inputs) (float64, error) {
		mu, rho, err := viscosityAt(in)
		if err != nil {
			return 0, err
		}
		return mu / rho / published(in), nil
	})

	_ = evaluator("water-vapor-pressure", "fluid.VaporPressurePa", func(in Inputs) (float64, error) {
		p, err := fluid.VaporPressurePa(in.F("T"))
		return p / published(in), err
	})
	_ = evaluator("water-vapor-pressure/boiling-point", "fluid.BoilingPointK", func(in Inputs) (float64, error) {
		return fluid.BoilingPointK(in.F("p"))
	})

	// A number published for a state that the code must refuse: 1 if it does.
	_ = evaluator("water-density/refused", "fluid.Water", func(in Inputs) (float64, error) {
		if _, err := fluid.Water(in.F("T"), in.F("p")); !errors.Is(err, fluid.ErrRange) {
			return 0, err
		}
		return 1, nil
	})

	_ = evaluator("atmosphere-pressure", "fluid.AtmospherePa", func(in Inputs) (float64, error) {
		return fluid.AtmospherePa(in.F("z"))
	})
	_ = evaluator("gas-bulk-modulus", "fluid.BulkModulusWithGas", func(in Inputs) (float64, error) {
		return fluid.BulkModulusWithGas(in.F("K"), in.F("x"), in.F("n"), in.F("p"))
	})
)

// viscosityAt returns the viscosity and density of liquid water at T and p,
// beyond the range that Water has.
func viscosityAt(in Inputs) (mu, rho float64, err error) {
	p, err := pressure(in)
	if err != nil {
		return 0, 0, err
	}
	s, err := fluid.Region1(in.F("T"), p)
	if err != nil {
		return 0, 0, err
	}
	mu, err = fluid.ViscosityPaS(in.F("T"), 1/s.VolumeM3Kg)
	return mu, 1 / s.VolumeM3Kg, err
}
