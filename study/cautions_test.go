package study_test

import (
	"context"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// Every caution that goes with an answer carries the sentence that defers to the maker,
// to local rules or to a licensed engineer.
func TestCautionsDefer(t *testing.T) {
	book, faults := rules.Base()
	catalogs, more := catalog.Demo()
	st, list := station.Load("layout", []byte(layout(t)))
	if st == nil || faults.Err() != nil || more.Err() != nil {
		t.Fatal(list, faults, more)
	}
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: catalogs, Rules: book, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]string{}
	for _, c := range s.Cautions {
		told[c.ID] = c.Text
	}
	for _, c := range book.Cautions() {
		if text, ok := told[c.ID]; ok && (c.Defers == "" || !strings.Contains(text, c.Defers)) {
			t.Errorf("the caution %s is reported without %q", c.ID, c.Defers)
		}
	}
	if len(told) < 5 {
		t.Errorf("only %d cautions with a sewage station", len(told))
	}
}
