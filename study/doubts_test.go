package study_test

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// Ends weaker than the body hold the rating down, however many better ones are offered.
func TestTheWeakestEndsCount(t *testing.T) {
	data, err := os.ReadFile("../catalog/demo/flap.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(data), "    ends:\n",
		"    ends:\n      - {standard: weak, rating: 100 psi, from: 2 in, to: 24 in}\n", 1)
	file, list := catalog.Parse("weak.yaml", []byte(text))
	if list.Err() != nil {
		t.Fatal(list)
	}
	weak, list := catalog.Resolve(file)
	book, more := rules.Base()
	st, faults := station.Load("layout", []byte(layout(t)))
	if list.Err() != nil || more.Err() != nil || st == nil {
		t.Fatal(list, more, faults)
	}
	s, err := study.Run(context.Background(), st,
		study.Options{Catalogs: weak, Rules: book, Valve: "flap/6in", Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Assessments[0].Findings {
		if f.Kind == judge.RatingHolds {
			if psi := f.Limit.SI / 6894.757; math.Abs(psi-100) > 0.1 {
				t.Errorf("weighed against %.1f psi; the weakest ends hold 100 psi", psi)
			}
			return
		}
	}
	t.Error("the rating was not weighed")
}
