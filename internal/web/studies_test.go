package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatward/internal/store"
)

// TestStudies goes the way of a study through the interface.
func TestStudies(t *testing.T) {
	f := newFixture(t, nil)
	status, answer := f.asked("POST", "/api/studies",
		asJSON(Draft{Name: "Köln № 2", Text: "station: x # ü\n", Note: "first"}))
	k := into[Kept](t, answer)
	if status != http.StatusCreated || k.Revision != 1 || k.Text != "station: x # ü\n" || k.Removed {
		t.Fatalf("%d %+v", status, k)
	}
	at := "/api/studies/" + k.ID
	save := func(base int, text string) (int, string) {
		return f.asked("PUT", at, asJSON(map[string]any{"base": base, "name": k.Name, "text": text}))
	}
	if status, answer = save(1, "station: mine\n"); status != http.StatusOK || into[Kept](t, answer).Revision != 2 {
		t.Fatalf("save: %d %s", status, answer)
	}
	if status, answer = save(1, "station: mine\n"); status != http.StatusOK || into[Kept](t, answer).Revision != 2 {
		t.Errorf("the same again: %d %s", status, answer)
	}
	status, answer = save(1, "station: yours\n")
	c := into[conflict](t, answer)
	if status != http.StatusConflict || c.Error.ID != "conflict" || c.Yours.Text != "station: yours\n" ||
		c.Newest.Text != "station: mine\n" || c.Newest.Revision != 2 || !strings.Contains(c.Error.Mend, "revision 2") {
		t.Errorf("conflict: %d %+v", status, c)
	}
	compiled(t, f).holds(t, f.route("PUT", "/api/studies/{id}"), status, mediaJSON, answer)
	if all := into[[]Kept](t, f.good("GET", at+"/revisions", "")); len(all) != 2 || all[0].Revision != 2 ||
		all[1].Text != "" {
		t.Errorf("revisions %+v", all)
	}
	if old := into[Kept](t, f.good("GET", at+"/revisions/1", "")); old.Text != k.Text {
		t.Errorf("revision 1 is %+v", old)
	}
	res := f.do(request("GET", at+"/station.yaml?revision=1", ""))
	_, answer = read(t, res)
	if answer != k.Text || res.Header.Get("Content-Disposition") != "attachment; filename*=utf-8''k%C3%B6ln-2.station.yaml" {
		t.Errorf("export: %q %v", answer, res.Header)
	}
	if gone := into[Kept](t, f.good("DELETE", at, "")); !gone.Removed {
		t.Errorf("removed: %+v", gone)
	}
	if status, answer = save(2, "station: late\n"); status != http.StatusGone || fault(t, answer) != "removed" {
		t.Errorf("save after removal: %d %s", status, answer)
	}
	if all := f.good("GET", "/api/studies", ""); strings.Contains(all, k.ID) {
		t.Errorf("the list holds what was removed: %s", all)
	}
	if all := into[[]Kept](t, f.good("GET", "/api/studies?removed=1", "")); len(all) != 1 || all[0].ID != k.ID {
		t.Errorf("removed ones: %+v", all)
	}
	if back := into[Kept](t, f.good("POST", at+"/restore", "{}")); back.Removed || back.Text != "station: mine\n" {
		t.Errorf("restored: %+v", back)
	}
}

func (f *fixture) route(method, path string) *route {
	for i := range f.table {
		if f.table[i].method == method && f.table[i].path == path {
			return &f.table[i]
		}
	}
	f.t.Fatalf("no route %s %s", method, path)
	return nil
}

// good asks what must be answered.
func (f *fixture) good(method, path, body string) string {
	f.t.Helper()
	status, answer := f.asked(method, path, body)
	if status >= 300 {
		f.t.Fatalf("%s %s: %d %s", method, path, status, answer)
	}
	return answer
}

// TestCompareRevisions: what moved is listed, and a revision with faults says which.
func TestCompareRevisions(t *testing.T) {
	f := newFixture(t, nil)
	at := "/api/studies/" + f.id
	if m := into[Moves](t, f.good("POST", at+"/compare", `{"a":1,"b":2}`)); len(m.Moves) != 0 || m.A.Revision != 1 ||
		m.B.Revision != 2 {
		t.Errorf("a remark moved %+v", m)
	}
	changed := strings.Replace(text, "position: ", "position: horizontal # ", 1)
	if changed == text {
		t.Fatal("the example says no position: change another fact")
	}
	f.good("PUT", at, asJSON(map[string]any{"base": 2, "name": "One", "text": changed}))
	if m := into[Moves](t, f.good("POST", at+"/compare", `{"a":2,"b":3}`)); len(m.Moves) == 0 {
		t.Error("another position moved nothing")
	}
	f.good("PUT", at, asJSON(map[string]any{
		"base": 3, "name": "One",
		"text": "station: x\nvalve: {size: 6 furlongs}\n",
	}))
	status, answer := f.asked("POST", at+"/compare", `{"a":3,"b":4}`)
	if p := into[problem](t, answer); status != http.StatusUnprocessableEntity ||
		!strings.Contains(p.Error.Text, "revision 4") || len(p.Error.Messages) == 0 || p.Error.Messages[0].Line == 0 {
		t.Errorf("%d %s", status, answer)
	}
	if status, answer = f.asked("POST", at+"/compare", `{"a":1,"b":9}`); status != http.StatusNotFound {
		t.Errorf("%d %s", status, answer)
	}
}

// TestRefusedDrafts: what cannot be kept is said with its part.
func TestRefusedDrafts(t *testing.T) {
	f := newFixture(t, nil)
	for _, tt := range []struct {
		draft Draft
		id    string
	}{
		{Draft{Text: "x"}, "draft-name"},
		{Draft{Name: "a\nb", Text: "x"}, "draft-name"},
		{Draft{Name: "a", Text: strings.Repeat("x", store.MaxTextBytes+1)}, "draft-text"},
		{Draft{Name: "a", Text: "x", Note: strings.Repeat("x", store.MaxNoteRunes+1)}, "draft-note"},
		{Draft{Name: "a", Text: "x", Valve: strings.Repeat("x", store.MaxValveRunes+1)}, "draft-valve"},
	} {
		status, answer := f.asked("POST", "/api/studies", asJSON(tt.draft))
		if status != http.StatusUnprocessableEntity || fault(t, answer) != tt.id {
			t.Errorf("want %s: %d %.300s", tt.id, status, answer)
		}
	}
}

// TestStoreFaults: each fault of the store has its status and its words.
func TestStoreFaults(t *testing.T) {
	for _, tt := range []struct {
		err    error
		status int
		id     string
	}{
		{store.ErrFull, 507, "disk-full"},
		{fmt.Errorf("save: %w", store.ErrNotWritable), 503, "store-not-writable"},
		{store.ErrBusy, 503, "store-busy"},
		{store.ErrDamaged, 503, "store-damaged"},
		{store.ErrDisk, 503, "disk"},
		{store.ErrGone, 503, "store-gone"},
		{store.ErrNotFound, 404, "not-kept"},
	} {
		if f := faultOf(tt.err); f == nil || f.Status != tt.status || f.ID != tt.id || f.Text == "" {
			t.Errorf("%v: %+v", tt.err, f)
		}
	}
	if f := faultOf(io.ErrUnexpectedEOF); f != nil {
		t.Errorf("an unknown error is shown to the client: %+v", f)
	}
}

// TestStoreGone: a store whose file is deleted takes no saves, says so, and the server goes on.
func TestStoreGone(t *testing.T) {
	name := filepath.Join(t.TempDir(), "kept")
	var kept *store.Store
	f := newFixture(t, func(c *Config) {
		var err error
		if kept, err = store.Open(name); err != nil {
			t.Fatal(err)
		}
		c.Store = kept
	})
	defer kept.Close()
	if _, err := kept.Create(context.Background(), store.Draft{Name: "a", Text: "x", At: f.Now()}); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(name, name+".aside"); err != nil {
		t.Fatal(err)
	}
	status, answer := f.asked("POST", "/api/studies", asJSON(Draft{Name: "b", Text: "y"}))
	if status != http.StatusServiceUnavailable || fault(t, answer) != "store-gone" ||
		!strings.Contains(answer, "nothing was written") {
		t.Errorf("%d %s", status, answer)
	}
	if status, answer = f.asked("GET", "/healthz", ""); status != http.StatusServiceUnavailable ||
		!strings.HasPrefix(fault(t, answer), "store-") {
		t.Errorf("health: %d %s", status, answer)
	}
	if err := os.Rename(name+".aside", name); err != nil {
		t.Fatal(err)
	}
	if all := into[[]Kept](t, f.good("GET", "/api/studies", "")); len(all) != 1 {
		t.Errorf("after it was put back: %+v", all)
	}
}

// TestNoStore: without a store the rest works, and the studies say why not.
func TestNoStore(t *testing.T) {
	f := newFixture(t, func(c *Config) { c.Store = nil })
	for name, s := range f.samples() {
		method, path, _ := strings.Cut(name, " ")
		status, answer := f.asked(method, s.path, s.body)
		if strings.HasPrefix(path, "/api/studies") {
			if status != http.StatusNotFound || fault(t, answer) != "no-store" {
				t.Errorf("%s: %d %s", name, status, answer)
			}
		} else if status != http.StatusOK {
			t.Errorf("%s: %d %s", name, status, answer)
		}
	}
}
