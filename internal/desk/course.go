package desk

import (
	"context"
	"sync"

	"seatward/study"
)

// course is the work on one text: at first a study in which no stops are run, then one valve
// after another as it is looked at, at last all. What was run stays, so that looking at
// another valve changes no row.
type course struct {
	first *study.Study // without runs
	also  string       // ID of a valve judged beside those near the pipe's size
	whole cache[string, *study.Study]

	turn chan struct{} // held by the one that runs a valve
	mu   sync.Mutex
	now  *study.Study // with the runs made so far
}

func newCourse(s *study.Study, also string) *course {
	c := &course{first: s, also: also, now: s, turn: make(chan struct{}, 1)}
	c.whole.most = 1
	return c
}

// best is the study with the most runs.
func (c *course) best() *study.Study {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *course) keep(s *study.Study) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if s.Pending < c.now.Pending || s.Pending == 0 {
		c.now = s
	}
}

// full is the study of all valves; fresh makes it.
func (c *course) full(ctx context.Context, fresh func() (*study.Study, error)) (*study.Study, error) {
	s, err := c.whole.get(ctx, "", fresh)
	if err == nil {
		c.keep(s)
	}
	return s, err
}

// through is the study with the stops of a valve run, and the valve's ID: the first of the
// rows where none is named.
func (c *course) through(ctx context.Context, valve string) (*study.Study, string, error) {
	if s := c.best(); has(s, valve) {
		return s, valve, nil
	}
	select {
	case c.turn <- struct{}{}:
		defer func() { <-c.turn }()
	case <-ctx.Done():
		return nil, "", ctx.Err()
	}
	s := c.best()
	if has(s, valve) {
		return s, valve, nil
	}
	if valve == "" && len(c.first.Assessments) > 0 {
		valve = c.first.Assessments[0].Item.ID
	}
	t, err := s.RunThrough(ctx, valve)
	if err != nil {
		return nil, "", err
	}
	c.keep(t)
	return t, valve, nil
}

// has is true where nothing is left to be run of the valve; of all, where none is named.
func has(s *study.Study, valve string) bool {
	if s.Pending == 0 || valve == "" {
		return s.Pending == 0
	}
	i := at(s, valve)
	return i >= 0 && !s.Assessments[i].Pending()
}
