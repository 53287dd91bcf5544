package study

import (
	"context"
	"fmt"
	"slices"

	"seatward/catalog"
	"seatward/judge"
)

// RunThrough is a study in which the stops of one more valve are run: what is said of that
// valve is what a study of all says of it. The study that it is made from stays as it is.
//
// The error is the context's, or says that the valve is not among those judged.
func (s *Study) RunThrough(ctx context.Context, id string) (*Study, error) {
	it, err := catalog.Find(s.Catalogs, id)
	if err != nil {
		return nil, err
	}
	out := *s
	out.Assessments = slices.Clone(s.Assessments)
	a, err := out.of(it)
	if err != nil {
		return nil, err
	}
	if a.Pending() {
		if *a, err = s.desk.assess(ctx, it, true); err != nil {
			return nil, err
		}
	}
	return &out, out.finish()
}

// Alone is the study of one valve out of one of several: what a study that was asked for
// this valve only says, without a run. The study that it is made from stays as it is.
func (s *Study) Alone(id string) (*Study, error) {
	it, err := catalog.Find(s.Catalogs, id)
	if err != nil {
		return nil, err
	}
	a, err := s.of(it)
	if err != nil {
		return nil, err
	}
	out := *s
	out.Assessments, out.NotMade, out.Wide = []judge.Assessment{*a}, nil, false
	out.desk.opt.Valve = it.ID
	return &out, out.finish()
}

// of is what is said of a valve.
func (s *Study) of(it *catalog.Item) (*judge.Assessment, error) {
	i := slices.IndexFunc(s.Assessments, func(a judge.Assessment) bool { return a.Item == it })
	if i < 0 {
		return nil, fmt.Errorf("%s is not among the valves that were judged", it.ID)
	}
	return &s.Assessments[i], nil
}
