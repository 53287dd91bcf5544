package exchange

import (
	"fmt"

	"seatward/diag"
)

// told collects faults. Of one kind in one sheet only the first few are listed, then their
// number: a price list of thousands of rows that all lack the same would bury the rest.
type told struct {
	list  diag.List
	count map[string]int
	last  []counted
}

// counted is a kind of fault with more of it than are listed.
type counted struct {
	key string
	of  diag.Message
}

// mostTold is how many of one kind are listed for one sheet.
const mostTold = 20

func (t *told) add(sheet string, m diag.Message) {
	key := m.ID + "\x00" + sheet
	t.count[key]++
	switch n := t.count[key]; {
	case n <= mostTold:
		t.list.Add(m)
	case n == mostTold+1:
		t.last = append(t.last, counted{key, m})
	}
}

// done is the list, in order, with the counts of what was held back.
func (t *told) done() diag.List {
	t.list.Sort()
	for _, c := range t.last {
		n := t.count[c.key]
		t.list.Add(diag.Message{
			ID: c.of.ID, Severity: c.of.Severity,
			Place:    diag.Place{File: c.of.Place.File, Line: c.of.Place.Line, Col: c.of.Place.Col},
			Text:     fmt.Sprintf("from here on, %d more are like the %d that are listed above", n-mostTold, mostTold),
			Expected: c.of.Expected, Mend: c.of.Mend,
		})
	}
	return t.list
}
