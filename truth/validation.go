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

// validation writes VALIDATION.md from the rows' outcomes and the formulas
// that the source declares.
func validation(outcomes []Outcome, formulas []declared) string {
	groups := groupByFormula(outcomes)
	var b strings.Builder
	b.WriteString(validationIntro)
	writeCounts(&b, outcomes, groups, formulas)
	b.WriteString(plainLimits)
	writeLarge(&b, outcomes)
	writeUnchecked(&b, groups, formulas)
	writeOverview(&b, groups)
	writeKnown(&b, outcomes)
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

// proven counts the group's rows that are checks.
func (g group) proven() int {
	n := 0
	for _, o := range g.rows {
		if o.Check.proves() {
			n++
		}
	}
	return n
}

// uncheckedFormulas are the formulas that no check is held against; of each it
// gives how many other rows there are, by their worth.
func uncheckedFormulas(groups []group, formulas []declared) ([]declared, []map[string]int) {
	var (
		out    []declared
		others []map[string]int
	)
	for _, f := range formulas {
		checks, rest := 0, map[string]int{}
		for _, g := range groups {
			if g.checks(f) {
				checks += g.proven()
				for _, o := range g.rows {
					rest[string(o.Check)]++
				}
			}
		}
		if checks == 0 {
			out, others = append(out, f), append(others, rest)
		}
	}
	return out, others
}

func writeOverview(b *strings.Builder, groups []group) {
	b.WriteString("\n## Formula by formula\n\n\"Worst\" is the check that uses up most of its tolerance. Rows that are no checks stand beside.\n")
	topic := ""
	for _, g := range groups {
		if t := g.rows[0].Topic(); t != topic {
			topic = t
			fmt.Fprintf(b, "\n### %s\n\n| formula | code | checks | no checks | worst |\n|---|---|---|---|---|\n",
				topic)
		}
		checks, others, proving := map[string]int{}, map[string]int{}, []Outcome{}
		for _, o := range g.rows {
			if o.Check.proves() {
				checks[string(o.Check)]++
				proving = append(proving, o)
			} else {
				others[string(o.Check)]++
			}
		}
		fmt.Fprintf(b, "| %s | `%s` | %s | %s | %s |\n", cell(g.Name), g.Where, tally(checks), tally(others),
			cell(worst(proving)))
	}
}

// worst describes the row that uses up most of its tolerance.
func worst(rows []Outcome) string {
	text, share := "", -1.0
	for _, o := range rows {
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

func writeSources(b *strings.Builder, groups []group, formulas []declared) {
	b.WriteString("\n## Sources, formula by formula\n\n*Seen*: read in the source named. *Computed*: worked out from the printed equation by other\nmeans. *Derived*: plain arithmetic, or a derivation in the row. *From memory*: not looked up.\n")
	for _, g := range groups {
		fmt.Fprintf(b, "\n**%s**", g.Name)
		if i := slices.IndexFunc(formulas, g.checks); i >= 0 && formulas[i].Title != "" {
			fmt.Fprintf(b, ", %s", formulas[i].Title)
		}
		b.WriteString("\n\n")
		type key struct{ source, status, check string }
		counts := map[key]int{}
		for _, o := range g.rows {
			counts[key{o.Source, o.StatusWord(), string(o.Check)}]++
		}
		keys := slices.SortedFunc(maps.Keys(counts), func(a, b key) int {
			return cmp.Or(counts[b]-counts[a], strings.Compare(a.source, b.source), strings.Compare(a.status, b.status),
				strings.Compare(a.check, b.check))
		})
		for _, k := range keys {
			worth := k.check
			if k.status != k.check {
				worth = k.status + ", " + k.check
			}
			fmt.Fprintf(b, "- %s (%s: %s)\n", k.source, numbers(counts[k]), worth)
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
