// Package fit answers whether a valve goes in where the old one was: what the old one
// probably is, by what a tape can measure, and what each valve of a catalog needs there.
package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"seatward/catalog"
	"seatward/dimension"
	"seatward/quantity"
	"seatward/valve"
)

// Old is what is known of the old valve and its place; 0 and "" stand for unknown.
type Old struct {
	dimension.Taped
	BoreM, FaceToFaceM float64
	ClearanceM, CoverM float64         // free height over the axis; height of the old valve's cover over it
	MassKg, StraightM  float64         // straight pipe before the valve
	Position           *valve.Position // nil where it was not given
}

// Allowances are what a match takes for granted, in plain words.
func (o Old) Allowances(sys quantity.System) []string {
	return []string{
		"the tape was read to " + long(sys, o.WithinM),
		fmt.Sprintf("flanges as cast keep to %s of their standard outside, bolt circles, bolts and holes to %s (common practice, no source)", long(sys, dimension.CastingM), long(sys, dimension.DrilledM)),
		fmt.Sprintf("gaskets take up %s of the laying length (common practice, no source)", long(sys, dropIn)),
		"the flanges of the pipe are those of the old valve",
	}
}

// Guess is what the old valve may be.
type Guess struct {
	Size    quantity.Size
	Flanges []dimension.Fit // of this size
	Lengths []LengthFit
	Bore    string // how the bore fits, "" where it was not measured
	Near    bool   // something does not fit
}

// LengthFit is a standard length near the measured one.
type LengthFit struct {
	Length dimension.Length
	OffM   float64 // measured less standard
	Doubt  string  // what other sources say; "" where they agree
}

// Kind says what a point of a fit is.
type Kind uint8

// The kinds of point, from harmless to decisive.
const (
	Good Kind = iota
	Work      // can be made to fit
	Ask       // not known
	Bad       // does not go in
)

// String names the kind.
func (k Kind) String() string { return [...]string{"fits", "work", "ask", "clash"}[k] }

// Point is one thing to look at.
type Point struct {
	Kind        Kind
	About, Text string
	Basis       string
}

// Valve is a valve of the catalog in the old one's place.
type Valve struct {
	Item   *catalog.Item
	Ends   string // the ends that mate, as ordered; "" where none do
	GapM   float64
	Points []Point

	sys quantity.System
}

// Worst is the worst point.
func (v *Valve) Worst() Kind {
	worst := Good
	for _, p := range v.Points {
		worst = max(worst, p.Kind)
	}
	return worst
}

// Answer is all that is said of one place.
type Answer struct {
	Old     Old
	Guesses []Guess // the best first
	Valves  []Valve // of the best guess's sizes, the best first
}

// lengthNear is how far a length may be off to be reported as a near miss, m.
const lengthNear = 0.012

// Find guesses what the old valve is and puts the catalogs' valves in its place. What was
// not measured is asked for, not guessed.
func Find(old Old, catalogs []*catalog.Catalog, sys quantity.System) Answer {
	out := Answer{Old: old, Guesses: guesses(old, sys)}
	var sizes []quantity.Size
	for _, g := range out.Guesses {
		if !g.Near || len(sizes) == 0 {
			sizes = append(sizes, g.Size)
		}
	}
	flanges := mating(out.Guesses)
	for _, c := range catalogs {
		for _, f := range c.Families {
			for _, it := range f.Items {
				if slices.Contains(sizes, it.Size) {
					out.Valves = append(out.Valves, place(it, old, flanges[it.Size], sys))
				}
			}
		}
	}
	slices.SortStableFunc(out.Valves, func(a, b Valve) int {
		if w := int(a.Worst()) - int(b.Worst()); w != 0 {
			return w
		}
		return cmp.Compare(math.Abs(a.GapM), math.Abs(b.GapM))
	})
	return out
}

// guesses gathers flanges, lengths and bore by size.
func guesses(old Old, sys quantity.System) []Guess {
	bySize := map[quantity.Size]*Guess{}
	at := func(s quantity.Size) *Guess {
		if bySize[s] == nil {
			bySize[s] = &Guess{Size: s}
		}
		return bySize[s]
	}
	fits := dimension.Match(old.Taped)
	for _, f := range fits {
		g := at(f.Flange.Size)
		g.Flanges = append(g.Flanges, f)
	}
	for _, s := range quantity.Sizes() {
		if len(fits) == 0 && old.BoreM > 0 && math.Abs(old.BoreM-s.NominalM()) <= 0.08*s.NominalM()+old.WithinM {
			at(s)
		}
	}
	if len(bySize) == 0 && old.FaceToFaceM > 0 {
		for _, l := range dimension.Lengths() {
			if off(old.FaceToFaceM, l) <= old.WithinM+0.003 {
				at(l.Size)
			}
		}
	}
	var out []Guess
	for _, g := range bySize {
		g.fill(old, sys)
		out = append(out, *g)
	}
	slices.SortFunc(out, func(a, b Guess) int {
		if a.Near != b.Near {
			if a.Near {
				return 1
			}
			return -1
		}
		return a.Size.DN - b.Size.DN
	})
	return out
}

// off is how far a measured length lies outside a standard one, m.
func off(measured float64, l dimension.Length) float64 {
	return math.Max(0, math.Max(l.Low-measured, measured-l.High))
}

// fill holds length and bore to the guess's size.
func (g *Guess) fill(old Old, sys quantity.System) {
	told := map[string]bool{}
	for _, l := range dimension.Lengths() {
		if l.Size != g.Size || old.FaceToFaceM <= 0 || told[l.Standard] ||
			off(old.FaceToFaceM, l) > lengthNear+old.WithinM {
			continue
		}
		told[l.Standard] = true
		g.Lengths = append(g.Lengths, LengthFit{
			l, old.FaceToFaceM - l.Middle(),
			dimension.Disagreement(dimension.LengthsOf(l.Standard, l.Size)),
		})
	}
	slices.SortStableFunc(g.Lengths, func(a, b LengthFit) int {
		return cmp.Compare(math.Abs(a.OffM), math.Abs(b.OffM))
	})
	if old.BoreM > 0 {
		nominal := g.Size.NominalM()
		g.Bore = "bore fits"
		if math.Abs(old.BoreM-nominal) > 0.08*nominal+old.WithinM {
			g.Bore, g.Near = "bore off by "+long(sys, old.BoreM-nominal)+" from nominal", true
		}
	}
	if len(g.Flanges) > 0 && !slices.ContainsFunc(g.Flanges, dimension.Fit.Whole) {
		g.Near = true
	}
}

// mating are the flanges that a new valve must mate with, by size: those of the pipe are
// taken to be those of the old valve. Whole fits count before near misses.
func mating(all []Guess) map[quantity.Size][]dimension.Flange {
	out := map[quantity.Size][]dimension.Flange{}
	for _, g := range all {
		for _, f := range g.Flanges {
			if f.Whole() && !f.Less || len(out[g.Size]) == 0 && g.Near {
				out[g.Size] = append(out[g.Size], f.Flange)
			}
		}
	}
	return out
}

// place puts one valve in the old one's place.
func place(it *catalog.Item, old Old, flanges []dimension.Flange, sys quantity.System) Valve {
	v := Valve{Item: it, sys: sys}
	v.length(old)
	v.drilling(flanges)
	v.position(old)
	v.room(old)
	v.straight(old)
	v.mass(old)
	return v
}

func (v *Valve) add(k Kind, about, text, basis string) {
	v.Points = append(v.Points, Point{k, about, text, basis})
}

// dropIn is the gap that gaskets take up, m (common practice).
const dropIn = 0.003

func (v *Valve) length(old Old) {
	own := v.Item.FaceToFace
	switch {
	case !own.Known():
		v.add(Ask, "laying length", "the catalog does not tell its length", "catalog")
		return
	case old.FaceToFaceM <= 0:
		v.add(Ask, "laying length", fmt.Sprintf("it is %s long; the face-to-face of the old valve was not measured",
			v.long(own.SI)), own.Source)
		return
	}
	v.GapM = old.FaceToFaceM - own.SI
	switch {
	case math.Abs(v.GapM) <= dropIn:
		v.add(Good, "laying length", fmt.Sprintf("%s, drops in", v.long(own.SI)), own.Source)
	case v.GapM > 0:
		v.add(Work, "laying length", fmt.Sprintf("%s: a spacer of %s with a second gasket and longer bolts makes up the gap", v.long(own.SI), v.long(v.GapM)), own.Source)
	default:
		v.add(Work, "laying length", fmt.Sprintf("%s: the pipe is cut back by %s, or a fitting changed", v.long(own.SI),
			v.long(-v.GapM)), own.Source)
	}
}

// drilling finds ends that mate with the pipe's flanges.
func (v *Valve) drilling(flanges []dimension.Flange) {
	it := v.Item
	if len(flanges) == 0 {
		v.add(Ask, "drilling", "the flanges were not measured: bolt circle, number and size of bolts say whether they mate", "")
		return
	}
	for _, f := range flanges[1:] {
		if d, text := dimension.Compare(flanges[0], f); d != dimension.Mates {
			v.add(Ask, "drilling", fmt.Sprintf(
				"the pipe may be %s or %s, which do not mate (%s): measure the bolt circle to a millimeter, and the bolts", flanges[0].Standard, f.Standard, text), flanges[0].Record.String()+"; "+f.Record.String())
			return
		}
	}
	best, why, cite := dimension.Clashes, "", ""
	known := false
	for _, e := range it.Family.Ends {
		own, ok := dimension.FlangeOf(e.Standard, it.Size)
		if !e.Covers(it.Size) || !ok {
			continue
		}
		for _, f := range flanges {
			d, text := dimension.Compare(own, f)
			if !known || d < best {
				best, v.Ends = d, e.Standard
				why, cite = e.Standard+" on "+f.Standard+": "+text, own.Record.String()+"; "+f.Record.String()
			}
			known = true
		}
	}
	switch {
	case !known:
		v.add(Ask, "drilling", "no ends of it are flanges whose drilling is known here", "catalog")
	case best == dimension.Mates:
		v.add(Good, "drilling", why, cite)
	case best == dimension.Near:
		v.add(Work, "drilling", why, cite)
	default:
		v.Ends = ""
		v.add(Bad, "drilling", why, cite)
	}
}

func (v *Valve) position(old Old) {
	switch {
	case old.Position == nil:
		v.add(Ask, "position", "the position of the old valve was not given", "")
	case !v.Item.Allows(*old.Position):
		v.add(Bad, "position", "the maker does not allow it "+old.Position.String(), "catalog")
	default:
		v.add(Good, "position", "allowed "+old.Position.String()+
			"; the arrow on the body points with the flow, away from the pump", "catalog")
	}
}

func (v *Valve) room(old Old) {
	need := v.Item.Clearance
	switch {
	case !need.Known():
		v.add(Ask, "clearance", "the catalog does not tell what height cover and element need", "catalog")
	case old.ClearanceM <= 0 && old.CoverM > 0:
		v.add(Ask, "clearance", fmt.Sprintf("%s over the axis are needed to lift cover and element out; the cover of the old valve stands at %s, what is free over it was not measured", v.long(need.SI), v.long(old.CoverM)), need.Source)
	case old.ClearanceM <= 0:
		v.add(Ask, "clearance", fmt.Sprintf("%s over the axis are needed to lift cover and element out; what is free was not measured", v.long(need.SI)), need.Source)
	case old.ClearanceM < need.SI:
		v.add(Work, "clearance", fmt.Sprintf("%s over the axis are needed to lift cover and element out, %s are free: it must come out whole", v.long(need.SI), v.long(old.ClearanceM)), need.Source)
	default:
		v.add(Good, "clearance", fmt.Sprintf("%s over the axis are needed, %s are free", v.long(need.SI),
			v.long(old.ClearanceM)), need.Source)
	}
}

func (v *Valve) straight(old Old) {
	need := v.Item.Family.StraightBefore
	switch {
	case !need.Known():
		v.add(Ask, "straight pipe", "the maker does not say what straight pipe it needs before it", "catalog")
	case old.StraightM <= 0:
		v.add(Ask, "straight pipe", quantity.Figures(need.SI, 2)+
			" diameters are required upstream; what is there was not measured", need.Source)
	case old.StraightM < need.SI*v.Item.Size.NominalM()*0.99:
		v.add(Work, "straight pipe", fmt.Sprintf("%s diameters are required upstream, %s are there",
			quantity.Figures(need.SI, 2), quantity.Figures(old.StraightM/v.Item.Size.NominalM(), 2)), need.Source)
	default:
		v.add(Good, "straight pipe", quantity.Figures(need.SI, 2)+" diameters are required upstream and are there",
			need.Source)
	}
}

func (v *Valve) mass(old Old) {
	own := v.Item.Mass
	switch {
	case !own.Known():
		v.add(Ask, "mass", "the catalog does not tell its mass: the supports cannot be judged", "catalog")
	case old.MassKg <= 0:
		v.add(Ask, "mass", fmt.Sprintf("%s; that of the old valve is not known: look at the supports", v.heavy(own.SI)),
			own.Source)
	case own.SI > 1.1*old.MassKg:
		v.add(Work, "mass", fmt.Sprintf("%s, %s heavier: look at the supports", v.heavy(own.SI),
			v.heavy(own.SI-old.MassKg)), own.Source)
	default:
		v.add(Good, "mass", fmt.Sprintf("%s, %s against the old one", v.heavy(own.SI), v.heavy(own.SI-old.MassKg)),
			own.Source)
	}
}

// long prints a length as a tape shows it: whole millimeters, or inches to a sixteenth
// or so.
func long(sys quantity.System, m float64) string {
	if sys == quantity.SI {
		return fmt.Sprintf("%.0f mm", 1000*m)
	}
	return fmt.Sprintf("%.2f in", m/0.0254)
}

func (v *Valve) long(m float64) string { return long(v.sys, m) }

func (v *Valve) heavy(kg float64) string { return v.sys.Format(quantity.Mass, kg) }
