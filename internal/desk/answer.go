package desk

import (
	"context"
	"crypto/sha256"
	"fmt"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/station"
	"seatward/study"
)

// AnswerRequest asks which valve.
type AnswerRequest struct {
	Text  string `json:"text"`
	Valve string `json:"valve,omitempty"` // to be shown; the first-ranked without it
	Units string `json:"units,omitempty"` // US or SI; those of the file without it
}

// AnswerReply is the answer: all valves, and the one that is shown.
type AnswerReply struct {
	Study        study.JSON          `json:"study"`
	Shown        Shown               `json:"shown"`
	Verdict      Verdict             `json:"verdict"`
	Rows         []Row               `json:"rows"`
	DecisiveFact string              `json:"decisive_fact"`
	Cautions     []study.CautionJSON `json:"cautions"`
	Runs         string              `json:"runs" jsonschema:"enum=none,enum=shown,enum=all"` // whose pump trips were run through: the judgement of the others is by closed formulas
	ToRun        bool                `json:"to_run"`                                          // running those of the shown valve through may change what is said of it
}

// Whose pump trips were run through.
const (
	RunsNone  = "none"
	RunsShown = "shown"
	RunsAll   = "all"
)

// Shown is the valve that is told in full.
type Shown struct {
	Candidate study.CandidateJSON `json:"candidate"`
	Findings  []study.FindingJSON `json:"findings"`
	Slam      *study.SlamJSON     `json:"slam"` // from runs where the station is known well enough
}

// Verdict is the answer in a sentence.
type Verdict struct {
	Word     string `json:"word"`
	Sentence string `json:"sentence"`
}

// Rows judges the whole catalog by closed formulas alone: the answer that is there at once.
func (d *Desk) Rows(ctx context.Context, in AnswerRequest) (*AnswerReply, error) {
	s, err := d.quick(ctx, in)
	if err != nil {
		return nil, err
	}
	return d.reply(s, in.Valve, RunsNone)
}

// Answer is Rows with the pump trips of the shown valve run through: what is said of that
// valve is what AnswerFull says of it. Without a valve named, the first of the ranking is
// shown: the one whose trips, run through, keep it before all others. Another may come
// first once the trips of all are run through, where closed formulas were hard on it; the
// sentence says that they have not been.
func (d *Desk) Answer(ctx context.Context, in AnswerRequest) (*AnswerReply, error) {
	s, err := d.through(ctx, in)
	if err != nil {
		return nil, err
	}
	return d.reply(s, s.Through, RunsShown)
}

// AnswerFull runs the trips of every valve that could be helped by it through, as the
// command select does. Progress is told after each valve; it may be nil.
func (d *Desk) AnswerFull(ctx context.Context, in AnswerRequest, progress func(done, total int)) (*AnswerReply, error) {
	if in.Valve != "" {
		it, err := catalog.Find(d.catalogs, in.Valve)
		if err != nil {
			return nil, asked(err)
		}
		in.Valve = it.ID
	}
	s, err := d.study(ctx, in, study.Options{Progress: progress, Also: in.Valve})
	if err != nil {
		return nil, err
	}
	return d.reply(s, in.Valve, RunsAll)
}

// quick is the study by closed formulas.
func (d *Desk) quick(ctx context.Context, in AnswerRequest) (*study.Study, error) {
	return d.study(ctx, in, study.Options{Quick: true, Also: in.Valve})
}

// through is the quick study with the shown valve run through.
func (d *Desk) through(ctx context.Context, in AnswerRequest) (*study.Study, error) {
	s, err := d.quick(ctx, in)
	if err != nil {
		return nil, err
	}
	key := sha256.Sum256(fmt.Appendf(nil, "through %q %v %q", in.Text, s.Station.Units, in.Valve))
	t, err := d.studies.get(ctx, key, func() (*study.Study, error) { return s.RunThrough(ctx, in.Valve) })
	return t, asked(err)
}

// study answers for the text, or gives the answer that is kept for it.
func (d *Desk) study(ctx context.Context, in AnswerRequest, opt study.Options) (*study.Study, error) {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	if in.Valve == "" {
		if list := study.SizeMade(d.catalogs, st); list != nil {
			return nil, fileError(list)
		}
	}
	opt.Catalogs, opt.Rules = d.catalogs, d.rules
	key := sha256.Sum256(fmt.Appendf(nil, "%q %v %t %q %q", in.Text, st.Units, opt.Quick, opt.Also, opt.Valve))
	s, err := d.studies.get(ctx, key, func() (*study.Study, error) { return study.Run(ctx, st, opt) })
	return s, asked(err)
}

// reply words a study. The study is shared: nothing in it is changed.
func (d *Desk) reply(s *study.Study, valve, runs string) (*AnswerReply, error) {
	out := &AnswerReply{Study: s.JSON(), Rows: []Row{}, Runs: runs, Cautions: []study.CautionJSON{}}
	out.Cautions = append(out.Cautions, out.Study.Cautions...)
	if len(s.Assessments) == 0 {
		return nil, &Error{ID: "no-valve", Text: "the catalog has no valve near this size", Mend: "mend valve.size"}
	}
	at := 0
	for i := range s.Assessments {
		a := &s.Assessments[i]
		if a.Item.ID == valve {
			at = i
		}
		out.Rows = append(out.Rows, d.row(s.Station, a))
	}
	if valve != "" && s.Assessments[at].Item.ID != valve {
		return nil, &Error{ID: "valve-unknown", Text: fmt.Sprintf("no valve %q is among those that were judged", valve), Mend: "take one of the rows"}
	}
	a := &s.Assessments[at]
	c := out.Study.Candidates[at]
	out.Shown = Shown{Candidate: c, Findings: c.Findings, Slam: c.Slam}
	out.DecisiveFact = a.Slam.DecisiveInput
	out.Verdict = verdict(s, a, runs)
	out.ToRun = runs == RunsNone && s.WouldRun(a)
	return out, nil
}

// verdict is what is said of the shown valve first.
func verdict(s *study.Study, a *judge.Assessment, runs string) Verdict {
	out := Verdict{Word: a.Verdict.String()}
	name := title(a) + ", " + a.Item.Size.Format(s.Station.Units)
	best := a == &s.Assessments[0]
	switch {
	case a.Verdict == judge.Unsuitable && best:
		out.Word = "no valve"
		out.Sentence = fmt.Sprintf("No valve of the catalog can be used here. %s comes nearest, but: %s", name, judge.WhyNot(*a))
	case a.Verdict == judge.Unsuitable:
		out.Sentence = fmt.Sprintf("%s cannot be used here: %s", name, judge.WhyNot(*a))
	default:
		place := fmt.Sprintf("ranks %d of %d", a.Rank, ranked(s))
		switch {
		case best && runs == RunsAll:
			place = "is the best valve here"
		case best && runs == RunsShown:
			place = "comes first, the others judged by closed formulas"
		case best:
			place = "comes first by closed formulas"
		}
		out.Sentence = fmt.Sprintf("%s %s: %s.%s", name, place, a.Verdict, decisive(a))
	}
	return out
}

// decisive is the sentence of the finding that keeps a valve from a better verdict, or what
// is said of its slam.
func decisive(a *judge.Assessment) string {
	var slam string
	for _, f := range a.Findings {
		if f.Severity == judge.Condition || f.Severity == judge.Unchecked {
			return " " + f.Text
		}
		if f.ID == "slam-"+a.Slam.Class {
			slam = " " + f.Text
		}
	}
	return slam
}

func ranked(s *study.Study) int {
	n := 0
	for i := range s.Assessments {
		if s.Assessments[i].Rank > 0 {
			n++
		}
	}
	return n
}

// title is the family with its variant.
func title(a *judge.Assessment) string {
	if a.Item.VariantTitle == "" {
		return a.Item.Family.Title
	}
	return a.Item.Family.Title + ", " + a.Item.VariantTitle
}

// Row is one valve in the list.
type Row struct {
	ID         string       `json:"id"`
	Family     string       `json:"family"`
	Title      string       `json:"title"`
	Size       string       `json:"size"`
	Variant    string       `json:"variant"`
	Verdict    string       `json:"verdict"`
	Rank       int          `json:"rank"` // 0 for one that cannot be used
	WhyNot     string       `json:"why_not"`
	Loss       *RowLoss     `json:"loss"`
	Velocity   *RowVelocity `json:"velocity"`
	FullOpen   *RowVelocity `json:"full_open"`
	Slam       *RowSlam     `json:"slam"`
	Cost       *RowCost     `json:"cost"` // of the head lost, in a year
	Conditions []string     `json:"conditions"`
	Unchecked  []string     `json:"unchecked"`
}

// RowLoss is a head lost.
type RowLoss struct {
	M    float64 `json:"m"`
	Text string  `json:"text"`
}

// RowVelocity is a velocity in the bore.
type RowVelocity struct {
	MS   float64 `json:"m_s"`
	Text string  `json:"text"`
}

// RowSlam is the reverse velocity with its band, and the limits of the classes. Behind a
// cushion the class goes by the sudden stop that the cushion makes of it, which is told then.
type RowSlam struct {
	Stopped   *RowVelocity `json:"stopped"`
	Class     string       `json:"class" jsonschema:"enum=quiet,enum=audible,enum=harmful,enum=unknown"`
	Low       float64      `json:"low"`
	Best      float64      `json:"best"`
	High      float64      `json:"high"`
	Text      string       `json:"text"`
	QuietMS   float64      `json:"quiet_m_s"`
	HarmfulMS float64      `json:"harmful_m_s"`
}

// RowCost is money in the user's currency.
type RowCost struct {
	Text  string  `json:"text"`
	Value float64 `json:"value"`
}

func (d *Desk) row(st *station.Station, a *judge.Assessment) Row {
	sys := st.Units
	out := Row{
		ID: a.Item.ID, Family: a.Item.Family.ID, Title: title(a), Size: a.Item.Size.Format(sys), Variant: a.Item.Variant,
		Verdict: a.Verdict.String(), Rank: a.Rank, WhyNot: judge.WhyNot(*a), Conditions: []string{}, Unchecked: []string{},
	}
	told := func(v basis.Value) bool { return v.Known() && finite(v.SI) != nil }
	if v := a.Governing.Loss; told(v) {
		out.Loss = &RowLoss{v.SI, v.Format(sys)}
	}
	if v := a.Governing.Velocity; told(v) {
		out.Velocity = &RowVelocity{v.SI, v.Format(sys)}
	}
	if v := a.FullOpenVelocity; told(v) {
		out.FullOpen = &RowVelocity{v.SI, v.Format(sys)}
	}
	if v := a.CostPerYear; told(v) {
		out.Cost = &RowCost{v.Format(sys), v.SI}
	}
	if v := a.Slam.ReverseVelocity; told(v) {
		out.Slam = &RowSlam{
			Class: a.Slam.Class, Low: v.Low, Best: v.SI, High: v.High, Text: v.Format(sys),
			QuietMS: d.rules.Limit("slam-quiet").Value.SI, HarmfulMS: d.rules.Limit("slam-harmful").Value.SI,
		}
		if s := a.Slam.Stopped; told(s) && s.SI != v.SI {
			out.Slam.Stopped = &RowVelocity{s.SI, s.Format(sys)}
		}
		if out.Slam.Class == "" {
			out.Slam.Class = "unknown"
		}
	}
	for _, f := range a.Findings {
		switch f.Severity {
		case judge.Condition:
			out.Conditions = append(out.Conditions, f.Text)
		case judge.Unchecked:
			out.Unchecked = append(out.Unchecked, f.Text)
		}
	}
	return out
}
