package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// The load of the bench: so many clients at a page each, who edit once in a while.
const (
	loadClients = 200
	loadPause   = 5 * time.Second
)

// BenchmarkLoad has 200 clients edit at the pace of people, over connections of this
// machine, for two rounds. Told are the median and the 99th percentile of an edit, and how
// many were turned away; the time for an operation is that of the whole load and says
// nothing by itself.
func BenchmarkLoad(b *testing.B) {
	f := newFixture(b, nil)
	address, stop, done := listening(b, f)
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: loadClients}}
	for b.Loop() {
		l := &load{client: client, address: address}
		ctx, end := context.WithTimeout(b.Context(), 2*loadPause)
		var all sync.WaitGroup
		for i := range loadClients {
			all.Go(func() { l.edits(ctx, i) })
		}
		all.Wait()
		end()
		slices.Sort(l.took)
		if len(l.took) < loadClients || l.failed > 0 {
			b.Fatalf("%d edits, %d failed: %s", len(l.took), l.failed, l.said)
		}
		b.ReportMetric(l.took[len(l.took)/2].Seconds()*1e3, "ms/median")
		b.ReportMetric(l.took[len(l.took)*99/100].Seconds()*1e3, "ms/p99")
		b.ReportMetric(float64(l.busy), "turned-away")
	}
	client.CloseIdleConnections()
	stop()
	ends(b, done)
}

// load is what clients see.
type load struct {
	client  *http.Client
	address string

	mu           sync.Mutex
	took         []time.Duration
	busy, failed int
	said         string
}

// edits edits at its own moment of each pause, a number that nobody else writes.
func (l *load) edits(ctx context.Context, client int) {
	wait := time.NewTimer(loadPause * time.Duration(client) / loadClients)
	defer wait.Stop()
	for n := 0; ; n++ {
		select {
		case <-ctx.Done():
			return
		case <-wait.C:
			wait.Reset(loadPause)
		}
		value := fmt.Sprintf("%d.%d ft", 55+n%10, client)
		began := time.Now()
		status, said := l.edit(value)
		took := time.Since(began)
		l.mu.Lock()
		switch {
		case status == http.StatusServiceUnavailable:
			l.busy++
		case status != http.StatusOK || !strings.Contains(said, value):
			l.failed, l.said = l.failed+1, said
		default:
			l.took = append(l.took, took)
		}
		l.mu.Unlock()
	}
}

// edit sends one edit; it is not broken off when the load ends.
func (l *load) edit(value string) (int, string) {
	in := asJSON(map[string]any{"text": text, "edits": []any{map[string]any{"path": "duty.head", "value": value}}})
	res, err := l.client.Post(l.address+"/api/edit", mediaJSON, strings.NewReader(in))
	if err != nil {
		return 0, err.Error()
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		return 0, err.Error()
	}
	return res.StatusCode, string(data)
}

// BenchmarkAnswer is the way of one answer through the server, of another station each time.
func BenchmarkAnswer(b *testing.B) {
	f := newFixture(b, nil)
	n := 0
	for b.Loop() {
		n++
		f.good("POST", "/api/answer", asJSON(map[string]any{"text": layout + fmt.Sprintf("\n# %d\n", n)}))
	}
}

// BenchmarkEdit is one edit through the server.
func BenchmarkEdit(b *testing.B) {
	f := newFixture(b, nil)
	in := asJSON(map[string]any{"text": text, "edits": []any{map[string]any{"path": "duty.head", "value": "61 ft"}}})
	for b.Loop() {
		f.good("POST", "/api/edit", in)
	}
}
