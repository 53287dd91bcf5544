package desk

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"

	"seatward/catalog"
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
	c, err := d.course(ctx, &in)
	if err != nil {
		return nil, err
	}
	return d.reply(c.best(), in.Valve)
}

// Answer is Rows with the stops of the shown valve run: what is said of that valve is what
// AnswerFull says of it, and no other row changes. Without a valve named, the first of the
// rows is shown; another may rank first once the stops of all are run.
func (d *Desk) Answer(ctx context.Context, in AnswerRequest) (*AnswerReply, error) {
	c, err := d.course(ctx, &in)
	if err != nil {
		return nil, err
	}
	s, valve, err := c.through(ctx, in.Valve)
	if err != nil {
		return nil, asked(err)
	}
	return d.reply(s, valve)
}

// AnswerFull runs the stops of every valve, as the command select does. Progress is called
// after each valve; it may be nil.
func (d *Desk) AnswerFull(ctx context.Context, in AnswerRequest, progress func(done, total int)) (*AnswerReply, error) {
	s, valve, err := d.full(ctx, in, progress)
	if err != nil {
		return nil, err
	}
	return d.reply(s, valve)
}

// full is the study of all valves, and the ID of the valve that was asked for.
func (d *Desk) full(ctx context.Context, in AnswerRequest, progress func(done, total int)) (*study.Study, string, error) {
	c, err := d.course(ctx, &in)
	if err != nil {
		return nil, "", err
	}
	s, err := c.full(ctx, func() (*study.Study, error) {
		return study.Run(ctx, c.first.Station, study.Options{Catalogs: d.catalogs, Rules: d.rules, Also: c.also, Progress: progress})
	})
	return s, in.Valve, asked(err)
}

// course is the work on the text: the same for every valve that is among those near the
// pipe's size. The name of the valve becomes its ID.
func (d *Desk) course(ctx context.Context, in *AnswerRequest) (*course, error) {
	if in.Valve != "" {
		it, err := catalog.Find(d.catalogs, in.Valve)
		if err != nil {
			return nil, asked(err)
		}
		in.Valve = it.ID
	}
	c, err := d.courseWith(ctx, *in, "")
	if in.Valve == "" || err == nil && at(c.first, in.Valve) >= 0 {
		return c, err
	}
	return d.courseWith(ctx, *in, in.Valve)
}

func (d *Desk) courseWith(ctx context.Context, in AnswerRequest, also string) (*course, error) {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	if also == "" && in.Valve == "" {
		if list := study.SizeMade(d.catalogs, st); list != nil {
			return nil, fileError(list)
		}
	}
	key := sha256.Sum256(fmt.Appendf(nil, "%q %v %q", in.Text, st.Units, also))
	c, err := d.courses.get(ctx, key, func() (*course, error) {
		s, err := study.Run(ctx, st, study.Options{Catalogs: d.catalogs, Rules: d.rules, Also: also, Quick: true})
		if err != nil {
			return nil, err
		}
		return newCourse(s, also), nil
	})
	return c, asked(err)
}

// at is the place of a valve in a study; -1 where it is not in it.
func at(s *study.Study, valve string) int {
	return slices.IndexFunc(s.Assessments, func(a judge.Assessment) bool { return a.Item.ID == valve })
}

// reply words a study. The study is shared: nothing in it is changed.
func (d *Desk) reply(s *study.Study, valve string) (*AnswerReply, error) {
	if len(s.Assessments) == 0 {
		return nil, &Error{ID: "no-valve", Text: "the catalog has no valve near this size", Mend: "correct valve.size"}
	}
	place := 0
	if valve != "" {
		if place = at(s, valve); place < 0 {
			return nil, &Error{ID: "valve-unknown", Text: fmt.Sprintf("no valve %q is among those that were judged", valve), Mend: "take one of the rows"}
		}
	}
	a := &s.Assessments[place]
	out := &AnswerReply{Study: s.JSON(), Rows: []Row{}, Cautions: []study.CautionJSON{}, Runs: runsOf(s, a), ToRun: a.Pending()}
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

func runsOf(s *study.Study, a *judge.Assessment) string {
	switch {
	case s.Pending == 0:
		return RunsAll
	case a.Pending():
		return RunsNone
	}
	return RunsShown
}
