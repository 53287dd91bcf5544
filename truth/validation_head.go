package truth

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// validationIntro opens VALIDATION.md; the counts follow it.
const validationIntro = `# What has been checked, and against what

Written by the test in ` + "`truth/`" + `; do not edit it. Renew it with
` + "`SEATWARD_UPDATE=1 go test ./truth`" + `. The numbers stand in ` + "`truth/cases/`" + `, one row each,
with source, tolerance and the reason for the tolerance.

These checks say that the formulas are written down right and solved right. They do
not say that a given pump, pipe or valve behaves like them.

`

// worths explains each worth of a row, in the order of Checks.
var worths = map[Check]string{
	Outside:     "a number that somebody else printed: standard, handbook, worked example, measurement, the tests of another program",
	Exact:       "a closed form or an identity, worked out by other means than the code",
	Independent: "a second program of the same equations, written apart. It finds slips of coding, not wrong equations",
	FromMemory:  "the number or formula is from memory; nobody has looked it up again",
	Order:       "the tolerance is wider than 5 %, so the row shows the order of magnitude only",
	Pinned:      "our own table entry, knot, fit or answer read back. It shows a change or a typing slip, nothing else",
	Disagrees:   "the code and the source differ; listed below with the reason",
}

// plainLimits says what no count shows.
const plainLimits = `
## Read this before you rely on a number

- **Closing curves of check valves are computed by two independent codes, not measured.**
  They are of three made-up reference valves; the swing check among them has the law of
  those runs, not that of the products. No measured closing curve, torque table or
  moving-valve rig was at hand.
- **Whole runs of a station, until the valve rests, are hardly checked.** Checked: the energy
  in a pipe with repeated slams is neither made nor lost, within a ten-thousandth of the
  tank's work (a test of its own, no row), and an ideal check valve shuts once and stays
  shut (failing-supply). Pinned: the slams of two stations whose valve opens again (station
  stop), our own answers on several grids. They show when the program moves, not that it
  is right. Known: against a second program of the same equations, a caged ball closes 4 %
  later, slams 1 % harder the first time and is up to 19 % off in the next four closings;
  the sixth does not come. The law by which the supply of that program falls is not known
  (rows ram-). Three of our own older answers are listed as known too. No measured stop
  of a station is among the rows.
- **Pump run-down** is held to a second program that reads the same published table of
  pump characteristics (specific speed 25). The table of 147 is held against nothing.
- **Column separation** is held to the exact solution for one cavity without friction. The
  only experiment of all rows is one pipe with column separation, its numbers read off a
  figure and from memory: the highest pulse comes out 5 to 14 % too high (rows wave-350 and
  wave-351).
- **The ball-pocket curves** come from our own flow computation of a generic body. They are
  pinned, not measured. The loss at the smallest opening is entered 4 % below the computed
  one, because the computed fluid is compressible in the tight gap.
- **The swing disc** (swing, lever, spring, cushion) follows our own flow computation of a
  generic body: loss within one standard deviation, 12 to 20 %, of its table; efficiency,
  inertia and pull are the table. Bodies differ by 0.7 to 2.5 times in loss at part opening;
  the chamber's diameter is the greatest part of that. The rows read "order of magnitude".
- **Rubber flap, tilting disc and dual plate are not computed.** They use the law of the swing
  disc on their own geometry: gaps on the rim on both sides of the axis, the same jets, and
  the passage that disc or plates leave in their body. Seat and full opening are exact; between
  them what swing bodies differ by stands in, 0.7 to 2.5 times.
- **The order of the trade** (plain swing and ball slam worst; then lever and weight; tilting
  disc and flap; dual plate; axial spring least; common practice, no source) is held for the
  median reverse velocity of the demonstration valves of DN200 at 3, 6 and 10 m/s2: rows
  trade-. Those valves are invented, each by the mechanics of its type and the handbook's pairs
  of loss and full-open velocity, so the rows say that laws and data together are plausible and
  no more. The order fails in four rows, listed below: a ball in its pocket comes out 6 to 16 %
  below a lever and weight, because in the computed flow it parks 40 % up its guide and has a
  short stroke to go (from the end of its pocket it is by far the worst), and a caged ball at 3
  m/s2, because it stands upright. At 3 m/s2 neighbors lie inside each other's bands; there the
  pressure with which weight or spring closes an element near its seat decides, at 10 m/s2 its
  way and its inertia.
- **A swing check's loss in a secondary table** of unknown body lies below the law in use, at
  0.4 to 0.76 of it, and from 8° on above the gap law of former versions: rows shape-4 to
  shape-28, shown and not held.
- **Inertia of pump and motor** comes from published fits with a wide scatter. The checks show
  that the fits are typed right, not how near your set is to them.
- **Pipe, flange and fitting tables** were typed from the sources named. Reading them back
  is pinned; the few entries that a second table or a rule confirms are used as checks.
- Holmboe and Rouleau (Journal of Basic Engineering 89, 1967), oil stopped at once in a
  copper tube: the measured histories were not at hand. Their tube and oil are computed and
  held to the exact solution for laminar flow (rows of laminar-stop).
`

// writeCounts prints how many rows there are of each worth and how sharp the checks are.
func writeCounts(b *strings.Builder, outcomes []Outcome, groups []group, formulas []declared) {
	counts, memory, proving := map[Check]int{}, map[Check]int{}, 0
	widths := []float64{1e-6, 1e-3, 1e-2, widest}
	within := make([]int, len(widths))
	for _, o := range outcomes {
		counts[o.Check]++
		if o.StatusWord() == "from memory" {
			memory[o.Check]++
		}
		if !o.Check.proves() {
			continue
		}
		proving++
		width := o.Tolerance.width(o.Expected)
		within[slices.IndexFunc(widths, func(w float64) bool { return width <= w })]++
	}
	fmt.Fprintf(b, "**%d checks, all within tolerance.** %d more numbers are no checks.\n\n| | numbers | held against |\n|---|--:|---|\n", proving, len(outcomes)-proving)
	for _, c := range Checks {
		name, more := string(c), ""
		if c.proves() {
			name = "**" + name + "**"
		}
		if c == Pinned && memory[c] > 0 {
			more = fmt.Sprintf(" (%d of them typed from memory)", memory[c])
		}
		fmt.Fprintf(b, "| %s | %d | %s%s |\n", name, counts[c], worths[c], more)
	}
	b.WriteString("\nTolerance of the checks, as a share of the number or of the full scale: ")
	for i, n := range within {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(b, "%d within %s", n, percent(widths[i]))
	}
	unchecked, _ := uncheckedFormulas(groups, formulas)
	fmt.Fprintf(b, ".\nThe code declares %s; %s at least one check, %d none.\n",
		plural(len(formulas), "formula", "formulas"), plural(len(formulas)-len(unchecked), "has",
			"have"), len(unchecked))
}

// large is the difference from which a known disagreement stands at the head.
const large = 0.01

// writeLarge lists the known disagreements that an engineer would notice.
func writeLarge(b *strings.Builder, outcomes []Outcome) {
	all, listed := 0, 0
	var lines strings.Builder
	for _, o := range outcomes {
		if o.Check != Disagrees {
			continue
		}
		all++
		if o.Error >= large {
			listed++
			lines.WriteString(o.disagreement())
		}
	}
	fmt.Fprintf(b, "\n## Known disagreements of 1 %% or more\n\n%d of %d. The small ones, mostly the rounding of old tables, stand further below.\n\n%s", listed, all, lines.String())
}

// writeKnown lists the rest, the numbers of one formula and source together.
func writeKnown(b *strings.Builder, outcomes []Outcome) {
	b.WriteString("\n## Known disagreements below 1 %\n\nThe reason is that of the worst row; `truth/cases/` has each row's own.\n\n")
	type key struct{ formula, source string }
	var (
		keys []key
		rows = map[key][]Outcome{}
	)
	for _, o := range outcomes {
		if k := (key{o.Formula, o.Source}); o.Check == Disagrees && o.Error < large {
			if rows[k] == nil {
				keys = append(keys, k)
			}
			rows[k] = append(rows[k], o)
		}
	}
	if len(keys) == 0 {
		b.WriteString("None recorded.\n")
	}
	for _, k := range keys {
		worst := slices.MaxFunc(rows[k], func(a, b Outcome) int { return cmp.Compare(a.Error, b.Error) })
		if len(rows[k]) == 1 {
			b.WriteString(worst.disagreement())
			continue
		}
		fmt.Fprintf(b, "- %s, %s, at most %s apart (%s). Reason: %s Source: %s.\n",
			k.formula, numbers(len(rows[k])), percent(worst.Error), worst.ID, sentence(worst.Note),
			strings.TrimSuffix(k.source, "."))
	}
}

// disagreement is a known disagreement in one line.
func (o Outcome) disagreement() string {
	return fmt.Sprintf("- **%s** (%s): the source has %s, the code %s, %s apart. Reason: %s Source: %s.\n",
		o.ID, o.Formula, figures(o.Expected, o.Error), quantified(figures(o.Got, o.Error),
			o.Unit), percent(o.Error), sentence(o.Note), strings.TrimSuffix(o.Source, "."))
}

// writeUnchecked lists the formulas that no check is held against.
func writeUnchecked(b *strings.Builder, groups []group, formulas []declared) {
	b.WriteString("\n## Formulas without a check\n\n")
	unchecked, others := uncheckedFormulas(groups, formulas)
	if len(unchecked) == 0 {
		b.WriteString("Every formula that the code declares has at least one check.\n")
		return
	}
	b.WriteString("They are in use. What there is of other rows stands beside.\n\n| formula | what it gives | declared in | other rows |\n|---|---|---|---|\n")
	for i, f := range unchecked {
		file, _, _ := strings.Cut(f.Place, ":")
		rest := "none"
		if len(others[i]) > 0 {
			rest = tally(others[i])
		}
		fmt.Fprintf(b, "| %s | %s | `%s` | %s |\n", cell(f.ID), cell(f.Title), file, rest)
	}
}
