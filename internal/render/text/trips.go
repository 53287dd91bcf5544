package text

import (
	"fmt"
	"io"
	"strings"

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
	p.para("", fmt.Sprintf("Pump trips with %d valves, %s, each in the event that is worst for its slam.", len(all), st.Valve.Position))
	for _, s := range all {
		for _, w := range s.WhatIfs() {
			p.paraIn(amber, "", "What if, for "+s.Item.ID+": "+w.Tell(p.opt.Units)+".")
		}
	}
	p.heading("Side by side")
	t := &table{indent: "  ", cols: []column{
		{head: "valve", gives: true},
		{head: headIn("seats", "s"), right: true},
		{head: p.head("slows at", quantity.Acceleration), right: true},
		{head: p.head("back at", quantity.Velocity), right: true},
		{head: p.head("band", quantity.Velocity), right: true},
		{head: p.head("rise", quantity.Head), right: true},
		{head: "slam"},
	}}
	for _, s := range all {
		x := s.Told()
		c := x.Closing
		if s.Run == nil {
			t.add(s.Item.ID, none, none, none, none, none, "does not shut")
			continue
		}
		t.add(s.Item.ID, fmt.Sprintf("%.2f", c.TimeS), p.rough(quantity.Acceleration, c.DecelerationMS2), p.rough(quantity.Velocity, s.Run.Reverse.SI), p.band(s.Run.Reverse), p.rough(quantity.Head, c.RiseM), classWords(&s.Closed))
	}
	p.table(t)
	events := map[string]bool{}
	for _, s := range all {
		if title := s.Told().Event.Title; !events[title] {
			events[title] = true
			p.item(plain, "  ", "·", sentence(title))
		}
	}
	p.para("  ", "Slows at: velocity in the valve as the water turns. Back at: greatest reverse velocity before it seats, with its band. Rise: of the head behind it as it shuts. Name one valve for all of it.")
	for _, s := range all {
		for _, f := range s.Findings {
			if f.Severity == judge.Rejects && f.ID != "slam-harmful" {
				p.item(rust, "  ", "✕", s.Item.ID+": "+f.Text)
				break
			}
		}
	}
	told := map[string]bool{}
	for _, s := range all {
		for _, f := range s.Findings {
			if strings.HasPrefix(f.ID, "trip-") && f.Severity >= judge.Condition && !told[f.Text] {
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
