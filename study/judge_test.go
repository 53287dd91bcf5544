package study_test

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

func layout(t testing.TB) string {
	t.Helper()
	data, err := os.ReadFile("../examples/layout.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// judged judges valves for the text of a station; one valve, or all where id is "".
func judged(t testing.TB, text, id string) []judge.Assessment {
	t.Helper()
	st, list := station.Load("test.yaml", []byte(text))
	if st == nil {
		t.Fatal(list)
	}
	catalogs, faults := catalog.Demo()
	book, more := rules.Base()
	if faults.Err() != nil || more.Err() != nil {
		t.Fatal(faults, more)
	}
	s, err := study.Run(context.Background(), st,
		study.Options{Catalogs: catalogs, Rules: book, Valve: id, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	return s.Assessments
}

// Every finding stands on something, and nothing unchecked hides behind suitable.
func TestFindingsAreWhole(t *testing.T) {
	for _, a := range judged(t, layout(t), "") {
		unsettled := false
		for _, f := range a.Findings {
			if f.Basis == "" || f.Text == "" || strings.Contains(f.Text, "NaN") ||
				(f.Severity == judge.Confirm && f.Missing == "") {
				t.Errorf("%s: %+v", a.Item.ID, f)
			}
			unsettled = unsettled || f.Severity >= judge.Condition
		}
		if a.Verdict == judge.Suitable && unsettled {
			t.Errorf("%s is suitable with open points", a.Item.ID)
		}
		if (a.Verdict == judge.Unsuitable) != (judge.WhyNot(a) != "") ||
			(a.Verdict == judge.Unsuitable) != (a.Rank == 0) {
			t.Errorf("%s: verdict %s, rank %d, why not %q", a.Item.ID, a.Verdict, a.Rank, judge.WhyNot(a))
		}
		v := a.Slam.ReverseVelocity
		if v.Known() && (v.Low > v.SI || v.SI > v.High || v.Low < 0 || math.IsNaN(v.High) || a.Slam.HeadRise.SI < 0) {
			t.Errorf("%s: band %g, %g, %g", a.Item.ID, v.Low, v.SI, v.High)
		}
	}
}

// The ranking does not depend on the order in which valves come.
func TestRankIsTotal(t *testing.T) {
	all := judged(t, layout(t), "")
	want := make([]string, len(all))
	for i, a := range all {
		want[i] = a.Item.ID
	}
	rapid.Check(t, func(t *rapid.T) {
		mixed := rapid.Permutation(all).Draw(t, "order")
		judge.Rank(mixed)
		for i, a := range mixed {
			if a.Item.ID != want[i] {
				t.Fatalf("place %d is %s, was %s", i, a.Item.ID, want[i])
			}
		}
	})
}
