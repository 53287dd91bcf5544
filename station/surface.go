package station

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/pipe"
	"seatward/quantity"
)

// surface resolves roughness or the Hazen-Williams coefficient.
func (r *resolver) surface(name string, in *RunFile, out *Run) {
	if in.HazenWilliams.Set {
		out.HazenWilliams = r.givenNumber("Hazen-Williams C of the "+name, in.HazenWilliams)
	}
	out.Roughness = r.given("roughness of the "+name, in.Roughness)
	if out.Roughness.Known() {
		return
	}
	lookup := out.Material
	if canonicalMaterial(out.Material) == "ductile iron" && in.Lining.Text != "none" {
		lookup = "cement lined"
	}
	s, err := pipe.SurfaceOf(lookup)
	if err != nil || !s.RoughnessM.Known() {
		out.Roughness = r.assume(defaults.roughness, name)
		return
	}
	out.Roughness = r.fix(basis.NewAssumed("roughness of the "+name, quantity.Roughness, s.RoughnessM.Best,
		s.RoughnessM.Low, s.RoughnessM.High, s.Name+", new to used", s.Source))
}

// fittings sums the local losses of a run.
func (r *resolver) fittings(name string, in *RunFile, out *Run) {
	var sum pipe.Span
	for _, p := range in.Fittings {
		count, err := strconv.ParseFloat(p.Value.Text, 64)
		if err != nil || !(count >= 0 && count <= 1000) {
			r.error(p.Value.At, "count-unreadable", fmt.Sprintf("%q is not a number of fittings", p.Value.Text),
				"a number from 0 to 1000", "write for example 90 elbow: 2")
			continue
		}
		k, err := r.fitting(p, out)
		if err != nil {
			continue
		}
		out.Fittings = append(out.Fittings, used(p.Key.Text, count, k, out.Size))
		sum.Best, sum.Low, sum.High = sum.Best+count*k.Best, sum.Low+count*k.Low, sum.High+count*k.High
	}
	if len(in.Fittings) == 0 && !in.LossK.Set {
		out.Loss = r.assume(defaults.noFittings, name)
		return
	}
	k := in.LossK
	out.Loss = r.fix(basis.NewCatalog("sum of local losses of the "+name, quantity.Number, sum.Best+k.Value,
		"tables of fittings, "+basis.Cite("tp410")).WithRange(sum.Low+k.Low, sum.High+k.High))
}

// used is a fitting of the tables in the line.
func used(name string, count float64, k pipe.Span, size quantity.Size) Fitting {
	out := Fitting{Name: name, Count: count, K: k}
	f, err := pipe.FittingOf(name, size)
	if err != nil {
		return out
	}
	out.Name, out.Source, out.Status = f.Name, f.Source, f.Status
	if ft, err := pipe.TurbulentFactor(size); err == nil && f.Rule == pipe.TimesFT {
		out.Times, out.Factor = f.Number.Best, ft
	}
	return out
}

func (r *resolver) fitting(p yamlfile.Pair, out *Run) (pipe.Span, error) {
	f, err := pipe.FittingOf(p.Key.Text, out.Size)
	if err == nil {
		var k pipe.Span
		if k, err = f.K(pipe.FittingUse{Size: out.Size, DiameterM: out.InnerDiameter.SI}); err == nil {
			return k, nil
		}
	}
	var l *pipe.LookupError
	if errors.As(err, &l) {
		mend := "pick one of these, or give the run a loss_coefficient"
		if l.Near != "" {
			mend = fmt.Sprintf("did you mean %q? Or give the run a loss_coefficient", l.Near)
		}
		r.error(p.Key.At, "fitting-unknown", fmt.Sprintf("no fitting is called %q", p.Key.Text),
			"one of: "+strings.Join(l.Known, ", "), mend)
	} else {
		r.error(p.Key.At, "fitting-unusable", err.Error(), "a fitting whose loss follows from this run alone",
			"give the run a loss_coefficient instead")
	}
	return pipe.Span{}, err
}
