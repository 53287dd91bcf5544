package web

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"seatward/catalog"
	"seatward/examples"
	"seatward/internal/store"
	"seatward/rules"
)

// text is a small station file that answers fast.
var text = string(examples.Stations()[1].Data) // first-call

// layout is one whose pump trips can be run through.
var layout = string(examples.Stations()[2].Data)

const valve = "flap/6in"

// fixture is a server with a store that keeps one study of two revisions.
type fixture struct {
	*Server
	t  testing.TB
	id string
	lg bytes.Buffer
}

// config is that of a server for tests.
func config(t testing.TB) Config {
	t.Helper()
	catalogs, faults := catalog.Demo()
	book, list := rules.Base()
	if faults.Err() != nil || list.Err() != nil {
		t.Fatal(faults, list)
	}
	return Config{
		Catalogs: catalogs, Rules: book, Loopback: true, Computations: 2, Program: "Seatward test",
		Longest: time.Hour, // a loaded machine, or one under the race detector, is slow
	}
}

func newFixture(t testing.TB, change func(*Config), more ...route) *fixture {
	t.Helper()
	f := &fixture{t: t}
	c := config(t)
	c.Log = slog.New(slog.NewJSONHandler(&f.lg, nil))
	kept, err := store.Open(filepath.Join(t.TempDir(), "kept"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	})
	c.Store = kept
	k, err := kept.Create(context.Background(), store.Draft{Name: "One", Text: text, At: time.Unix(1e9, 0)})
	if err == nil {
		_, err = kept.Save(context.Background(), k.ID, 1,
			store.Draft{Name: "One", Text: text + "\n# again\n", Valve: valve, At: time.Unix(2e9, 0)})
	}
	if err != nil {
		t.Fatal(err)
	}
	f.id = k.ID
	if change != nil {
		change(&c)
	}
	if f.Server, err = newServer(c, more...); err != nil {
		t.Fatal(err)
	}
	return f
}

// sample is a request that has a good answer.
type sample struct{ path, body string }

func asJSON(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		panic(err) // a test holds what cannot be written
	}
	return string(data)
}

// request makes a request as the page would send it.
func request(method, path, body string) *http.Request {
	r := httptest.NewRequest(method, "http://localhost:8173"+path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", mediaJSON)
	}
	return r
}

// do asks the server without a network.
func (f *fixture) do(r *http.Request) *http.Response {
	f.t.Helper()
	w := httptest.NewRecorder()
	f.handler.ServeHTTP(w, r)
	return w.Result()
}

// asked asks and gives status and body.
func (f *fixture) asked(method, path, body string) (int, string) {
	f.t.Helper()
	return read(f.t, f.do(request(method, path, body)))
}

func read(t testing.TB, r *http.Response) (int, string) {
	t.Helper()
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, string(data)
}

// fault reads the ID of the fault in an answer, and wants it worded.
func fault(t testing.TB, answer string) string {
	t.Helper()
	var p problem
	if err := json.Unmarshal([]byte(answer), &p); err != nil || p.Error.ID == "" || p.Error.Text == "" {
		t.Fatalf("no fault that can be read: %v: %.300s", err, answer)
	}
	return p.Error.ID
}

// into reads an answer.
func into[T any](t testing.TB, answer string) T {
	t.Helper()
	var out T
	d := json.NewDecoder(strings.NewReader(answer))
	d.DisallowUnknownFields()
	if err := d.Decode(&out); err != nil {
		t.Fatalf("%v: %.300s", err, answer)
	}
	return out
}
