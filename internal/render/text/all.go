package text

import (
	"fmt"
	"strings"

	"seatward/judge"
	"seatward/quantity"
)

var shortVerdict = map[judge.Verdict]string{
	judge.Suitable: "suitable", judge.WithConditions: "conditions", judge.CannotSay: "cannot say",
	judge.Unsuitable: "unsuitable",
}

// shown lists the assessments that the table tells: each family and variant in its
// best size, or all.
func (r *report) shown() []*judge.Assessment {
	var out []*judge.Assessment
	seen := map[string]bool{}
	for i := range r.s.Assessments {
		a := &r.s.Assessments[i]
		key := a.Item.Family.ID + "/" + a.Item.Variant
		if r.opt.All || !seen[key] {
			out = append(out, a)
		}
		seen[key] = true
	}
	return out
}

// all prints every valve, a line each, in groups by verdict.
func (r *report) all() {
	shown := r.shown()
	if len(shown) < 2 {
		return
	}
	r.heading("All valves")
	t := &table{indent: "  ", cols: []column{
		{head: "", right: true},
		{head: "valve", gives: true},
		{head: r.head("head\nloss", quantity.Head), right: true},
		{head: "V/V\nfull", right: true},
		{head: r.head("reverse\nvelocity", quantity.Velocity), right: true},
		{head: "likely", right: true},
		{head: "slam\n(chance)"},
		{head: r.head("head\nrise", quantity.Head), right: true},
		{head: headIn("energy", "a year"), right: true},
	}}
	last, lucky := judge.Verdict(255), false
	for _, a := range shown {
		if a.Verdict != last {
			last = a.Verdict
			t.group(inkOf[last], markOf[last]+" "+last.String())
		}
		place := markOf[a.Verdict]
		if a.Rank > 0 {
			place = fmt.Sprint(a.Rank)
		}
		lucky = lucky || a.Slam.Lucky
		t.add(place, a.Item.ID, r.num(a.Governing.Loss), share(a), r.reverse(&a.Slam),
			r.likely(a.Slam.ReverseVelocity, &a.Slam), a.SlamWords(), r.num(a.Slam.HeadRise), r.num(a.CostPerYear))
	}
	r.table(t)
	r.paraIn(faint, "  ", "V/V full: normal velocity over full-open velocity. Reverse velocity and head rise: of the hardest closing in the worst stop, at best estimates; likely: 9 cases of 10. Energy: annual cost of the head loss, in your currency.")
	if lucky {
		r.paraIn(faint, "  ", luckyNote)
	}
	for _, a := range shown {
		if why := whyNotRun(a); why != "" && !a.Pending() {
			r.item(faint, "  ", "·", a.Item.ID+" was not run: "+sentenceEnd(why))
		}
	}
	if !r.opt.All && len(shown) < len(r.s.Assessments) {
		r.paraIn(faint, "  ", "Each family in its best size; --all shows the sizes next to it as well.")
	} else if !r.s.Wide {
		r.paraIn(faint, "  ", "In the pipe's own size; --all judges the sizes next to it as well.")
	}
	r.paraIn(faint, "  ", judge.RankingRule)
}

// share is the normal velocity over the one that opens the valve in full.
func share(a *judge.Assessment) string {
	v, full := a.Governing.Velocity, a.FullOpenVelocity
	if !v.Known() || !full.Known() || full.SI <= 0 {
		return none
	}
	return quantity.Figures(v.SI/full.SI, 2)
}

// whyNot tells for each valve that is rejected the first reason, and names the others.
func (r *report) whyNot() {
	shown := r.shown()
	lines := 0
	start := func() {
		if lines == 0 {
			r.heading("Why not")
		}
		lines++
	}
	for _, a := range shown {
		if a.Verdict != judge.Unsuitable || len(shown) < 2 {
			continue
		}
		start()
		r.item(rust, "  ", markOf[a.Verdict], a.Item.ID+": "+reasons(a))
	}
	for _, n := range r.s.NotMade {
		start()
		r.item(faint, "  ", "·", n.Family.ID+": "+sentenceEnd(n.Why))
	}
}

// reasons is the first reason in full, the physical one before the maker's, and the others
// in a few words.
func reasons(a *judge.Assessment) string {
	text := ""
	var others []string
	for i := range a.Findings {
		f := &a.Findings[i]
		switch {
		case f.Severity != judge.Rejects:
		case text == "":
			text = sentenceEnd(f.Text)
		default:
			others = append(others, f.Kind.Head)
		}
	}
	if len(others) > 0 {
		text += " Also: " + strings.Join(others, "; ") + "."
	}
	return text
}
