package web

import (
	"context"
	"net/http"
	"sync/atomic"
	"time"
)

// Limits of computations: more wait in a queue of this length, for this long; one that
// runs longer than the last is given up.
const (
	queueLength    = 256
	queueTime      = 15 * time.Second
	computeTimeout = 2 * time.Minute
)

// places are those for computations: who finds none free waits, who finds too many waiting
// is told to come again.
type places struct {
	free    chan struct{}
	waiting atomic.Int64
}

func newPlaces(n int) *places { return &places{free: make(chan struct{}, n)} }

// take waits for a place and gives the function that leaves it.
func (p *places) take(ctx context.Context) (leave func(), err error) {
	leave = func() { <-p.free }
	select {
	case p.free <- struct{}{}:
		return leave, nil
	default:
	}
	busy := &Fault{
		Status: http.StatusServiceUnavailable, ID: "busy", RetryAfter: retryAfter,
		Text: "the server computes as much as it may at once", Mend: "ask again in a moment",
	}
	if p.waiting.Add(1) > queueLength {
		p.waiting.Add(-1)
		return nil, busy
	}
	defer p.waiting.Add(-1)
	t := time.NewTimer(queueTime)
	defer t.Stop()
	select {
	case p.free <- struct{}{}:
		return leave, nil
	case <-t.C:
		return nil, busy
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// running is how many compute now.
func (p *places) running() int { return len(p.free) }
