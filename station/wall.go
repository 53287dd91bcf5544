package station

import (
	"math"
	"strings"

	"seatward/basis"
	"seatward/pipe"
	"seatward/quantity"
)

// wall finds inner diameter, wall and rating from the standards' tables or from what
// was given; false when the pipe is not known.
func (r *resolver) wall(name string, in *RunFile, out *Run) bool {
	out.InnerDiameter, out.Wall = r.given("inner diameter of the "+name, in.InnerDiameter), r.given("wall of the "+name,
		in.Wall)
	out.Rating = r.given("pressure rating of the "+name, in.Rating)
	out.Class = in.Class.Text
	if in.Wall.Set && in.InnerDiameter.Set && in.Wall.SI() > in.InnerDiameter.SI()/2 {
		r.error(in.Wall.At, "wall-too-thick", "the wall is thicker than the pipe's inner radius",
			"less than "+r.show(quantity.Diameter, in.InnerDiameter.SI()/2), "mend wall or inner_diameter")
		return false
	}
	class := out.Class
	if class == "" {
		class = defaultClass(canonicalMaterial(out.Material), out.Size, r.st.Units)
	}
	d, err := pipe.Lookup(out.Material, class, out.Size)
	if err != nil {
		if out.InnerDiameter.Known() && out.Wall.Known() && (in.WaveSpeed.Set || pipeKnown(out.Material)) {
			return true // the user knows a pipe that the tables do not
		}
		r.lookup(in, err)
		return false
	}
	out.Material, out.Class = d.Material, d.Class
	d, liningAssumed := r.lined(in, d)
	r.checkTable(in, out, d)
	r.tabulated(name, in, out, tableRow{d, liningAssumed})
	return r.checkBore(in, out, d)
}

// tableRow is a pipe of the tables, and whether its lining was assumed.
type tableRow struct {
	pipe.Dimension
	liningAssumed bool
}

// tabulated takes from the table what was not given. Where the class or the lining
// was not said, the range spans those that the size is made in.
func (r *resolver) tabulated(name string, in *RunFile, out *Run, d tableRow) {
	source := d.Standard + " (" + d.Status + ")"
	table := func(name string, si float64, of func(pipe.Dimension) float64, unsaid []string) basis.Value {
		if len(unsaid) == 0 {
			return r.fix(basis.NewCatalog(name, quantity.Diameter, si, source))
		}
		low, high := si, si
		for _, other := range d.others(in) {
			low, high = min(low, of(other)), max(high, of(other))
		}
		return r.fix(basis.NewAssumed(name, quantity.Diameter, si, low, high, strings.Join(unsaid, "; "), source))
	}
	var unsaid []string
	if !in.Class.Set {
		unsaid = append(unsaid, "class not given: "+d.Class+" is assumed")
	}
	out.Wall = or(out.Wall, table("wall of the "+name, d.MeanWallM,
		func(o pipe.Dimension) float64 { return o.MeanWallM }, unsaid))
	if d.liningAssumed {
		unsaid = append(unsaid, "lining not given: cement mortar is assumed, usual in iron pipe for water")
	}
	out.InnerDiameter = or(out.InnerDiameter, table("inner diameter of the "+name, d.IDM(), pipe.Dimension.IDM, unsaid))
	if !out.Rating.Known() && d.RatedPressurePa > 0 {
		out.Rating = r.fix(basis.NewCatalog("pressure rating of the "+name, quantity.Pressure, d.RatedPressurePa,
			d.RatingSource))
	}
	if d.OccasionalPressurePa > d.RatedPressurePa {
		out.SurgeAllowance = r.fix(basis.NewCatalog("surge allowance of the "+name, quantity.Pressure,
			d.OccasionalPressurePa-d.RatedPressurePa, d.SurgeRule))
	}
}

// others are the pipes that this one may be as well, by what was not said.
func (d tableRow) others(in *RunFile) []pipe.Dimension {
	out := []pipe.Dimension{d.Dimension}
	if classes, err := pipe.Classes(d.Material); err == nil && !in.Class.Set {
		for _, c := range classes {
			if other, err := pipe.Lookup(d.Material, c, d.Size); err == nil && other.Standard == d.Standard {
				other.LiningM = d.LiningM
				out = append(out, other)
			}
		}
	}
	if d.liningAssumed {
		for _, bare := range out {
			bare.LiningM = 0
			out = append(out, bare)
		}
	}
	return out
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

// lined applies the cement lining that iron pipe has unless said otherwise, and says
// whether it was assumed.
func (r *resolver) lined(in *RunFile, d pipe.Dimension) (pipe.Dimension, bool) {
	if in.Lining.Text == "none" || (!in.Lining.Set && d.Material != "ductile iron") {
		return d, false
	}
	if lined, ok := d.Lined(); ok {
		return lined, !in.Lining.Set
	}
	if in.Lining.Set {
		r.warn(in.Lining.At, "lining-unknown", "no cement lining is tabulated for this pipe: it is taken as bare", "",
			"give inner_diameter")
	}
	return d, false
}

// checkTable warns when what was given is not what the standard has.
func (r *resolver) checkTable(in *RunFile, out *Run, d pipe.Dimension) {
	if in.InnerDiameter.Set {
		id, table := in.InnerDiameter.SI(), r.show(quantity.Diameter, d.IDM())
		switch {
		case id >= d.ODM: // told by checkBore
		case apart(id, d.IDM()) > 0.02 && math.Abs(id-out.Size.NominalM()) < 1e-6:
			r.warn(in.InnerDiameter.At, "nominal-as-bore",
				"the nominal size is given as inner diameter; the standard's is "+table+
					". The given one is used", "", "leave inner_diameter out to use the table")
		case apart(id, d.IDM()) > 0.05:
			r.warn(in.InnerDiameter.At, "diameter-differs",
				"the standard's inner diameter of "+d.Material+" "+d.Class+" is "+table+", not "+
					r.show(quantity.Diameter, id)+". The given one is used", "", "check material, class and size")
		}
	}
	if in.Wall.Set && in.Class.Set && apart(in.Wall.SI(), d.MeanWallM) > 0.25 {
		r.warn(in.Wall.At, "wall-differs",
			"the standard's wall of "+d.Material+" "+d.Class+" is "+r.show(quantity.Diameter, d.MeanWallM)+
				". The given one is used", "", "check material, class and size")
	}
}

// checkBore refuses an inner diameter that is larger than the outside of the pipe.
func (r *resolver) checkBore(in *RunFile, out *Run, d pipe.Dimension) bool {
	if out.InnerDiameter.SI < d.ODM {
		return true
	}
	r.error(in.InnerDiameter.At, "diameter-too-large",
		"the inner diameter is larger than the outside of this pipe, "+r.show(quantity.Diameter, d.ODM), "about "+
			r.show(quantity.Diameter, d.IDM()), "mend inner_diameter or size")
	return false
}
