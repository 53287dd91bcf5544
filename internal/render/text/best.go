package text

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// bestCount is how many valves are told side by side.
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
		r.heading("The three best")
	default:
		r.heading("The two that can be used")
	}
	r.sideBySide(best)
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
	{"full open from", quantity.Velocity, func(r *report, a *judge.Assessment) string { return r.num(a.FullOpenVelocity) }},
	{"stands", quantity.Number, func(r *report, a *judge.Assessment) string { return r.stands(&a.Governing) }},
	{"loss", quantity.Head, func(r *report, a *judge.Assessment) string { return r.figures(a.Governing.Loss, lossFigures) }},
	{"runs back at", quantity.Velocity, func(r *report, a *judge.Assessment) string { return r.band(a.Slam.ReverseVelocity) }},
	{"slam", quantity.Number, func(r *report, a *judge.Assessment) string { return classWords(&a.Slam) }},
	{"head rise", quantity.Head, func(r *report, a *judge.Assessment) string { return r.band(a.Slam.HeadRise) }},
	{"seals from", quantity.Head, func(r *report, a *judge.Assessment) string { return r.num(a.BackHead) }},
	{"energy", quantity.Energy, func(r *report, a *judge.Assessment) string { return r.num(a.EnergyPerYear) }},
	{"cost a year", quantity.AnnualCost, func(r *report, a *judge.Assessment) string { return r.num(a.CostPerYear) }},
	{"life-cycle cost", quantity.Cost, func(r *report, a *judge.Assessment) string { return r.num(a.LifeCycleCost) }},
}

// sideBySide prints the facts, one valve a column.
func (r *report) sideBySide(best []*judge.Assessment) {
	const indent, label = "  ", 20
	each := (Width - len(indent) - label - len(best)) / len(best)
	each = min(each, 30)
	names := make([][]string, len(best))
	deepest := 0
	for i, a := range best {
		lines := wrap(a.Item.Family.Title, each)
		lines = append(lines, wrap(strings.TrimPrefix(r.name(a), a.Item.Family.Title+", "), each)...)
		names[i] = append([]string{fmt.Sprintf("%d %s %s", a.Rank, markOf[a.Verdict], shortVerdict[a.Verdict])}, lines...)
		deepest = max(deepest, len(names[i]))
	}
	for n := range deepest {
		line := indent + pad("", label)
		for i, a := range best {
			text, color := "", strong
			if n < len(names[i]) {
				text = names[i][n]
			}
			if n == 0 {
				color = inkOf[a.Verdict]
			}
			line += " " + r.paint(color, pad(text, each))
		}
		r.put(line)
	}
	for _, f := range facts {
		line := indent + r.paint(faint, pad(r.labeled(f), label))
		for _, a := range best {
			line += " " + pad(f.tell(r, a), each)
		}
		r.put(line)
	}
	r.paraIn(faint, indent, fmt.Sprintf("Velocity, stand, loss and cost at the normal point: %s, %s.", best[0].Governing.Name, r.val(best[0].Governing.Flow)))
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

// depends tells what one valve depends on: what is to be met and what was not checked.
func (r *report) depends(a *judge.Assessment) {
	r.gap()
	r.put(fmt.Sprintf("  %s %s", r.paint(strong, fmt.Sprint(a.Rank)), r.paint(strong, r.fit(a.Item.ID, Width-6))))
	if a.Rank > 1 && a.RankReason != "" {
		r.paraIn(faint, "    ", sentence(a.RankReason))
	}
	told := 0
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Severity == judge.Condition || f.Severity == judge.Unchecked {
			r.finding("    ", f)
			told++
		}
	}
	if told == 0 {
		r.para("    ", "Everything that was checked is in order.")
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
		r.paraIn(faint, indent+"  ", "Missing: "+sentenceEnd(f.Missing))
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
