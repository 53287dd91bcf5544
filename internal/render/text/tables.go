package text

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// mark shows the verdict by shape; the word stands beside it.
var mark = map[judge.Verdict]string{judge.Suitable: "●", judge.WithConditions: "◐", judge.CannotSay: "?", judge.Unsuitable: "✕"}

func (r *report) all() {
	rows := r.rows()
	if len(rows) == 0 {
		return
	}
	r.heading("All valves")
	if r.opt.All {
		r.para("  ", "In the pipe's size and the sizes next to it.")
	} else {
		r.para("  ", "Each family in its best size; --all shows the sizes next to it.")
	}
	sys := r.opt.Units
	cols := []column{
		{"valve", false}, {"loss " + sys.Unit(quantity.Head), true}, {"V/V full", true},
		{"slam", false}, {"V back " + sys.Unit(quantity.Velocity), true}, {"a year", true},
	}
	r.table("  ", cols, rows)
	r.line("  ● suitable   ◐ suitable with conditions   ? cannot say   ✕ unsuitable")
	r.para("  ", "V/V full: velocity at the normal point over the velocity that opens the valve in full. V back: greatest reverse velocity at the governing stop, low to high.")
}

func (r *report) rows() [][]string {
	var rows [][]string
	seen := map[string]bool{}
	for i := range r.s.Assessments {
		a := &r.s.Assessments[i]
		key := a.Item.Family.ID + "/" + a.Item.Variant
		if seen[key] && !r.opt.All {
			continue
		}
		seen[key] = true
		ratio := "-"
		if g := a.Governing; g.Velocity.Known() && a.FullOpenVelocity.Known() && a.FullOpenVelocity.SI > 0 {
			ratio = quantity.Figures(g.Velocity.SI/a.FullOpenVelocity.SI, 2)
		}
		class := a.Slam.Class
		if class == "" {
			class = "-"
		}
		rows = append(rows, []string{
			mark[a.Verdict] + " " + a.Item.ID, r.num2(a.Governing.Loss), ratio,
			class, r.band(a.Slam.ReverseVelocity), r.num(a.CostPerYear),
		})
	}
	return rows
}

// num2 prints to two figures, as much as a loss coefficient supports.
func (r *report) num2(v basis.Value) string {
	if !v.Known() {
		return "-"
	}
	return quantity.Figures(r.opt.Units.In(v.Kind, v.SI), 2)
}

func (r *report) band(v basis.Value) string {
	if !v.Known() {
		return "-"
	}
	f := func(si float64) string { return quantity.Figures(r.opt.Units.In(v.Kind, si), 2) }
	return f(v.Low) + " to " + f(v.High)
}

func (r *report) whyNot() {
	var lines [][2]string
	seen := map[string]bool{}
	for i := range r.s.Assessments {
		a := &r.s.Assessments[i]
		key := a.Item.Family.ID + "/" + a.Item.Variant
		if a.Verdict != judge.Unsuitable || (seen[key] && !r.opt.All) {
			seen[key] = true
			continue
		}
		seen[key] = true
		lines = append(lines, [2]string{a.Item.ID, judge.WhyNot(*a)})
	}
	for _, n := range r.s.NotMade {
		lines = append(lines, [2]string{n.Family.ID, sentence(n.Why)})
	}
	if len(lines) == 0 {
		return
	}
	r.heading("Why not")
	for _, l := range lines {
		r.para("  ", l[0]+": "+l[1])
	}
}

func (r *report) assumed() {
	if len(r.s.Assumed) == 0 {
		return
	}
	r.heading(fmt.Sprintf("Assumed: %s", plural(len(r.s.Assumed), "value")))
	r.para("  ", "Widest first. Give any of these in the station file and the answer narrows.")
	for _, v := range r.byRange() {
		text := fmt.Sprintf("%s = %s: %s", v.Name, v.Format(r.opt.Units), v.Reason)
		if v.Source != "" {
			text += " [" + short(basis.Cite(v.Source)) + "]"
		}
		r.para("  ", text)
	}
}

// byRange orders the assumed values by how wide they are open, widest first.
func (r *report) byRange() []basis.Value {
	out := make([]basis.Value, len(r.s.Assumed))
	for i, a := range r.s.Assumed {
		out[i] = a.Value
	}
	wide := func(v basis.Value) float64 {
		if !v.Ranged() {
			return 0
		}
		return (v.High - v.Low) / max(math.Abs(v.SI), math.Abs(v.High))
	}
	slices.SortStableFunc(out, func(a, b basis.Value) int { return cmp.Compare(wide(b), wide(a)) })
	return out
}

// short cuts a citation to its first part; the list of references has it in full.
func short(cite string) string {
	if head, _, ok := strings.Cut(cite, ","); ok && len(head) > 12 {
		return head
	}
	return cite
}

func (r *report) warnings() {
	if len(r.s.Station.Warnings) == 0 {
		return
	}
	r.heading("Odd, but used")
	for _, w := range r.s.Station.Warnings {
		r.para("  ", w.Error())
	}
}

func (r *report) cautions() {
	if len(r.s.Cautions) == 0 {
		return
	}
	r.heading("Cautions")
	for _, c := range r.s.Cautions {
		r.para("  ", c.Text)
	}
}

func (r *report) references() {
	if len(r.s.References) == 0 {
		return
	}
	r.heading("References")
	for i, ref := range r.s.References {
		r.para(fmt.Sprintf("%3d  ", i+1), ref)
	}
}
