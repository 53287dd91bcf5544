package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// The load of the bench: so many people at a page each, who edit once in a while.
const (
	loadClients = 200
	loadPause   = 5 * time.Second
	loadRounds  = 4
)

// BenchmarkLoad has 200 people edit the example, each another number each time, at the pace
// of people, over connections of this machine. Told are the median and the 95th percentile
// of the time from an edit to the new verdict, which is by closed formulas while the server
// has much to do; how many of these edits had the pump trips of the shown valve run through
// before the next, and the 95th percentile of those; how many of these trips were turned
// away; and the most memory that clients and server took from the system together. The time for an operation
// is that of the whole load and says nothing by itself.
func BenchmarkLoad(b *testing.B) {
	UseMemory()
	f := newFixture(b, nil)
	address, stop, done := listening(b, f)
	for b.Loop() {
		l := newLoad(address, loadClients)
		l.run(b.Context(), loadPause, loadRounds)
		if l.failed > 0 || len(l.verdicts) != loadClients*loadRounds {
			b.Fatalf("%d verdicts, %d failed: %s", len(l.verdicts), l.failed, l.said)
		}
		ms := func(took []time.Duration, share float64) float64 {
			if len(took) == 0 {
				return 0
			}
			slices.Sort(took)
			return took[int(share*float64(len(took)-1))].Seconds() * 1e3
		}
		b.ReportMetric(ms(l.verdicts, 0.5), "ms-verdict-median")
		b.ReportMetric(ms(l.verdicts, 0.95), "ms-verdict-p95")
		b.ReportMetric(ms(l.trips, 0.95), "ms-trips-p95")
		b.ReportMetric(100*float64(len(l.trips))/float64(len(l.verdicts)), "%-with-trips")
		b.ReportMetric(float64(l.busy), "trips-turned-away")
		b.ReportMetric(float64(l.memory)/1e6, "MB-of-system")
	}
	stop()
	ends(b, done)
}

// TestManyAtOnce: many who edit at the same moment all have their verdict, and none another's.
func TestManyAtOnce(t *testing.T) {
	f := newFixture(t, nil)
	address, stop, done := listening(t, f)
	l := newLoad(address, 24)
	l.run(t.Context(), 0, 2)
	if l.failed > 0 || l.busy > 0 || len(l.verdicts) != 2*l.clients {
		t.Errorf("%d verdicts, %d failed, %d turned away: %s", len(l.verdicts), l.failed, l.busy, l.said)
	}
	stop()
	ends(t, done)
}

// load is what clients see.
type load struct {
	client  *http.Client
	address string
	clients int

	mu              sync.Mutex
	verdicts, trips []time.Duration
	busy, failed    int
	said            string
	memory          uint64
}

func newLoad(address string, clients int) *load {
	return &load{
		client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: clients}}, address: address,
		clients: clients,
	}
}

// run has every client edit, each at its own moment of each pause.
func (l *load) run(ctx context.Context, pause time.Duration, rounds int) {
	var all sync.WaitGroup
	for i := range l.clients {
		all.Go(func() {
			time.Sleep(pause * time.Duration(i) / time.Duration(l.clients))
			next := time.NewTicker(max(pause, 1))
			defer next.Stop()
			for n := range rounds {
				l.edit(ctx, fmt.Sprintf("%d.%03d ft", 3390+n, i), pause, next.C)
			}
		})
	}
	all.Wait()
	l.client.CloseIdleConnections()
}

// edit is one edit with all that follows it on the page, until the next.
func (l *load) edit(ctx context.Context, value string, pause time.Duration, next <-chan time.Time) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	began := time.Now()
	in := map[string]any{"text": layout, "edits": []any{map[string]any{"path": "main.runs[0].length", "value": value}}}
	var edited struct{ Text string }
	if !l.ask(ctx, "edit", in, &edited) {
		return
	}
	type reply struct {
		ToRun   bool `json:"to_run"`
		Verdict struct{ Sentence string }
	}
	ask := map[string]any{"text": edited.Text}
	ran := make(chan struct{})
	go func() {
		defer close(ran)
		var whole reply
		if pause > 0 && l.ask(ctx, "answer", ask, &whole) && !whole.ToRun {
			l.note(func() { l.trips = append(l.trips, time.Since(began)) })
		}
	}()
	var rows reply
	if l.ask(ctx, "rows", ask, &rows) {
		l.note(func() { l.verdicts = append(l.verdicts, time.Since(began)) })
		if !strings.Contains(edited.Text, value) || rows.Verdict.Sentence == "" || !rows.ToRun {
			l.note(func() { l.failed, l.said = l.failed+1, edited.Text })
		}
	}
	if pause > 0 {
		<-next
	}
	stop() // as the page does when the next edit comes
	<-ran
}

// ask asks one thing of the server. That trips are turned away, and that who asked has gone
// on, is no failure.
func (l *load) ask(ctx context.Context, what string, in, out any) bool {
	r, err := http.NewRequestWithContext(ctx, "POST", l.address+"/api/"+what, strings.NewReader(asJSON(in)))
	if err != nil {
		panic(err)
	}
	r.Header.Set("Content-Type", mediaJSON)
	res, err := l.client.Do(r)
	var data []byte
	status := 0
	if err == nil {
		data, err = io.ReadAll(res.Body)
		res.Body.Close()
		status = res.StatusCode
	}
	if err == nil && status == http.StatusOK {
		err = json.Unmarshal(data, out)
	}
	l.note(func() {
		switch {
		case errors.Is(err, context.Canceled):
		case status == http.StatusServiceUnavailable && what == "answer":
			l.busy++
		case err != nil || status != http.StatusOK:
			l.failed, l.said = l.failed+1, fmt.Sprintf("%s: %d %v %s", what, status, err, data)
		}
	})
	return err == nil && status == http.StatusOK
}

// note writes down what was seen.
func (l *load) note(write func()) {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.memory = max(l.memory, m.Sys)
	write()
}
