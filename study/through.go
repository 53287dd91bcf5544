package study

import (
	"context"
	"fmt"
	"slices"

	"seatward/catalog"
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
	for i := range out.Assessments {
		a := &out.Assessments[i]
		if a.Item != it {
			continue
		}
		if a.Pending() {
			if *a, err = s.desk.assess(ctx, it, true); err != nil {
				return nil, err
			}
		}
		return &out, out.finish()
	}
	return nil, fmt.Errorf("%s is not among the valves that were judged", it.ID)
}
