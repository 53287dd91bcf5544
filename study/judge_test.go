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
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: catalogs, Rules: book, Valve: id, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	return s.Assessments
}

func severityOf(a judge.Assessment, id string) (judge.Severity, bool) {
	for _, f := range a.Findings {
		if f.ID == id {
			return f.Severity, true
		}
	}
	return 0, false
}

// TestChecks edits the layout example and looks for the finding that must follow.
func TestChecks(t *testing.T) {
	text := layout(t)
	for _, c := range []struct {
		name, from, to, valve, id string
		severity                  judge.Severity
	}{
		{"offered", "", "", "flap/6in", "service", judge.Pass},
		{"not offered", "", "", "dual-plate/6in", "service-not-offered", judge.Rejects},
		{"allowed", "", "", "flap/6in", "position", judge.Pass},
		{"not allowed", "", "", "swing-cushioned/6in", "position-not-allowed", judge.Rejects},
		{"position not said", "  position: flow up\n", "", "flap/6in", "position-to-confirm", judge.Confirm},
		{"sinking ball in flow up", "", "", "ball-cage/6in/sinking", "closes-by-itself", judge.Pass},
		{"floating ball in flow up", "", "", "ball-cage/6in/floating", "does-not-close", judge.Rejects},
		{"floating ball in flow down", "position: flow up", "position: flow down", "ball-cage/6in/floating", "closes-by-itself", judge.Pass},
		{"sinking ball in flow down", "position: flow up", "position: flow down", "ball-cage/6in/sinking", "does-not-close", judge.Rejects},
		{"solids pass", "", "", "ball-pocket/6in", "solids", judge.Pass},
		{"solids do not pass", "", "", "ball-cage/6in/sinking", "solids-do-not-pass", judge.Rejects},
		{"rags", "rags: light", "rags: heavy", "swing-assisted-weight/6in", "rags-too-much", judge.Rejects},
		{"rags borne", "rags: light", "rags: heavy", "flap/6in", "rags", judge.Pass},
		{"rags not said", "  rags: light\n", "", "swing-assisted-weight/6in", "rags-to-confirm", judge.Confirm},
		{"grit", "grit: some", "grit: heavy", "swing-assisted-weight/6in", "grit-too-much", judge.Condition},
		{"elastomer", "", "", "flap/6in", "elastomer", judge.Pass},
		{"too hot", "rags: light", "rags: light\n  greatest_temperature: 210 °F", "ball-pocket/6in", "elastomer-unsuitable", judge.Rejects},
		{"hot and oily", "oil: trace", "oil: heavy\n  greatest_temperature: 200 °F", "flap/6in", "elastomer-unsuitable", judge.Rejects},
		{"sulfide", "rags: light", "rags: light\n  hydrogen_sulfide: high", "flap/6in", "sulfide", judge.Condition},
		{"back head", "", "", "flap/6in", "back-head", judge.Pass},
		{"too little back head", "outlet: 46 ft", "outlet: 11 ft", "flap/6in", "back-head-too-small", judge.Rejects},
		{"lying ball", "position: flow up", "position: horizontal", "ball-pocket/6in", "back-head", judge.Pass},
		{"rating", "", "", "flap/6in", "rating", judge.Pass},
		{"rating called for", "place: dry pit", "place: dry pit\n  rating: 300 psi", "flap/6in", "rating-below-called", judge.Rejects},
		{"full open", "", "", "flap/6in", "velocity-full-open", judge.Pass},
		{"flutters", "", "", "flap/8in", "velocity-below-full-open", judge.Condition},
		{"size", "", "", "flap/6in", "size", judge.Pass},
		{"other size", "", "", "flap/8in", "size-differs", judge.Condition},
		{"straight", "", "", "flap/6in", "straight", judge.Pass},
		{"straight too short", "straight_before: 3 ft", "straight_before: 6 in", "flap/6in", "straight-too-short", judge.Condition},
		{"straight not said", "  straight_before: 3 ft\n", "", "flap/6in", "straight-unknown", judge.Confirm},
		{"clearance", "", "", "flap/6in", "clearance", judge.Pass},
		{"clearance too small", "clearance: 30 in", "clearance: 3 in", "flap/6in", "clearance-too-small", judge.Condition},
		{"clearance not said", "  clearance: 30 in\n", "", "flap/6in", "clearance-unknown", judge.Confirm},
		{"wet well", "place: dry pit", "place: wet well", "flap/6in", "in-wet-well", judge.Condition},
		{"drops in", "place: dry pit", "place: dry pit\n  laying_length: 14 in", "flap/6in", "laying-length", judge.Pass},
		{"gap", "place: dry pit", "place: dry pit\n  laying_length: 20 in", "flap/6in", "laying-length-gap", judge.Condition},
		{"too long", "place: dry pit", "place: dry pit\n  laying_length: 10 in", "flap/6in", "laying-length-too-long", judge.Condition},
		{"light", "", "", "flap/6in", "lifting", judge.Note},
		{"heavy", "", "", "swing-assisted-weight/24in", "lifting-plan", judge.Condition},
		{"loss", "", "", "flap/6in", "loss", judge.Note},
		{"cost", "", "", "flap/6in", "cost", judge.Note},
		{"no indication", "", "", "flap/6in", "no-indication", judge.Note},
		{"indication", "", "", "swing-assisted-weight/6in", "indication", judge.Pass},
		{"drinking water", "kind: raw sewage\n  rags: light\n  grit: some\n  oil: trace", "kind: drinking water", "dual-plate/6in", "drinking-water", judge.Pass},
		{"not for drinking water", "kind: raw sewage\n  rags: light\n  grit: some\n  oil: trace", "kind: drinking water", "ball-pocket/6in", "drinking-water-not-certified", judge.Rejects},
		{"certificate on request", "kind: raw sewage\n  rags: light\n  grit: some\n  oil: trace", "kind: drinking water", "flap/6in", "drinking-water-on-request", judge.Condition},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(text, c.from) {
				t.Fatalf("%q does not stand in the example", c.from)
			}
			a := judged(t, strings.Replace(text, c.from, c.to, 1), c.valve)[0]
			got, ok := severityOf(a, c.id)
			if !ok || got != c.severity {
				var all []string
				for _, f := range a.Findings {
					all = append(all, f.ID+":"+f.Severity.String())
				}
				t.Errorf("want %s as %s, got %v", c.id, c.severity, all)
			}
		})
	}
}

// Every finding stands on something, and nothing unchecked hides behind suitable.
func TestFindingsAreWhole(t *testing.T) {
	for _, a := range judged(t, layout(t), "") {
		unsettled := false
		for _, f := range a.Findings {
			if f.Basis == "" || f.Text == "" || strings.Contains(f.Text, "NaN") || (f.Severity == judge.Confirm && f.Missing == "") {
				t.Errorf("%s: %+v", a.Item.ID, f)
			}
			unsettled = unsettled || f.Severity >= judge.Condition
		}
		if a.Verdict == judge.Suitable && unsettled {
			t.Errorf("%s is suitable with open points", a.Item.ID)
		}
		if (a.Verdict == judge.Unsuitable) != (judge.WhyNot(a) != "") || (a.Verdict == judge.Unsuitable) != (a.Rank == 0) {
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
