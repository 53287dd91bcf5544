package judge

import (
	"math"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
)

func TestVerdictOf(t *testing.T) {
	f := func(id string, s Severity) Finding { return Finding{ID: id, Severity: s} }
	for _, c := range []struct {
		name     string
		findings []Finding
		want     Verdict
	}{
		{"nothing checked", nil, Suitable},
		{"all in order", []Finding{f("size", Pass), f("loss", Note)}, Suitable},
		{"a condition", []Finding{f("size", Pass), f("velocity-too-high", Condition)}, WithConditions},
		{"a point that was not checked", []Finding{f("rags-to-confirm", Unchecked)}, WithConditions},
		{"slam open", []Finding{f("slam-open", Unchecked)}, CannotSay},
		{"slam unknown beside a condition", []Finding{f("velocity-too-high", Condition), f("slam-unknown", Unchecked)}, CannotSay},
		{"one that rejects", []Finding{f("slam-open", Unchecked), f("solids-do-not-pass", Rejects), f("size", Pass)}, Unsuitable},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := VerdictOf(c.findings); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// Each criterion decides where those before it are equal, in the order of the rule.
func TestRankByEachCriterion(t *testing.T) {
	worse := []struct {
		name  string
		spoil func(*Score)
	}{
		{"better verdict", func(s *Score) { s.Verdict = CannotSay }},
		{"the pipe's own size", func(s *Score) { s.SizeSteps = 1 }},
		{"an element that normal flow holds still", func(s *Score) { s.Flutters = 1 }},
		{"milder slam", func(s *Score) { s.SlamBest = 2 }},
		{"milder slam at the high end of its band", func(s *Score) { s.SlamClass = 2 }},
		{"less reverse flow", func(s *Score) { s.ReverseMS = 0.4 }},
		{"fewer conditions", func(s *Score) { s.Conditions = 3 }},
		{"fewer points to confirm", func(s *Score) { s.Unchecked = 3 }},
		{"less head lost", func(s *Score) { s.LossM = 2 }},
	}
	for i, w := range worse {
		t.Run(w.name, func(t *testing.T) {
			// The spoiled one is better in all that comes later, and stands first in the alphabet.
			spoiled, good := Assessment{Item: &catalog.Item{ID: "a"}}, Assessment{Item: &catalog.Item{ID: "b"}}
			for _, later := range worse[i+1:] {
				later.spoil(&good.Score)
			}
			w.spoil(&spoiled.Score)
			spoiled.Verdict, good.Verdict = spoiled.Score.Verdict, good.Score.Verdict
			all := []Assessment{spoiled, good}
			Rank(all)
			if all[0].Item.ID != "b" || !strings.Contains(all[0].RankReason, w.name) {
				t.Errorf("first is %s: %s", all[0].Item.ID, all[0].RankReason)
			}
		})
	}
}

func TestUnsuitableHasNoRank(t *testing.T) {
	bad := Assessment{Item: &catalog.Item{ID: "a"}, Verdict: Unsuitable, Score: Score{Verdict: Unsuitable}, Findings: []Finding{{Severity: Rejects, Text: "It does not pass."}, {Severity: Note, Text: "It is blue."}}}
	good := Assessment{Item: &catalog.Item{ID: "b"}}
	all := []Assessment{bad, good}
	Rank(all)
	if all[1].Rank != 0 || all[0].Rank != 1 {
		t.Errorf("ranks %d and %d", all[0].Rank, all[1].Rank)
	}
	if got := WhyNot(all[1]); got != "It does not pass." {
		t.Errorf("why not: %q", got)
	}
	if got := all[0].RankReason; got != "the only valve looked at that can be used" {
		t.Errorf("reason %q", got)
	}
}

// A measured curve is read between its points and never drawn out.
func TestReadMeasured(t *testing.T) {
	m := catalog.Measured{X: []float64{2, 4, 8}, Y: []float64{0.1, 0.2, 0.6}, Source: "made up"}
	at := func(best, low, high float64) (basis.Value, error) {
		return ReadMeasured(m, basis.NewSimulated("deceleration", quantity.Acceleration, best, "made up").WithRange(low, high))
	}
	v, err := at(6, 3, 7)
	if err != nil || math.Abs(v.SI-0.4) > 1e-12 || math.Abs(v.Low-0.15) > 1e-12 || math.Abs(v.High-0.5) > 1e-12 {
		t.Errorf("%.3f (%.3f to %.3f), %v; want 0.4 (0.15 to 0.5)", v.SI, v.Low, v.High, err)
	}
	for _, x := range [][3]float64{{1, 1, 1}, {9, 9, 9}, {6, 1, 7}, {6, 3, 9}} {
		if _, err := at(x[0], x[1], x[2]); err == nil {
			t.Errorf("%v is read off outside the curve", x)
		}
	}
}

// The worth of one a year for 20 years at 4 % is 13.5903 (annuity tables; closed form).
func TestPresentValue(t *testing.T) {
	if got := PresentValue(0.04, 20); math.Abs(got-13.59033) > 1e-5 {
		t.Errorf("%.5f", got)
	}
	if got := PresentValue(0, 20); got != 20 {
		t.Errorf("without interest %.5f", got)
	}
}
