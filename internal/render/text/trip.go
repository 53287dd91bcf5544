package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/judge"
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
	t.sample()
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
	t.para("", fmt.Sprintf("Pump trip with %s, %s; %s, %s.", Clean(t.s.Item.Family.Title), t.s.Item.Size.Format(t.opt.Units), t.s.Item.ID, st.Valve.Position))
	if t.s.Item.Family.Catalog.Invented {
		t.paraIn(faint, "", "Catalog: "+Clean(t.s.Item.Family.Catalog.Maker)+", invented for demonstration: no such valve can be bought.")
	}
	for _, w := range t.s.WhatIfs() {
		t.paraIn(amber, "", "What if: "+w.Tell(t.opt.Units)+".")
	}
}

// closing tells the valve's closing in the worst event.
func (t *trip) closing() {
	t.heading("The closing")
	x := t.s.Told()
	c := x.Closing
	if t.s.Slam < 0 {
		t.para("  ", x.Event.Title+": no stop that was looked at shuts this valve within the run.")
		return
	}
	mark, i := "◐", amber
	switch t.s.Closed.ClassHigh {
	case judge.Quiet:
		mark, i = "●", water
	case judge.Harmful:
		if t.s.Closed.Class == judge.Harmful {
			mark, i = "✕", rust
		}
	}
	t.paraIn(i, mark+" ", sentence(x.Event.Title+": "+classWords(&t.s.Closed)))
	tab := &table{indent: "  ", cols: []column{{head: "", gives: true}, {head: ""}}}
	num := func(kind quantity.Kind, v float64) string { return t.opt.Units.Format(kind, v) }
	tab.add("water turns back", fmt.Sprintf("%.2f s after the event", c.ReversedS))
	tab.add("valve seats", fmt.Sprintf("%.2f s after the event", c.TimeS))
	if r := t.s.Run; r != nil {
		tab.add("flow slows at", t.bandUnit(r.Deceleration)+" as it turns")
		tab.add("water runs back at", t.bandUnit(r.Reverse)+", at best guess "+num(quantity.Velocity, r.Reverse.SI))
		if t.s.Bound.Closed {
			tab.add("without pull", num(quantity.Velocity, t.s.Bound.ReverseMS)+", safe for the first closing only")
		}
		tab.add("head rise behind it", t.bandUnit(r.HeadRise)+", at best guess "+num(quantity.Head, r.HeadRise.SI))
	}
	tab.add("head before it", "falls by "+num(quantity.Head, c.FallM)+" as it shuts")
	speed := fmt.Sprintf("%.2f rad/s", c.SeatingSpeed)
	if !c.Rotary {
		speed = num(quantity.Velocity, c.SeatingSpeed)
	}
	tab.add("element seats at", speed)
	if x.Bounces > 0 {
		tab.add("bounces off its seat", plural(x.Bounces, "time"))
	}
	if x.Reopened > 0 {
		tab.add("then", plural(x.Reopened, "re-opening")+" by the waves in the branch")
	}
	t.table(tab)
	if t.s.Closed.DecisiveInput != "" {
		t.para("  ", "Knowing this better would narrow it most: "+t.s.Closed.DecisiveInput+".")
	}
	if r := t.s.Run; r != nil {
		t.paraIn(faint, "  ", sentence(r.Method))
	}
	for _, f := range t.s.Findings {
		i, mark := amber, "!"
		switch f.Severity {
		case judge.Rejects:
			i, mark = rust, "✕"
		case judge.Pass:
			i, mark = water, "+"
		case judge.Note:
			i, mark = plain, "i"
		case judge.Unchecked:
			mark = "?"
		}
		t.item(i, "  ", mark, sentence(f.Text))
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
		{head: headIn("seats", "s"), right: true},
		{head: t.head("slows at", quantity.Acceleration), right: true},
		{head: t.head("back at", quantity.Velocity), right: true},
		{head: t.head("rise", quantity.Head), right: true},
		{head: t.head("most", quantity.Head), right: true},
		{head: t.head("least", quantity.Head), right: true},
		{head: "opens\nagain", right: true},
	}}
	for i, x := range t.s.Trips {
		mark := "  "
		if i == t.s.Slam {
			mark = "▸ "
		}
		c := x.Closing
		n := func(kind quantity.Kind, v float64) string { return t.rough(kind, v) }
		seats := none
		if c.Closed {
			seats = fmt.Sprintf("%.2f", c.TimeS)
		}
		least := n(quantity.Head, x.LeastPressureM())
		if len(x.Cavities) > 0 {
			least = "vapor"
		}
		if !x.Event.Stops() {
			tab.add(mark+x.Event.ID, none, none, none, none, n(quantity.Head, x.MostPressureM()), least, none)
			continue
		}
		tab.add(mark+x.Event.ID, seats, n(quantity.Acceleration, c.DecelerationMS2), n(quantity.Velocity, c.ReverseMS), n(quantity.Head, c.RiseM), n(quantity.Head, x.MostPressureM()), least, fmt.Sprint(x.Reopened))
	}
	t.table(tab)
	if n := len(t.s.Trips); n > 1 {
		t.para("  ", fmt.Sprintf("Highest pressure: %s. Lowest: %s.", t.s.Trips[t.s.Peak].Event.ID, t.s.Trips[t.s.Vacuum].Event.ID))
	}
	t.para("  ", "▸ the worst for slam. Slows at: velocity in the valve as the water turns. Back at: greatest reverse velocity before it seats. Rise: of the head behind it as it shuts. Most, least: pressure head in the main over its axis.")
}

// timeline tells what happens up to the first seating; what a valve that opens and seats
// again does is summed up.
func (t *trip) timeline() {
	x := t.s.Told()
	t.heading("What happens: " + x.Event.ID)
	const most = 16
	vapor, again, shown := 0, 0, 0
	var from, to float64
	for _, m := range x.Moments {
		switch {
		case strings.HasPrefix(m.Text, "vapor"):
			if vapor++; vapor > 1 {
				continue
			}
		case x.Event.Kind != study.Schedule && x.Closing.Closed && m.TimeS > x.Closing.TimeS && strings.HasPrefix(m.Text, "the valve"):
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
		t.para("  ", fmt.Sprintf("From %.2f to %.2f s the valve opens again a little and seats, %s, as waves run up and down the branch.", from, to, plural(max(1, again/2), "time")))
	}
	if vapor > 1 {
		t.para("  ", fmt.Sprintf("Vapor forms at %d places of the grid.", vapor))
	}
	for _, n := range x.Notes {
		t.item(amber, "  ", "!", sentenceEnd(n))
	}
}

// heads prints least and greatest head at ten places of the main.
func (t *trip) heads() {
	x := t.s.Told()
	if len(x.Envelope) == 0 {
		return
	}
	t.heading("Heads along the main: " + x.Event.ID)
	tab := &table{indent: "  ", cols: []column{
		{head: t.head("place", quantity.Length), right: true},
		{head: t.head("pipe", quantity.Head), right: true},
		{head: t.head("before", quantity.Head), right: true},
		{head: t.head("least", quantity.Head), right: true},
		{head: t.head("greatest", quantity.Head), right: true},
		{head: t.head("rated to", quantity.Head), right: true},
		{head: ""},
	}}
	const places = 10
	for k := range places + 1 {
		e := x.Envelope[k*(len(x.Envelope)-1)/places]
		limit, word := none, ""
		if !math.IsNaN(e.LimitM) {
			limit = t.rough(quantity.Head, e.LimitM)
			if e.MostM > e.LimitM {
				word = "✕ above its rating"
			}
		}
		if e.LeastM < e.ElevationM && word == "" {
			word = "! below atmosphere"
		}
		n := func(v float64) string { return t.rough(quantity.Head, v) }
		tab.add(t.rough(quantity.Length, e.ChainageM), n(e.ElevationM), n(e.StartM), n(e.LeastM), n(e.MostM), limit, word)
	}
	t.table(tab)
	t.para("  ", "Heads above "+t.s.Datum+".")
}

func (t *trip) remedies() {
	if len(t.s.Remedies) == 0 {
		return
	}
	t.heading("What would cure it")
	tab := &table{indent: "  ", cols: []column{
		{head: "", gives: true},
		{head: t.head("back at", quantity.Velocity), right: true},
		{head: t.head("rise", quantity.Head), right: true},
		{head: t.head("most at valve", quantity.Head), right: true},
		{head: t.head("least in main", quantity.Head), right: true},
	}}
	rough := func(kind quantity.Kind, v float64) string {
		if math.Abs(v) < 1e-6 { // round-off
			v = 0
		}
		return t.rough(kind, v)
	}
	for _, r := range t.s.Remedies {
		if r.Trip == nil {
			tab.add(r.Name, none, none, none, none)
			continue
		}
		c := r.Trip.Closing
		least := rough(quantity.Head, r.Trip.LeastPressureM())
		if len(r.Trip.Cavities) > 0 {
			least = "vapor"
		}
		tab.add(r.Name, t.rough(quantity.Velocity, c.ReverseMS), t.rough(quantity.Head, c.RiseM), t.rough(quantity.Head, c.MostM), least)
	}
	t.table(tab)
	for _, r := range t.s.Remedies[1:] {
		text := r.Name + ": " + r.What
		if r.Fault != "" {
			text += "; not run: " + r.Fault
		}
		t.item(plain, "  ", "·", sentenceEnd(text))
	}
}

func (t *trip) sample() {
	x := t.s.Sample
	if x == nil {
		return
	}
	t.heading("All ranges at once")
	t.para("  ", sentenceEnd(x.String()))
	tab := &table{indent: "  ", cols: []column{{head: "of the runs are below"}, {head: t.head("back at", quantity.Velocity), right: true}, {head: t.head("rise", quantity.Head), right: true}}}
	for _, pc := range x.Percentiles {
		tab.add(fmt.Sprintf("%.0f%%", pc.Percent), t.rough(quantity.Velocity, pc.ReverseMS), t.rough(quantity.Head, pc.RiseM))
	}
	t.table(tab)
	for i, v := range x.Shares {
		if i == 5 || v.Share < 0.01 {
			break
		}
		t.item(plain, "  ", "·", fmt.Sprintf("%s alone explains %.0f%% of the variance.", v.Name, 100*v.Share))
	}
	if len(x.LeftOut) > 0 {
		t.para("  ", fmt.Sprintf("Left out, as a sample spans at most so many ranges: %d.", len(x.LeftOut)))
	}
}

// tail prints assumptions and cautions.
func (t *trip) tail() {
	if len(t.s.Assumed) > 0 {
		t.heading(fmt.Sprintf("Assumed: %s", plural(len(t.s.Assumed), "fact")))
		for _, a := range t.s.Assumed {
			if a.Value.Ranged() {
				t.item(plain, "  ", "·", a.Value.Name+": "+t.val(a.Value)+" ("+t.band(a.Value)+")")
			}
		}
		t.para("  ", "Those with a range; select lists all of them with their reasons.")
	}
	t.heading("Cautions")
	for _, c := range t.s.Cautions {
		t.item(amber, "  ", "!", c.Text)
	}
}
