package study

import (
	"bytes"
	"context"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

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

// Where one pump stops beside a running one, valves differ as the trade knows: a plain
// swing slams worst, a ball on a long way less, a disc with a spring and a short stroke
// least (common practice, no source).
func TestValvesDifferAsTheTradeKnows(t *testing.T) {
	back := func(id string) float64 { return tripped(t, id, "one-trips-high", nil).Told().SlamMS() }
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
		if r.Answer == nil || r.Answer.Worst == nil {
			t.Errorf("%s was not run: %s", r.Name, r.Fault)
			continue
		}
		back[r.Name] = r.Answer.Worst.SlamMS()
	}
	if !(back["flywheel"] < 0.6*back["as it is"] && back["air vessel"] > 1.5*back["as it is"]) {
		t.Errorf("reverse velocities %v", back)
	}
}

func TestTripJSONFitsItsSchema(t *testing.T) {
	s := tripped(t, "flap/6in", "one-trips", func(o *TripOptions) { o.Remedies, o.Samples = true, 16 })
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
