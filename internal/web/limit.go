package web

import (
	"context"
	"net/http"
	"slices"
	"sync"
	"time"
)

// Limits of computations: more wait in queues of this length, for this long; one that
// runs longer than the last is given up, where the configuration names no other time.
const (
	queueLength    = 256
	queueTime      = 15 * time.Second
	computeTimeout = 2 * time.Minute
)

// bodies counts the memory that large requests hold from their first byte to their answer.
// Without it a few hundred senders who hold back the last byte would fill the machine. Small
// requests, which all of the page's are, need none of it.
type bodies struct {
	mu   sync.Mutex
	held int64
}

// What requests may hold: one without asking, and all others together.
const (
	smallBodyBytes = 64 << 10
	mostBodyBytes  = 64 << 20
)

// take asks for memory and gives the function that gives it back.
func (b *bodies) take(n int64) (release func(), err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.held+n > mostBodyBytes {
		return nil, tooBusy()
	}
	b.held += n
	return func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.held -= n
	}, nil
}

// length says how long a computation takes.
type length int

const (
	short length = iota // milliseconds: what stands in a file, an edit, the rows without slam
	long                // pump stops and papers
)

// places are those for computations: who finds none free waits, who finds too many waiting
// is asked to come again. Short ones go first, and long ones begin only while no short one is
// under way. Of long ones the newest goes first, because who waits for long has often
// asked anew by then; but every so often it is the oldest, so that each comes to its turn.
type places struct {
	mu      sync.Mutex
	most    int
	under   [2]int       // under way, by length
	waiting [2][]*ticket // oldest first
	turns   int          // of long ones
}

// ticket is somebody's who waits.
type ticket struct{ called chan struct{} }

// oldestEvery is how many turns of long computations go by until it is that of the oldest.
const oldestEvery = 4

func newPlaces(n int) *places { return &places{most: n} }

// take waits for a place and gives the function that leaves it.
func (p *places) take(ctx context.Context, l length) (leave func(), err error) {
	t, err := p.ask(l)
	if err != nil {
		return nil, err
	}
	leave = func() { p.leave(l) }
	patience := time.NewTimer(queueTime)
	defer patience.Stop()
	select {
	case <-t.called:
		return leave, nil
	case <-patience.C:
		err = tooBusy()
	case <-ctx.Done():
		err = ctx.Err()
	}
	if !p.giveUp(t, l) { // it was called at that moment
		leave()
	}
	return nil, err
}

func tooBusy() *Fault {
	return &Fault{
		Status: http.StatusServiceUnavailable, ID: "busy", RetryAfter: retryAfter,
		Text: "the server computes as much as it may at once", Mend: "ask again in a moment",
	}
}

// ask puts a ticket into the queue, and calls it where there is a place.
func (p *places) ask(l length) (*ticket, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.waiting[l]) >= queueLength {
		return nil, tooBusy()
	}
	t := &ticket{make(chan struct{})}
	p.waiting[l] = append(p.waiting[l], t)
	p.call()
	return t, nil
}

// giveUp takes a ticket out of the queue; false when it has been called.
func (p *places) giveUp(t *ticket, l length) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	i := slices.Index(p.waiting[l], t)
	if i >= 0 {
		p.waiting[l] = slices.Delete(p.waiting[l], i, i+1)
	}
	return i >= 0
}

func (p *places) leave(l length) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.under[l]--
	p.call()
}

// call calls those who wait into the places that are free.
func (p *places) call() {
	for len(p.waiting[short]) > 0 && p.under[short] < p.most {
		p.begin(short, 0)
	}
	for len(p.waiting[long]) > 0 && p.under[short] == 0 && p.under[long] < p.most {
		next := len(p.waiting[long]) - 1
		if p.turns++; p.turns%oldestEvery == 0 {
			next = 0
		}
		p.begin(long, next)
	}
}

func (p *places) begin(l length, i int) {
	close(p.waiting[l][i].called)
	p.waiting[l] = slices.Delete(p.waiting[l], i, i+1)
	p.under[l]++
}

// count is how many compute now, and how many wait.
func (p *places) count() (running, waiting int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.under[short] + p.under[long], len(p.waiting[short]) + len(p.waiting[long])
}
