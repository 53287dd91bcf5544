package truth

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"seatward/catalog"
	"seatward/plant"
	"seatward/station"
	"seatward/valve"
)

// stations is the folder of the station files that the rows name, seen from this package's
// own: the tests that write VALIDATION.md run there.
var stations = filepath.Join("..", "plant", "testdata", "stations")

// stopKey is what decides a run; rows that read several numbers of one share it.
type stopKey struct {
	station, valve, event string
	pull                  float64
	steadyFriction        bool
}

var stopsRun = map[stopKey]*plant.Stop{}

// run lets the event happen at the station with the valve, to its end, on both grids.
func (k stopKey) run() (*plant.Stop, error) {
	if s := stopsRun[k]; s != nil {
		return s, nil
	}
	name := filepath.Join(stations, k.station+".station.yaml")
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	st, faults := station.Load(name, data)
	if st == nil {
		return nil, faults.Err()
	}
	p, err := plant.New(st)
	if err != nil {
		return nil, err
	}
	events, err := p.FindEvents(k.event)
	if err != nil {
		return nil, err
	}
	m, err := k.mechanism(st)
	if err != nil {
		return nil, err
	}
	s, err := p.Run(context.Background(), m, events[0], plant.Options{SteadyFriction: k.steadyFriction})
	if err == nil && s.Fault != "" {
		err = errors.New(s.Fault)
	}
	if err == nil {
		stopsRun[k] = s
	}
	return s, err
}

// mechanism is the valve of the demonstration catalog with its share of the pull of
// accelerating water.
func (k stopKey) mechanism(st *station.Station) (*valve.Mechanism, error) {
	demo, faults := catalog.Demo()
	if err := faults.Err(); err != nil {
		return nil, err
	}
	item, err := catalog.Find(demo, k.valve)
	if err != nil {
		return nil, err
	}
	return item.VariedAll(st.Setting(), map[string]float64{"fluid_acceleration": k.pull})
}

var _ = evaluator("station stop", "plant.Plant.Run", func(in Inputs) (float64, error) {
	k := stopKey{station: in.S("station"), valve: in.S("valve"), event: in.S("event"), pull: in.F("pull")}
	switch friction := in.S("friction"); friction {
	case "unsteady":
	case "steady":
		k.steadyFriction = true
	default:
		return 0, fmt.Errorf("no friction is called %q", friction)
	}
	s, err := k.run()
	if err != nil {
		return 0, err
	}
	switch read := in.S("read"); read {
	case "first":
		return s.Closing.First.ReverseMS, nil
	case "worst":
		return s.SlamMS(), nil
	case "worst-time":
		return s.Closing.Worst.TimeS, nil
	case "most-head":
		return s.MostM(), nil
	case "blows":
		return float64(s.Closing.Later), nil
	case "resolved":
		return yes(s.Resolved()), nil
	case "rests":
		return yes(s.Rest != plant.NeverRests && s.FineRest != plant.NeverRests), nil
	default:
		return 0, fmt.Errorf("nothing of a stop is called %q", read)
	}
})

// yes is 1 for what is so and 0 for what is not.
func yes(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
