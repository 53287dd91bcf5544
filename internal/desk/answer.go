package desk

import (
	"context"
	"fmt"

	"seatward/judge"
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
	Separation   string              `json:"column_separation"` // the risk beyond the valve, with the shown valve; empty where there is none
	Rows         []Row               `json:"rows"`
	DecisiveFact string              `json:"decisive_fact"`
	Cautions     []study.CautionJSON `json:"cautions"`
	Runs         string              `json:"runs" jsonschema:"enum=none,enum=shown,enum=all"` // which valves have had their pump stops run; ranks hold once all have
	ToRun        bool                `json:"to_run"`                                          // the stops of the shown valve are still to be run
}

// Which valves have had their pump stops run.
const (
	RunsNone  = "none"
	RunsShown = "shown" // the shown valve, and perhaps others
	RunsAll   = "all"
)

// Shown is the valve that is shown in full.
type Shown struct {
	Candidate study.CandidateJSON `json:"candidate"`
	Findings  []study.FindingJSON `json:"findings"`
	Slam      *study.SlamJSON     `json:"slam"` // null while its stops are still to be run
}

// Rows gives what is known at once: all valves, judged without slam where their stops are
// still to be run.
func (d *Desk) Rows(ctx context.Context, in AnswerRequest) (*AnswerReply, error) {
	s, valve, err := d.Study(ctx, in, runsSoFar, nil)
	if err != nil {
		return nil, err
	}
	return d.reply(s, valve)
}

// Answer is Rows with the stops of the shown valve run: what is said of that valve is what
// AnswerFull says of it, and no other row changes. Without a valve named, the first of the
// rows is shown; another may rank first once the stops of all are run.
func (d *Desk) Answer(ctx context.Context, in AnswerRequest) (*AnswerReply, error) {
	s, valve, err := d.Study(ctx, in, RunsShown, nil)
	if err != nil {
		return nil, err
	}
	return d.reply(s, valve)
}

// AnswerFull runs the stops of every valve, as the command select does. Progress is called
// after each valve; it may be nil.
func (d *Desk) AnswerFull(ctx context.Context, in AnswerRequest, progress func(done, total int)) (*AnswerReply, error) {
	s, valve, err := d.Study(ctx, in, RunsAll, progress)
	if err != nil {
		return nil, err
	}
	return d.reply(s, valve)
}

// reply words a study. The study is shared: nothing in it is changed.
func (d *Desk) reply(s *study.Study, valve string) (*AnswerReply, error) {
	place, err := shown(s, valve)
	if err != nil {
		return nil, err
	}
	a := &s.Assessments[place]
	out := &AnswerReply{
		Study: s.JSON(), Rows: []Row{}, Cautions: []study.CautionJSON{}, Runs: runsOf(s, a),
		ToRun: a.Pending(),
	}
	out.Cautions = append(out.Cautions, out.Study.Cautions...)
	for i := range s.Assessments {
		out.Rows = append(out.Rows, d.row(s, &s.Assessments[i]))
	}
	c := out.Study.Candidates[place]
	out.Shown = Shown{Candidate: c, Findings: c.Findings, Slam: c.Slam}
	out.DecisiveFact, out.Separation = a.Slam.DecisiveInput, a.Separation
	out.Verdict = verdict(s, a)
	return out, nil
}

// shown is the place of the valve to be shown: the first where none is named.
func shown(s *study.Study, valve string) (int, error) {
	if len(s.Assessments) == 0 {
		return 0, &Error{ID: "no-valve", Text: "the catalog has no valve near this size", Mend: "correct valve.size"}
	}
	if valve == "" {
		return 0, nil
	}
	place := at(s, valve)
	if place < 0 {
		return 0, &Error{
			ID: "valve-unknown", Text: fmt.Sprintf("no valve %q is among those that were judged", valve),
			Mend: "take one of the rows",
		}
	}
	return place, nil
}

func runsOf(s *study.Study, a *judge.Assessment) string {
	switch {
	case s.Pending == 0:
		return RunsAll
	case a.Pending():
		return RunsNone
	}
	return RunsShown
}
