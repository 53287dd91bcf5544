package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/dimension"
	"seatward/fit"
	"seatward/quantity"
	"seatward/rules"
)

// mostValves is how many valves are shown with all their points; the rest by a line.
const mostValves = 6

// Fit prints what the old valve probably is and what goes in its place.
func Fit(w io.Writer, a *fit.Answer, cautions []rules.Caution, opt Options) error {
	p := newPage(opt)
	p.heading("What the old valve probably is")
	if len(a.Guesses) == 0 {
		p.para("  ", "No standard flange, length or bore fits what was measured. Measure again: bolt circle across two opposite bolts, outside diameter, number of bolts, face to face.")
	}
	for i := range a.Guesses {
		p.guess(&a.Guesses[i])
	}
	if len(a.Valves) > 0 {
		p.heading("What goes in its place")
	}
	for i := range a.Valves {
		v := &a.Valves[i]
		if i == mostValves && !opt.All {
			p.gap()
			p.para("  ", fmt.Sprintf("%s more of this size; --all lists them.", plural(len(a.Valves)-i, "valve")))
			break
		}
		p.placed(v)
	}
	p.gap()
	p.para("  ", "Dimensions from memory, and those on which makers differ, are marked: measure before pipe is cut. The arrow, gaskets and bolts go by the maker's instructions. Whether a valve suits the station is another question: seatward select.")
	p.heading("Assumed")
	for _, x := range a.Old.Allowances(opt.Units) {
		p.item(plain, "  ", "·", sentence(x))
	}
	p.cautions(cautions)
	return p.flush(w)
}

func (p *page) guess(g *fit.Guess) {
	word := ""
	if g.Near {
		word = ", a near miss"
	}
	p.put("  " + p.paint(strong, g.Size.Format(p.opt.Units)+word))
	if g.Bore != "" {
		p.para("    ", sentenceEnd(g.Bore))
	}
	for _, f := range g.Flanges {
		text := f.Flange.Standard + ": "
		if f.Whole() {
			text += fmt.Sprintf("all %d measured dimensions fit", f.Told)
			if f.Less {
				text += ", but less well"
			}
		} else {
			text += "near miss, " + strings.Join(f.Misses, ", ")
		}
		p.para("    ", sentenceEnd(text))
		p.paraIn(faint, "        ", sentenceEnd(f.Flange.Record.String()))
	}
	for _, l := range g.Lengths {
		text := fmt.Sprintf("length of %s: %s off", l.Length.Standard, p.tape(l.OffM))
		if l.Length.Low != l.Length.High {
			text += ", of a range"
		}
		if l.Length.Status == dimension.MakersDiffer {
			text += "; makers differ"
		}
		p.para("    ", sentence(text))
		p.paraIn(faint, "        ", sentenceEnd(l.Length.Record.String()))
		if l.Doubt != "" {
			p.item(amber, "        ", "?", sentenceEnd("Sources disagree: "+l.Doubt))
		}
	}
}

// tape prints a small length.
func (p *page) tape(m float64) string {
	if p.opt.Units == quantity.SI {
		return fmt.Sprintf("%.0f mm", 1000*math.Abs(m))
	}
	return fmt.Sprintf("%.2f in", math.Abs(m)/0.0254)
}

func (p *page) placed(v *fit.Valve) {
	p.gap()
	word := map[fit.Kind]string{
		fit.Good: "drops in", fit.Work: "goes in with work", fit.Ask: "cannot be said in full",
		fit.Bad: "does not go in",
	}[v.Worst()]
	i := map[fit.Kind]ink{fit.Good: strong, fit.Work: amber, fit.Ask: amber, fit.Bad: rust}[v.Worst()]
	p.put("  " + p.paint(strong, p.fit(v.Item.ID, 34)) + "  " + p.paint(i, word))
	for _, pt := range v.Points {
		mark := map[fit.Kind]string{fit.Good: "·", fit.Work: "!", fit.Ask: "?", fit.Bad: "✗"}[pt.Kind]
		text := pt.About + ": " + pt.Text
		p.item(map[fit.Kind]ink{fit.Good: plain, fit.Work: amber, fit.Ask: amber, fit.Bad: rust}[pt.Kind], "    ", mark,
			sentence(text))
		if pt.Kind != fit.Ask && pt.About == "drilling" {
			p.paraIn(faint, "        ", sentenceEnd(strings.Join(distinct(strings.Split(pt.Basis, "; ")), "; ")))
		}
	}
}
