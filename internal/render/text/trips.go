package text

import (
	"fmt"
	"io"

	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
)

// Trips sets several valves side by side, each in its worst event.
func Trips(w io.Writer, all []*study.TripStudy, opt Options) error {
	p := newPage(opt)
	first := all[0]
	st := first.Station
	p.put(p.paint(strong, pad(Clean(st.Name), Width-width(Clean(st.Place)))) + p.paint(faint, Clean(st.Place)))
	p.para("", fmt.Sprintf("Pump trips with %d valves, %s, each in the event that is worst for its slam.", len(all),
		st.Valve.Position))
	for _, s := range all {
		for _, w := range s.WhatIfs() {
			p.paraIn(amber, "", "What if, for "+s.Item.ID+": "+w.Tell(p.opt.Units)+".")
		}
	}
	p.heading("Side by side")
	t := &table{indent: "  ", cols: []column{
		{head: "valve", gives: true},
		{head: headIn("closes\nat", "s"), right: true},
		{head: p.head("decel-\neration", quantity.Acceleration), right: true},
		{head: p.head("reverse\nvelocity", quantity.Velocity), right: true},
		{head: "likely", right: true},
		{head: p.head("head\nrise", quantity.Head), right: true},
		{head: p.head("max. at\nvalve", quantity.Head), right: true},
		{head: "slam\n(chance)"},
	}}
	lucky := false
	for _, s := range all {
		slam := &s.Judged.Slam
		if s.Answer.Worst == nil {
			t.add(s.Item.ID, none, none, none, none, none, none, judge.NotRun)
			continue
		}
		x := s.Answer.Worst
		lucky = lucky || slam.Lucky
		t.add(s.Item.ID, fmt.Sprintf("%.2f", x.Closing.First.TimeS), p.num(slam.Deceleration), p.reverse(slam),
			p.likely(slam.ReverseVelocity, slam), p.num(slam.HeadRise), p.number(quantity.Head,
				x.MostM()), s.Judged.SlamWords())
	}
	p.table(t)
	events := map[string]bool{}
	for _, s := range all {
		if s.Answer.Worst == nil {
			p.item(faint, "  ", "·", s.Item.ID+" was not run: "+sentenceEnd(s.Judged.Slam.NotRun))
			continue
		}
		if title := s.Told().Event.Title; !events[title] {
			events[title] = true
			p.item(plain, "  ", "·", sentence(title))
		}
	}
	p.paraIn(faint, "  ", "Closes at: the first time. Deceleration: of the flow at reversal, without the valve. Reverse velocity and head rise: of the hardest closing; likely: 9 cases of 10. Max. at valve: head above "+first.Datum+". Name one valve for all of it.")
	if lucky {
		p.paraIn(faint, "  ", luckyNote)
	}
	for _, s := range all {
		for _, f := range s.Findings {
			if f.Severity == judge.Rejects && f.Kind != judge.SlamHarmful {
				p.item(rust, "  ", "✕", s.Item.ID+": "+f.Text)
				break
			}
		}
	}
	told := map[string]bool{}
	for _, s := range all {
		for _, f := range s.Findings {
			if f.Kind.Point == judge.OnSurge && !told[f.Text] {
				told[f.Text] = true
				p.item(amber, "  ", "!", sentence(f.Text))
			}
		}
	}
	p.heading("Cautions")
	for _, c := range first.Cautions {
		p.item(amber, "  ", "!", c.Text)
	}
	return p.flush(w)
}
