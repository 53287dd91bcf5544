package study

import (
	"context"
	"fmt"
	"slices"

	"seatward/catalog"
	"seatward/judge"
)

// RunThrough is a quick study in which the trips of one valve are run through: what is
// said of that valve is what a study that is not quick says of it. Without a valve named,
// the one that closed formulas put first is run through, and whichever comes first by that,
// until the first is one that was. The quick study stays as it is.
//
// The error is the context's, or says that the valve is not among those judged.
func (s *Study) RunThrough(ctx context.Context, valve string) (*Study, error) {
	out := *s
	out.Assessments = slices.Clone(s.Assessments)
	d := s.desk
	p := *d.plant // others may run another valve of the same study through
	d.plant = &p
	if err := d.forRuns(); err != nil {
		return nil, err
	}
	run := d.first
	if valve != "" {
		run = d.named
	}
	if err := run(ctx, &out, valve); err != nil {
		return nil, err
	}
	if err := out.finish(); err != nil {
		return nil, err
	}
	return &out, nil
}

// named runs one valve through, and ranks anew.
func (d desk) named(ctx context.Context, s *Study, valve string) error {
	it, err := catalog.Find(s.Catalogs, valve)
	if err != nil {
		return err
	}
	for i := range s.Assessments {
		if s.Assessments[i].Item != it {
			continue
		}
		s.Through = it.ID
		if s.Assessments[i], err = d.assess(ctx, it); err != nil {
			return err
		}
		judge.Rank(s.Assessments)
		return nil
	}
	return fmt.Errorf("%s is not among the valves that were judged", it.ID)
}

// first runs the first valve through and ranks anew, until the first is one that was.
func (d desk) first(ctx context.Context, s *Study, _ string) error {
	known := map[string]bool{}
	for len(s.Assessments) > 0 {
		first := &s.Assessments[0]
		s.Through = first.Item.ID
		if known[s.Through] || first.Rank == 0 {
			return nil
		}
		known[s.Through] = true
		a, err := d.assess(ctx, first.Item)
		if err != nil {
			return err
		}
		*first = a
		judge.Rank(s.Assessments)
	}
	return nil
}
