package web

import (
	"bufio"
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"testing"
	"time"
)

type countRequest struct {
	To int `json:"to"`
}

type countReply struct {
	Counted int `json:"counted"`
}

var errNotMany = &Fault{Status: http.StatusUnprocessableEntity, ID: "few", Text: "few"}

// counting is a route that takes its time.
func counting(step func(ctx context.Context, i int) error) route {
	quick := answer("POST /api/count", "Count",
		func(_ context.Context, in countRequest) (countReply, error) { return countReply{in.To}, nil })
	return withProgress(quick, "full",
		func(ctx context.Context, in countRequest, progress func(done, total int)) (*countReply, error) {
			for i := range in.To {
				if err := step(ctx, i); err != nil {
					return nil, err
				}
				progress(i+1, in.To)
			}
			return &countReply{in.To}, nil
		}).computing(long)
}

// TestStream: lines of progress, then the answer; a fault before or among them.
func TestStream(t *testing.T) {
	f := newFixture(t, nil, counting(func(_ context.Context, i int) error {
		switch i {
		case 3:
			return errNotMany
		case 5:
			return errors.New("secret of the program")
		}
		return nil
	}))
	spec, rt := compiled(t, f), f.route("POST", "/api/count")
	for _, tt := range []struct {
		to     int
		status int
		lines  []string
	}{
		{2, 200, []string{`{"done":1,"total":2}`, `{"done":2,"total":2}`, `{"answer":{"counted":2}}`}},
		{0, 200, []string{`{"answer":{"counted":0}}`}},
		{9, 200, []string{
			`{"done":1,"total":9}`, `{"done":2,"total":9}`, `{"done":3,"total":9}`,
			`{"error":{"id":"few","text":"few"}}`,
		}},
	} {
		res := f.do(request("POST", "/api/count?full=1", asJSON(countRequest{tt.to})))
		media := res.Header.Get("Content-Type")
		status, answer := read(t, res)
		if status != tt.status || answer != strings.Join(tt.lines, "\n")+"\n" || media != mediaLines {
			t.Errorf("%d: %d %s %s", tt.to, status, media, answer)
		}
		spec.holds(t, rt, status, media, answer)
	}
	if quick := f.good("POST", "/api/count", `{"to":7}`); quick != "{\"counted\":7}\n" {
		t.Errorf("without full: %s", quick)
	}
}

// TestStreamFaults: before the first line a fault is an answer of its own; one of the
// program keeps its words to the log.
func TestStreamFaults(t *testing.T) {
	at := 0
	f := newFixture(t, nil, counting(func(_ context.Context, i int) error {
		if i == at {
			return errors.New("secret of the program")
		}
		return nil
	}))
	for at = range 2 {
		status, answer := f.asked("POST", "/api/count?full=1", `{"to":5}`)
		if want := []int{500, 200}[at]; status != want || !strings.Contains(answer, `"internal"`) ||
			strings.Contains(answer, "secret") {
			t.Errorf("%d: %d %s", at, status, answer)
		}
	}
	if n := strings.Count(f.lg.String(), `"fault":"secret of the program"`); n != 2 {
		t.Errorf("the log tells the fault %d times: %s", n, f.lg.String())
	}
}

// TestCancel: who goes away ends the work, and nothing of it stays.
func TestCancel(t *testing.T) {
	ended := make(chan error, 1)
	f := newFixture(t, nil, counting(func(ctx context.Context, i int) error {
		if i == 0 {
			return nil
		}
		<-ctx.Done()
		ended <- ctx.Err()
		return ctx.Err()
	}))
	before := runtime.NumGoroutine()
	h := httptest.NewServer(f.handler)
	client := &http.Client{Transport: &http.Transport{}}
	ctx, goAway := context.WithCancel(context.Background())
	r, err := http.NewRequestWithContext(ctx, "POST", h.URL+"/api/count?full=1", strings.NewReader(`{"to":5}`))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", mediaJSON)
	res, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(res.Body).ReadString('\n')
	if err != nil || line != "{\"done\":1,\"total\":5}\n" {
		t.Fatalf("first line %q, %v", line, err)
	}
	goAway()
	select {
	case err := <-ended:
		if !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the work goes on after the client went away")
	}
	res.Body.Close()
	client.CloseIdleConnections()
	h.Close()
	for deadline := time.Now().Add(10 * time.Second); runtime.NumGoroutine() > before; time.Sleep(time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatalf("%d goroutines, before %d", runtime.NumGoroutine(), before)
		}
	}
	if n, _ := f.places.count(); n != 0 {
		t.Errorf("%d places are still taken", n)
	}
}

// TestPanic: a panic is an answer, and a record; the server goes on.
func TestPanic(t *testing.T) {
	f := newFixture(t, nil, answer("GET /api/panic", "Panic", func(context.Context, struct{}) (int, error) {
		panic("a fault that nobody thought of")
	}))
	status, answer := f.asked("GET", "/api/panic", "")
	if status != http.StatusInternalServerError || fault(t, answer) != "internal" ||
		strings.Contains(answer, "nobody") {
		t.Errorf("%d %s", status, answer)
	}
	id := strings.Fields(strings.SplitAfter(answer, "stands in the log as ")[1])[0]
	id, _, _ = strings.Cut(id, `"`)
	if !strings.Contains(f.lg.String(), id) || !strings.Contains(f.lg.String(), "a fault that nobody thought of") {
		t.Errorf("the log does not tell %s: %s", id, f.lg.String())
	}
	if m := f.good("GET", "/metrics", ""); !strings.Contains(m, "\nseatward_panics_total 1\n") ||
		!strings.Contains(m, `route="/api/panic",method="GET",status="500"} 1`) {
		t.Errorf("not counted: %s", m)
	}
}

// TestAnswersInLines: answers in lines are as documented, and have an answer at their end.
func TestAnswersInLines(t *testing.T) {
	f := newFixture(t, nil)
	for path, in := range map[string]map[string]any{
		"/api/answer?full=1":   {"text": text},
		"/api/trip?progress=1": {"text": layout, "valve": valve},
	} {
		bare, _, _ := strings.Cut(path, "?")
		spec, rt := compiled(t, f), f.route("POST", bare)
		res := f.do(request("POST", path, asJSON(in)))
		media := res.Header.Get("Content-Type")
		status, answer := read(t, res)
		lines := strings.Split(strings.TrimSpace(answer), "\n")
		if status != http.StatusOK || media != mediaLines || len(lines) < 3 ||
			!strings.HasPrefix(lines[0], `{"done":`) || !strings.HasPrefix(lines[len(lines)-1], `{"answer":{`) {
			t.Errorf("%s: %d %s, %d lines: %.300s", path, status, media, len(lines), answer)
		}
		spec.holds(t, rt, status, media, answer)
	}
}
