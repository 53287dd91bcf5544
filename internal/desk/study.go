package desk

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"

	"seatward/catalog"
	"seatward/judge"
	"seatward/station"
	"seatward/study"
)

// runsSoFar asks for a study with whatever has been run for others.
const runsSoFar = "so far"

// Study is the study of a text: with the stops of no valve, of the shown one or of all run,
// or with those that have been run already. It is the one place where a study is made: rows,
// answers, films, explanations, papers and the comparison of revisions read what it keeps.
// The second result is the ID of the valve that is meant: the first of the rows where the
// shown one is to be run and none is named, else that of the request. The study is shared:
// nothing in it may be changed. Progress may be nil.
func (d *Desk) Study(
	ctx context.Context, in AnswerRequest, runs string, progress func(done, total int),
) (*study.Study, string, error) {
	if in.Valve != "" {
		it, err := catalog.Find(d.catalogs, in.Valve)
		if err != nil {
			return nil, "", NoAnswer(err)
		}
		in.Valve = it.ID
	}
	c, err := d.course(ctx, in)
	if err != nil {
		return nil, "", err
	}
	switch runs {
	case RunsNone:
		return c.first, in.Valve, nil
	case runsSoFar:
		return c.best(), in.Valve, nil
	case RunsAll:
		s, err := c.full(ctx, func() (*study.Study, error) {
			return d.run(ctx, c.first.Station, study.Options{Also: c.also, Progress: progress})
		})
		return s, in.Valve, NoAnswer(err)
	}
	s, valve, err := c.through(ctx, in.Valve)
	return s, valve, NoAnswer(err)
}

// Studies is how many studies have been run so far; who asks for one that is kept adds none.
func (d *Desk) Studies() int64 { return d.studies.Load() }

// run makes a study and counts it.
func (d *Desk) run(ctx context.Context, st *station.Station, opt study.Options) (*study.Study, error) {
	d.studies.Add(1)
	opt.Catalogs, opt.Rules = d.catalogs, d.rules
	return study.Run(ctx, st, opt)
}

// course is the work on the text: the same for every valve that is among those near the
// pipe's size.
func (d *Desk) course(ctx context.Context, in AnswerRequest) (*course, error) {
	c, err := d.courseWith(ctx, in, "")
	if in.Valve == "" || err == nil && at(c.first, in.Valve) >= 0 {
		return c, err
	}
	return d.courseWith(ctx, in, in.Valve)
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
		s, err := d.run(ctx, st, study.Options{Also: also, Quick: true})
		if err != nil {
			return nil, err
		}
		return newCourse(s, also), nil
	})
	return c, NoAnswer(err)
}

// at is the place of a valve in a study; -1 where it is not in it.
func at(s *study.Study, valve string) int {
	return slices.IndexFunc(s.Assessments, func(a judge.Assessment) bool { return a.Item.ID == valve })
}
