package station

import (
	"math"

	"seatward/fluid"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
)

// unlike is how far the density of a kind of liquid may lie below and above that of
// water, as a share (common practice, no source; raw water reaches to sea water).
var unlike = map[fluid.Service][2]float64{
	fluid.DrinkingWater: {0.005, 0.005}, fluid.Effluent: {0.005, 0.01}, fluid.RawWater: {0.005, 0.035},
	fluid.RawSewage: {0.01, 0.03}, fluid.Sludge: {0.02, 0.12},
}

// serviceNumbers tells densities, frictions and solids that do not go with the kind
// of liquid or with the pipe.
func (r *resolver) serviceNumbers() {
	in, out := &r.f.Fluid, &r.st.Fluid
	water := r.waterDensity()
	if share := in.Density.SI()/water - 1; in.Density.Set &&
		(share < -unlike[out.Kind][0] || share > unlike[out.Kind][1]) {
		r.warn(in.Density.At, "density-unlike",
			r.show(quantity.Density, in.Density.SI())+" is not the density of "+string(out.Kind), "about "+
				r.show(quantity.Density, water), "check density and fluid.kind")
	}
	if in.FrictionFactor.Value > 1.1 && !out.Kind.Sewage() {
		r.warn(in.FrictionFactor.At, "friction-unlike",
			string(out.Kind)+" flows as water does, but a multiplier on friction is given", "1, or fluid.kind: sludge", "leave it out, or mend fluid.kind")
	}
	if bore := r.st.Valve.Size.NominalM(); in.Solids.Set && out.Solids.SI >= bore {
		r.error(in.Solids.At, "solids-too-large",
			"a sphere of "+r.show(quantity.Diameter, out.Solids.SI)+" does not pass a pipe of "+
				r.st.Valve.Size.String(), "less than "+r.show(quantity.Diameter,
				bore), "give the solids that the pump passes, or mend the size")
	}
}

// waterDensity is that of water at the liquid's temperature.
func (r *resolver) waterDensity() float64 {
	for _, v := range r.st.Fluid.Viscosity.Inputs {
		if v.Kind == quantity.Density {
			return v.SI
		}
	}
	return r.st.Fluid.Density.SI
}

// waves tells given wave speeds that the liquid or the pipe denies.
func (r *resolver) waves() {
	sound := math.Sqrt(r.st.Fluid.BulkModulus.High / r.st.Fluid.Density.Low)
	for _, line := range []struct {
		name string
		in   []RunFile
		out  []Run
	}{{"branch", r.f.Branch.Runs, r.st.Branch.Runs}, {"main", r.f.Main.Runs, r.st.Main.Runs}} {
		for i := range line.in {
			in, out := &line.in[i], &line.out[i]
			if !in.WaveSpeed.Set {
				continue
			}
			if in.WaveSpeed.SI() > sound {
				r.error(in.WaveSpeed.At, "wave-above-sound",
					"a wave in a pipe is not faster than sound in the liquid, "+r.show(quantity.Velocity,
						sound), "at most "+r.show(quantity.Velocity, sound),
					"mend the wave speed, or leave it out to have it computed")
				continue
			}
			e, err := pipe.ElasticOf(out.Material)
			if err != nil || !out.Wall.Known() {
				continue
			}
			if c := r.elasticWave(out.Name, out, e); in.WaveSpeed.High.SI*offWave < c.Low ||
				in.WaveSpeed.Low.SI > c.High*offWave {
				r.warn(in.WaveSpeed.At, "wave-differs",
					"bore, wall and material give "+c.Format(r.st.Units)+
						". The given one is used", "", "check wave_speed, material and class")
			}
		}
	}
}

// inertias tells given inertias far from the estimate: a GD² is four times the
// inertia, and lb ft² and kg m² differ by 24.
func (r *resolver) inertias() {
	for i := range r.f.Pumps {
		in, p := &r.f.Pumps[i], &r.st.Pumps[i]
		if !in.Inertia.Set {
			continue
		}
		e, err := pump.EstimateInertia(pump.Set{ShaftPower: p.ShaftPower, Speed: p.Speed, Submersible: p.Submersible})
		if err != nil {
			continue
		}
		if t := e.Total; p.Inertia.SI > t.High*offEstimate || p.Inertia.SI < t.Low/offEstimate {
			r.warn(in.Inertia.At, "inertia-odd",
				"pumps of this power and speed have "+t.FormatRange(r.st.Units)+
					". The given one is used", "", "check the unit (lb ft2 or kg m2), and whether it is a GD², four times the inertia")
		}
	}
}
