package study

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"seatward/catalog"
	"seatward/station"
)

// tripped runs one event of the layout example through.
func tripped(t testing.TB, id, event string, more func(*TripOptions)) *TripStudy {
	t.Helper()
	st, list := station.Load("test.yaml", example(t, "layout"))
	if st == nil {
		t.Fatal(list)
	}
	base := options(t)
	opt := TripOptions{Catalogs: base.Catalogs, Rules: base.Rules, Valve: id, Event: event}
	if more != nil {
		more(&opt)
	}
	s, err := RunTrip(context.Background(), st, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// layoutPlant is the layout example, ready for runs.
func layoutPlant(t testing.TB) (*station.Station, *plant) {
	t.Helper()
	st, list := station.Load("test.yaml", example(t, "layout"))
	if st == nil {
		t.Fatal(list)
	}
	p, err := newPlant(st)
	if err == nil {
		err = p.forRuns()
	}
	if err != nil {
		t.Fatal(err)
	}
	return st, p
}

// Where one pump stops beside a running one, valves differ as the trade knows: a plain
// swing slams worst, a ball on a long way less, a disc with a spring and a short way
// least (common practice, no source).
func TestValvesDifferAsTheTradeKnows(t *testing.T) {
	back := func(id string) float64 { return tripped(t, id, "one-trips-high", nil).Told().Closing.ReverseMS }
	swing, ball, spring := back("swing/6in"), back("ball-cage/6in/sinking"), back("axial-spring/6in")
	if !(swing > 1.3*ball && ball > 1.3*spring && spring > 0) {
		t.Errorf("run back: swing %.3f, ball %.3f, spring disc %.3f m/s", swing, ball, spring)
	}
}

// A flywheel eases the stop; an air vessel beside the pumps makes it worse (common
// practice, no source; the header then holds its head, as in Thorley 2004).
func TestCures(t *testing.T) {
	s := tripped(t, "swing/6in", "one-trips-high", func(o *TripOptions) { o.Remedies = true })
	back := map[string]float64{}
	for _, r := range s.Remedies {
		if r.Trip == nil {
			t.Errorf("%s was not run: %s", r.Name, r.Fault)
			continue
		}
		back[r.Name] = r.Trip.Closing.ReverseMS
	}
	if !(back["flywheel"] < 0.6*back["as it is"] && back["air vessel"] > 1.5*back["as it is"]) {
		t.Errorf("run back at %v", back)
	}
}

// The answer does not hang on the grid: a branch cut finer gives the same closing.
func TestGridDoesNotMatter(t *testing.T) {
	_, p := layoutPlant(t)
	opt := TripOptions{Catalogs: options(t).Catalogs, Valve: "swing/6in"}
	it, m, _, err := p.theValve(opt)
	if err != nil {
		t.Fatal(err)
	}
	events, err := p.findEvents("one-trips-high")
	if err != nil {
		t.Fatal(err)
	}
	var last float64
	for _, fine := range []int{1, 2, 4, 8} {
		r, err := p.run(context.Background(), m, it.ID, events[0], runOptions{duration: 3, fine: fine})
		if err != nil {
			t.Fatal(err)
		}
		now := r.Closing.ReverseMS
		t.Logf("%d times as fine: step %.2g s, %.5f m/s, rise %.2f m", fine, r.StepS, now, r.Closing.RiseM)
		if last > 0 && math.Abs(now-last) > 0.02*last {
			t.Errorf("%d times as fine: %.5f m/s after %.5f", fine, now, last)
		}
		last = now
	}
}

// Before anything happens nothing moves: a run in which the pump runs on.
func TestNothingHappens(t *testing.T) {
	_, p := layoutPlant(t)
	_, m, _, err := p.theValve(TripOptions{Catalogs: options(t).Catalogs, Valve: "flap/6in"})
	if err != nil {
		t.Fatal(err)
	}
	ev := p.events()[0]
	ev.Kind, ev.stopping = OneTrips, []int{-1} // none of the units
	ev.running = []int{0}
	l, err := p.network(m, ev, Change{}, false, 1)
	if err == nil {
		l.watched = 0
		_, r, err := l.follow(context.Background(), ev, runOptions{duration: 20, record: true}, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range r.Envelopes {
			for i := range e.MostM {
				if e.MostM[i]-e.LeastM[i] > 1e-3 {
					t.Fatalf("%s moves by %g m at %g m though nothing happens", e.Pipe, e.MostM[i]-e.LeastM[i], e.ChainageM[i])
				}
			}
		}
		return
	}
	t.Fatal(err)
}

func TestTripJSONFitsItsSchema(t *testing.T) {
	s := tripped(t, "flap/6in", "one-trips", func(o *TripOptions) { o.Remedies, o.Samples, o.Seed = true, 16, 1 })
	text, err := json.Marshal(s.JSON())
	if err != nil {
		t.Fatal(err)
	}
	schema, err := TripJSONSchema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("trip.json", doc); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("trip.json")
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(value); err != nil {
		t.Error(err)
	}
}

func TestSamplesRepeat(t *testing.T) {
	run := func(seed uint64) *Sample {
		return tripped(t, "flap/6in", "one-trips-high", func(o *TripOptions) { o.Samples, o.Seed = 64, seed }).Sample
	}
	a, b, c := run(7), run(7), run(8)
	if a.Percentiles[2] != b.Percentiles[2] || a.Shares[0] != b.Shares[0] {
		t.Errorf("the same seed gives %+v and %+v", a.Percentiles, b.Percentiles)
	}
	if a.Percentiles[2] == c.Percentiles[2] {
		t.Error("another seed gives the same sample")
	}
	for i := 1; i < len(a.Percentiles); i++ {
		if a.Percentiles[i].ReverseMS < a.Percentiles[i-1].ReverseMS {
			t.Errorf("percentiles fall: %+v", a.Percentiles)
		}
	}
}

func TestEventNames(t *testing.T) {
	st, _ := station.Load("test.yaml", example(t, "study"))
	p, err := newPlant(st)
	if err != nil {
		t.Fatal(err)
	}
	both, err := p.findEvents("one-trips")
	if err != nil || len(both) != 2 {
		t.Errorf("one-trips means %d events: %v", len(both), err)
	}
	var unknown *NoEventError
	if _, err := p.findEvents("one-trip-high"); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "one-trips-high") {
		t.Errorf("a slip of the pen is told as %v", err)
	}
}

// A measured closing curve takes the place of the computed reverse velocity, and the run
// says so.
func TestMeasuredCurveIsUsedByTheRun(t *testing.T) {
	all, _ := catalog.Demo()
	it, err := catalog.Find(all, "flap/6in")
	if err != nil {
		t.Fatal(err)
	}
	before := it.Measured
	own := *it
	own.Measured = append(before, catalog.Measured{Kind: "reverse velocity against deceleration", Source: "made up", Licence: "CC0-1.0", X: []float64{0.01, 2000}, Y: []float64{0.123, 0.123}})
	_, p := layoutPlant(t)
	_, m, setting, err := p.theValve(TripOptions{Catalogs: all, Valve: "flap/6in"})
	if err != nil {
		t.Fatal(err)
	}
	r, err := p.coupled(context.Background(), &own, m, setting, []variant{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Reverse.SI-0.123) > 1e-12 || !strings.Contains(r.Method, "measured") {
		t.Errorf("the run says %g m/s: %s", r.Reverse.SI, r.Method)
	}
}
