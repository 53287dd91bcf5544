package truth

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatward/pipe"
	"seatward/quantity"
)

// nominal reads the input size, written as DN150.
func nominal(in Inputs) quantity.Size {
	text := in.S("size")
	dn, err := strconv.Atoi(strings.TrimPrefix(text, "DN"))
	if err != nil {
		in.r.faults = append(in.r.faults, fmt.Sprintf("input size=%s is not written as DN150", text))
	}
	return quantity.Size{DN: dn}
}

// pipeRun reads a pipe run: L, D and eps; K where there are fittings.
func pipeRun(in Inputs) pipe.Run {
	r := pipe.Run{LengthM: in.F("L"), DiameterM: in.F("D"), RoughnessM: in.F("eps"), Multiplier: 1}
	if in.Has("K") {
		r.K = in.F("K")
	}
	return r
}

// ofDimension evaluates something of a pipe in a table.
func ofDimension(pick func(pipe.Dimension) float64) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		d, err := pipe.Lookup(in.S("material"), in.S("class"), nominal(in))
		return pick(d) / published(in), err
	}
}

// ofSurface evaluates a span of a surface: its best value, or, where the row
// gives the input "published", 1 if that lies in the span.
func ofSurface(pick func(pipe.Surface) pipe.Span) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		s, err := pipe.SurfaceOf(in.S("surface"))
		if err != nil {
			return 0, err
		}
		return best(in, pick(s)), nil
	}
}

func ofElastic(pick func(pipe.Elastic) pipe.Span) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		e, err := pipe.ElasticOf(in.S("material"))
		if err != nil {
			return 0, err
		}
		return best(in, pick(e)), nil
	}
}

func best(in Inputs, s pipe.Span) float64 {
	unit := published(in)
	if !in.Has("published") {
		return s.Best / unit
	}
	if v := in.F("published") * unit; v >= s.Low*(1-1e-9) && v <= s.High*(1+1e-9) {
		return 1
	}
	return 0
}

var (
	_ = evaluator("reynolds-number", "pipe.Reynolds", func(in Inputs) (float64, error) {
		return pipe.Reynolds(in.F("Q")/pipe.AreaM2(in.F("D")), in.F("D"), in.F("rho"), in.F("mu")), nil
	})
	_ = evaluator("velocity", "pipe.VelocityMS",
		func(in Inputs) (float64, error) { return pipe.VelocityMS(in.F("Q"), in.F("D")), nil })
	_ = evaluator("colebrook-white", "pipe.FrictionFactor", func(in Inputs) (float64, error) {
		f, _, err := pipe.FrictionFactor(in.F("Re"), in.F("eps/D"))
		return f, err
	})
	_ = evaluator("rough-pipe-factor", "pipe.RoughPipeFactor", func(in Inputs) (float64, error) {
		return pipe.RoughPipeFactor(in.F("eps/D"))
	})
	_ = evaluator("rough-pipe-factor/handbook", "pipe.RoughPipeFactor", func(in Inputs) (float64, error) {
		return pipe.RoughPipeFactor(in.F("eps") / in.F("D"))
	})

	// The loss of a run at a flow, plus what the row adds as a static head.
	_ = evaluator("darcy-weisbach", "pipe.Run.Loss", func(in Inputs) (float64, error) {
		loss, err := pipeRun(in).Loss(in.F("Q"), in.F("rho"), in.F("mu"))
		head := loss.TotalM()
		if in.Has("static") {
			head += in.F("static")
		}
		return head / published(in), err
	})
	_ = evaluator("darcy-weisbach/given-factor", "pipe.DarcyLossM, pipe.FittingLossM",
		func(in Inputs) (float64, error) {
			v := in.F("Q") / pipe.AreaM2(in.F("D"))
			head := in.F("static") + pipe.DarcyLossM(in.F("f"), in.F("L"), in.F("D"), v) + pipe.FittingLossM(in.F("K"), v)
			return head / published(in), nil
		})
	_ = evaluator("fitting-loss/system-curve", "pipe.DarcyLossM, pipe.FittingLossM", func(in Inputs) (float64, error) {
		loss := pipe.DarcyLossM(in.F("f"), in.F("L"), in.F("D"), 1) + pipe.FittingLossM(in.F("K"), 1)
		unit := 1.0
		switch per := in.S("per"); per {
		case "ft/(ft/s)2": // loss over V² in s²/m
			unit = 1 / 0.3048
		case "ft/gpm2": // loss over Q², Q = V A
			gpm := 231 * 0.0254 * 0.0254 * 0.0254 / 60
			unit = 0.3048 / (gpm * gpm) * math.Pow(pipe.AreaM2(in.F("D")), 2)
		default:
			return 0, fmt.Errorf("input per=%s is no unit known here", per)
		}
		return loss / unit, nil
	})
	_ = evaluator("darcy-weisbach/two-pipes", "pipe.DarcyLossM", func(in Inputs) (float64, error) {
		head := in.F("static")
		for _, n := range []string{"1", "2"} {
			d := in.F("D" + n)
			head += pipe.DarcyLossM(in.F("f"), in.F("L"+n), d, in.F("Q")/pipe.AreaM2(d))
		}
		return head * in.F("rho") * quantity.StandardGravity / published(in), nil
	})
	_ = evaluator("fitting-k/drained-tank", "pipe.FittingOf, pipe.Run.Loss", drainedTank)

	_ = evaluator("hazen-williams", "pipe.HazenWilliamsLossM", func(in Inputs) (float64, error) {
		h, err := pipe.HazenWilliamsLossM(in.F("Q"), in.F("C"), in.F("D"), in.F("L"))
		return h / published(in), err
	})
	_ = evaluator("hazen-williams/coefficient", "pipe.HazenWilliamsLossM", func(in Inputs) (float64, error) {
		h, err := pipe.HazenWilliamsLossM(1, in.F("C"), 1, 1)
		return h * math.Pow(in.F("C"), 1/0.54), err
	})

	_ = evaluator("fitting-k", "pipe.FittingOf", func(in Inputs) (float64, error) {
		f, err := pipe.FittingOf(in.S("fitting"), nominal(in))
		if err != nil {
			return 0, err
		}
		k, err := f.K(pipe.FittingUse{Size: nominal(in)})
		return best(in, k), err
	})
	_ = evaluator("enlargement-k", "pipe.EnlargementK", func(in Inputs) (float64, error) {
		return pipe.EnlargementK(in.F("angle"), in.F("beta")), nil
	})
	_ = evaluator("contraction-k", "pipe.ContractionK", func(in Inputs) (float64, error) {
		return pipe.ContractionK(in.F("angle"), in.F("beta")), nil
	})

	_ = evaluator("surface/roughness", "pipe.SurfaceOf",
		ofSurface(func(s pipe.Surface) pipe.Span { return s.RoughnessM }))
	_ = evaluator("surface/hazen-williams", "pipe.SurfaceOf",
		ofSurface(func(s pipe.Surface) pipe.Span { return s.HazenWilliamsC }))
	_ = evaluator("elastic/modulus", "pipe.ElasticOf", ofElastic(func(e pipe.Elastic) pipe.Span { return e.ModulusPa }))
	_ = evaluator("elastic/poisson", "pipe.ElasticOf", ofElastic(func(e pipe.Elastic) pipe.Span { return e.Poisson }))

	_ = evaluator("pipe-table/outer", "pipe.Lookup", ofDimension(func(d pipe.Dimension) float64 { return d.ODM }))
	_ = evaluator("pipe-table/wall", "pipe.Lookup", ofDimension(func(d pipe.Dimension) float64 { return d.WallM }))
	_ = evaluator("pipe-table/bore", "pipe.Dimension.IDM", ofDimension(pipe.Dimension.IDM))
	_ = evaluator("pipe-table/ratio", "pipe.Lookup",
		ofDimension(func(d pipe.Dimension) float64 { return d.ODM / d.WallM }))
	_ = evaluator("pipe-rating/working", "pipe.Lookup",
		ofDimension(func(d pipe.Dimension) float64 { return d.RatedPressurePa }))
	_ = evaluator("pipe-rating/occasional", "pipe.Lookup",
		ofDimension(func(d pipe.Dimension) float64 { return d.OccasionalPressurePa }))
	_ = evaluator("pipe-rating/surge-allowance", "pipe.Lookup", ofDimension(func(d pipe.Dimension) float64 {
		return d.OccasionalPressurePa - d.RatedPressurePa
	}))
	_ = evaluator("pipe-rating/recurring-share", "pipe.Lookup", ofDimension(func(d pipe.Dimension) float64 {
		return d.RecurringPressurePa / d.RatedPressurePa
	}))
	_ = evaluator("pipe-rating/occasional-share", "pipe.Lookup", ofDimension(func(d pipe.Dimension) float64 {
		return d.OccasionalPressurePa / d.RatedPressurePa
	}))
	_ = evaluator("pipe-rating/hoop-share", "pipe.Lookup", func(in Inputs) (float64, error) {
		d, err := pipe.Lookup(in.S("material"), in.S("class"), nominal(in))
		if err != nil {
			return 0, err
		}
		p := d.RatedPressurePa
		if in.S("event") == "surge" {
			p = d.OccasionalPressurePa
		}
		return p * d.ODM / (2 * d.WallM) / in.F("yield"), nil
	})

	_ = evaluator("wave-speed", "pipe.WaveSpeed", func(in Inputs) (float64, error) {
		anchoring := map[string]pipe.Anchoring{
			"throughout": pipe.AnchoredThroughout, "upstream": pipe.AnchoredUpstream,
			"joints": pipe.ExpansionJoints,
		}
		a, known := anchoring[in.S("anchored")]
		if !known {
			return 0, fmt.Errorf("input anchored=%s: write throughout, upstream or joints", in.S("anchored"))
		}
		speed, err := pipe.WaveSpeed(pipe.Wave{
			BulkPa: in.F("K"), DensityKgM3: in.F("rho"), ModulusPa: in.F("E"), Poisson: in.F("nu"), WallM: in.F("e"),
			DiameterM: in.F("D"),
			Anchoring: a, ThinWall: in.S("wall") == "thin",
		})
		return speed / published(in), err
	})
	_ = evaluator("wave-speed/short-form", "pipe.WaveSpeedMS", func(in Inputs) (float64, error) {
		return pipe.WaveSpeedMS(in.F("K"), in.F("rho"), in.F("E"), in.F("D/e"), 1, 1) / published(in), nil
	})
	_ = evaluator("lined-wall", "pipe.EquivalentWallM", func(in Inputs) (float64, error) {
		return pipe.EquivalentWallM(in.F("e"), in.F("E"), in.F("t"), in.F("E_l")), nil
	})
)

// drainedTank finds the flow out of a tank through two pipes in series with an
// entrance, a miter bend and a gate valve in the first, a sudden contraction to
// the second, and its exit.
func drainedTank(in Inputs) (float64, error) {
	large, small := quantity.Size{DN: 80}, quantity.Size{DN: 50}
	first, err := pipe.Lookup("steel", "SCH40", large)
	if err != nil {
		return 0, err
	}
	second, err := pipe.Lookup("steel", "SCH40", small)
	if err != nil {
		return 0, err
	}
	runs := []pipe.Run{
		{LengthM: in.F("L1"), DiameterM: first.IDM(), RoughnessM: in.F("eps"), Multiplier: 1},
		{LengthM: in.F("L2"), DiameterM: second.IDM(), RoughnessM: in.F("eps"), Multiplier: 1},
	}
	for _, f := range []struct {
		name string
		run  int
		use  pipe.FittingUse
	}{
		{"entrance", 0, pipe.FittingUse{Size: large}},
		{"90 miter bend", 0, pipe.FittingUse{Size: large}},
		{"gate valve", 0, pipe.FittingUse{Size: large}},
		{"sudden contraction", 1, pipe.FittingUse{Size: small, DiameterM: second.IDM(), OtherDiameterM: first.IDM()}},
		{"exit", 1, pipe.FittingUse{Size: small}},
	} {
		fitting, err := pipe.FittingOf(f.name, f.use.Size)
		if err != nil {
			return 0, err
		}
		k, err := fitting.K(f.use)
		if err != nil {
			return 0, err
		}
		runs[f.run].K += k.Best
	}
	low, high, head, rho, mu := 0.0, 0.1, in.F("head"), in.F("rho"), in.F("mu")
	for range 60 {
		q, lost := (low+high)/2, 0.0
		for _, r := range runs {
			loss, err := r.Loss(q, rho, mu)
			if err != nil {
				return 0, err
			}
			lost += loss.TotalM()
		}
		if lost > head {
			high = q
		} else {
			low = q
		}
	}
	return low / published(in), nil
}
