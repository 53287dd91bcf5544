package judge

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/catalog"
)

var severities = []Severity{Pass, Note, Confirm, Condition, Open, Rejects}

func TestVerdictOf(t *testing.T) {
	f := func(k *Kind, s Severity) Finding { return Finding{Kind: k, Severity: s} }
	for _, c := range []struct {
		name     string
		findings []Finding
		want     Verdict
	}{
		{"nothing checked", nil, Suitable},
		{"all in order", []Finding{f(LineSize, Pass), f(LossTold, Note)}, Suitable},
		{"points to be confirmed", []Finding{f(RagsToConfirm, Confirm), f(StraightUnknown, Confirm)}, Suitable},
		{"a condition", []Finding{f(LineSize, Pass), f(VelocityTooHigh, Condition)}, WithConditions},
		{
			"a condition beside a point to be confirmed",
			[]Finding{f(StraightUnknown, Confirm), f(VelocityTooHigh, Condition)},
			WithConditions,
		},
		{"slam was not run", []Finding{f(SlamNotRun, Open)}, CannotSay},
		{
			"slam was not run, beside a condition",
			[]Finding{f(SlamNotRun, Open), f(VelocityTooHigh, Condition)},
			CannotSay,
		},
		{"the same the other way round", []Finding{f(VelocityTooHigh, Condition), f(SlamNotRun, Open)}, CannotSay},
		{
			"one that rejects",
			[]Finding{f(SlamNotRun, Open), f(SolidsDoNotPass, Rejects), f(LineSize, Pass)},
			Unsuitable,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := VerdictOf(c.findings); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

func anyFindings(most int) *rapid.Generator[[]Finding] {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Finding {
		return Finding{
			Kind:     rapid.SampledFrom([]*Kind{LineSize, SlamNotRun}).Draw(t, "kind"),
			Severity: rapid.SampledFrom(severities).Draw(t, "severity"),
		}
	}), 1, most)
}

// A further or a worse finding never makes the verdict better, and one that is to be
// confirmed never changes it.
func TestVerdictIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyFindings(8).Draw(t, "findings")
		before := VerdictOf(all)
		if after := VerdictOf(append(slices.Clone(all), anyFindings(1).Draw(t, "more")...)); after < before {
			t.Fatalf("%s becomes %s by one more", before, after)
		}
		if after := VerdictOf(append(slices.Clone(all),
			Finding{Kind: RagsToConfirm, Severity: Confirm})); after != before {
			t.Fatalf("%s becomes %s by a point to be confirmed", before, after)
		}
		i := rapid.IntRange(0, len(all)-1).Draw(t, "which")
		worse := slices.Clone(all)
		worse[i].Severity = rapid.SampledFrom(severities[slices.Index(severities, all[i].Severity):]).Draw(t, "worse")
		if after := VerdictOf(worse); after < before {
			t.Fatalf("%s becomes %s by a worse one", before, after)
		}
	})
}

// Each criterion decides where those before it are equal, in the order of the rule.
func TestRankByEachCriterion(t *testing.T) {
	worse := []struct {
		name  string
		spoil func(*Score)
	}{
		{"better verdict", func(s *Score) { s.Verdict = CannotSay }},
		{"less risk of slam", func(s *Score) { s.Risk = WillBeHeard }},
		{"suits the pipe size better", func(s *Score) { s.SizeSteps = 1 }},
		{"held steady at normal flow", func(s *Score) { s.Flutters = 1 }},
		{"lower life-cycle cost", func(s *Score) { s.Cost = 1000 }},
		{"lower reverse velocity", func(s *Score) { s.ReverseMS = 0.4 }},
		{"lower head loss", func(s *Score) { s.LossM = 2 }},
		{"nearer to the pipe size", func(s *Score) { s.Steps = 1 }},
	}
	if len(worse) != len(criteria) {
		t.Errorf("%d criteria are tested of %d", len(worse), len(criteria))
	}
	for i, w := range worse {
		t.Run(w.name, func(t *testing.T) {
			// The spoiled one is better in all that comes later, and comes first in the alphabet.
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
			if !strings.Contains(all[1].RankReason, w.name) {
				t.Errorf("the second stands below by %q", all[1].RankReason)
			}
		})
	}
}

// A valve without a price and one with: the known cost is ranked first, and nothing is NaN.
func TestRankWithUnknownCost(t *testing.T) {
	all := []Assessment{
		{Item: &catalog.Item{ID: "a"}, Score: Score{Cost: math.Inf(1), ReverseMS: 0.1}},
		{Item: &catalog.Item{ID: "b"}, Score: Score{Cost: math.Inf(1), ReverseMS: 0.05}},
		{Item: &catalog.Item{ID: "c"}, Score: Score{Cost: 5, ReverseMS: 0.2}},
	}
	Rank(all)
	if got := all[0].Item.ID + all[1].Item.ID + all[2].Item.ID; got != "cba" {
		t.Errorf("order %s, want cba", got)
	}
}

func TestUnsuitableHasNoRank(t *testing.T) {
	bad := Assessment{
		Item: &catalog.Item{ID: "a"}, Verdict: Unsuitable, Score: Score{Verdict: Unsuitable},
		Findings: []Finding{{Severity: Rejects, Text: "It does not pass."}, {Severity: Note, Text: "It is blue."}},
	}
	good := Assessment{Item: &catalog.Item{ID: "b"}}
	all := []Assessment{bad, good}
	Rank(all)
	if all[1].Rank != 0 || all[0].Rank != 1 {
		t.Errorf("ranks %d and %d", all[0].Rank, all[1].Rank)
	}
	if got := WhyNot(all[1]); got != "It does not pass." {
		t.Errorf("why not: %q", got)
	}
	if got := all[0].RankReason; !strings.HasSuffix(got, "the only valve looked at that can be used") {
		t.Errorf("reason %q", got)
	}
}

// The worth of one a year for 20 years at 4 % is 13.5903, and of ten years at 5 % 7.7217
// (annuity tables, from memory; closed form).
func TestPresentValue(t *testing.T) {
	for _, c := range []struct{ rate, years, want, within float64 }{
		{0.04, 20, 13.59033, 1e-5},
		{0.05, 10, 7.7217, 5e-5},
		{0, 7, 7, 0},
	} {
		if got := PresentValue(c.rate, c.years); math.Abs(got-c.want) > c.within {
			t.Errorf("%g years at %g: %.5f, want %g", c.years, c.rate, got, c.want)
		}
	}
}
