package web

import (
	"context"
	"fmt"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// bounds are the upper bounds of the histogram of answers, s.
var bounds = []float64{0.005, 0.01, 0.025, 0.05, 0.1, 0.15, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60}

// counters are what /metrics tells.
type counters struct {
	panics, wrongTokens atomic.Int64

	mu       sync.Mutex
	requests map[requestKey]int64
	seconds  map[string]*histogram // by route
}

type requestKey struct {
	route, method string
	status        int
}

type histogram struct {
	count int64
	sum   float64
	below []int64 // for each of the bounds, not summed up
}

func newCounters() *counters {
	return &counters{requests: map[requestKey]int64{}, seconds: map[string]*histogram{}}
}

// request counts one answer. Routes are patterns and methods a few words, so that there are
// no more rows than the program has routes.
func (c *counters) request(route, method string, status int, took time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.requests[requestKey{route, methodName(method), status}]++
	h := c.seconds[route]
	if h == nil {
		h = &histogram{below: make([]int64, len(bounds))}
		c.seconds[route] = h
	}
	h.count++
	h.sum += took.Seconds()
	if i := slices.IndexFunc(bounds, func(b float64) bool { return took.Seconds() <= b }); i >= 0 {
		h.below[i]++
	}
}

// metrics writes the counters in the text format of Prometheus.
func (s *Server) metrics(context.Context, struct{}) (*download, error) {
	var b strings.Builder
	s.count.write(&b)
	running, waiting := s.places.count()
	for _, m := range []struct {
		name, kind, help string
		value            int64
	}{
		{"seatward_panics_total", "counter", "Faults of the program that were caught.", s.count.panics.Load()},
		{"seatward_wrong_tokens_total", "counter", "Wrong tokens.", s.count.wrongTokens.Load()},
		{
			"seatward_studies_total", "counter", "Studies run; answers and papers read from one that is kept add none.",
			s.desk.Studies(),
		},
		{"seatward_computations_running", "gauge", "Computations under way.", int64(running)},
		{"seatward_computations_waiting", "gauge", "Computations that wait for a place.", int64(waiting)},
		{"seatward_computations_limit", "gauge", "Computations that may be under way at once.", int64(s.places.most)},
		{"go_goroutines", "gauge", "Goroutines that exist.", int64(runtime.NumGoroutine())},
	} {
		fmt.Fprintf(&b, "# HELP %s %s\n# TYPE %s %s\n%s %d\n", m.name, m.help, m.name, m.kind, m.name, m.value)
	}
	return &download{media: mediaMetrics, data: []byte(b.String())}, nil
}

const mediaMetrics = "text/plain; version=0.0.4; charset=utf-8"

func (c *counters) write(b *strings.Builder) {
	c.mu.Lock()
	defer c.mu.Unlock()
	const total, seconds = "seatward_requests_total", "seatward_request_seconds"
	fmt.Fprintf(b, "# HELP %s Requests answered.\n# TYPE %s counter\n", total, total)
	keys := make([]requestKey, 0, len(c.requests))
	for k := range c.requests {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b requestKey) int {
		return strings.Compare(fmt.Sprint(a.route, " ", a.method, a.status),
			fmt.Sprint(b.route, " ", b.method, b.status))
	})
	for _, k := range keys {
		fmt.Fprintf(b, "%s{route=%q,method=%q,status=\"%d\"} %d\n", total, k.route, k.method, k.status, c.requests[k])
	}
	fmt.Fprintf(b, "# HELP %s Time until an answer was out.\n# TYPE %s histogram\n", seconds, seconds)
	var routes []string
	for r := range c.seconds {
		routes = append(routes, r)
	}
	slices.Sort(routes)
	for _, r := range routes {
		h, sum := c.seconds[r], int64(0)
		for i, bound := range bounds {
			sum += h.below[i]
			fmt.Fprintf(b, "%s_bucket{route=%q,le=\"%g\"} %d\n", seconds, r, bound, sum)
		}
		fmt.Fprintf(b, "%s_bucket{route=%q,le=\"+Inf\"} %d\n%s_sum{route=%q} %g\n%s_count{route=%q} %d\n", seconds, r,
			h.count, seconds, r, h.sum, seconds, r, h.count)
	}
}

// Health says that the server can answer and keep.
type Health struct {
	Status string `json:"status" jsonschema:"enum=ok"`
	Store  string `json:"store" jsonschema:"enum=ok,enum=none" jsonschema_description:"none where no studies are kept"`
}

// healthy answers whether the server can work; where it cannot, the fault says why.
func (s *Server) healthy(ctx context.Context, _ struct{}) (Health, error) {
	if s.Store == nil {
		return Health{"ok", "none"}, nil
	}
	if err := s.Store.Healthy(ctx); err != nil {
		f := storeFault(err)
		if f == nil {
			return Health{}, err
		}
		return Health{}, &Fault{Status: http.StatusServiceUnavailable, ID: f.ID, Text: f.Text}
	}
	return Health{"ok", "ok"}, nil
}
