package soak

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"seatward/internal/generate"
	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
)

// answersInTest is how many generated stations are asked; the soak asks more.
const answersInTest = 3

// TestOneAnswer asks stations that once broke the answer, and generated ones, in every way
// for one valve: choosing, the stops, the stop that governs alone, and one more valve of a
// study whose stops are still to be run. All say the same numbers.
func TestOneAnswer(t *testing.T) {
	p, err := newProgram()
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, name := range []string{"riser.station", "two-unequal-ab", "split-1062-one", "k285"} {
		data, err := os.ReadFile(filepath.Join("testdata", "broke", name+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(data)
	}
	for seed, made := uint64(300), 0; made < answersInTest; seed++ {
		if s := generate.Seeded(seed); small(s) {
			texts[fmt.Sprintf("seed %d", seed)] = s.Text()
			made++
		}
	}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) { p.oneAnswer(t, text) })
	}
}

func (p program) oneAnswer(t *testing.T, text string) {
	t.Helper()
	ctx := context.Background()
	st, err := p.read(text)
	if err != nil {
		t.Fatal(err)
	}
	valve := fmt.Sprintf("flap/%gin", quantity.Size{DN: st.Valve.Size.DN}.NPS())
	opt := study.Options{Catalogs: p.catalogs, Rules: p.book, Valve: valve}
	s, err := study.Run(ctx, st, opt)
	if err != nil {
		t.Logf("no answer: %v", err)
		return
	}
	want := &s.Assessments[0]
	opt.Quick = true
	quick, err := study.Run(ctx, st, opt)
	if err != nil {
		t.Fatal(err)
	}
	if quick.Assessments[0].Slam.ReverseVelocity.Known() {
		t.Error("a valve whose stops are still to be run has a slam number")
	}
	through, err := quick.RunThrough(ctx, valve)
	if err != nil {
		t.Fatal(err)
	}
	sameSlam(t, "run through", &through.Assessments[0], want)
	trip, err := study.RunTrip(ctx, st, study.TripOptions{Catalogs: p.catalogs, Rules: p.book, Valve: valve})
	if err != nil {
		t.Fatal(err)
	}
	sameSlam(t, "trip", &trip.Judged, want)
	if c, j := trip.JSON().Closing, s.JSON().Candidates[0].Slam; (c == nil) != (j == nil || j.NotRun != "") || c != nil && fmt.Sprint(*c.ReverseVelocityMS, *c.Chances, c.Class, c.Event) != fmt.Sprint(*j.ReverseVelocityMS, *j.Chances, j.Class, j.Event) {
		t.Errorf("the machine forms differ: %+v and %+v", c, j)
	}
	if want.Slam.EventID == "" {
		return
	}
	alone, err := study.RunTrip(ctx, st, study.TripOptions{Catalogs: p.catalogs, Rules: p.book, Valve: valve, Event: want.Slam.EventID})
	if err != nil {
		t.Fatal(err)
	}
	sameSlam(t, "that stop alone", &alone.Judged, want)
	if v, ok := s.Value(valve + " reverse_velocity"); !ok || v.SI != want.Slam.ReverseVelocity.SI {
		t.Errorf("explain has %v", v.SI)
	}
}

// sameSlam compares what is said of slam, number by number.
func sameSlam(t *testing.T, how string, got, want *judge.Assessment) {
	t.Helper()
	say := func(s *judge.Slam) string {
		v, r := s.ReverseVelocity, s.HeadRise
		return fmt.Sprint(s.NotRun, s.Class, s.EventID, v.Low, v.SI, v.High, s.MedianMS, r.Low, r.SI, r.High, s.Chances, s.Later, s.Resolved, s.AtRest, s.Runs)
	}
	if a, b := say(&got.Slam), say(&want.Slam); a != b {
		t.Errorf("%s says %s, select %s", how, a, b)
	}
}
