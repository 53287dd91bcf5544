package web

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"
)

// TestLogTooLarge: a log that is larger than a request may be is refused before it is read, with the
// command that reads it.
func TestLogTooLarge(t *testing.T) {
	f := newFixture(t, nil)
	for _, path := range []string{"/api/log", "/api/fit", "/api/leak"} {
		large := asJSON(map[string]any{"file": map[string]any{"name": "x.csv", "data": make([]byte, maxBodyBytes)}})
		status, answer := f.asked("POST", path, large)
		var p problem
		if err := json.Unmarshal([]byte(answer), &p); err != nil {
			t.Fatal(err)
		}
		if status != http.StatusRequestEntityTooLarge || !strings.Contains(p.Error.Mend, "seatward log") {
			t.Errorf("%s: %d, %+v", path, status, p.Error)
		}
	}
}

// TestFitInLines: a fit says how many runs it has made, and ends with what the stops tell; a fault
// that is found before a run is an answer of its own.
func TestFitInLines(t *testing.T) {
	f := newFixture(t, nil)
	spec := compiled(t, f)
	rt := f.route("POST", "/api/fit")
	body := f.samples()["POST /api/fit"].body
	res := f.do(request("POST", "/api/fit?progress=1", body))
	media := res.Header.Get("Content-Type")
	status, answer := read(t, res)
	lines := strings.Split(strings.TrimSpace(answer), "\n")
	if status != http.StatusOK || media != mediaLines || len(lines) < 10 {
		t.Fatalf("%d, %s, %d lines: %.300s", status, media, len(lines), answer)
	}
	spec.holds(t, rt, status, media, answer)
	if !strings.Contains(lines[0], `"done":1`) || !strings.Contains(lines[len(lines)-1], `"answer":`) {
		t.Errorf("%.100s … %.100s", lines[0], lines[len(lines)-1])
	}
	res = f.do(request("POST", "/api/fit?progress=1", strings.Replace(body, "swing/6in", "zebra/6in", 1)))
	if status, answer := read(t, res); status != http.StatusUnprocessableEntity || !strings.Contains(answer, "valve-unknown") {
		t.Errorf("%d: %.300s", status, answer)
	}
}
