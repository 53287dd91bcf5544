package plant

import (
	"context"
	"os"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// fileText is an example or a kept station by its name, with pairs of old and new text
// replaced.
func fileText(t testing.TB, name string, edits ...string) string {
	t.Helper()
	path := "testdata/stations/" + name + ".yaml"
	switch name {
	case "first-call", "layout", "study", "booster":
		path = "../examples/" + name + ".station.yaml"
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(edits); i += 2 {
		if !strings.Contains(text, edits[i]) {
			t.Fatalf("%s has no %q", name, edits[i])
		}
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return text
}

// readStation is the station of a text.
func readStation(t testing.TB, text string) *station.Station {
	t.Helper()
	st, list := station.Load("test.yaml", []byte(text))
	if st == nil {
		t.Fatal(list)
	}
	return st
}

// plantOf is an example or a kept station, ready for runs.
func plantOf(t testing.TB, name string, edits ...string) *Plant {
	t.Helper()
	p, err := New(readStation(t, fileText(t, name, edits...)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func demo(t testing.TB) []*catalog.Catalog {
	t.Helper()
	all, faults := catalog.Demo()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	return all
}

// fitted is a valve built for the station.
type fitted struct {
	item    *catalog.Item
	mech    *valve.Mechanism
	setting valve.Setting
}

func fit1(t testing.TB, p *Plant, id string) fitted {
	t.Helper()
	it, err := catalog.Find(demo(t), id)
	if err != nil {
		t.Fatal(err)
	}
	f := fitted{item: it, setting: p.st.Setting()}
	if f.mech, err = it.Build(f.setting); err != nil {
		t.Fatal(err)
	}
	return f
}

// lineSize are the valves of the pipe's size that can be built for the station, the first
// of each family.
func lineSize(t testing.TB, p *Plant) []fitted {
	t.Helper()
	setting := p.st.Setting()
	var out []fitted
	for _, c := range demo(t) {
		for _, f := range c.Families {
			for _, it := range f.Items {
				if it.Size != p.st.Valve.Size {
					continue
				}
				if m, err := it.Build(setting); err == nil {
					out = append(out, fitted{it, m, setting})
				}
				break
			}
		}
	}
	return out
}

// some are at most n of the valves of the pipe's size, spread over the catalog.
func some(t testing.TB, p *Plant, n int) []fitted {
	all := lineSize(t, p)
	var out []fitted
	for k := range min(n, len(all)) {
		out = append(out, all[k*len(all)/min(n, len(all))])
	}
	return out
}

// limits are those of the rules.
func limits(t testing.TB) Limits {
	t.Helper()
	book, faults := rules.Base()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	return Limits{book.Limit("slam-quiet").Value.SI, book.Limit("slam-harmful").Value.SI}
}

// asked is the answer for a valve.
func asked(t testing.TB, p *Plant, f fitted, ask Ask) *Answer {
	t.Helper()
	ask.Limits = limits(t)
	a, err := p.Ask(context.Background(), f.item, f.setting, ask)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// event is that of the name.
func event(t testing.TB, p *Plant, name string) Event {
	t.Helper()
	events, err := p.FindEvents(name)
	if err != nil {
		t.Fatal(err)
	}
	return events[0]
}

// stopped is the record of one event with one valve.
func stopped(t testing.TB, p *Plant, id, name string, o Options) *Stop {
	t.Helper()
	s, err := p.Run(context.Background(), fit1(t, p, id).mech, event(t, p, name), o)
	if err != nil {
		t.Fatal(err)
	}
	if s.Fault != "" {
		t.Fatalf("%s, %s: %s", id, name, s.Fault)
	}
	return s
}

// long is true where the tests that take minutes are asked for.
func long() bool { return os.Getenv("SEATWARD_LONG") == "1" }
