package desk

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"seatward/station"
	"seatward/study"
)

// The rows at once are those of a study without runs: no slam, no ranks, and they say so.
func TestRowsAreTheQuickStudy(t *testing.T) {
	d, ctx := newDesk(t), context.Background()
	for _, name := range []string{"first-call", "layout"} {
		text := example(t, name)
		rows, err := d.Rows(ctx, AnswerRequest{Text: text})
		if err != nil {
			t.Fatal(err)
		}
		st, _ := station.Load(fileName, []byte(text))
		want, err := study.Run(ctx, st, study.Options{Catalogs: d.catalogs, Rules: d.rules, Quick: true})
		if err != nil {
			t.Fatal(err)
		}
		if rows.Runs != RunsNone || !rows.ToRun || jsonOf(t, rows.Study) != jsonOf(t, want.JSON()) ||
			!strings.Contains(rows.Verdict.Sentence, "still to be run") {
			t.Errorf("%s: runs %s, to run %t: %s", name, rows.Runs, rows.ToRun, rows.Verdict.Sentence)
		}
		for _, r := range rows.Rows {
			if r.Slam != nil || r.Rank != 0 || !r.Pending && r.NotRun == "" {
				t.Errorf("%s, %s: %+v", name, r.ID, r)
			}
		}
		noNulls(t, rows)
	}
}

// Looking at a valve changes no other row: not while some are still to be run, and not when
// all have been.
func TestLookingChangesNoRow(t *testing.T) {
	d, ctx, ask := newDesk(t), context.Background(), AnswerRequest{Text: example(t, "layout")}
	known := map[string]string{}
	look := func(valve string) *AnswerReply {
		t.Helper()
		ask.Valve = valve
		a, err := d.Answer(ctx, ask)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range a.Rows {
			if r.Rank != 0 && a.Runs != RunsAll {
				t.Errorf("%s has the rank %d before all have been run", r.ID, r.Rank)
			}
			r.Rank = 0
			if now := jsonOf(t, r); known[r.ID] != "" && known[r.ID] != now {
				t.Errorf("%s was %s\nand is %s after a look at %s", r.ID, known[r.ID], now, valve)
			} else if !r.Pending {
				known[r.ID] = now
			}
		}
		return a
	}
	for _, valve := range []string{"flap/6in", "swing/6in", "flap/6in", ""} {
		if a := look(valve); a.Runs != RunsShown || a.ToRun || valve != "" && a.Shown.Candidate.ID != valve {
			t.Errorf("%s: runs %s", valve, a.Runs)
		}
	}
	if _, err := d.AnswerFull(ctx, ask, nil); err != nil {
		t.Fatal(err)
	}
	whole := jsonOf(t, look("").Rows)
	for _, valve := range []string{"swing/6in", "flap/6in", ""} {
		if a := look(valve); a.Runs != RunsAll || jsonOf(t, a.Rows) != whole {
			t.Errorf("after all: a look at %q changes the rows", valve)
		}
	}
	rows, err := d.Rows(ctx, ask)
	if err != nil || jsonOf(t, rows.Rows) != whole {
		t.Errorf("the rows are not those of the whole answer: %v", err)
	}
}

// sharedStation is one of those in which faults were seen.
func sharedStation(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// The film of a row is the row: the same stop, reverse velocity, class, rise and chances.
func TestFilmIsTheRow(t *testing.T) {
	d, ctx := newDesk(t), context.Background()
	for name, text := range map[string]string{
		"layout": example(t, "layout"), "riser": sharedStation(t, "riser"),
		"short-lift": sharedStation(t, "short-lift"),
	} {
		for _, id := range []string{"swing/6in", "flap/6in"} {
			a, err := d.Answer(ctx, AnswerRequest{Text: text, Valve: id})
			if err != nil {
				t.Fatal(name, err)
			}
			row := a.Rows[slices.IndexFunc(a.Rows, func(r Row) bool { return r.ID == id })]
			if row.Slam == nil {
				if row.NotRun == "" {
					t.Errorf("%s, %s: neither slam nor a reason", name, id)
				}
				continue
			}
			for _, quick := range []bool{true, false} {
				film, err := d.Trip(ctx, TripRequest{
					Text: text, Valve: id, Event: row.Slam.Event, Quick: quick,
					Frames: 20,
				})
				if err != nil {
					t.Fatal(name, id, err)
				}
				c := film.Trip.Closing
				if c.Event != row.Slam.Event || c.ReverseVelocityMS.Best != row.Slam.Best ||
					c.HeadRiseM.Best != row.Slam.Rise.M || film.Trip.Events[0].MostHeadM != row.Slam.Most.M {
					t.Errorf("%s, %s, quick %t: the row has %+v, the film %s", name, id, quick, row.Slam, jsonOf(t, c))
				}
				if !quick && (c.Class != row.Slam.Class || Chances(*c.Chances) != row.Slam.Chances ||
					c.ReverseVelocityMS.High != row.Slam.High) {
					t.Errorf("%s, %s: the row has %+v, the film %s", name, id, row.Slam, jsonOf(t, c))
				}
			}
		}
	}
}

// A station that once made the answer panic has one, or an error that says why.
func TestNoPanic(t *testing.T) {
	d := newDesk(t)
	for _, name := range []string{"panic-select-json", "panic-trip-schedule"} {
		a, err := d.AnswerFull(context.Background(), AnswerRequest{Text: sharedStation(t, name)}, nil)
		if err != nil {
			told(t, err)
			continue
		}
		noNulls(t, a)
	}
}
