package desk

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"seatward/catalog"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

func newDesk(t testing.TB) *Desk {
	t.Helper()
	all, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return New(all, book)
}

func example(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "examples", name+".station.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func examples(t testing.TB) map[string]string {
	out := map[string]string{"starter US": station.Starter(quantity.US), "starter SI": station.Starter(quantity.SI)}
	for _, name := range []string{"first-call", "layout", "study", "booster"} {
		out[name] = example(t, name)
	}
	return out
}

func TestSheet(t *testing.T) {
	d := newDesk(t)
	places := map[string]bool{}
	for _, p := range []string{
		"wet_well.high", "wet_well.low", "pump", "branch", "valve", "header", "main", "outlet",
		"service", "operation",
	} {
		places[p] = true
	}
	for name, text := range examples(t) {
		s, err := d.Sheet(context.Background(), SheetRequest{text})
		if err != nil {
			t.Fatal(err)
		}
		if s.AssumedCount == 0 || len(s.Drawing.Main) < 2 || s.Station.Hash == "" ||
			s.Drawing.WetWell.LowM > s.Drawing.WetWell.HighM {
			t.Errorf("%s: %+v", name, s)
		}
		for _, f := range s.Fields {
			if !places[f.At] || f.Label == "" || f.Path == "" || f.Origin == "" {
				t.Errorf("%s: %+v", name, f)
			}
		}
		noNulls(t, s)
	}
	layout, err := d.Sheet(context.Background(), SheetRequest{example(t, "layout")})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range layout.Fields {
		if f.Path == "levels.wet_well_high" &&
			(f.At != "wet_well.high" || f.Text != "8.00 ft" || f.Value != "8 ft" || math.Abs(*f.SI-8*0.3048) > 1e-12 ||
				f.Unit != "ft") {
			t.Errorf("%+v", f)
		}
	}
}

// noNulls holds lists to be lists: a page that ranges over them must not meet null.
func noNulls(t *testing.T, reply any) {
	t.Helper()
	data, err := json.Marshal(reply)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{
		"fields", "warnings", "rows", "cautions", "conditions", "confirm", "open", "moments",
		"events", "lines", "references", "options", "bill", "left", "barred", "pumps", "main", "cells", "findings", "values", "t",
	} {
		if bytes.Contains(data, []byte(`"`+key+`":null`)) {
			t.Errorf("%T: %s is null", reply, key)
		}
	}
}

func TestFaults(t *testing.T) {
	d, ctx := newDesk(t), context.Background()
	layout := example(t, "layout")
	bad := strings.Replace(layout, "length: 3400 ft", "length: 3400 gpm", 1)
	three := "3 ft"
	for name, ask := range map[string]func() error{
		"sheet value-unreadable": func() error { _, err := d.Sheet(ctx, SheetRequest{bad}); return err },
		"edit edit-impossible": func() error {
			_, err := d.Edit(ctx, EditRequest{Text: layout, Edits: []Change{{"levels.zebra", &three}}})
			return err
		},
		"edit no-edit":            func() error { _, err := d.Edit(ctx, EditRequest{Text: layout}); return err },
		"answer value-unreadable": func() error { _, err := d.Answer(ctx, AnswerRequest{Text: bad}); return err },
		"answer valve-unknown":    func() error { _, err := d.Answer(ctx, AnswerRequest{Text: layout, Valve: "zebra/6in"}); return err },
		"full valve-unknown": func() error {
			_, err := d.AnswerFull(ctx, AnswerRequest{Text: layout, Valve: "zebra/6in"}, nil)
			return err
		},
		"answer units-unknown": func() error { _, err := d.Answer(ctx, AnswerRequest{Text: layout, Units: "cubits"}); return err },
		"answer size-not-made": func() error { _, err := d.Answer(ctx, AnswerRequest{Text: sized(t, d, layout, "48 in")}); return err },
		"trip event-unknown": func() error {
			_, err := d.Trip(ctx, TripRequest{Text: layout, Valve: "flap/6in", Event: "flood"})
			return err
		},
		"trip valve-unknown": func() error { _, err := d.Trip(ctx, TripRequest{Text: layout, Valve: "zebra"}); return err },
		"trip not-varied": func() error {
			_, err := d.Trip(ctx, TripRequest{Text: layout, Valve: "flap/6in", Vary: map[string]float64{"zebra": 1}})
			return err
		},
		"trip change-impossible": func() error {
			_, err := d.Trip(ctx, TripRequest{Text: layout, Valve: "flap/6in", Change: TripChange{VesselM3: -1}})
			return err
		},
		"trip frames-impossible": func() error {
			_, err := d.Trip(ctx, TripRequest{Text: layout, Valve: "flap/6in", Frames: -1})
			return err
		},
		"explain number-unknown": func() error { _, err := d.Explain(ctx, ExplainRequest{Text: layout, Path: "zebra"}); return err },
		"configure choice-unknown": func() error {
			_, err := d.Configure(ctx, ConfigureRequest{Text: layout, Valve: "flap/6in", Picks: []Pick{{"zebra", "x"}}})
			return err
		},
		"compare compare-count": func() error { _, err := d.Compare(ctx, CompareRequest{Text: layout}); return err },
	} {
		_, id, _ := strings.Cut(name, " ")
		var e *Error
		if err := ask(); !errors.As(err, &e) || e.ID != id || e.Text == "" || e.Mend == "" {
			t.Errorf("%s: %#v", name, err)
		}
	}
	var e *Error
	if _, err := d.Sheet(ctx, SheetRequest{bad}); !errors.As(err, &e) || len(e.Messages) != 1 ||
		e.Messages[0].Line == 0 || e.Messages[0].Path != "main.runs[0].length" {
		t.Errorf("no place: %+v", e)
	}
}

// sized is the file with another size of the valve.
func sized(t *testing.T, d *Desk, text, size string) string {
	t.Helper()
	out, list := station.Edit("x", []byte(text), []station.Change{{Path: "valve.size", Value: &size}})
	if list != nil {
		t.Fatal(list)
	}
	return string(out)
}

// The whole answer is that of the command select, and the shown valve of a quick answer is
// judged as there: not one finding differs.
func TestAnswerIsThatOfTheStudy(t *testing.T) {
	d, ctx := newDesk(t), context.Background()
	for _, name := range []string{"first-call", "layout"} {
		t.Run(name, func(t *testing.T) {
			text := example(t, name)
			done := 0
			full, err := d.AnswerFull(ctx, AnswerRequest{Text: text},
				func(n, total int) { done = max(done, n*100/total) })
			if err != nil {
				t.Fatal(err)
			}
			st, _ := station.Load(fileName, []byte(text))
			want, err := study.Run(ctx, st, study.Options{Catalogs: d.catalogs, Rules: d.rules})
			if err != nil {
				t.Fatal(err)
			}
			if best := want.Assessments[0]; full.Shown.Candidate.ID != best.Item.ID ||
				full.Verdict.Word != best.Verdict.String() || jsonOf(t, full.Study) != jsonOf(t, want.JSON()) ||
				done != 100 {
				t.Errorf("the whole answer shows %s, %s; the study %s, %s", full.Shown.Candidate.ID, full.Verdict.Word,
					best.Item.ID, best.Verdict)
			}
			for _, valve := range []string{"", full.Shown.Candidate.ID, "swing/6in"} {
				quick, err := d.Answer(ctx, AnswerRequest{Text: text, Valve: valve})
				if err != nil {
					t.Fatal(err)
				}
				found := false
				for _, c := range full.Study.Candidates {
					if c.ID == quick.Shown.Candidate.ID {
						found = true
						if c.Verdict != quick.Shown.Candidate.Verdict ||
							jsonOf(t, c.Findings) != jsonOf(t, quick.Shown.Findings) ||
							jsonOf(t, c.Slam) != jsonOf(t, quick.Shown.Slam) {
							t.Errorf("%s is judged %s, in the study %s, or by other findings", c.ID, quick.Verdict.Word,
								c.Verdict)
						}
					}
				}
				if !found || quick.Verdict.Sentence == "" || quick.Runs != RunsAll && quick.Runs != RunsShown ||
					valve != "" && quick.Shown.Candidate.ID != valve {
					t.Errorf("%q shows %s: %q", valve, quick.Shown.Candidate.ID, quick.Verdict.Sentence)
				}
				noNulls(t, quick)
			}
		})
	}
}

func jsonOf(t *testing.T, v any) string {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// A valve that is asked for is shown, also one of a size far off, and in the units asked for.
func TestAnswerShowsTheValveAskedFor(t *testing.T) {
	d := newDesk(t)
	for _, id := range []string{"swing/6in", "flap/12in"} {
		a, err := d.Answer(context.Background(), AnswerRequest{Text: example(t, "layout"), Valve: id, Units: "SI"})
		if err != nil {
			t.Fatal(err)
		}
		if a.Shown.Candidate.ID != id || a.Shown.Slam == nil || !strings.Contains(jsonOf(t, a.Rows[0].Loss), " m") {
			t.Errorf("%s: %+v", id, a.Rows[0].Loss)
		}
	}
}

// Behind a cushion the class goes by the sudden stop of the same head rise, which the row
// gives; nothing else has one.
func TestCushion(t *testing.T) {
	d, ctx := newDesk(t), context.Background()
	a, err := d.AnswerFull(ctx, AnswerRequest{Text: example(t, "layout")}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range a.Rows {
		if r.Slam == nil || r.Slam.Stopped == nil {
			continue
		}
		if !strings.HasPrefix(r.ID, "swing-cushioned/") || r.Slam.Stopped.MS >= r.Slam.Best {
			t.Errorf("%s: %+v with the stop %+v", r.ID, r.Slam, r.Slam.Stopped)
		}
	}
}

func TestCancelled(t *testing.T) {
	d := newDesk(t)
	ctx, cancel := context.WithCancel(context.Background())
	_, err := d.AnswerFull(ctx, AnswerRequest{Text: example(t, "layout")}, func(n, total int) {
		if n > 0 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if _, err := d.AnswerFull(context.Background(), AnswerRequest{Text: example(t, "layout")}, nil); err != nil {
		t.Errorf("after a cancelled one: %v", err)
	}
}

// Many at once get the same answers.
func TestConcurrent(t *testing.T) {
	d := newDesk(t)
	text := example(t, "layout")
	var wait sync.WaitGroup
	got := make([]string, 12)
	for i := range got {
		wait.Go(func() {
			a, err := d.Answer(context.Background(), AnswerRequest{Text: text, Units: []string{"US", "SI"}[i%2]})
			if err != nil {
				t.Error(err)
				return
			}
			got[i] = jsonOf(t, a)
		})
	}
	wait.Wait()
	for i := range got {
		if got[i] != got[i%2] {
			t.Errorf("answer %d differs", i)
		}
	}
}

func TestCacheIsBounded(t *testing.T) {
	c := cache[int, int]{most: 3}
	made := 0
	for _, k := range []int{1, 2, 3, 1, 4, 1, 2} {
		v, err := c.get(context.Background(), k, func() (int, error) { made++; return k * k, nil })
		if v != k*k || err != nil {
			t.Fatal(v, err)
		}
	}
	if len(c.kept) != 3 || made != 5 { // 4 drops 2, which is made again
		t.Errorf("%d kept, %d made", len(c.kept), made)
	}
	fault := errors.New("fault")
	if _, err := c.get(context.Background(), 9, func() (int, error) { return 0, fault }); !errors.Is(err, fault) ||
		c.kept[9] != nil {
		t.Error("an error is kept")
	}
}

func TestExplain(t *testing.T) {
	d := newDesk(t)
	a, err := d.Answer(context.Background(), AnswerRequest{Text: example(t, "layout")})
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"main.runs[0].wave_speed":                  "wave speed",
		a.Shown.Candidate.ID + " reverse_velocity": "reverse velocity",
		"operating_points[0].flow":                 "flow",
		a.Rows[len(a.Rows)-1].ID + " velocity":     "velocity",
	} {
		r, err := d.Explain(context.Background(), ExplainRequest{Text: example(t, "layout"), Path: path})
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(r.Text, want) || len(r.Lines) != strings.Count(r.Text, "\n") || r.Lines[0].Depth != 0 {
			t.Errorf("%s: %+v", path, r)
		}
		noNulls(t, r)
	}
}

func TestConfigure(t *testing.T) {
	d, ctx := newDesk(t), context.Background()
	ask := ConfigureRequest{Text: example(t, "layout"), Valve: "flap/6in"}
	r, err := d.Configure(ctx, ask)
	if err != nil {
		t.Fatal(err)
	}
	if r.Valve != "flap/6in" || len(r.Options) == 0 || len(r.Bill) == 0 || r.Code == "" {
		t.Errorf("%+v", r)
	}
	noNulls(t, r)
	tried := 0
	for _, o := range r.Options {
		for _, c := range o.Left {
			ask.Picks = []Pick{{o.ID, c}}
			again, err := d.Configure(ctx, ask)
			if err != nil {
				t.Errorf("%s=%s is left, and cannot be had: %v", o.ID, c, err)
				continue
			}
			for _, x := range again.Options {
				if x.ID == o.ID && x.Choice != c {
					t.Errorf("%s=%s was asked for, %s came", o.ID, c, x.Choice)
				}
			}
			tried++
		}
	}
	if tried < len(r.Options) {
		t.Errorf("%d choices tried", tried)
	}
}

func TestCompare(t *testing.T) {
	d := newDesk(t)
	r, err := d.Compare(context.Background(),
		CompareRequest{Text: example(t, "layout"), Valves: []string{"swing/6in", "flap/6in"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Rows) != 2 || r.Rows[0].ID != "swing/6in" || len(r.Findings) == 0 || r.Rows[0].Rank == r.Rows[1].Rank &&
		r.Rows[0].Rank != 0 {
		t.Errorf("%+v", r.Rows)
	}
	for _, f := range r.Findings {
		if len(f.Cells) != 2 || f.Cells[0] == nil && f.Cells[1] == nil {
			t.Errorf("%+v", f)
		}
	}
}
