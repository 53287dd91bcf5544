package truth

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// validationIntro opens VALIDATION.md; the counts follow it.
const validationIntro = `# What has been checked, and against what

This page is written by the test in ` + "`truth/`" + `; do not edit it. Renew it with
` + "`SEATWARD_UPDATE=1 go test ./truth`" + `.

Each line below rests on numbers that come from outside this program: published
tables, standards, worked examples, other implementations, measurements and
exact solutions. They stand in ` + "`truth/cases/`" + `, one row per number, each with its
source and the reason for its tolerance. A number that this program computed
itself is not among them.

How a number came to us is part of its worth. *Seen* means read in the source
named. *Computed* means worked out from the published equation by other means,
to many digits. *Derived* means simple arithmetic on a number that was seen.
*From memory* means that nobody has yet looked it up again: it shows that the
code is not grossly wrong, and no more.

Agreement with these numbers says that the formulas are written down right. It
does not say that a given pump, pipe or valve behaves like them.
`

// unheard names experiments that the models should be held against and are not.
const unheard = `
## Experiments not compared

- Holmboe and Rouleau (Journal of Basic Engineering 89, 1967), oil stopped at once in a
  copper tube: neither a table nor a figure of the measured histories was at hand. Their
  tube and oil are computed and held to the exact solution for laminar flow instead, with
  quasi-steady and with unsteady friction (rows of laminar-stop).
- Moving check valves in a test rig: no free data set was at hand. The valves' motion is
  held to closed forms and to published closing curves.
`

// validation writes VALIDATION.md from the rows' outcomes and the formulas
// that the source declares.
func validation(outcomes []Outcome, formulas []declared) string {
	groups := groupByFormula(outcomes)
	var b strings.Builder
	b.WriteString(validationIntro)
	unchecked := uncheckedFormulas(groups, formulas)
	writeCounts(&b, outcomes, len(formulas), len(unchecked))
	writeOverview(&b, groups)
	writeKnown(&b, outcomes)
	writeUnchecked(&b, unchecked)
	b.WriteString(unheard)
	writeSources(&b, groups, formulas)
	return b.String()
}

// group is the rows of one evaluator.
type group struct {
	*Evaluator
	rows []Outcome
}

// groupByFormula sorts the groups by topic, then by name.
func groupByFormula(outcomes []Outcome) []group {
	byName := map[string]*group{}
	for _, o := range outcomes {
		g := byName[o.Formula]
		if g == nil {
			e := evaluators[o.Formula]
			if e == nil {
				continue // reported by the test as a miss
			}
			g = &group{Evaluator: e}
			byName[o.Formula] = g
		}
		g.rows = append(g.rows, o)
	}
	groups := make([]group, 0, len(byName))
	for _, g := range byName {
		groups = append(groups, *g)
	}
	slices.SortFunc(groups, func(a, b group) int {
		return cmp.Or(strings.Compare(a.rows[0].Topic(), b.rows[0].Topic()), strings.Compare(a.Name, b.Name))
	})
	return groups
}

// checks reports whether the group checks formula f: by ID, by ID/variant, or
// by naming f's kernel as the place in the code.
func (g group) checks(f declared) bool {
	id, _, _ := strings.Cut(g.Name, "/")
	if id == f.ID || g.Name == f.ID {
		return true
	}
	places := strings.FieldsFunc(g.Where, func(r rune) bool { return strings.ContainsRune(" ,;()", r) })
	return f.Kernel != "" && slices.Contains(places, f.Kernel)
}

func uncheckedFormulas(groups []group, formulas []declared) []declared {
	var out []declared
	for _, f := range formulas {
		if !slices.ContainsFunc(groups, func(g group) bool { return g.checks(f) }) {
			out = append(out, f)
		}
	}
	return out
}

func writeCounts(b *strings.Builder, outcomes []Outcome, formulas, unchecked int) {
	known, statuses := 0, map[string]int{}
	for _, o := range outcomes {
		if o.Tolerance.Form == Known {
			known++
		}
		statuses[o.StatusWord()]++
	}
	fmt.Fprintf(b, "\n%s from outside: %s.\n%d agree within their tolerance, %s.\n",
		numbers(len(outcomes)), tally(statuses), len(outcomes)-known, plural(known, "is a known disagreement", "are known disagreements"))
	fmt.Fprintf(b, "The code declares %s; %s against nothing from outside yet.\n",
		plural(formulas, "formula", "formulas"), plural(unchecked, "is checked", "are checked"))
}

func writeOverview(b *strings.Builder, groups []group) {
	b.WriteString("\n## Checked\n\n\"Worst\" is the row that uses up most of its tolerance.\n")
	topic := ""
	for _, g := range groups {
		if t := g.rows[0].Topic(); t != topic {
			topic = t
			fmt.Fprintf(b, "\n### %s\n\n| formula | code | numbers | kinds | worst |\n|---|---|--:|---|---|\n", topic)
		}
		kinds := map[string]int{}
		for _, o := range g.rows {
			kinds[o.Kind]++
		}
		fmt.Fprintf(b, "| %s | `%s` | %d | %s | %s |\n", cell(g.Name), g.Where, len(g.rows), tally(kinds), cell(worst(g.rows)))
	}
}

// worst describes the row that uses up most of its tolerance.
func worst(rows []Outcome) string {
	text, share := "all are known disagreements", -1.0
	for _, o := range rows {
		if o.Tolerance.Form == Known {
			continue
		}
		off := o.offBeyondRounding()
		s := 0.0
		if off > 0 && o.Tolerance.Form != Range {
			s = off / o.Tolerance.Size
		}
		if s > share {
			share, text = s, o.describe(off)+" ("+o.ID+")"
		}
	}
	return text
}

// offBeyondRounding is the row's error, or 0 where it is mere rounding: that
// depends on the machine, and this page must not.
func (o Outcome) offBeyondRounding() float64 {
	scale := 1.0
	if o.Tolerance.Form == Absolute && o.Expected != 0 {
		scale = math.Abs(o.Expected)
	}
	if o.Error < rounding*scale {
		return 0
	}
	return o.Error
}

// describe sets the difference beside what the tolerance allows.
func (o Outcome) describe(off float64) string {
	difference, allowed := "", ""
	switch o.Tolerance.Form {
	case Range:
		return "inside the published range"
	case Absolute:
		difference, allowed = fmt.Sprintf("%.2g", off), quantified(fmt.Sprintf("%.2g", o.Tolerance.Size), o.Unit)
	default:
		difference, allowed = percent(off), percent(o.Tolerance.Size)
	}
	if off == 0 {
		return "rounding only"
	}
	return difference + " of " + allowed + " allowed"
}

func writeKnown(b *strings.Builder, outcomes []Outcome) {
	b.WriteString("\n## Known disagreements\n\n")
	before := b.Len()
	for _, o := range outcomes {
		if o.Tolerance.Form == Known {
			fmt.Fprintf(b, "- **%s** (%s): published %s, computed %s, %s apart. Reason: %s Source: %s.\n",
				o.ID, o.Formula, figures(o.Expected, o.Error), quantified(figures(o.Got, o.Error), o.Unit), percent(o.Error), sentence(o.Note), strings.TrimSuffix(o.Source, "."))
		}
	}
	if b.Len() == before {
		b.WriteString("None recorded.\n")
	}
}

func writeUnchecked(b *strings.Builder, unchecked []declared) {
	b.WriteString("\n## Not yet checked\n\n")
	if len(unchecked) == 0 {
		b.WriteString("Every formula that the code declares has at least one number from outside.\n")
		return
	}
	b.WriteString("These formulas are in use and no number from outside has been held against them.\n\n| formula | what it gives | declared in |\n|---|---|---|\n")
	for _, f := range unchecked {
		file, _, _ := strings.Cut(f.Place, ":")
		fmt.Fprintf(b, "| %s | %s | `%s` |\n", cell(f.ID), cell(f.Title), file)
	}
}

func writeSources(b *strings.Builder, groups []group, formulas []declared) {
	b.WriteString("\n## Sources, formula by formula\n")
	for _, g := range groups {
		fmt.Fprintf(b, "\n**%s**", g.Name)
		if i := slices.IndexFunc(formulas, g.checks); i >= 0 && formulas[i].Title != "" {
			fmt.Fprintf(b, ", %s", formulas[i].Title)
		}
		b.WriteString("\n\n")
		type key struct{ source, status string }
		counts := map[key]int{}
		for _, o := range g.rows {
			counts[key{o.Source, o.StatusWord()}]++
		}
		keys := slices.SortedFunc(maps.Keys(counts), func(a, b key) int {
			return cmp.Or(counts[b]-counts[a], strings.Compare(a.source, b.source), strings.Compare(a.status, b.status))
		})
		for _, k := range keys {
			fmt.Fprintf(b, "- %s (%s, %s)\n", k.source, numbers(counts[k]), k.status)
		}
	}
}

func numbers(n int) string { return plural(n, "number", "numbers") }

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// tally prints "12 closed form, 3 measurement", the greatest first.
func tally(counts map[string]int) string {
	keys := slices.SortedFunc(maps.Keys(counts), func(a, b string) int {
		return cmp.Or(counts[b]-counts[a], strings.Compare(a, b))
	})
	parts := make([]string, len(keys))
	for i, k := range keys {
		parts[i] = fmt.Sprintf("%d %s", counts[k], k)
	}
	return strings.Join(parts, ", ")
}

// rounding is the relative size below which a difference says nothing.
const rounding = 1e-10

func percent(share float64) string { return fmt.Sprintf("%.2g %%", 100*share) }

// quantified writes a number with its unit, which "-" says it has not.
func quantified(number, unit string) string { return strings.TrimSuffix(number+" "+unit, " -") }

// figures prints v with enough figures to show a relative difference of off.
func figures(v, off float64) string {
	n := 4
	if off > 0 {
		n = max(n, 2-int(math.Floor(math.Log10(off))))
	}
	return strconv.FormatFloat(v, 'g', n, 64)
}

func cell(text string) string { return strings.ReplaceAll(text, "|", `\|`) }

// sentence ends text with a full stop.
func sentence(text string) string {
	if strings.HasSuffix(text, ".") {
		return text
	}
	return text + "."
}
