package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// listening serves a fixture at a port of its own, until stop; done brings how it ended.
func listening(t testing.TB, f *fixture) (address string, stop func(), done <-chan error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- f.Serve(ctx, l) }()
	return "http://" + l.Addr().String(), stop, ended
}

// ends waits for the server.
func ends(t testing.TB, done <-chan error) {
	t.Helper()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(30 * time.Second):
		t.Fatal("the server does not stop")
	}
}

// TestStop: a request under way is answered before the server ends.
func TestStop(t *testing.T) {
	begun, goOn := make(chan struct{}), make(chan struct{})
	f := newFixture(t, nil, answer("GET /api/slow", "Slow", func(context.Context, struct{}) (string, error) {
		close(begun)
		<-goOn
		return "whole", nil
	}))
	address, stop, done := listening(t, f)
	got := make(chan string, 1)
	go func() {
		res, err := http.Get(address + "/api/slow")
		if err != nil {
			got <- err.Error()
			return
		}
		defer res.Body.Close()
		data, _ := io.ReadAll(res.Body) // what came is looked at
		got <- string(data)
	}()
	<-begun
	stop()
	close(goOn)
	if s := <-got; s != "\"whole\"\n" {
		t.Errorf("the request under way got %q", s)
	}
	ends(t, done)
	if _, err := http.Get(address + "/healthz"); err == nil {
		t.Error("the server still answers")
	}
}

// TestStopGivesUp: work that does not end is given up by its context.
func TestStopGivesUp(t *testing.T) {
	begun := make(chan struct{})
	f := newFixture(t, nil, answer("GET /api/endless", "Endless",
		func(ctx context.Context, _ struct{}) (string, error) {
			close(begun)
			<-ctx.Done()
			return "", ctx.Err()
		}))
	address, stop, done := listening(t, f)
	status := make(chan int, 1)
	go func() {
		res, err := http.Get(address + "/api/endless")
		if err != nil {
			status <- 0
			return
		}
		res.Body.Close()
		status <- res.StatusCode
	}()
	<-begun
	stop()
	if s := <-status; s != http.StatusServiceUnavailable {
		t.Errorf("status %d", s)
	}
	ends(t, done)
}

// TestServeFails: a listener that breaks ends the server with its error.
func TestServeFails(t *testing.T) {
	f := newFixture(t, nil)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l.Close()
	if err := f.Serve(t.Context(), l); !errors.Is(err, net.ErrClosed) {
		t.Error(err)
	}
}

// metricLine is a sample in the text format.
var metricLine = regexp.MustCompile(`^([a-z_]+)(?:\{((?:[a-z]+="(?:[^"\\]|\\.)*",?)+)\})? (\S+)$`)

// TestMetrics holds /metrics to the text format: a HELP and a TYPE before each name, numbers,
// buckets that add up.
func TestMetrics(t *testing.T) {
	f := newFixture(t, nil)
	f.asked("GET", "/api/examples", "")
	f.asked("GET", "/api/examples", "")
	f.asked("FROB", "/api/examples", "")
	f.asked("GET", "/api/none%22%0a", "")
	out := f.good("GET", "/metrics", "")
	typed, last := map[string]string{}, map[string]float64{}
	for _, l := range strings.Split(strings.TrimSuffix(out, "\n"), "\n") {
		if w := strings.Fields(l); w[0] == "#" {
			if w[1] == "TYPE" {
				typed[w[2]] = w[3]
			}
			continue
		}
		m := metricLine.FindStringSubmatch(l)
		if m == nil {
			t.Errorf("no sample: %q", l)
			continue
		}
		v, err := strconv.ParseFloat(m[3], 64)
		if err != nil || v < 0 {
			t.Errorf("%q: %v", l, err)
		}
		base := regexp.MustCompile(`_(bucket|sum|count)$`).ReplaceAllString(m[1], "")
		if typed[m[1]] == "" && typed[base] != "histogram" {
			t.Errorf("%s has no type", m[1])
		}
		route, _, _ := strings.Cut(m[2], ",le=")
		switch m[1] {
		case base + "_bucket":
			if v < last[route] {
				t.Errorf("buckets fall: %q", l)
			}
			last[route] = v
		case base + "_count":
			if v != last[m[2]] {
				t.Errorf("%q, but the last bucket has %g", l, last[m[2]])
			}
		}
	}
	for _, want := range []string{
		`seatward_requests_total{route="/api/examples",method="GET",status="200"} 2`,
		`method="other",status="405"} 1`, `route="other",method="GET",status="404"} 1`,
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %s in %s", want, out)
		}
	}
}

// TestLog: a request is a line that tells nothing of the station.
func TestLog(t *testing.T) {
	f := newFixture(t, nil)
	f.asked("POST", "/api/studies", asJSON(Draft{Name: "Secret Road", Text: "station: secret works"}))
	f.asked("POST", "/api/document",
		paperRequest(map[string]any{"text": "station: secret works\nvalve: {size: secret}\n"}))
	f.asked("GET", "/api/studies/secret", "")
	log := f.lg.String()
	if strings.Contains(strings.ToLower(log), "secret") || strings.Count(log, "\n") != 3 ||
		!strings.Contains(log, `"route":"/api/studies/{id}","status":404`) {
		t.Errorf("log: %s", log)
	}
	for i, l := range strings.Split(strings.TrimSpace(log), "\n") {
		if want := fmt.Sprintf(`"request":"%s-%d"`, f.name, i+1); !strings.Contains(l, want) {
			t.Errorf("%s not in %s", want, l)
		}
	}
}
