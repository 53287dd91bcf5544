package judge

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/rules"
	"seatward/station"
)

// conclude orders the findings and draws the verdict:
//
//   - unsuitable, if any finding rejects;
//   - cannot say, if slam is harmful at the best estimate, could not be narrowed between
//     quiet and harmful, or not be worked out at all;
//   - suitable with conditions, if a condition stands or a point could not be checked;
//   - suitable, only if every check passed.
//
// The rule is monotone: a further finding never makes the verdict better.
func (b *bench) conclude() {
	out := &b.out
	slices.SortStableFunc(out.Findings, func(x, y Finding) int { return int(y.Severity) - int(x.Severity) })
	out.Verdict = VerdictOf(out.Findings)
	out.Score = Score{
		Verdict: out.Verdict, SlamClass: slamRank(out.Slam.ClassHigh), SlamBest: slamRank(out.Slam.Class), ReverseMS: math.Round(out.Slam.ReverseVelocity.SI*10) / 10,
		SizeSteps: steps(b), LossM: out.Governing.Loss.SI, Cost: out.LifeCycleCost.SI,
	}
	for _, f := range out.Findings {
		if f.ID == belowFullOpen {
			out.Score.Flutters = 1
		}
		switch f.Severity {
		case Condition:
			out.Score.Conditions++
		case Unchecked:
			out.Score.Unchecked++
		}
	}
}

// VerdictOf draws the verdict from findings, by the rule of conclude.
func VerdictOf(findings []Finding) Verdict {
	v := Suitable
	for _, f := range findings {
		switch {
		case f.Severity == Rejects:
			return Unsuitable
		case f.Severity == Unchecked && (f.ID == "slam-open" || f.ID == "slam-unknown"):
			v = CannotSay
		case f.Severity >= Condition && v == Suitable:
			v = WithConditions
		}
	}
	return v
}

func steps(b *bench) int {
	if b.Item.Size == b.Station.Valve.Size {
		return 0
	}
	return 1
}

// RankingRule says in one sentence how valves are ranked.
//
// A valve that normal flow does not hold still wears out in every hour of running; a
// slam that is heard, but not harmful, comes only at stops. So flutter goes before the
// slam class, and harm from slam, which the verdict holds, before flutter.
const RankingRule = "Valves are ranked by verdict; then the pipe's own size first; then those that normal flow holds still; then by the slam class at the best estimate and at the high end of its band, and by the reverse velocity to 0.1 m/s; then by fewer conditions, fewer unchecked points, and less head lost. Unsuitable valves have no rank."

// criteria are what the ranking compares, in order, with how a lead is told.
var criteria = []struct {
	value func(Score) float64
	lead  string
}{
	{func(s Score) float64 { return float64(s.Verdict) }, "better verdict"},
	{func(s Score) float64 { return float64(s.SizeSteps) }, "the pipe's own size"},
	{func(s Score) float64 { return float64(s.Flutters) }, "an element that normal flow holds still"},
	{func(s Score) float64 { return float64(s.SlamBest) }, "milder slam"},
	{func(s Score) float64 { return float64(s.SlamClass) }, "milder slam at the high end of its band"},
	{func(s Score) float64 { return s.ReverseMS }, "less reverse flow"},
	{func(s Score) float64 { return float64(s.Conditions) }, "fewer conditions"},
	{func(s Score) float64 { return float64(s.Unchecked) }, "fewer points to confirm"},
	{func(s Score) float64 { return s.LossM }, "less head lost"},
}

// Rank orders the assessments, best first, gives ranks and says why each stands where
// it stands. The order is total: ties are broken by ID.
func Rank(all []Assessment) {
	slices.SortStableFunc(all, func(x, y Assessment) int {
		for _, c := range criteria {
			if a, b := c.value(x.Score), c.value(y.Score); a != b {
				if a < b {
					return -1
				}
				return 1
			}
		}
		return strings.Compare(x.Item.ID, y.Item.ID)
	})
	for i := range all {
		a := &all[i]
		a.Rank = 0
		if a.Verdict == Unsuitable {
			continue
		}
		a.Rank = i + 1
		a.RankReason = reason(all, i)
	}
}

// reason compares a valve with its neighbors in the ranking.
func reason(all []Assessment, i int) string {
	var parts []string
	if i == 0 {
		if len(all) == 1 || all[1].Verdict == Unsuitable {
			return "the only valve looked at that can be used"
		}
		return fmt.Sprintf("first, before %s, by %s", all[1].Item.ID, lead(all[0].Score, all[1].Score))
	}
	parts = append(parts, fmt.Sprintf("behind %s, which has %s", all[i-1].Item.ID, lead(all[i-1].Score, all[i].Score)))
	return strings.Join(parts, "; ")
}

// lead names the first criterion by which x stands before y.
func lead(x, y Score) string {
	for _, c := range criteria {
		if c.value(x) != c.value(y) {
			return c.lead
		}
	}
	return "the alphabet alone"
}

// WhyNot says in a sentence or two why a valve is rejected; "" for one that is not.
func WhyNot(a Assessment) string {
	var out []string
	for _, f := range a.Findings {
		if f.Severity == Rejects {
			out = append(out, f.Text)
		}
	}
	return strings.Join(out, " ")
}

// Caution is a caution that goes with an answer.
type Caution struct{ ID, Text string }

// Cautions picks the cautions that apply to the station and the valves that can be used.
func Cautions(st *station.Station, all []Assessment, book *rules.Book) []Caution {
	applies := map[string]bool{
		"always": true, "surge": true, "sewage": st.Fluid.Sewage(), "drinking water": st.Fluid.Drinking(),
		"vault": st.Valve.Where == "" || st.Valve.Where == "valve vault" || st.Valve.Where == "wet well" || st.Valve.Where == "dry pit",
		"heavy": heavy(all),
	}
	var out []Caution
	for _, c := range book.CautionsWhen(applies) {
		out = append(out, Caution{c.ID, c.Text + " " + c.Defers})
	}
	return out
}

func heavy(all []Assessment) bool {
	for i := range all {
		for _, f := range all[i].Findings {
			if f.ID == "lifting-plan" && all[i].Verdict != Unsuitable {
				return true
			}
		}
	}
	return false
}
