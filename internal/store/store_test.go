package store

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

var noon = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)

// TestMain lets the tests run this binary once more as the program that is killed.
func TestMain(m *testing.M) {
	if path := os.Getenv(victimVariable); path != "" {
		os.Exit(victim(path))
	}
	os.Exit(m.Run())
}

// mustOpen opens the store at path with IDs that come out the same in every run.
func mustOpen(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	s.Random = rand.NewChaCha8([32]byte([]byte(strings.Repeat("marram ", 5))[:32]))
	t.Cleanup(func() { s.Close() })
	return s
}

func newStore(t testing.TB) *Store {
	t.Helper()
	return mustOpen(t, filepath.Join(t.TempDir(), "kept.db"))
}

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func draft(name, text string) Draft {
	return Draft{Name: name, Note: "first\nsecond line", Valve: "demo/swing-200", Text: text, At: noon}
}

func TestWhatIsSavedComesBack(t *testing.T) {
	s, ctx, kept := newStore(t), context.Background(), must[Kept](t)
	first := kept(s.Create(ctx, draft("Marram Ness", "a: 1\n")))
	second := draft("Marram Ness, new pumps", "a: 2\r\n# ü 水 \U0001F6B0\n")
	second.At = noon.Add(1234567 * time.Nanosecond).In(time.FixedZone("east", 7200))
	saved := kept(s.Save(ctx, first.ID, 1, second))
	want := Kept{
		ID: first.ID, Revision: 2, Name: second.Name, Note: second.Note, Valve: second.Valve, Text: second.Text,
		Hash: hash(second.Text), SavedAt: noon.Add(1234 * time.Microsecond),
	}
	for what, got := range map[string]Kept{
		"Save": saved, "Get": kept(s.Get(ctx, first.ID)), "Revision": kept(s.Revision(ctx, first.ID, 2)),
	} {
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", what, diff)
		}
	}
	if diff := cmp.Diff(first, kept(s.Revision(ctx, first.ID, 1))); diff != "" {
		t.Errorf("revision 1 has changed (-was +is)\n%s", diff)
	}
	first.Text, want.Text = "", ""
	if diff := cmp.Diff([]Kept{want, first}, must[[]Kept](t)(s.Revisions(ctx, first.ID))); diff != "" {
		t.Errorf("Revisions (-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]Kept{want}, must[[]Kept](t)(s.List(ctx))); diff != "" {
		t.Errorf("List (-want +got)\n%s", diff)
	}
}

func TestIDs(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	s.Random = bytes.NewReader(append(bytes.Repeat([]byte{0xff}, 10),
		append(bytes.Repeat([]byte{0}, 10), bytes.Repeat([]byte{0xff}, 15)...)...))
	for _, want := range []string{"zzzzzzzzzzzzzzzz", "0000000000000000"} {
		if k := must[Kept](t)(s.Create(ctx, draft("x", ""))); k.ID != want {
			t.Errorf("ID %q, want %q", k.ID, want)
		}
	}
	if _, err := s.Create(ctx, draft("y", "")); err == nil || !strings.Contains(err.Error(), "drawn twice") {
		t.Errorf("an ID drawn twice gave %v", err)
	}
	if _, err := s.Create(ctx, draft("y", "")); err == nil || !strings.Contains(err.Error(), "no random numbers") {
		t.Errorf("a dry source gave %v", err)
	}
	if n := len(must[[]Kept](t)(s.List(ctx))); n != 2 {
		t.Errorf("%d studies, want 2", n)
	}
}

func TestTheSecondOfTwoIsToldOfTheConflict(t *testing.T) {
	s, ctx, kept := newStore(t), context.Background(), must[Kept](t)
	first := kept(s.Create(ctx, draft("Marram Ness", "a: 1\n")))
	ahead := kept(s.Save(ctx, first.ID, 1, draft("Marram Ness", "a: 2\n")))
	for _, tt := range []struct {
		base int
		says string
	}{
		{1, "someone is ahead of you: revision 2 was saved at 2026-03-04T12:00:00Z, and yours began from revision 1"},
		{0, "yours began from revision 0"},
		{7, "yours began from revision 7, but the newest kept here is revision 2"},
	} {
		_, err := s.Save(ctx, first.ID, tt.base, draft("Marram Ness", "a: 3\n"))
		var conflict *ConflictError
		if !errors.As(err, &conflict) || conflict.Base != tt.base || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("base %d: %v, want a conflict that says %q", tt.base, err, tt.says)
			continue
		}
		if diff := cmp.Diff(ahead, conflict.Newest); diff != "" {
			t.Errorf("base %d: the conflict brings (-want +got)\n%s", tt.base, diff)
		}
	}
	if k := kept(s.Get(ctx, first.ID)); k.Revision != 2 {
		t.Errorf("revision %d after refused saves, want 2", k.Revision)
	}
}

func TestTheSameAgainMakesNoRevision(t *testing.T) {
	s, ctx, kept := newStore(t), context.Background(), must[Kept](t)
	d := draft("Marram Ness", "a: 1\n")
	first := kept(s.Create(ctx, d))
	d.At = noon.Add(time.Hour)
	for _, base := range []int{1, 0} { // 0: the answer to the first save was lost
		if diff := cmp.Diff(first, kept(s.Save(ctx, first.ID, base, d))); diff != "" {
			t.Errorf("base %d (-want +got)\n%s", base, diff)
		}
	}
	if diff := cmp.Diff(first, kept(s.Rename(ctx, first.ID, first.Name, d.At))); diff != "" {
		t.Errorf("the same name (-want +got)\n%s", diff)
	}
	for part, change := range map[string]func(*Draft){
		"name": func(d *Draft) { d.Name += "." }, "note": func(d *Draft) { d.Note += "." },
		"valve": func(d *Draft) { d.Valve += "." }, "text": func(d *Draft) { d.Text += "." },
	} {
		now := kept(s.Get(ctx, first.ID))
		change(&d)
		if k := kept(s.Save(ctx, first.ID, now.Revision, d)); k.Revision != now.Revision+1 {
			t.Errorf("another %s made no revision", part)
		}
	}
	var texts int
	if err := s.read.QueryRow("SELECT count(*) FROM texts").Scan(&texts); err != nil || texts != 2 {
		t.Errorf("%d texts kept (%v), want 2: each once", texts, err)
	}
}

func TestRemoveAndRestore(t *testing.T) {
	s, ctx, kept, list := newStore(t), context.Background(), must[Kept](t), must[[]Kept](t)
	a := kept(s.Create(ctx, draft("A", "a")))
	b := kept(s.Create(ctx, draft("B", "b")))
	later := noon.Add(time.Hour)
	for _, at := range []time.Time{later, later.Add(time.Hour)} { // the second changes nothing
		if err := s.Remove(ctx, a.ID, at); err != nil {
			t.Fatal(err)
		}
	}
	if all := list(s.List(ctx)); len(all) != 1 || all[0].ID != b.ID {
		t.Errorf("listed %v, want B alone", all)
	}
	if all := list(s.Removed(ctx)); len(all) != 1 || all[0].ID != a.ID || !all[0].RemovedAt.Equal(later) {
		t.Errorf("removed %v, want A", all)
	}
	if k := kept(s.Get(ctx, a.ID)); k.Text != "a" || !k.RemovedAt.Equal(later) {
		t.Errorf("a removed study reads %v", k)
	}
	if _, err := s.Save(ctx, a.ID, 1, draft("A", "aa")); !errors.Is(err, ErrRemoved) {
		t.Errorf("saving a removed study gave %v", err)
	}
	if _, err := s.Rename(ctx, a.ID, "AA", later); !errors.Is(err, ErrRemoved) {
		t.Errorf("renaming a removed study gave %v", err)
	}
	for range 2 {
		if err := s.Restore(ctx, a.ID); err != nil {
			t.Fatal(err)
		}
	}
	if k := kept(s.Save(ctx, a.ID, 1, draft("A", "aa"))); k.Revision != 2 {
		t.Errorf("revision %d after restoring, want 2", k.Revision)
	}
	if all := list(s.List(ctx)); len(all) != 2 || all[0].ID != a.ID {
		t.Errorf("listed %v, want A before B", all)
	}
}

func TestNotFound(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	k := must[Kept](t)(s.Create(ctx, draft("A", "a")))
	asked := map[string]func() error{
		"Get":       func() error { _, err := s.Get(ctx, "none"); return err },
		"Revision":  func() error { _, err := s.Revision(ctx, k.ID, 2); return err },
		"Revisions": func() error { _, err := s.Revisions(ctx, "none"); return err },
		"Save":      func() error { _, err := s.Save(ctx, "none", 1, draft("A", "a")); return err },
		"Rename":    func() error { _, err := s.Rename(ctx, "none", "A", noon); return err },
		"Remove":    func() error { return s.Remove(ctx, "none", noon) },
		"Restore":   func() error { return s.Restore(ctx, "none") },
	}
	for name, ask := range asked {
		if err := ask(); !errors.Is(err, ErrNotFound) {
			t.Errorf("%s gave %v, want ErrNotFound", name, err)
		}
	}
}

func TestLimits(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	for _, tt := range []struct {
		name string
		d    Draft
		part string // with the error; empty when it is kept
	}{
		{"longest", Draft{
			strings.Repeat("水", 120), strings.Repeat("ü", 3000), strings.Repeat("v", 200),
			strings.Repeat("x", 1<<20), noon,
		}, ""},
		{"empty but for the name", Draft{Name: "x", At: noon}, ""},
		{"joined emoji", Draft{Name: "👩‍🔧 e\u0301 \u202bעברית", At: noon}, ""},
		{"quotes", Draft{Name: `'; DROP TABLE studies; --"`, Note: "\t\r\n", At: noon}, ""},
		{"no name", Draft{At: noon}, "name"},
		{"spaces for a name", Draft{Name: " \u00a0\u3000", At: noon}, "name"},
		{"long name", Draft{Name: strings.Repeat("x", 121), At: noon}, "name"},
		{"two lines of name", Draft{Name: "a\nb", At: noon}, "name"},
		{"line separator", Draft{Name: "a\u2028b", At: noon}, "name"},
		{"zero in name", Draft{Name: "a\x00b", At: noon}, "name"},
		{"C1 control in name", Draft{Name: "a\u0085b", At: noon}, "name"},
		{"name not UTF-8", Draft{Name: "a\xffb", At: noon}, "name"},
		{"long note", Draft{Name: "x", Note: strings.Repeat("ü", 3001), At: noon}, "note"},
		{"escape in note", Draft{Name: "x", Note: "\x1b[2J", At: noon}, "note"},
		{"long valve", Draft{Name: "x", Valve: strings.Repeat("v", 201), At: noon}, "valve"},
		{"long text", Draft{Name: "x", Text: strings.Repeat("x", 1<<20+1), At: noon}, "text"},
		{"zero in text", Draft{Name: "x", Text: "a\x00", At: noon}, "text"},
		{"text not UTF-8", Draft{Name: "x", Text: "\xc3\x28", At: noon}, "text"},
		{"no time", Draft{Name: "x"}, "time"},
		{"far time", Draft{Name: "x", At: time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC)}, "time"},
	} {
		before := len(must[[]Kept](t)(s.List(ctx)))
		k, err := s.Create(ctx, tt.d)
		var invalid *InvalidError
		switch {
		case tt.part == "":
			if err != nil || !k.holds(tt.d) {
				t.Errorf("%s: %v", tt.name, err)
			}
		case !errors.As(err, &invalid) || invalid.Part != tt.part:
			t.Errorf("%s: %v, want a fault of the %s", tt.name, err, tt.part)
		case len(must[[]Kept](t)(s.List(ctx))) != before:
			t.Errorf("%s: refused and kept all the same", tt.name)
		}
	}
}

// Two programs on one file: every revision is won by one of them, all others get a message.
func TestManyWritersTwoStores(t *testing.T) {
	path, ctx := filepath.Join(t.TempDir(), "kept.db"), context.Background()
	stores := []*Store{mustOpen(t, path), mustOpen(t, path)}
	id := must[Kept](t)(stores[0].Create(ctx, draft("A", "0"))).ID
	var mu sync.Mutex
	won := map[int]string{1: "0"}
	var group sync.WaitGroup
	for w := range 6 {
		group.Go(func() {
			s, base := stores[w%2], 1
			for i := range 8 {
				text := strings.Repeat("x", w+1) + strings.Repeat("y", i)
				k, err := s.Save(ctx, id, base, draft("A", text))
				var conflict *ConflictError
				if errors.As(err, &conflict) {
					base = conflict.Newest.Revision
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				base = k.Revision
				mu.Lock()
				if was, twice := won[k.Revision]; twice {
					t.Errorf("revision %d was given to %q and %q", k.Revision, was, text)
				}
				won[k.Revision] = text
				mu.Unlock()
			}
		})
	}
	group.Wait()
	all := must[[]Kept](t)(stores[1].Revisions(ctx, id))
	if len(all) != len(won) {
		t.Errorf("%d revisions kept, %d acknowledged", len(all), len(won))
	}
	for _, k := range all {
		if k.Hash != hash(won[k.Revision]) {
			t.Errorf("revision %d is not what was acknowledged", k.Revision)
		}
	}
}
