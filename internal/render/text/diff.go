package text

import (
	"fmt"
	"io"

	"seatward/internal/exchange"
	"seatward/study"
)

// CatalogDiff is what differs between two catalogs, and between answers with them.
type CatalogDiff struct {
	Before, After string
	Changes       []exchange.Change
	Stations      []StationDiff
}

// StationDiff is what differs between two answers for one station.
type StationDiff struct {
	Station string
	Moves   []study.Move
}

// Diff prints it.
func Diff(w io.Writer, d *CatalogDiff, opt Options) error {
	p := newPage(opt)
	p.heading("From " + d.Before + " to " + d.After)
	if len(d.Changes) == 0 {
		p.para("  ", "Nothing differs but order and comments.")
	}
	for _, c := range d.Changes {
		name := c.Sheet + " " + c.Row
		switch {
		case c.Column == "" && c.After == "":
			p.item(rust, "  ", "−", name+" is gone.")
		case c.Column == "":
			p.item(strong, "  ", "+", name+" is new.")
		default:
			p.item(plain, "  ", "·", fmt.Sprintf("%s, %s: %s → %s", name, c.Column, orNothing(c.Before),
				orNothing(c.After)))
		}
	}
	for _, s := range d.Stations {
		p.heading("Answer for " + s.Station)
		if len(s.Moves) == 0 {
			p.para("  ", "It stays as it is.")
			continue
		}
		t := &table{indent: "  ", cols: []column{
			{head: "valve"},
			{head: "about"},
			{head: "before", gives: true},
			{head: "after", gives: true},
		}}
		for _, m := range s.Moves {
			t.add(m.Valve, m.About, m.Before, m.After)
		}
		p.table(t)
	}
	return p.flush(w)
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}
