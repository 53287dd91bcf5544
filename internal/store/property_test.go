package store

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// model is what two writers know was confirmed to them: the truth that the file is held to.
type model struct {
	stores  []*Store
	told    map[string][]Kept // every acknowledged revision of each study
	removed map[string]bool
	order   []string   // studies, the last saved at the end
	seen    [2][]state // what each writer has on his screen
	hours   int
}

type state struct {
	id   string
	base int
}

func (m *model) at() time.Time {
	m.hours++
	return noon.Add(time.Duration(m.hours) * time.Hour)
}

// advanced notes an acknowledged revision.
func (m *model) advanced(t *rapid.T, writer int, k Kept) {
	all := m.told[k.ID]
	if k.Revision == len(all) { // the same content
		if k != all[len(all)-1] {
			t.Fatalf("%v came back for the same content, kept is %v", k, all[len(all)-1])
		}
	} else {
		if k.Revision != len(all)+1 {
			t.Fatalf("revision %d follows %d", k.Revision, len(all))
		}
		m.told[k.ID] = append(all, k)
		m.order = append(slices.DeleteFunc(m.order, func(id string) bool { return id == k.ID }), k.ID)
	}
	m.sees(writer, k)
}

func (m *model) sees(writer int, k Kept) {
	seen := slices.DeleteFunc(m.seen[writer], func(s state) bool { return s.id == k.ID })
	m.seen[writer] = append(seen, state{k.ID, k.Revision})
}

// refused holds an error to what the writer must hear; it reports whether there was one.
func (m *model) refused(t *rapid.T, id string, base int, d *Draft, err error) bool {
	all := m.told[id]
	stale := d != nil && base != len(all) && !all[len(all)-1].holds(*d)
	var conflict *ConflictError
	switch {
	case m.removed[id]:
		if !errors.Is(err, ErrRemoved) {
			t.Fatalf("a removed study gave %v", err)
		}
	case stale:
		if !errors.As(err, &conflict) || conflict.Base != base || conflict.Newest != all[len(all)-1] {
			t.Fatalf("base %d of %d gave %v", base, len(all), err)
		}
	case err != nil:
		t.Fatal(err)
	}
	return err != nil
}

var (
	names = rapid.SampledFrom([]string{"A", "Marram Ness", "水"})
	texts = rapid.SampledFrom([]string{"", "a: 1\n", "a: 2\n", strings.Repeat("pipe\n", 3000)})
)

func (m *model) actions(ctx context.Context) map[string]func(*rapid.T) {
	who := rapid.IntRange(0, 1)
	create := func(t *rapid.T, w int) {
		k, err := m.stores[w].Create(ctx, Draft{Name: names.Draw(t, "name"), Text: texts.Draw(t, "text"), At: m.at()})
		if err != nil {
			t.Fatal(err)
		}
		m.advanced(t, w, k)
	}
	pick := func(t *rapid.T) (int, state) {
		w := who.Draw(t, "writer")
		if len(m.seen[w]) == 0 { // he begins with a study of his own
			create(t, w)
		}
		return w, rapid.SampledFrom(m.seen[w]).Draw(t, "study")
	}
	return map[string]func(*rapid.T){
		"create": func(t *rapid.T) { create(t, who.Draw(t, "writer")) },
		"save": func(t *rapid.T) {
			w, on := pick(t)
			d := Draft{Name: names.Draw(t, "name"), Text: texts.Draw(t, "text"), At: m.at()}
			newest := m.told[on.id][len(m.told[on.id])-1]
			k, err := m.stores[w].Save(ctx, on.id, on.base, d)
			if err == nil && newest.holds(d) && k != newest {
				t.Fatalf("%v came back for the content of %v", k, newest)
			}
			if !m.refused(t, on.id, on.base, &d, err) {
				m.advanced(t, w, k)
			}
		},
		"rename": func(t *rapid.T) {
			w, on := pick(t)
			k, err := m.stores[w].Rename(ctx, on.id, names.Draw(t, "name"), m.at())
			if !m.refused(t, on.id, on.base, nil, err) {
				m.advanced(t, w, k)
			}
		},
		"remove": func(t *rapid.T) {
			w, on := pick(t)
			if err := m.stores[w].Remove(ctx, on.id, m.at()); err != nil {
				t.Fatal(err)
			}
			m.removed[on.id] = true
		},
		"restore": func(t *rapid.T) {
			w, on := pick(t)
			if err := m.stores[w].Restore(ctx, on.id); err != nil {
				t.Fatal(err)
			}
			delete(m.removed, on.id)
		},
		"look": func(t *rapid.T) {
			w := who.Draw(t, "writer")
			for _, id := range m.order {
				k, err := m.stores[w].Get(ctx, id)
				if err != nil {
					t.Fatal(err)
				}
				m.sees(w, k)
			}
		},
		"": func(t *rapid.T) { m.hold(ctx, t) },
	}
}

// hold compares everything in the file with what was confirmed, through both stores.
func (m *model) hold(ctx context.Context, t *rapid.T) {
	for _, s := range m.stores {
		var listed, want []string
		all, err := s.List(ctx)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range all {
			listed = append(listed, k.ID)
		}
		for _, id := range slices.Backward(m.order) {
			if !m.removed[id] {
				want = append(want, id)
			}
		}
		if !slices.Equal(listed, want) {
			t.Fatalf("listed %v, want %v", listed, want)
		}
		for id, told := range m.told {
			kept, err := s.Revisions(ctx, id)
			if err != nil || len(kept) != len(told) {
				t.Fatalf("%d revisions of %s (%v), %d were acknowledged", len(kept), id, err, len(told))
			}
			for i, k := range slices.Backward(kept) {
				want := told[len(kept)-1-i]
				if !k.RemovedAt.IsZero() != m.removed[id] {
					t.Fatalf("%s is marked as removed at %v, want %v", id, k.RemovedAt, m.removed[id])
				}
				k.RemovedAt, want.Text = time.Time{}, ""
				if k != want {
					t.Fatalf("kept %v, acknowledged %v", k, want)
				}
			}
		}
	}
}

func TestNoRevisionIsEverLost(t *testing.T) {
	dir, runs := t.TempDir(), 0
	rapid.Check(t, func(rt *rapid.T) {
		runs++
		path := filepath.Join(dir, fmt.Sprint(runs))
		m := &model{told: map[string][]Kept{}, removed: map[string]bool{}}
		for range 2 {
			s, err := Open(path)
			if err != nil {
				rt.Fatal(err)
			}
			defer s.Close()
			m.stores = append(m.stores, s)
		}
		rt.Repeat(m.actions(context.Background()))
		for id, told := range m.told {
			for _, want := range told {
				k, err := m.stores[0].Revision(context.Background(), id, want.Revision)
				if k.RemovedAt = (time.Time{}); err != nil || k != want {
					rt.Fatalf("kept %v (%v), acknowledged %v", k, err, want)
				}
			}
		}
		wholeFile(t, m.stores[0].read)
	})
}

// FuzzDraft holds any draft to: refused with its fault and nothing written, or kept to the byte.
func FuzzDraft(f *testing.F) {
	f.Add("Marram Ness", "note\n", "demo/swing-200", "pumps: 3\n", int64(1))
	f.Add("\xff", "\x1b", "\u2028", "\x00", int64(-1<<63))
	f.Add("'; DROP TABLE studies; --", "", "", "", int64(1<<62))
	s, ctx := newStore(f), context.Background()
	count := func(t *testing.T) (n int) {
		if err := s.read.QueryRow("SELECT count(*) FROM revisions").Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	f.Fuzz(func(t *testing.T, name, note, valve, text string, us int64) {
		d, before := Draft{name, note, valve, text, time.UnixMicro(us)}, count(t)
		k, err := s.Create(ctx, d)
		var invalid *InvalidError
		if err != nil {
			if !errors.As(err, &invalid) || invalid.Found == "" || invalid.Expected == "" || count(t) != before {
				t.Fatalf("%v, with %d revisions after %d", err, count(t), before)
			}
			return
		}
		got, err := s.Get(ctx, k.ID)
		if err != nil || got != k || !k.holds(d) || got.Text != text || got.Name != name || got.Note != note ||
			got.Valve != valve || !got.SavedAt.Equal(d.At) {
			t.Fatalf("kept %+v (%v) of %+v", got, err, d)
		}
	})
}
