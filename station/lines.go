package station

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/pipe"
	"seatward/quantity"
)

// lines resolves the branch and the main, or assumes one run each.
func (r *resolver) lines() {
	if len(r.f.Branch.Runs) > 0 {
		r.st.Branch = r.line("branch", &r.f.Branch)
	} else {
		r.st.Branch = Line{Runs: []Run{r.assumedBranch()}}
	}
	if r.list.Err() != nil {
		return
	}
	if len(r.f.Main.Runs) > 0 {
		r.st.Main = r.line("main", &r.f.Main)
	} else {
		r.st.Main = Line{Runs: []Run{r.assumedMain()}}
	}
	for _, p := range r.f.Main.Profile {
		r.st.Main.Profile = append(r.st.Main.Profile, ProfilePoint{p.Items[0].SI(), p.Items[1].SI()})
	}
}

func (r *resolver) line(which string, in *LineFile) Line {
	var out Line
	for i := range in.Runs {
		name := which
		if len(in.Runs) > 1 {
			name = fmt.Sprintf("%s run %d", which, i+1)
		}
		out.Runs = append(out.Runs, r.run(name, &in.Runs[i]))
	}
	return out
}

// run resolves one run of pipe.
func (r *resolver) run(name string, in *RunFile) Run {
	out := Run{Name: name, Size: in.Size.Size}
	if !in.Size.Set {
		out.Size = r.st.Valve.Size
	}
	out.Length = given("length of the "+name, in.Length)
	if !out.Length.Known() {
		r.error(in.At, "length-missing", "the run has no length", "length, such as 120 ft", "add length, or leave the whole list of runs out to have it estimated")
	}
	r.wall(name, in, &out)
	if r.list.Err() == nil {
		r.surface(name, in, &out)
		r.fittings(name, in, &out)
		r.wave(name, in, &out)
	}
	return out
}

// defaultClass is the class assumed where none is given: the usual one of the trade.
func defaultClass(material string, size quantity.Size, sys quantity.System) string {
	switch material {
	case "ductile iron":
		if sys == quantity.SI {
			return "K9"
		}
		if size.DN > 300 {
			return "PC250"
		}
		return "PC350"
	case "steel":
		return "STD"
	case "PVC":
		return "DR18"
	case "HDPE":
		return "DR11"
	}
	return ""
}

// wall finds inner diameter, wall and rating from the standards' tables or from what
// was given.
func (r *resolver) wall(name string, in *RunFile, out *Run) {
	out.InnerDiameter, out.Wall = given("inner diameter of the "+name, in.InnerDiameter), given("wall of the "+name, in.Wall)
	out.Rating = given("pressure rating of the "+name, in.Rating)
	out.Material, out.Class = in.Material.Text, in.Class.Text
	if !in.Material.Set {
		out.Material = "ductile iron"
		r.warn(in.At, "word-assumed", "not said what the "+name+" is made of: ductile iron is assumed, usual in stations", "", "say material, such as PVC")
	}
	class := out.Class
	if class == "" {
		class = defaultClass(canonicalMaterial(out.Material), out.Size, r.st.Units)
	}
	d, err := pipe.Lookup(out.Material, class, out.Size)
	if err != nil {
		if out.InnerDiameter.Known() && out.Wall.Known() && pipeKnown(out.Material) {
			return // the user knows a pipe that the tables do not
		}
		r.lookup(in, err)
		return
	}
	out.Material, out.Class = d.Material, d.Class
	d = r.lined(in, d)
	r.checkDiameter(in, out, d)
	source := d.Standard + " (" + d.Status + ")"
	table := func(name string, si float64) basis.Value {
		if in.Class.Set {
			return basis.NewCatalog(name, quantity.Diameter, si, source)
		}
		return basis.NewAssumed(name, quantity.Diameter, si, si, si, "class not given: "+d.Class+" is assumed", source)
	}
	if !out.InnerDiameter.Known() {
		out.InnerDiameter = table("inner diameter of the "+name, d.IDM())
		if !in.Class.Set {
			out.InnerDiameter = classSpan(out.InnerDiameter, d)
		}
	}
	out.Wall = or(out.Wall, table("wall of the "+name, d.MeanWallM))
	if !out.Rating.Known() && d.RatedPressurePa > 0 {
		out.Rating = basis.NewCatalog("pressure rating of the "+name, quantity.Pressure, d.RatedPressurePa, d.RatingSource)
	}
	if d.OccasionalPressurePa > d.RatedPressurePa {
		out.SurgeAllowance = basis.NewCatalog("surge allowance of the "+name, quantity.Pressure, d.OccasionalPressurePa-d.RatedPressurePa, d.SurgeRule)
	}
}

func pipeKnown(material string) bool {
	_, err := pipe.ElasticOf(material)
	return err == nil
}

func canonicalMaterial(text string) string {
	e, err := pipe.ElasticOf(text)
	if err != nil {
		return strings.ToLower(text)
	}
	return e.Material
}

// classSpan widens the bore to that of all classes that the size is made in.
func classSpan(v basis.Value, d pipe.Dimension) basis.Value {
	classes, err := pipe.Classes(d.Material)
	if err != nil {
		return v
	}
	low, high := v.Low, v.High
	for _, c := range classes {
		if other, err := pipe.Lookup(d.Material, c, d.Size); err == nil && other.Standard == d.Standard {
			other.LiningM = d.LiningM
			low, high = min(low, other.IDM()), max(high, other.IDM())
		}
	}
	return v.WithRange(low, high)
}

// lined applies the cement lining that iron pipe has unless said otherwise.
func (r *resolver) lined(in *RunFile, d pipe.Dimension) pipe.Dimension {
	if in.Lining.Text == "none" || (!in.Lining.Set && d.Material != "ductile iron") {
		return d
	}
	if lined, ok := d.Lined(); ok {
		return lined
	}
	if in.Lining.Set {
		r.warn(in.Lining.At, "lining-unknown", "no cement lining is tabulated for this pipe: it is taken as bare", "", "give inner_diameter")
	}
	return d
}

// checkDiameter tells when a given inner diameter cannot be that of the pipe.
func (r *resolver) checkDiameter(in *RunFile, out *Run, d pipe.Dimension) {
	if !out.InnerDiameter.Known() {
		return
	}
	switch id := out.InnerDiameter.SI; {
	case id >= d.ODM:
		r.error(in.InnerDiameter.At, "diameter-too-large", "the inner diameter is larger than the outside of this pipe, "+r.show(quantity.Diameter, d.ODM), "about "+r.show(quantity.Diameter, d.IDM()), "mend inner_diameter or size")
	case math.Abs(id-d.IDM())/d.IDM() > 0.02 && math.Abs(id-out.Size.NominalM()) < 1e-6:
		r.warn(in.InnerDiameter.At, "nominal-as-bore", "the nominal size is given as inner diameter; the standard's is "+r.show(quantity.Diameter, d.IDM())+". The given one is used", "", "leave inner_diameter out to use the table")
	case math.Abs(id-d.IDM())/d.IDM() > 0.05:
		r.warn(in.InnerDiameter.At, "diameter-differs", "the standard's inner diameter of "+d.Material+" "+d.Class+" is "+r.show(quantity.Diameter, d.IDM())+". The given one is used", "", "check material, class and size")
	}
}

// lookup tells a failed look-up in the pipe tables at the key that caused it.
func (r *resolver) lookup(in *RunFile, err error) {
	var l *pipe.LookupError
	if !errors.As(err, &l) {
		r.error(in.At, "pipe-unknown", err.Error(), "a pipe of the tables", "give inner_diameter and wall")
		return
	}
	at := map[string]yamlfile.At{"material": in.Material.At, "class": in.Class.At, "size": in.Size.At}[l.What]
	if !at.Set {
		at = in.At
	}
	text := fmt.Sprintf("no %s %q", l.What, l.Given)
	if l.Of != "" {
		text += " of " + l.Of
	}
	mend := "pick one of these, or give inner_diameter and wall"
	if l.Near != "" {
		mend = fmt.Sprintf("did you mean %q? Or give inner_diameter and wall", l.Near)
	}
	r.error(at, "pipe-"+l.What+"-unknown", text+" in the tables", "one of: "+strings.Join(l.Known, ", "), mend)
}

// surface resolves roughness or the Hazen-Williams coefficient.
func (r *resolver) surface(name string, in *RunFile, out *Run) {
	if in.HazenWilliams.Set {
		out.HazenWilliams = givenNumber("Hazen-Williams C of the "+name, in.HazenWilliams)
	}
	out.Roughness = given("roughness of the "+name, in.Roughness)
	if out.Roughness.Known() {
		return
	}
	lookup := out.Material
	if canonicalMaterial(out.Material) == "ductile iron" && in.Lining.Text != "none" {
		lookup = "cement lined"
	}
	s, err := pipe.SurfaceOf(lookup)
	if err != nil || !s.RoughnessM.Known() {
		out.Roughness = basis.NewAssumed("roughness of the "+name, quantity.Roughness, 1e-4, 1.5e-5, 3e-4, "no roughness is tabulated for "+out.Material, basis.CommonPractice)
		return
	}
	out.Roughness = basis.NewAssumed("roughness of the "+name, quantity.Roughness, s.RoughnessM.Best, s.RoughnessM.Low, s.RoughnessM.High, s.Name+", new to used", s.Source)
}

// fittings sums the local losses of a run.
func (r *resolver) fittings(name string, in *RunFile, out *Run) {
	var sum pipe.Span
	for _, p := range in.Fittings {
		count, err := strconv.ParseFloat(p.Value.Text, 64)
		if err != nil || !(count >= 0 && count <= 1000) {
			r.error(p.Value.At, "count-unreadable", fmt.Sprintf("%q is not a number of fittings", p.Value.Text), "a number from 0 to 1000", "write for example 90 elbow: 2")
			continue
		}
		k, err := r.fitting(p, out)
		if err != nil {
			continue
		}
		sum.Best, sum.Low, sum.High = sum.Best+count*k.Best, sum.Low+count*k.Low, sum.High+count*k.High
	}
	extra := in.LossK.Value
	out.Loss = basis.NewCatalog("sum of local losses of the "+name, quantity.Number, sum.Best+extra, "tables of fittings, "+basis.Cite("tp410")).WithRange(sum.Low+extra, sum.High+extra)
	if len(in.Fittings) == 0 && !in.LossK.Set {
		out.Loss = basis.NewAssumed("sum of local losses of the "+name, quantity.Number, 0, 0, 2, "no fittings are given", basis.CommonPractice)
	}
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
		r.error(p.Key.At, "fitting-unknown", fmt.Sprintf("no fitting is called %q", p.Key.Text), "one of: "+strings.Join(l.Known, ", "), mend)
	} else {
		r.error(p.Key.At, "fitting-unusable", err.Error(), "a fitting whose loss follows from this run alone", "give the run a loss_coefficient instead")
	}
	return pipe.Span{}, err
}

// wave resolves the wave speed of a run.
func (r *resolver) wave(name string, in *RunFile, out *Run) {
	if out.WaveSpeed = given("wave speed of the "+name, in.WaveSpeed); out.WaveSpeed.Known() {
		return
	}
	e, err := pipe.ElasticOf(out.Material)
	if err != nil {
		r.lookup(in, err)
		return
	}
	modulus := basis.NewAssumed("Young's modulus of the "+name, quantity.Modulus, e.ModulusPa.Best, e.ModulusPa.Low, e.ModulusPa.High, "short-term value of "+e.Material, e.Source)
	restraint := func(a pipe.Anchoring, nu float64) float64 {
		return pipe.RestraintThick(a, nu, out.Wall.SI, out.InnerDiameter.SI)
	}
	upstream, free := restraint(pipe.AnchoredThroughout, e.Poisson.Best), restraint(pipe.ExpansionJoints, e.Poisson.Best)
	c1 := basis.NewAssumed("restraint of the "+name, quantity.Number, upstream, min(upstream, free), max(upstream, free), "buried: anchored throughout; the range reaches to free joints", "wylie-streeter-1993")
	out.WaveSpeed = pipe.WaveSpeedMSFormula.Eval("wave speed of the "+name, func(x []float64) float64 { return pipe.WaveSpeedMS(x[0], x[1], x[2], x[3], x[4], x[5]) },
		r.st.Fluid.BulkModulus, r.st.Fluid.Density, modulus, out.InnerDiameter, out.Wall, c1)
}
