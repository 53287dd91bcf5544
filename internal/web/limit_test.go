package web

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestBusy: no more computations at once than there are places; who waits too long or finds
// too many waiting is asked to come again.
func TestBusy(t *testing.T) {
	p := newPlaces(1)
	leave, err := p.take(t.Context(), long)
	if err != nil {
		t.Fatal(err)
	}
	soon, stop := context.WithTimeout(t.Context(), time.Millisecond)
	defer stop()
	if _, err := p.take(soon, long); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a second place: %v", err)
	}
	for range queueLength {
		if _, err := p.ask(long); err != nil {
			t.Fatal(err)
		}
	}
	_, err = p.take(t.Context(), long)
	var f *Fault
	if !errors.As(err, &f) || f.Status != http.StatusServiceUnavailable || f.RetryAfter == 0 {
		t.Errorf("behind a full queue: %v", err)
	}
	w := httptest.NewRecorder()
	writeFault(w, request("GET", "/", ""), f, f)
	if w.Header().Get("Retry-After") != "2" {
		t.Errorf("Retry-After %q", w.Header().Get("Retry-After"))
	}
	p.waiting[long] = nil
	go leave()
	again, err := p.take(t.Context(), long)
	if err != nil {
		t.Fatal(err)
	}
	again()
	if running, waiting := p.count(); running != 0 || waiting != 0 {
		t.Errorf("%d running, %d waiting", running, waiting)
	}
}

// TestTurns: short computations go before long ones, and begin beside them; of long ones
// the newest goes first, and the oldest in its turn.
func TestTurns(t *testing.T) {
	p := newPlaces(1)
	asked := func(l length) *ticket {
		x, err := p.ask(l)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	called := func(x *ticket) bool {
		select {
		case <-x.called:
			return true
		default:
			return false
		}
	}
	first := asked(long)
	brief, second := asked(short), asked(short)
	var many []*ticket
	for range 8 {
		many = append(many, asked(long))
	}
	if !called(first) || !called(brief) || called(second) || slices.ContainsFunc(many, called) {
		t.Fatal("one long and one short are to be under way, and no more")
	}
	p.leave(long)
	p.leave(short)
	if !called(second) || slices.ContainsFunc(many, called) {
		t.Fatal("a long one began while a short one wanted the place")
	}
	p.leave(short)
	var order []int
	for range many {
		for i, x := range many {
			if called(x) && !slices.Contains(order, i) {
				order = append(order, i)
			}
		}
		p.leave(long)
	}
	if want := []int{7, 6, 0, 5, 4, 3, 1, 2}; !slices.Equal(order, want) {
		t.Errorf("long ones began in the order %v; %v is wanted", order, want)
	}
}

// TestPlacesAreGivenBack: whatever becomes of those who wait, no place is lost.
func TestPlacesAreGivenBack(t *testing.T) {
	p := newPlaces(2)
	var all sync.WaitGroup
	for i := range 200 {
		all.Go(func() {
			ctx, stop := context.WithTimeout(t.Context(), time.Duration(i%7)*time.Millisecond)
			defer stop()
			leave, err := p.take(ctx, length(i%2))
			if err == nil {
				time.Sleep(time.Duration(i%3) * time.Millisecond)
				leave()
			}
		})
	}
	all.Wait()
	if running, waiting := p.count(); running != 0 || waiting != 0 {
		t.Errorf("%d running, %d waiting", running, waiting)
	}
}

// TestWhoHasGoneWaitsNoMore: a request whose sender goes away leaves the queue, and one whose
// body does not come takes no place.
func TestWhoHasGoneWaitsNoMore(t *testing.T) {
	f := newFixture(t, nil)
	h := httptest.NewServer(f.handler)
	defer h.Close()
	var hold []func()
	for range f.places.most {
		leave, err := f.places.take(t.Context(), long)
		if err != nil {
			t.Fatal(err)
		}
		hold = append(hold, leave)
	}
	waiting := func(n int) {
		t.Helper()
		for deadline := time.Now().Add(10 * time.Second); ; time.Sleep(time.Millisecond) {
			if _, now := f.places.count(); now == n {
				return
			}
			if time.Now().After(deadline) {
				t.Fatalf("not %d waiting", n)
			}
		}
	}
	ctx, goAway := context.WithCancel(t.Context())
	r, err := http.NewRequestWithContext(ctx, "POST", h.URL+"/api/answer",
		strings.NewReader(asJSON(map[string]any{"text": layout})))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", mediaJSON)
	ended := make(chan error)
	go func() {
		_, err := http.DefaultClient.Do(r)
		ended <- err
	}()
	waiting(1)
	goAway()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	waiting(0)
	for _, leave := range hold {
		leave()
	}
	body, never := io.Pipe()
	slow := make(chan struct{})
	go func() {
		defer close(slow)
		if res, err := http.Post(h.URL+"/api/answer", mediaJSON, body); err == nil {
			res.Body.Close()
		}
	}()
	if _, err := never.Write([]byte(`{"text": "`)); err != nil {
		t.Fatal(err)
	}
	time.Sleep(20 * time.Millisecond)
	if running, waiting := f.places.count(); running != 0 || waiting != 0 {
		t.Errorf("half a request takes a place: %d running, %d waiting", running, waiting)
	}
	never.Close()
	<-slow
}
