package station

import (
	"math"

	"seatward/basis"
	"seatward/fluid"
	"seatward/quantity"
)

// fluid resolves what is pumped.
func (r *resolver) fluid() {
	in, out := &r.f.Fluid, &r.st.Fluid
	out.Kind = fluid.Service(r.word(in.Kind, unwritten("fluid.kind"), string(defaultFluid), "the harder service"))
	out.Temperature = or(r.given("temperature of the liquid", in.Temperature), r.assume(defaults.temperature))
	hot := defaults.greatestTemperature // not below the temperature itself
	hot.best, hot.low, hot.high = max(hot.best, out.Temperature.High), max(hot.low, out.Temperature.High), max(hot.high,
		out.Temperature.High)
	out.MaxTemperature = or(r.given(hot.name, in.MaxTemperature), r.assume(hot))
	r.waterProperties(out)
	out.FrictionFactor = or(r.givenNumber("friction against that of water", in.FrictionFactor),
		r.assume(defaults.friction.of(out.Kind)))
	out.Solids = or(r.given("largest solids", in.Solids), r.assume(r.usualSolids(out.Kind)))
	out.Rags, out.Grit, out.Oil, out.HydrogenSulfide = in.Rags.Text, in.Grit.Text, in.Oil.Text, in.HydrogenSulfide.Text
	out.Said = map[string]bool{
		"rags": in.Rags.Set, "grit": in.Grit.Set, "oil": in.Oil.Set,
		"hydrogen_sulfide": in.HydrogenSulfide.Set, "solids": in.Solids.Set, "greatest_temperature": in.MaxTemperature.Set,
	}
	for _, word := range []*string{&out.Rags, &out.Grit, &out.Oil, &out.HydrogenSulfide} {
		if *word == "" {
			*word = unsaid
		}
	}
}

// usualSolids is what the pumps for a liquid pass, and no more than the pipe does.
func (r *resolver) usualSolids(kind fluid.Service) fallback {
	d, size := defaults.solids.of(kind), r.pipeSize()
	if r.grinder(kind) {
		d = defaults.groundSolids
	}
	if bore := size.NominalM(); size.DN > 0 && d.high > bore {
		d.best, d.low, d.high = min(d.best, 0.8*bore), min(d.low, 0.8*bore), bore
		d.reason += "; here limited by the pipe"
	}
	return d
}

// pipeSize is the size of the pipe at the valve as far as it is written.
func (r *resolver) pipeSize() quantity.Size {
	if runs := r.f.Branch.Runs; !r.f.Valve.Size.Set && len(runs) > 0 {
		return runs[0].Size.Size
	}
	return r.f.Valve.Size.Size
}

// grinder is true for sewage in a pipe that solids do not pass whole.
func (r *resolver) grinder(kind fluid.Service) bool {
	size := r.pipeSize()
	return kind.Sewage() && size.DN > 0 && size.DN < wholeSolidsDN
}

// waterProperties computes the properties of water at the temperature. Where the
// liquid is denser than water its other properties are still taken as water's.
func (r *resolver) waterProperties(out *Fluid) {
	pressure := r.assume(defaults.waterPressure)
	at := func(f func(p fluid.Properties) float64) func(temperature, pressure float64) float64 {
		return func(temperature, pressure float64) float64 {
			p, err := fluid.Water(temperature, pressure)
			if err != nil {
				return math.NaN()
			}
			return f(p)
		}
	}
	viscosity := at(func(p fluid.Properties) float64 { return p.ViscosityPaS })
	vapor := at(func(p fluid.Properties) float64 { return p.VaporPressurePa })
	water := fluid.DensityFormula.Eval2("density of water",
		at(func(p fluid.Properties) float64 { return p.DensityKgM3 }), out.Temperature, pressure)
	out.Density = or(r.given("density of the liquid", r.f.Fluid.Density), r.density(out.Kind, water))
	out.Viscosity = r.fix(fluid.ViscosityPaSFormula.Eval2("viscosity of water", func(temperature, _ float64) float64 {
		return viscosity(temperature, pressure.SI) // with the density that goes with the temperature
	}, out.Temperature, water))
	out.VaporPressure = r.fix(fluid.VaporPressurePaFormula.Eval1("vapor pressure of the liquid",
		func(temperature float64) float64 { return vapor(temperature, pressure.SI) }, out.Temperature))
	sound := fluid.SoundSpeedFormula.Eval2("speed of sound in water",
		at(func(p fluid.Properties) float64 { return p.SoundSpeedMS }), out.Temperature, pressure)
	pure := fluid.BulkModulusPaFormula.Eval2("bulk modulus of water", fluid.BulkModulusPa, water, sound)
	gas := or(r.given("free gas by volume", r.f.Fluid.FreeGas), r.assume(defaults.freeGas.of(out.Kind)))
	out.FreeGas = gas
	out.BulkModulus = r.fix(fluid.BulkModulusWithGasFormula.Eval4("bulk modulus of the liquid",
		func(pure, gas, polytropic, pressure float64) float64 {
			k, err := fluid.BulkModulusWithGas(pure, gas, polytropic, pressure)
			if err != nil {
				return math.NaN()
			}
			return k
		}, pure, gas, r.assume(defaults.polytropic), pressure))
}

// density is that assumed for the kind of liquid, else that of water.
func (r *resolver) density(kind fluid.Service, water basis.Value) basis.Value {
	if d := defaults.density.of(kind); d.name != "" {
		return r.assume(d)
	}
	water.Name = "density of the liquid"
	return r.fix(water)
}

// site resolves where the station stands.
func (r *resolver) site() {
	r.st.Site.Elevation = or(r.given("elevation of the site", r.f.Site.Elevation),
		r.assume(defaults.elevation)).AsElevation()
	r.st.Site.AirPressure = r.fix(fluid.AtmospherePaFormula.Eval1("air pressure", func(elevation float64) float64 {
		p, err := fluid.AtmospherePa(elevation)
		if err != nil {
			return math.NaN()
		}
		return p
	}, r.st.Site.Elevation))
}
