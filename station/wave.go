package station

import (
	"seatward/basis"
	"seatward/pipe"
	"seatward/quantity"
)

// wave resolves the wave speed of a run.
func (r *resolver) wave(name string, in *RunFile, out *Run) {
	if in.WaveSpeed.Set {
		out.WaveSpeed = r.given("wave speed of the "+name, in.WaveSpeed)
		return
	}
	e, err := pipe.ElasticOf(out.Material)
	if err != nil {
		r.lookup(in, err)
		return
	}
	if !in.Material.Set {
		e = orSofter(e)
	}
	out.WaveSpeed = r.fix(r.elasticWave(name, out, e))
}

// orSofter widens the modulus of a pipe whose material is assumed down to that of PVC:
// the material decides the wave speed more than all else.
func orSofter(e pipe.Elastic) pipe.Elastic {
	softer, err := pipe.ElasticOf(softMaterial)
	if err == nil && softer.ModulusPa.Low < e.ModulusPa.Low {
		e.ModulusPa.Low = softer.ModulusPa.Low
		e.Material += "; the material is assumed, and may be " + softMaterial
	}
	return e
}

// elasticWave computes the wave speed from bore, wall and material.
func (r *resolver) elasticWave(name string, out *Run, e pipe.Elastic) basis.Value {
	modulus := r.fix(basis.NewAssumed("Young's modulus of the "+name, quantity.Modulus, e.ModulusPa.Best,
		e.ModulusPa.Low, e.ModulusPa.High, "short-term value of "+e.Material, e.Source))
	restraint := func(a pipe.Anchoring) float64 {
		return pipe.RestraintThick(a, e.Poisson.Best, out.Wall.SI, out.InnerDiameter.SI)
	}
	anchored, free := restraint(pipe.AnchoredThroughout), restraint(pipe.ExpansionJoints)
	c1 := r.fix(basis.NewAssumed("restraint of the "+name, quantity.Number, anchored, min(anchored, free),
		max(anchored, free), "buried: anchored throughout; the range reaches to free joints", wylie))
	return pipe.WaveSpeedMSFormula.Eval6("wave speed of the "+name, pipe.WaveSpeedMS,
		r.st.Fluid.BulkModulus, r.st.Fluid.Density, modulus, out.InnerDiameter, out.Wall, c1)
}
