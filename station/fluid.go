package station

import (
	"seatward/basis"
	"seatward/fluid"
	"seatward/quantity"
)

// linePressurePa is the pressure at which water properties are taken: that of a
// usual station. Density and viscosity hardly depend on it.
const linePressurePa = 4e5

// fluid resolves what is pumped.
func (r *resolver) fluid() {
	in, out := &r.f.Fluid, &r.st.Fluid
	out.Kind = r.word(in.Kind, "fluid.kind", "raw sewage", "the harder service")
	out.Temperature = or(given("temperature of the liquid", in.Temperature), basis.NewAssumed("temperature of the liquid", quantity.Temperature,
		288.15, 278.15, 298.15, "usual for sewage and water in the ground", basis.CommonPractice))
	out.MaxTemperature = or(given("greatest temperature of the liquid", in.MaxTemperature), basis.NewAssumed("greatest temperature of the liquid", quantity.Temperature,
		max(303.15, out.Temperature.High), max(298.15, out.Temperature.High), max(313.15, out.Temperature.High), "summer, or hot water from a kitchen or laundry", basis.CommonPractice))
	r.waterProperties(out)
	out.FrictionFactor = or(givenNumber("friction against that of water", in.FrictionFactor), defaultFriction(out.Kind))
	out.Solids = or(given("largest solids", in.Solids), defaultSolids(out.Kind))
	out.Rags, out.Grit, out.Oil, out.HydrogenSulfide = in.Rags.Text, in.Grit.Text, in.Oil.Text, in.HydrogenSulfide.Text
	out.Said = map[string]bool{"rags": in.Rags.Set, "grit": in.Grit.Set, "oil": in.Oil.Set, "hydrogen_sulfide": in.HydrogenSulfide.Set, "solids": in.Solids.Set, "greatest_temperature": in.MaxTemperature.Set}
	for _, word := range []*string{&out.Rags, &out.Grit, &out.Oil, &out.HydrogenSulfide} {
		if *word == "" {
			*word = "none"
		}
	}
}

// waterProperties computes the properties of water at the temperature. The range of
// temperatures was checked when the file was read, so no kernel can refuse.
func (r *resolver) waterProperties(out *Fluid) {
	pressure := basis.NewAssumed("pressure at which water properties are taken", quantity.AbsolutePressure, linePressurePa, linePressurePa, linePressurePa,
		"a usual station; density and viscosity hardly depend on it", basis.CommonPractice)
	at := func(f func(p fluid.Properties) float64) func(x []float64) float64 {
		return func(x []float64) float64 {
			p, err := fluid.Water(x[0], linePressurePa)
			if err != nil {
				return 0
			}
			return f(p)
		}
	}
	water := fluid.DensityFormula.Eval("density of water", at(func(p fluid.Properties) float64 { return p.DensityKgM3 }), out.Temperature, pressure)
	out.Density = or(given("density of the liquid", r.f.Fluid.Density), density(out.Kind, water))
	out.Viscosity = fluid.ViscosityPaSFormula.Eval("viscosity of water", func(x []float64) float64 {
		return at(func(p fluid.Properties) float64 { return p.ViscosityPaS })(x)
	}, out.Temperature, water)
	out.VaporPressure = fluid.VaporPressurePaFormula.Eval("vapor pressure of the liquid", at(func(p fluid.Properties) float64 { return p.VaporPressurePa }), out.Temperature)
	sound := fluid.SoundSpeedFormula.Eval("speed of sound in water", at(func(p fluid.Properties) float64 { return p.SoundSpeedMS }), out.Temperature, pressure)
	pure := fluid.BulkModulusPaFormula.Eval("bulk modulus of water", func(x []float64) float64 { return fluid.BulkModulusPa(x[0], x[1]) }, water, sound)
	gas := or(given("free gas by volume", r.f.Fluid.FreeGas), defaultGas(out.Kind))
	polytropic := basis.NewAssumed("polytropic exponent of free gas", quantity.Number, 1, 1, 1, "slow enough to stay at the water's temperature", "wylie-streeter-1993")
	out.BulkModulus = fluid.BulkModulusWithGasFormula.Eval("bulk modulus of the liquid", func(x []float64) float64 {
		k, err := fluid.BulkModulusWithGas(x[0], x[1], x[2], x[3])
		if err != nil {
			return x[0]
		}
		return k
	}, pure, gas, polytropic, pressure)
}

func density(kind string, water basis.Value) basis.Value {
	if kind == "sludge" {
		return basis.NewAssumed("density of the liquid", quantity.Density, 1020, 1000, 1060, "thin sludge", basis.CommonPractice)
	}
	water.Name = "density of the liquid"
	return water
}

func defaultFriction(kind string) basis.Value {
	if kind == "sludge" {
		return basis.NewAssumed("friction against that of water", quantity.Number, 1.5, 1, 3, "thin sludge; it depends on solids and velocity", basis.CommonPractice)
	}
	return basis.NewAssumed("friction against that of water", quantity.Number, 1, 1, 1.05, "flows as water does", basis.CommonPractice)
}

func defaultSolids(kind string) basis.Value {
	const name = "largest solids"
	switch kind {
	case "raw sewage", "sludge":
		return basis.NewAssumed(name, quantity.Diameter, 0.0762, 0.050, 0.080, "pumps for raw sewage pass a sphere of 3 in", "ten-states sec. 42.33 (from memory)")
	case "effluent":
		return basis.NewAssumed(name, quantity.Diameter, 0.010, 0, 0.025, "settled or screened", basis.CommonPractice)
	case "raw water":
		return basis.NewAssumed(name, quantity.Diameter, 0.010, 0, 0.025, "passed an intake screen", basis.CommonPractice)
	}
	return basis.NewAssumed(name, quantity.Diameter, 0, 0, 0, "drinking water carries no solids", basis.CommonPractice)
}

func defaultGas(kind string) basis.Value {
	high := 0.00005
	if kind == "raw sewage" || kind == "sludge" {
		high = 0.0005
	}
	return basis.NewAssumed("free gas by volume", quantity.Fraction, 0, 0, high, "none is given; sewage gives off some", basis.CommonPractice)
}

// site resolves where the station stands.
func (r *resolver) site() {
	r.st.Site.Elevation = or(given("elevation of the site", r.f.Site.Elevation), basis.NewAssumed("elevation of the site", quantity.Length, 100, 0, 1000, "low ground", basis.CommonPractice))
	r.st.Site.AirPressure = fluid.AtmospherePaFormula.Eval("air pressure", func(x []float64) float64 {
		p, err := fluid.AtmospherePa(x[0])
		if err != nil {
			return 0
		}
		return p
	}, r.st.Site.Elevation)
}
