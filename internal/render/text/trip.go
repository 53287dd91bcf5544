package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
	"seatward/study"
)

// Trip prints what the stops of a station do with one valve in it.
func Trip(w io.Writer, s *study.TripStudy, opt Options) error {
	p := newPage(opt)
	t := &trip{page: p, s: s}
	t.title()
	t.closing()
	t.events()
	t.timeline()
	t.heads()
	t.remedies()
	t.sources(&t.s.Judged.Slam)
	t.tail()
	return t.flush(w)
}

type trip struct {
	page
	s *study.TripStudy
}

func (t *trip) title() {
	st := t.s.Station
	t.put(t.paint(strong, pad(Clean(st.Name), Width-width(Clean(st.Place)))) + t.paint(faint, Clean(st.Place)))
	t.para("", fmt.Sprintf("Pump trip with %s, %s; %s, %s.", Clean(t.s.Item.Family.Title),
		t.s.Item.Size.Format(t.opt.Units), t.s.Item.ID, st.Valve.Position))
	if t.s.Item.Family.Catalog.Invented {
		t.paraIn(faint, "", "Catalog: "+Clean(t.s.Item.Family.Catalog.Maker)+
			", invented for demonstration: no such valve can be bought.")
	}
	for _, w := range t.s.WhatIfs() {
		t.paraIn(amber, "", "What if: "+w.Tell(t.opt.Units)+".")
	}
}

// closing tells the worst stop in full.
func (t *trip) closing() {
	t.heading("The worst stop")
	if t.s.Judged.Separation != "" {
		t.paraIn(rust, "! ", t.s.Judged.Separation)
	}
	a := &t.s.Judged
	slam := &a.Slam
	if t.s.Answer.Worst == nil {
		t.item(amber, "", "?", "Slam was not run: "+sentenceEnd(slam.NotRun))
		t.findings("")
		return
	}
	text := slamFinding(a)
	mark, i := slamMark(slam)
	t.item(i, "", mark, sentence(text))
	for _, f := range t.s.Findings {
		if f.Text == text && f.Mend != "" {
			t.para("  → ", sentenceEnd(f.Mend))
		}
	}
	t.gap()
	t.numbers(t.s.Answer.Worst)
	t.threshold(slam)
	if slam.DecisiveInput != "" {
		t.para("  ", "Largest source of uncertainty: "+slam.DecisiveInput+".")
	}
	if c := t.s.WithoutPull; c != nil && c.Closed {
		t.para("  ", fmt.Sprintf("Without the pull of slowing water: %s (safe for the first closing only).",
			t.si(quantity.Velocity, c.First.ReverseMS)))
	}
	t.byHand("  ", &t.s.ByHand)
	t.paraIn(faint, "  ", sentence(slam.Method))
	t.findings(text)
}

// slamMark is the mark of a slam, by its risk.
func slamMark(s *judge.Slam) (string, ink) {
	switch s.Risk {
	case judge.InOrder:
		return markOf[judge.Suitable], water
	case judge.WillHarm:
		return markOf[judge.Unsuitable], rust
	}
	return markOf[judge.WithConditions], amber
}

// numbers are those of the stop, each with its name.
func (t *trip) numbers(x *plant.Stop) {
	a, c := &t.s.Judged, &x.Closing
	slam := &a.Slam
	num := func(kind quantity.Kind, v float64) string { return t.opt.Units.Format(kind, v) }
	line := t.labeledLine
	line("first closing", t.firstAndHardest(x))
	line("reverse velocity", t.reverseWords(slam))
	if slam.Runs > 0 {
		line("chances", slam.ChancesWords())
	}
	line("head rise", t.riseWords(slam))
	line("max. head at valve", num(quantity.Head, x.MostM()))
	line("head upstream", "falls by "+t.withUnit(quantity.Head, t.number(quantity.Head, c.FallM))+" as it closes")
	line("flow reverses", fmt.Sprintf("%.2f s after the event", c.ReversedS))
	if slam.Deceleration.Known() {
		line("deceleration", t.val(slam.Deceleration)+" at flow reversal, without the valve")
	}
	speed := fmt.Sprintf("%.2f rad/s", c.Worst.SeatingSpeed)
	if !c.Rotary {
		speed = num(quantity.Velocity, c.Worst.SeatingSpeed)
	}
	line("hits its seat at", speed)
	if c.Pump != "" {
		line("valve of", c.Pump)
	}
	if c.Bounces > 0 {
		line("bounces off its seat", times(c.Bounces))
	}
	if c.Reopened > 0 {
		line("opens again", times(c.Reopened))
	}
}

// firstAndHardest tells the first closing, and the hardest where it is another.
func (t *trip) firstAndHardest(x *plant.Stop) string {
	first, worst := x.Closing.First, x.Closing.Worst
	text := fmt.Sprintf("%s at %.2f s", t.si(quantity.Velocity, first.ReverseMS), first.TimeS)
	hardest := x.SlamMS()
	switch {
	case hardest <= first.ReverseMS && worst.TimeS == first.TimeS:
		return text + ", the hardest"
	case !x.Resolved() && hardest > worst.ReverseMS:
		return text + fmt.Sprintf("; hardest: %s, on the finer of two grids", t.si(quantity.Velocity, hardest))
	case first.ReverseMS < leastTimesMS:
		return text + fmt.Sprintf("; hardest: %s at %.2f s", t.si(quantity.Velocity, hardest), worst.TimeS)
	}
	return text + fmt.Sprintf("; hardest: %s, %.1f times the first, at %.2f s", t.si(quantity.Velocity, hardest),
		hardest/first.ReverseMS, worst.TimeS)
}

// leastTimesMS is the reverse velocity of a first closing, m/s, below which a later one is
// not said to be so many times as hard.
const leastTimesMS = 0.01

// byHand prints what hand formulas say; nothing where they say nothing.
func (p *page) byHand(indent string, h *judge.ByHand) {
	if !h.Reverse.Known() {
		return
	}
	text := fmt.Sprintf("By hand formulas: reverse velocity %s (%s)", p.val(h.Reverse), p.band(h.Reverse))
	if h.HeadRise.Known() {
		text += ", head rise " + p.val(h.HeadRise)
	}
	text += "; " + h.Event + "."
	if h.Doubt != "" {
		text += " " + sentence(h.Doubt)
	}
	p.paraIn(faint, indent, text)
}

// findings prints what else the stops gave.
func (t *trip) findings(said string) {
	for i := range t.s.Findings {
		f := &t.s.Findings[i]
		if f.Text == said || f.Text == t.s.Judged.Separation {
			continue
		}
		t.item(findingInk[f.Severity], "  ", findingMark[f.Severity], sentence(f.Text))
		if f.Mend != "" {
			t.paraIn(faint, "    → ", sentenceEnd(f.Mend))
		}
	}
}

// events is the table of all that was run through.
func (t *trip) events() {
	t.heading("All events")
	tab := &table{indent: "  ", cols: []column{
		{head: "event", gives: true},
		{head: headIn("closes\nat", "s"), right: true},
		{head: t.head("reverse\nvelocity", quantity.Velocity), right: true},
		{head: t.head("head\nrise", quantity.Head), right: true},
		{head: t.head("max. at\nvalve", quantity.Head), right: true},
		{head: t.head("max. in\nmain", quantity.Head), right: true},
		{head: t.head("min. in\nmain", quantity.Head), right: true},
		{head: "opens\nagain", right: true},
	}}
	for _, x := range t.s.Answer.Stops {
		mark := "  "
		if x == t.s.Answer.Worst {
			mark = "▸ "
		}
		if x.Fault != "" {
			tab.add(mark+x.Event.ID, judge.NotRun, none, none, none, none, none, none)
			continue
		}
		c := &x.Closing
		closes, reverse, rise, again := none, none, none, none
		if x.Event.Stops() {
			reverse, rise, again = t.number(quantity.Velocity, x.SlamMS()), t.number(quantity.Head,
				x.RiseM()), fmt.Sprint(c.Reopened)
			if c.Closed {
				closes = fmt.Sprintf("%.2f", c.First.TimeS)
			}
		}
		tab.add(mark+x.Event.ID, closes, reverse, rise, t.number(quantity.Head, x.MostM()),
			t.pressureHead(x.MostPressureM()), t.leastHead(x.LeastPressureM(), x.Separates()), again)
	}
	t.table(tab)
	for _, x := range t.s.Answer.Stops {
		if x.Fault != "" {
			t.item(faint, "  ", "·", sentence(x.Event.Title+" was not run: "+x.Fault))
		}
	}
	t.paraIn(faint, "  ", "▸ the worst for slam. Closes at: the first time. Reverse velocity and head rise: of the hardest closing. Max. at valve: head above "+t.s.Datum+". In main: pressure head over the pipe's axis.")
}

// pressureHead is a pressure head of the main; a dash where no main was recorded.
func (p *page) pressureHead(m float64) string {
	if math.IsInf(m, 0) || math.IsNaN(m) {
		return none
	}
	if math.Abs(m) < 1e-6 { // round-off
		m = 0
	}
	return p.number(quantity.Head, m)
}

// leastHead is the least pressure head, or the word for column separation.
func (p *page) leastHead(m float64, separates bool) string {
	if separates {
		return "vapor"
	}
	return p.pressureHead(m)
}

// timeline tells what happens up to the first seating; what a valve that opens and seats
// again does is summed up.
func (t *trip) timeline() {
	x := t.s.Told()
	if x.Fault != "" {
		return
	}
	t.heading("What happens: " + x.Event.ID)
	const most = 16
	vapor, again, shown := 0, 0, 0
	var from, to float64
	for _, m := range x.Moments {
		switch {
		case m.Kind == plant.VaporForms:
			if vapor++; vapor > 1 {
				continue
			}
		case x.Event.Kind != plant.Schedule && x.Closing.Closed && m.TimeS > x.Closing.First.TimeS && m.Kind.OfValve():
			if again++; again == 1 {
				from = m.TimeS
			}
			to = m.TimeS
			continue
		}
		if shown++; shown > most {
			continue
		}
		t.para(fmt.Sprintf("  %8.3f s  ", m.TimeS), sentenceEnd(sentence(m.Text)))
	}
	if shown > most {
		t.para("  ", fmt.Sprintf("and %d more, in --json.", shown-most))
	}
	if again > 0 {
		t.para("  ", fmt.Sprintf("From %.2f to %.2f s the valve opens again and closes, %s, as waves run up and down the pipes.", from, to, times(max(1, again/2))))
	}
	if vapor > 1 {
		t.para("  ", fmt.Sprintf("Vapor forms at %d places along the pipes.", vapor))
	}
	if x != t.s.Answer.Worst { // the notes of the worst stop are among the findings
		for _, n := range x.Notes {
			t.item(plain, "  ", "i", sentenceEnd(n))
		}
	}
}

// heads prints min. and max. head at ten places of the main.
func (t *trip) heads() {
	x := t.s.Told()
	if len(x.Envelope) == 0 {
		return
	}
	t.heading("Heads along the main: " + x.Event.ID)
	tab := &table{indent: "  ", cols: []column{
		{head: t.head("distance", quantity.Length), right: true},
		{head: t.head("pipe", quantity.Head), right: true},
		{head: t.head("before", quantity.Head), right: true},
		{head: t.head("min.", quantity.Head), right: true},
		{head: t.head("max.", quantity.Head), right: true},
		{head: t.head("rating", quantity.Head), right: true},
		{head: ""},
	}}
	const places = 10
	for k := range places + 1 {
		e := x.Envelope[k*(len(x.Envelope)-1)/places]
		limit, word := none, ""
		if !math.IsNaN(e.LimitM) {
			limit = t.number(quantity.Head, e.LimitM)
			if e.MostM > e.LimitM {
				word = "✕ above its rating"
			}
		}
		if e.LeastM < e.ElevationM && word == "" {
			word = "! below atmosphere"
		}
		n := func(v float64) string { return t.number(quantity.Head, v) }
		tab.add(t.number(quantity.Length, e.ChainageM), n(e.ElevationM), n(e.StartM), n(e.LeastM), n(e.MostM), limit,
			word)
	}
	t.table(tab)
	t.para("  ", "Heads above "+t.s.Datum+".")
}

// remedies sets what might cure it beside the stops as they are, and recommends only what
// the runs bear out.
func (t *trip) remedies() {
	if len(t.s.Remedies) == 0 {
		return
	}
	t.heading("Remedies")
	tab := &table{indent: "  ", cols: []column{
		{head: "", gives: true},
		{head: t.head("reverse\nvelocity", quantity.Velocity), right: true},
		{head: t.head("head\nrise", quantity.Head), right: true},
		{head: t.head("max. at\nvalve", quantity.Head), right: true},
		{head: t.head("min. in\nmain", quantity.Head), right: true},
		{head: "recom-\nmended"},
	}}
	var cures []string
	for i := range t.s.Remedies {
		r := &t.s.Remedies[i]
		if r.Answer == nil || r.Answer.Worst == nil {
			tab.add(r.Name, none, none, none, none, judge.NotRun)
			continue
		}
		word := "no"
		switch {
		case i == 0:
			word = ""
		case r.Cures:
			word = "yes"
			cures = append(cures, r.Name)
		}
		x := r.Answer.Worst
		tab.add(r.Name, t.number(quantity.Velocity, x.SlamMS()), t.number(quantity.Head, x.RiseM()),
			t.number(quantity.Head, r.MostM()), t.leastHead(r.LeastPressureM(), r.Separates()), word)
	}
	t.table(tab)
	t.para("  ", t.recommends(cures))
	for _, r := range t.s.Remedies[1:] {
		text := r.Name + ": " + r.What
		if r.Fault != "" {
			text += "; not run: " + r.Fault
		}
		t.item(plain, "  ", "·", sentenceEnd(text))
	}
}

// recommends is the sentence that says what cures it.
func (t *trip) recommends(cures []string) string {
	switch {
	case t.s.Judged.Slam.Risk == judge.InOrder && t.s.Judged.Separation == "":
		return "The valve closes quietly as it is: nothing has to be cured."
	case len(cures) == 0:
		return "None of these cures it: surge control is for a licensed engineer to design."
	}
	return sentence("recommended, by its own run: " + strings.Join(cures, "; or "))
}

// tail prints assumptions and cautions.
func (t *trip) tail() {
	if len(t.s.Assumed) > 0 {
		var texts []string
		for _, a := range t.s.Assumed {
			if a.Value.Ranged() {
				texts = append(texts, a.Value.Name+": "+t.val(a.Value)+" ("+t.band(a.Value)+")")
			}
		}
		t.heading(fmt.Sprintf("Assumed: %s", plural(len(t.s.Assumed), "fact")))
		for _, text := range distinct(texts) {
			t.item(plain, "  ", "·", text)
		}
		t.para("  ", "Those with a range; select lists all of them with their reasons.")
	}
	t.heading("Cautions")
	for _, c := range t.s.Cautions {
		t.item(amber, "  ", "!", c.Text)
	}
}
