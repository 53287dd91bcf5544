package text

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// bestCount is how many valves are shown side by side.
const bestCount = 3

// best puts the best valves side by side, and tells below what each depends on.
func (r *report) best() {
	var best []*judge.Assessment
	for i := range r.s.Assessments {
		if a := &r.s.Assessments[i]; a.Rank > 0 && len(best) < bestCount {
			best = append(best, a)
		}
	}
	if len(best) == 0 {
		return
	}
	switch len(best) {
	case 1:
		r.heading("The one that can be used")
	case bestCount:
		r.heading("The first three")
	default:
		r.heading("The two that can be used")
	}
	r.sideBySide(best)
	for _, a := range best {
		if a.Slam.Lucky {
			r.paraIn(faint, "  ", luckyNote)
			break
		}
	}
	for _, a := range best {
		r.depends(a)
	}
}

// fact is one line of the comparison.
type fact struct {
	name string
	kind quantity.Kind
	tell func(*report, *judge.Assessment) string
}

// facts are the lines of the comparison, in order.
var facts = []fact{
	{"velocity", quantity.Velocity, func(r *report, a *judge.Assessment) string { return r.num(a.Governing.Velocity) }},
	{
		"full-open velocity", quantity.Velocity,
		func(r *report, a *judge.Assessment) string { return r.num(a.FullOpenVelocity) },
	},
	{"disc or ball", quantity.Number, func(r *report, a *judge.Assessment) string { return r.stands(&a.Governing) }},
	{"head loss", quantity.Head, func(r *report, a *judge.Assessment) string { return r.num(a.Governing.Loss) }},
	{"reverse vel.", quantity.Velocity, func(r *report, a *judge.Assessment) string { return r.reverse(&a.Slam) }},
	{
		"  likely", quantity.Number,
		func(r *report, a *judge.Assessment) string { return r.likely(a.Slam.ReverseVelocity, &a.Slam) },
	},
	{"slam (chance)", quantity.Number, func(_ *report, a *judge.Assessment) string { return a.SlamWords() }},
	{"head rise", quantity.Head, func(r *report, a *judge.Assessment) string { return r.num(a.Slam.HeadRise) }},
	{
		"  likely", quantity.Number,
		func(r *report, a *judge.Assessment) string { return r.likely(a.Slam.HeadRise, &a.Slam) },
	},
	{"back head to seal", quantity.Head, func(r *report, a *judge.Assessment) string { return r.num(a.BackHead) }},
	{"energy", quantity.Energy, func(r *report, a *judge.Assessment) string { return r.num(a.EnergyPerYear) }},
	{
		"annual energy cost", quantity.AnnualCost,
		func(r *report, a *judge.Assessment) string { return r.num(a.CostPerYear) },
	},
	{"life-cycle cost", quantity.Cost, func(r *report, a *judge.Assessment) string { return r.num(a.LifeCycleCost) }},
}

// factLabel is how wide the names of the facts are.
const factLabel = 24

// sideBySide prints the facts, one valve a column.
func (r *report) sideBySide(best []*judge.Assessment) {
	verdicts, names := make([]string, len(best)), make([]string, len(best))
	for i, a := range best {
		verdicts[i] = fmt.Sprintf("%d %s %s", a.Rank, markOf[a.Verdict], shortVerdict[a.Verdict])
		names[i] = r.name(a)
	}
	r.aside("", verdicts, func(i int) ink { return inkOf[best[i].Verdict] })
	r.aside("", names, func(int) ink { return strong })
	for _, f := range facts {
		cells := make([]string, len(best))
		for i, a := range best {
			cells[i] = f.tell(r, a)
		}
		r.aside(r.labeled(f), cells, func(int) ink { return plain })
	}
	r.paraIn(faint, "  ", fmt.Sprintf("Velocity, position, head loss and costs at the normal point: %s, %s.",
		best[0].Governing.Name, r.val(best[0].Governing.Flow)))
}

// aside prints cells side by side behind a label, each wrapped in its own column.
func (r *report) aside(label string, cells []string, color func(i int) ink) {
	each := min((Width-2-factLabel-len(cells))/len(cells), 30)
	wrapped := make([][]string, len(cells))
	lines := 1
	for i, c := range cells {
		wrapped[i] = Wrap(c, each)
		lines = max(lines, len(wrapped[i]))
	}
	for n := range lines {
		line := "  " + r.paint(faint, pad(label, factLabel))
		label = ""
		for i := range cells {
			text := ""
			if n < len(wrapped[i]) {
				text = wrapped[i][n]
			}
			line += " " + r.paint(color(i), pad(text, each))
		}
		r.put(line)
	}
}

// labeled is a fact's name with its unit.
func (r *report) labeled(f fact) string {
	unit := r.opt.Units.Unit(f.kind)
	if unit == "" || f.kind == quantity.AnnualCost {
		return f.name
	}
	return f.name + ", " + unit
}

// stands says how the element stands at a duty.
func (r *report) stands(d *judge.Duty) string {
	if d.State == "" {
		return none
	}
	if d.State == "full open" || !d.Opening.Known() {
		return d.State
	}
	return fmt.Sprintf("%s, %s", d.State, r.val(d.Opening))
}

// depends lists the conditions of one valve.
func (r *report) depends(a *judge.Assessment) {
	r.gap()
	r.put(fmt.Sprintf("  %s %s", r.paint(strong, fmt.Sprint(a.Rank)), r.paint(strong, r.fit(a.Item.ID, Width-6))))
	if a.Rank > 1 && a.RankReason != "" {
		r.paraIn(faint, "    ", sentence(a.RankReason))
	}
	told := 0
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Severity == judge.Condition || f.Severity == judge.Open {
			r.finding("    ", f)
			told++
		}
	}
	if told == 0 {
		said := "No conditions: everything that was checked is in order."
		if a.Separation != "" {
			said = "No conditions on the valve itself."
		}
		r.para("    ", said)
	}
}

// confirm lists what is to be confirmed for the first valves before ordering, each point
// once.
func (r *report) confirm() {
	type point struct {
		text   string
		valves []string
	}
	var points []point
	valves := 0
	for i := range r.s.Assessments {
		a := &r.s.Assessments[i]
		if valves == bestCount || a.Rank == 0 && len(r.s.Assessments) > 1 {
			break
		}
		valves++
		for _, f := range a.Findings {
			if f.Severity != judge.Confirm {
				continue
			}
			at := slices.IndexFunc(points, func(p point) bool { return p.text == f.Text })
			if at < 0 {
				at = len(points)
				points = append(points, point{text: f.Text})
			}
			points[at].valves = append(points[at].valves, a.Item.ID)
		}
	}
	if len(points) == 0 {
		return
	}
	r.heading("Confirm before ordering")
	for _, p := range points {
		text := sentenceEnd(p.text)
		if len(p.valves) < valves {
			text = strings.Join(p.valves, ", ") + ": " + text
		}
		r.item(plain, "  ", "□", text)
	}
}

// fit cuts a text that is too long for its place.
func (p *page) fit(text string, n int) string {
	text = Clean(text)
	if width(text) <= n {
		return text
	}
	head, _ := breakWord(text, n-1)
	return head + "…"
}

// finding prints a finding: its mark, what it says, what is missing, what mends it.
func (r *report) finding(indent string, f *judge.Finding) {
	r.item(findingInk[f.Severity], indent, findingMark[f.Severity], f.Text)
	if f.Missing != "" {
		r.paraIn(faint, indent+"  ", "Missing: "+sentenceEnd(f.Lacks()))
	}
	if f.Mend != "" {
		r.para(indent+"  → ", sentenceEnd(f.Mend))
	}
}

// sentenceEnd ends a text with a stop.
func sentenceEnd(s string) string { return strings.TrimRight(strings.TrimSpace(s), ".") + "." }

// cite prints the source of a value or finding; empty where there is none.
func cite(ref string) string {
	if ref == "" {
		return ""
	}
	return basis.Cite(ref)
}
