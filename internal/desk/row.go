package desk

import (
	"math"

	"seatward/basis"
	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// Row is one valve in the list.
type Row struct {
	ID         string       `json:"id"`
	Family     string       `json:"family"`
	Figure     valve.Figure `json:"figure"` // what its picture shows
	Title      string       `json:"title"`
	Size       string       `json:"size"`
	Variant    string       `json:"variant"`
	Verdict    string       `json:"verdict"`
	Rank       int          `json:"rank"` // 0 for one that cannot be used, and while stops are still to be run
	WhyNot     string       `json:"why_not"`
	Loss       *RowLoss     `json:"loss"`
	Velocity   *RowVelocity `json:"velocity"`
	FullOpen   *RowVelocity `json:"full_open"`
	Slam       *RowSlam     `json:"slam"`
	Pending    bool         `json:"pending"` // its stops are still to be run: no slam yet
	NotRun     string       `json:"not_run"` // why there is no slam number; empty where there is one
	Separation string       `json:"column_separation"`
	Cost       *RowCost     `json:"cost"` // annual energy cost of the head loss
	Why        RowWhy       `json:"why"`
	Conditions []string     `json:"conditions"`
	Open       []string     `json:"open"`    // what cannot be said
	Confirm    []string     `json:"confirm"` // before ordering
}

// RowWhy are the findings behind the numbers of a row; null where there is none.
type RowWhy struct {
	Velocity *study.FindingJSON `json:"velocity"`
	Loss     *study.FindingJSON `json:"loss"`
	Slam     *study.FindingJSON `json:"slam"`
}

// whyOf picks them from the findings.
func whyOf(a *judge.Assessment) RowWhy {
	form := func(f *judge.Finding) *study.FindingJSON {
		if f == nil {
			return nil
		}
		out := study.FindingOf(*f)
		return &out
	}
	return RowWhy{form(a.On(judge.OnVelocity)), form(a.On(judge.OnLoss, judge.OnCost)), form(a.SlamFinding())}
}

// RowLoss is a head loss.
type RowLoss struct {
	M    float64 `json:"m"`
	Text string  `json:"text"`
}

// RowVelocity is a velocity in the bore.
type RowVelocity struct {
	MS   float64 `json:"m_s"`
	Text string  `json:"text"`
}

// RowSlam is the slam of the record: the reverse velocity of the hardest seating of the
// worst stop at best estimates, its likely interval, and the chances of the classes. Behind
// a cushion the class goes by the sudden stop of the same head rise, which is given then.
type RowSlam struct {
	Event      string        `json:"event"` // as a trip takes it
	EventTitle string        `json:"event_title"`
	Stopped    *RowVelocity  `json:"stopped"`
	Class      string        `json:"class" jsonschema:"enum=quiet,enum=audible,enum=harmful"`         // of the best estimate
	Decides    string        `json:"verdict_class" jsonschema:"enum=quiet,enum=audible,enum=harmful"` // by which the verdict goes
	Words      string        `json:"class_words"`                                                     // that class with its chance
	Low        float64       `json:"low"`                                                             // 5 % point
	Best       float64       `json:"best"`                                                            // the run at best estimates
	High       float64       `json:"high"`                                                            // 95 % point
	Text       string        `json:"text"`
	Likely     string        `json:"likely"` // 5 to 95 % in words; empty where nothing is uncertain
	Median     string        `json:"median"` // comes first where the best estimate is a lucky one; empty elsewhere
	Chances    Chances       `json:"chances"`
	ChanceText string        `json:"chances_text"`
	Rise       *RowLoss      `json:"head_rise"`
	Most       *RowLoss      `json:"max_head"` // behind the valve in the worst stop, above the datum
	Threshold  *RowThreshold `json:"threshold"`
	QuietMS    float64       `json:"quiet_m_s"`
	HarmfulMS  float64       `json:"harmful_m_s"`
}

// Chances are the shares of all cases that fall into the classes of slam.
type Chances struct {
	Quiet   float64 `json:"quiet"`
	Audible float64 `json:"audible"`
	Harmful float64 `json:"harmful"`
}

// RowThreshold is the one fact on which the class depends, and the value at which it changes.
type RowThreshold struct {
	Fact   string   `json:"fact"`
	Low    float64  `json:"low"`  // of the fact's range, SI
	High   float64  `json:"high"` // likewise
	Best   float64  `json:"best"`
	At     float64  `json:"at"`
	Texts  []string `json:"texts"` // low, high and the value at which the class changes
	Milder string   `json:"milder" jsonschema:"enum=above,enum=below"`
	Below  string   `json:"below"` // class on this side
	Above  string   `json:"above"`
}

// RowCost is money in the user's currency.
type RowCost struct {
	Text  string  `json:"text"`
	Value float64 `json:"value"`
}

func (d *Desk) row(s *study.Study, a *judge.Assessment) Row {
	sys := s.Station.Units
	out := Row{
		ID: a.Item.ID, Family: a.Item.Family.ID, Figure: a.Item.Family.Type.Figure(a.Item.Params), Title: title(a),
		Size: a.Item.Size.Format(sys), Variant: a.Item.Variant,
		Verdict: a.Verdict.String(), WhyNot: judge.WhyNot(*a), Pending: a.Pending(), NotRun: a.Slam.NotRun,
		Separation: a.Separation, Why: whyOf(a),
		Conditions: textsOf(a, judge.Condition), Open: textsOf(a, judge.Open), Confirm: textsOf(a, judge.Confirm),
	}
	if s.Pending == 0 {
		out.Rank = a.Rank
	}
	if !a.Pending() && a.Answer == nil && out.NotRun == "" {
		out.NotRun = "its mechanics cannot be computed"
	}
	if v := a.Governing.Loss; known(v) {
		out.Loss = &RowLoss{v.SI, v.Format(sys)}
	}
	if v := a.Governing.Velocity; known(v) {
		out.Velocity = &RowVelocity{v.SI, v.Format(sys)}
	}
	if v := a.FullOpenVelocity; known(v) {
		out.FullOpen = &RowVelocity{v.SI, v.Format(sys)}
	}
	if v := a.CostPerYear; known(v) {
		out.Cost = &RowCost{v.Format(sys), v.SI}
	}
	if a.Answer != nil && a.Answer.Worst != nil && known(a.Slam.ReverseVelocity) {
		out.Slam = slamOf(a, judge.SlamLimits(d.rules), sys)
	}
	return out
}

// slamOf reads the slam off the record.
func slamOf(a *judge.Assessment, limits plant.Limits, sys quantity.System) *RowSlam {
	x, v := &a.Slam, a.Slam.ReverseVelocity
	out := &RowSlam{
		Event: x.EventID, EventTitle: x.Event, Class: x.Class, Low: v.Low, Best: v.SI, High: v.High,
		Text: sys.Format(v.Kind, v.SI), Chances: Chances(x.Chances), QuietMS: limits.QuietMS,
		HarmfulMS: limits.HarmfulMS,
		Decides:   a.VerdictClass(), Words: a.SlamWords(), Likely: likely(v, x.Runs, sys),
	}
	if x.Runs > 0 {
		out.ChanceText = x.ChancesWords()
	}
	if x.Lucky {
		out.Median = sys.Format(v.Kind, x.MedianMS)
	}
	if s := x.Stopped; known(s) && s.SI != v.SI {
		out.Stopped = &RowVelocity{s.SI, sys.Format(s.Kind, s.SI)}
	}
	if r := x.HeadRise; known(r) {
		out.Rise = &RowLoss{r.SI, sys.Format(r.Kind, r.SI)}
	}
	if m := a.Answer.Worst.MostM(); !math.IsNaN(m) && !math.IsInf(m, 0) {
		out.Most = &RowLoss{m, sys.Format(quantity.Head, m)}
	}
	if t := x.Threshold; t != nil {
		out.Threshold = thresholdOf(x, sys)
	}
	return out
}

// likely is the 5 to 95 % interval in words; "" where there is none.
func likely(v basis.Value, runs int, sys quantity.System) string {
	if runs == 0 || !v.Ranged() {
		return ""
	}
	return v.FormatRange(sys)
}

func thresholdOf(s *judge.Slam, sys quantity.System) *RowThreshold {
	t, f := s.Threshold, s.Threshold.Fact
	say := func(x float64) string { return s.ThresholdNumber(sys, x) }
	out := &RowThreshold{
		Fact: f.Name, Low: f.Low, High: f.High, Best: f.SI, At: t.At.SI,
		Texts: []string{say(f.Low), say(f.High), say(t.At.SI)}, Milder: "below",
	}
	out.Below, out.Above = s.Milder, s.Harder
	if t.Above {
		out.Milder, out.Below, out.Above = "above", s.Harder, s.Milder
	}
	return out
}

// known is true for a number that can be shown.
func known(v basis.Value) bool { return v.Known() && finite(v.SI) != nil }

// textsOf are the findings of one severity.
func textsOf(a *judge.Assessment, severity judge.Severity) []string {
	out := []string{}
	for _, f := range a.Findings {
		if f.Severity == severity {
			out = append(out, f.Text)
		}
	}
	return out
}
