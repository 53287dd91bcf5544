package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/examples"
	"seatward/internal/chart"
	"seatward/internal/desk"
	"seatward/internal/document"
	"seatward/internal/generate"
	"seatward/judge"
	"seatward/plant"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// What a test run asks: with a few draws, and without the rows and the comparison, which make
// their own. SEATWARD_LONG=1 asks all stations that are kept, longGenerated, and all places,
// with as many draws as the answer makes.
const (
	fewGenerated  = 1
	longGenerated = 30
	fewSamples    = 4
)

var fewKept = []string{"split-1062-one.yaml"}

// TestOneAnswer asks the examples, stations that once broke the answer, and generated ones
// everywhere that a slam number can be read: the study, its machine form, explain, the trip,
// one stop alone, the closing curve, the rows, the comparison and the film of the workbench,
// the terminal and the papers. Each valve has one reverse velocity, one class, one greatest
// head.
func TestOneAnswer(t *testing.T) {
	long := os.Getenv("SEATWARD_LONG") != ""
	texts := map[string]string{}
	for _, x := range examples.Stations() {
		if long || x.ID == "layout" {
			texts[x.ID] = string(x.Data)
		}
	}
	files, err := filepath.Glob("../../internal/soak/testdata/broke/*.yaml")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		if name := filepath.Base(file); long || slices.Contains(fewKept, name) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			texts[name] = string(data)
		}
	}
	wanted := fewGenerated
	if long {
		wanted = longGenerated
	}
	for seed, made := uint64(300), 0; made < wanted; seed++ {
		if s := generate.Seeded(seed); short(s) {
			texts[fmt.Sprintf("seed %d", seed)] = s.Text()
			made++
		}
	}
	turn := 0
	for name, text := range texts {
		turn++
		t.Run(name, func(t *testing.T) {
			e := &everywhere{t: t, text: text, rows: long}
			if !long {
				e.samples = fewSamples
			}
			e.ask(turn)
		})
	}
}

// short is true for a station of which runs do not take long.
func short(s generate.Station) bool {
	sum := 0.0
	for _, r := range s.Main {
		sum += r.LengthM.SI
	}
	return sum < 800 && s.Running() < 4
}

// everywhere is what one valve at one station is asked with, and its answer: the assessment
// of the study, to which all others are held.
type everywhere struct {
	t        *testing.T
	text     string
	catalogs []*catalog.Catalog
	book     *rules.Book
	st       *station.Station
	id       string
	study    *study.Study
	want     *judge.Assessment
	samples  int  // draws; 0 for as many as are needed
	rows     bool // rows and comparison are asked too
	claims   int  // numbers read in words
}

// ask asks for one valve of the size of the pipe; each turn takes another family. Study and
// trip are made once for all places.
func (e *everywhere) ask(turn int) {
	t := e.t
	t.Helper()
	e.catalogs, e.book = demo(t)
	st, faults := station.Load("one.yaml", []byte(e.text))
	if st == nil {
		t.Logf("refused: %v", faults)
		return
	}
	e.st = st
	var made []string
	for _, c := range e.catalogs {
		for _, f := range c.Families {
			if i := slices.IndexFunc(f.Items, func(it *catalog.Item) bool { return it.Size == st.Valve.Size }); i >= 0 {
				made = append(made, f.Items[i].ID)
			}
		}
	}
	e.id = made[turn%len(made)]
	ctx := context.Background()
	var err error
	e.study, err = study.Run(ctx, st,
		study.Options{Catalogs: e.catalogs, Rules: e.book, Valve: e.id, Samples: e.samples})
	if errors.Is(err, study.ErrNoFlow) {
		t.Logf("%v", err)
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	e.want = &e.study.Assessments[0]
	e.machine()
	trip, err := study.RunTrip(ctx, st,
		study.TripOptions{Catalogs: e.catalogs, Rules: e.book, Valve: e.id, Samples: e.samples})
	if errors.Is(err, study.ErrValve) {
		t.Logf("%v", err)
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.NewDossier(ctx, document.Request{Study: e.study, Rules: e.book, Compared: []string{e.id}}, e.id,
		false)
	if err != nil {
		t.Fatal(err)
	}
	d.Trip = trip
	e.trip(ctx, trip)
	e.desk(ctx)
	e.papers(d)
	e.terminal(d)
	if e.want.Slam.EventID != "" && e.claims < leastClaims {
		t.Errorf("only %d numbers were read in words", e.claims)
	}
}

// leastClaims is how often papers and terminal name the reverse velocity at least.
const leastClaims = 5

func demo(t *testing.T) ([]*catalog.Catalog, *rules.Book) {
	t.Helper()
	catalogs, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return catalogs, book
}

// equal holds what one place says to what the record says.
func (e *everywhere) equal(where string, got, want any) {
	e.t.Helper()
	if a, b := fmt.Sprint(got), fmt.Sprint(want); a != b {
		e.t.Errorf("%s: %s says %s, the record %s", e.id, where, a, b)
	}
}

// machine holds the machine form, explain and the closing curve.
func (e *everywhere) machine() {
	e.equal("select --json", jsonText(e.study.JSON().Candidates[0].Slam), slamText(&e.want.Slam))
	s := &e.want.Slam
	for path, v := range map[string]float64{
		" reverse_velocity": s.ReverseVelocity.SI, " head_rise": s.HeadRise.SI,
		" sudden_stop": s.Stopped.SI,
	} {
		if x, ok := e.study.Value(e.id + path); ok {
			e.equal("explain"+path, x.SI, v)
		} else if s.EventID != "" {
			e.t.Errorf("explain knows no %s", path)
		}
	}
	if r := chart.RunOf(&chart.Valve{Item: e.want.Item, Study: e.study}); r != nil {
		v := s.ReverseVelocity
		e.equal("closing", fmt.Sprint(r.Event, r.ReverseVelocityMS),
			fmt.Sprint(s.Event, study.BandJSON{Low: v.Low, Best: v.SI, High: v.High}))
	}
}

// trip holds the stops with the valve, all and the worst alone.
func (e *everywhere) trip(ctx context.Context, all *study.TripStudy) {
	e.equal("trip", slamText(&all.Judged.Slam), slamText(&e.want.Slam))
	e.equal("the verdict of trip", all.Judged.Verdict, e.want.Verdict)
	e.equal("trip --json", tripText(all.JSON().Closing), slamText(&e.want.Slam))
	rows := all.JSON().Events
	for i, x := range e.want.Answer.Stops {
		e.equal("the row of "+x.Event.ID, stopText(&rows[i]), recordText(x))
	}
	if e.want.Slam.EventID == "" {
		return
	}
	alone, err := study.RunTrip(ctx, e.st,
		study.TripOptions{
			Catalogs: e.catalogs, Rules: e.book, Valve: e.id, Event: e.want.Slam.EventID,
			Samples: e.samples,
		})
	if err != nil {
		e.t.Fatal(err)
	}
	e.equal("that stop alone", slamText(&alone.Judged.Slam), slamText(&e.want.Slam))
}

// desk holds the workbench.
func (e *everywhere) desk(ctx context.Context) {
	d := desk.New(e.only(), e.book)
	if e.rows {
		e.table(ctx, d)
	}
	if e.want.Slam.EventID != "" {
		e.film(ctx, d)
	}
}

// table holds rows and comparison.
func (e *everywhere) table(ctx context.Context, d *desk.Desk) {
	reply, err := d.Answer(ctx, desk.AnswerRequest{Text: e.text, Valve: e.id})
	if err != nil {
		e.t.Fatal(err)
	}
	e.equal("the shown valve", jsonText(reply.Shown.Slam), slamText(&e.want.Slam))
	compared, err := d.Compare(ctx, desk.CompareRequest{Text: e.text, Valves: []string{e.id}})
	if err != nil {
		e.t.Fatal(err)
	}
	i := slices.IndexFunc(reply.Rows, func(r desk.Row) bool { return r.ID == e.id })
	for where, r := range map[string]desk.Row{"the row": reply.Rows[i], "the comparison": compared.Rows[0]} {
		e.equal("the verdict of "+where, r.Verdict, e.want.Verdict)
		if (r.Slam != nil) != (e.want.Slam.EventID != "") {
			e.t.Errorf("%s: a slam number in %s: %v", e.id, where, r.Slam != nil)
			continue
		}
		if r.Slam == nil {
			continue
		}
		s := &e.want.Slam
		e.equal(where, fmt.Sprint(r.Slam.Event, r.Slam.Class, r.Slam.Low, r.Slam.Best, r.Slam.High, r.Slam.Chances,
			r.Slam.Rise.M, r.Slam.Most.M),
			fmt.Sprint(s.EventID, s.Class, s.ReverseVelocity.Low, s.ReverseVelocity.SI, s.ReverseVelocity.High,
				s.Chances, s.HeadRise.SI, e.want.Answer.Worst.MostM()))
		e.words(where, "reverse velocity "+r.Slam.Text)
	}
}

// film holds the film of the worst stop.
func (e *everywhere) film(ctx context.Context, d *desk.Desk) {
	film, err := d.Trip(ctx, desk.TripRequest{
		Text: e.text, Valve: e.id, Event: e.want.Slam.EventID, Frames: 10,
		Quick: true,
	})
	if err != nil {
		e.t.Fatal(err)
	}
	hardest := 0.0
	for _, x := range film.Film.Slams {
		hardest = max(hardest, x.ReverseMS)
	}
	e.equal("the film", fmt.Sprint(film.Trip.Event, hardest),
		fmt.Sprint(e.want.Slam.EventID, e.want.Answer.Worst.Closing.Worst.ReverseMS))
}

// only are the catalogs with the one valve: the workbench judges all that are near its size.
func (e *everywhere) only() []*catalog.Catalog {
	var out []*catalog.Catalog
	for _, c := range e.catalogs {
		part := *c
		part.Families = nil
		for _, f := range c.Families {
			if slices.Contains(f.Items, e.want.Item) {
				one := *f
				one.Items = []*catalog.Item{e.want.Item}
				part.Families = append(part.Families, &one)
			}
		}
		if part.Families != nil {
			out = append(out, &part)
		}
	}
	return out
}

// slamText is all that a record says of slam, in one line.
func slamText(s *judge.Slam) string {
	if s.NotRun != "" || s.EventID == "" {
		return "not run: " + s.NotRun
	}
	v, r := s.ReverseVelocity, s.HeadRise
	return line(s.Class, s.EventID, v.Low, v.SI, v.High, s.MedianMS, r.Low, r.SI, r.High, s.Chances, s.Resolved,
		s.AtRest, s.Runs)
}

func line(all ...any) string { return strings.TrimSuffix(fmt.Sprintln(all...), "\n") }

// jsonText is slamText of the machine form.
func jsonText(s *study.SlamJSON) string {
	switch {
	case s == nil:
		return "not run: "
	case s.NotRun != "" || s.ReverseVelocityMS == nil:
		return "not run: " + s.NotRun
	}
	v, r := s.ReverseVelocityMS, s.HeadRiseM
	return line(s.Class, s.Event, v.Low, v.Best, v.High, *s.MedianMS, r.Low, r.Best, r.High, plant.Chances(*s.Chances),
		s.Resolved, s.AtRest, s.Runs)
}

func tripText(c *study.TripClosingJSON) string {
	if c == nil {
		return jsonText(nil)
	}
	return jsonText(&c.SlamJSON)
}

// stopText is what trip says of one stop, recordText what the record of the study does.
func stopText(x *study.TripEventJSON) string {
	if x.Fault != "" {
		return x.Fault
	}
	return line(x.ID, x.Closed, x.ReverseMS, x.HeadRiseM, x.MostHeadM, x.LeastPressureM, x.MostPressureM, x.Vapor,
		x.Resolved, x.AtRest)
}

func recordText(x *plant.Stop) string {
	if x.Fault != "" {
		return x.Fault
	}
	return line(x.Event.ID, x.Closing.Closed, x.SlamMS(), x.RiseM(), x.MostM(), x.LeastPressureM(), x.MostPressureM(),
		x.Separates(), x.Resolved(), x.Rest != plant.NeverRests)
}
