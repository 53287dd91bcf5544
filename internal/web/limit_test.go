package web

import (
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"slices"
	"sync"
	"testing"
	"time"
)

// TestBusy: no more computations at once than there are places; who waits too long or finds
// too many waiting is told to come again.
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
