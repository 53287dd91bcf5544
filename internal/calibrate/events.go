package calibrate

import (
	"errors"
	"slices"
	"strings"

	"seatward/plant"
)

// MostStops is how many stops are fitted at once: each adds its own runs.
const MostStops = 6

// ErrNoEvent is said where no event that is named is a stop.
var ErrNoEvent = errors.New("no event of the station that is named stops a pump in flow; name another")

// Events are the events of a station that a logged stop may be, those that are named or all: at
// which level it was is fitted. The error is plant.NoEventError, or ErrNoEvent.
func Events(p *plant.Plant, names []string) ([]plant.Event, error) {
	var out []plant.Event
	base := func(e plant.Event) string {
		return strings.TrimSuffix(strings.TrimSuffix(e.ID, "-high"), "-low")
	}
	add := func(all []plant.Event) {
		for _, e := range all {
			if e.Stops() && !slices.ContainsFunc(out, func(x plant.Event) bool { return base(x) == base(e) }) {
				out = append(out, e)
			}
		}
	}
	for _, n := range names {
		all, err := p.FindEvents(n)
		if err != nil {
			return nil, err
		}
		add(all)
	}
	if len(names) == 0 {
		add(p.Events())
	}
	if len(out) == 0 {
		return nil, ErrNoEvent
	}
	return out, nil
}

// Day is the last day on which one of the stops was logged; "" where no log has a clock.
func (f *Fit) Day() string {
	day := ""
	for i := range f.Points {
		day = max(day, f.Points[i].Stop.Date)
	}
	return day
}

// By says by what the numbers were measured: day and logs, as a station file notes it.
func (f *Fit) By(files ...string) string {
	day := f.Day()
	if day == "" {
		day = "day not in the log"
	}
	return day + ", " + strings.Join(files, ", ")
}
