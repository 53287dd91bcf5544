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
//   - cannot say, if something that decides could not be worked out;
//   - suitable with conditions, if a condition stands;
//   - suitable, if every check passed, whatever is still to be confirmed on site or by the
//     maker: that is listed always, and decides nothing.
//
// The rule is monotone: a further finding never makes the verdict better.
func (b *bench) conclude() {
	out := &b.out
	slices.SortStableFunc(out.Findings, func(x, y Finding) int {
		if x.Severity != y.Severity {
			return int(y.Severity) - int(x.Severity)
		}
		switch { // mechanics before the maker's refusal
		case x.Maker == y.Maker:
			return 0
		case y.Maker:
			return -1
		}
		return 1
	})
	out.Verdict = VerdictOf(out.Findings)
	steps := b.Item.Size.DN - b.Station.Valve.Size.DN
	out.Score = Score{
		Verdict: out.Verdict, Risk: out.Slam.Risk, ReverseMS: out.Slam.MedianMS, LossM: out.Governing.Loss.SI,
		Cost: math.Inf(1), Steps: max(steps, -steps),
	}
	if c := out.LifeCycleCost; c.Known() {
		out.Score.Cost = c.SI
	}
	for _, f := range out.Findings {
		if f.Kind == VelocityBelowFullOpen {
			out.Score.Flutters = 1
		}
	}
	if steps != 0 {
		out.Score.SizeSteps = 1 + out.Score.Flutters
	}
}

// VerdictOf draws the verdict from findings, by the rule of conclude.
func VerdictOf(findings []Finding) Verdict {
	v := Suitable
	for _, f := range findings {
		switch f.Severity {
		case Rejects:
			return Unsuitable
		case Open:
			v = CannotSay
		case Condition:
			v = max(v, WithConditions)
		}
	}
	return v
}

// RankingRule says in one sentence how valves are ranked.
const RankingRule = "Valves are ranked by verdict; then by the risk of slam; then the pipe's own size before other sizes, with other sizes that float last; then an element held steady at normal flow; then by life-cycle cost, reverse velocity and head loss. Unsuitable valves have no rank."

// criteria are what the ranking compares, in order, with how a lead is worded.
var criteria = []struct {
	value func(Score) float64
	lead  string
}{
	{func(s Score) float64 { return float64(s.Verdict) }, "has the better verdict"},
	{func(s Score) float64 { return float64(s.Risk) }, "has less risk of slam"},
	{func(s Score) float64 { return float64(s.SizeSteps) }, "suits the pipe size better"},
	{func(s Score) float64 { return float64(s.Flutters) }, "is held steady at normal flow"},
	{func(s Score) float64 { return s.Cost }, "has the lower life-cycle cost"},
	{func(s Score) float64 { return s.ReverseMS }, "has the lower reverse velocity"},
	{func(s Score) float64 { return s.LossM }, "has the lower head loss"},
	{func(s Score) float64 { return float64(s.Steps) }, "is nearer to the pipe size"},
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
	if i == 0 {
		if len(all) == 1 || all[1].Verdict == Unsuitable {
			return "ranked first: the only valve looked at that can be used"
		}
		return fmt.Sprintf("ranked first: next to %s it %s", all[1].Item.ID, lead(all[0].Score, all[1].Score))
	}
	return fmt.Sprintf("ranked below %s, which %s", all[i-1].Item.ID, lead(all[i-1].Score, all[i].Score))
}

// lead names the first criterion by which x stands before y.
func lead(x, y Score) string {
	for _, c := range criteria {
		if c.value(x) != c.value(y) {
			return c.lead
		}
	}
	return "compares the same"
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
		"vault": st.Valve.Where == "" || st.Valve.Where == "valve vault" || st.Valve.Where == "wet well" ||
			st.Valve.Where == "dry pit",
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
			if f.Kind == LiftingPlan && all[i].Verdict != Unsuitable {
				return true
			}
		}
	}
	return false
}
