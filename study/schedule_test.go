package study

import (
	"context"
	"strings"
	"testing"

	"seatward/plant"
	"seatward/station"
)

// A schedule of the station file is run step by step: a pump that trips and is started
// again opens its valve a second time.
func TestSchedule(t *testing.T) {
	text := string(example(t, "layout")) + `
events:
  - name: test stop
    kind: schedule
    steps:
      - {at: 0.5 s, pump: 1, does: trips}
      - {at: 6 s, pump: 1, does: starts, ramp_time: 2 s}
      - {at: 12 s, pump: 2, does: stops, ramp_time: 4 s}
`
	st, list := station.Load("test.yaml", []byte(text))
	if st == nil {
		t.Fatal(list)
	}
	base := options(t)
	s, err := RunTrip(context.Background(), st,
		TripOptions{Catalogs: base.Catalogs, Rules: base.Rules, Valve: "flap/6in", Event: "test-stop-high"})
	if err != nil {
		t.Fatal(err)
	}
	trip := s.Told()
	if c := trip.Closing; !(c.Closed && c.First.TimeS > 0.6 && c.First.TimeS < 2) {
		t.Errorf("the valve seats at %.2f s", c.First.TimeS)
	}
	at := func(name string, from, to float64) (least, most float64) {
		least, most = 1e9, -1e9
		for i, n := range trip.Names {
			if n != name {
				continue
			}
			for _, r := range trip.Rows {
				if r.TimeS >= from && r.TimeS <= to {
					least, most = min(least, r.Least[i]), max(most, r.Most[i])
				}
			}
		}
		return least, most
	}
	if low, high := at(plant.ReadSpeed, 0, 0.4); low < 0.999 || high > 1.001 {
		t.Errorf("before the trip the speed runs from %.3f to %.3f", low, high)
	}
	if low, _ := at(plant.ReadSpeed, 0.5, 6); low > 0.5 {
		t.Errorf("after the trip the speed stays at %.3f", low)
	}
	if low, _ := at(plant.ReadSpeed, 9, 20); low < 0.999 {
		t.Errorf("after the start the speed falls to %.3f", low)
	}
	if _, high := at(plant.ReadOpening, 8, 20); high < 0.5 {
		t.Errorf("after the start the valve opens to %.2f only", high)
	}
	if _, high := at(plant.ReadOther, 17, 20); high > 1e-3 {
		t.Errorf("after its stop the other pump still brings %.4f m³/s", high)
	}
}

func TestScheduleFaults(t *testing.T) {
	for _, c := range []struct{ steps, id string }{
		{"    name: a\n", "schedule-empty"},
		{"    name: a\n    steps:\n      - {at: 1 s, pump: 3, does: trips}\n", "pump-unknown"},
		{
			"    name: a\n    steps:\n      - {at: 2 s, pump: 1, does: trips}\n      - {at: 1 s, pump: 1, does: starts}\n",
			"steps-out-of-order",
		},
		{"    steps:\n      - {at: 2 s, pump: 1, does: trips}\n", "schedule-unnamed"},
		{"    name: a\n    steps:\n      - {at: 2 s, pump: 1, does: explodes}\n", "word-unknown"},
	} {
		_, list := station.Load("test.yaml",
			[]byte(string(example(t, "layout"))+"\nevents:\n  - kind: schedule\n"+c.steps))
		if list.Err() == nil || !strings.Contains(list.Err().Error(), c.id) {
			t.Errorf("%q: got %v, want %s", c.steps, list.Err(), c.id)
		}
	}
}
