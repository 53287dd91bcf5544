package plant

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/quantity"
	"seatward/station"
	"seatward/steady"
)

// Kinds of event.
const (
	PowerFailure = "power failure"
	OneTrips     = "one pump trips"
	NormalStop   = "normal stop"
	Start        = "start"
	Schedule     = "schedule"
)

// Event is a stop or start of pumps at one pair of levels.
type Event struct {
	ID    string // as --event takes it: "one-trips-high"
	both  string // the ID that means it at both levels: "one-trips"
	Kind  string
	Title string // "one of two pumps trips, the other keeps running, wet well high"
	RampS basis.Value

	running  []int // units that run before
	stopping []int // those that stop, or start
	level    steady.Level
	steps    []station.EventStep // of a schedule
}

// Events lists what can happen at the station, at both levels: those that every station
// has, then the user's own.
func (p *Plant) Events() []Event {
	var out []Event
	all := make([]int, len(p.units))
	for i := range all {
		all[i] = i
	}
	for _, level := range p.levels {
		add := func(e Event) {
			e.level = level
			well := WellLevel(level.Mark)
			e.both, e.ID = e.ID, idAt(e.ID, well)
			e.Title += ", " + p.st.Source() + " " + well.key()
			out = append(out, e)
		}
		add(Event{
			ID: "power-failure", Kind: PowerFailure, Title: "power failure" + lost(len(all)), running: all,
			stopping: all,
		})
		if p.st.Surge.CommonHeader && len(all) > 1 {
			for _, i := range p.kinds() {
				add(p.single(all, i))
			}
		}
		for _, i := range p.kinds() {
			add(p.normalStop(p.named(Event{ID: "stop", Title: "one pump running, normal stop"}, i), i,
				p.st.Surge.RampTime))
		}
		for _, i := range p.kinds() {
			add(p.named(Event{
				ID: "start", Kind: Start, Title: "one pump starts", stopping: []int{i},
				RampS: runUp(basis.Value{}),
			}, i))
		}
		for _, own := range p.st.Events {
			if e, ok := p.own(own, all); ok {
				add(e)
			}
		}
	}
	return out
}

// idAt is the ID of an event at a level.
func idAt(event string, level WellLevel) string { return event + "-" + level.key() }

// lost says which pumps a power failure stops.
func lost(pumps int) string {
	switch pumps {
	case 1:
		return ""
	case 2:
		return ", both pumps"
	}
	return fmt.Sprintf(", all %d pumps", pumps)
}

// kinds are the first units of each kind of pump.
func (p *Plant) kinds() []int {
	var out []int
	seen := map[int]bool{}
	for i, u := range p.units {
		if !seen[u.kind] {
			seen[u.kind] = true
			out = append(out, i)
		}
	}
	return out
}

// named tells which pump an event is about, where there are several kinds.
func (p *Plant) named(e Event, unit int) Event {
	if len(p.kinds()) > 1 {
		name := p.st.Pumps[p.units[unit].group].Name
		e.ID += "-" + slug(name)
		e.Title += ", " + name
	}
	return e
}

// single is the trip of one pump while the others keep running.
func (p *Plant) single(all []int, unit int) Event {
	return p.named(Event{
		ID: "one-trips", Kind: OneTrips, Title: oneTrips(len(all)), running: all,
		stopping: []int{unit},
	}, unit)
}

// oneTrips says that one of the pumps trips while the others keep running.
func oneTrips(pumps int) string {
	if pumps == 2 {
		return "one of two pumps trips, the other keeps running"
	}
	return fmt.Sprintf("one of %s pumps trips, the others keep running", inWords(pumps))
}

// inWords is a small number as people write it.
func inWords(n int) string {
	if words := []string{2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}; n < len(words) && n > 1 {
		return words[n]
	}
	return fmt.Sprint(n)
}

// normalStop is a stop as usual: by a ramp, or by a switch.
func (p *Plant) normalStop(e Event, unit int, ramp basis.Value) Event {
	e.Kind, e.running, e.stopping = NormalStop, []int{unit}, []int{unit}
	if p.st.Surge.Stop != "direct" {
		e.RampS = ramp
	}
	return e
}

// runUp is the time in which a motor takes its pump to full speed.
func runUp(given basis.Value) basis.Value {
	if given.Known() {
		return given
	}
	return basis.NewAssumed("time of the motor to full speed", quantity.Time, 1, 0.3, 3,
		"a squirrel-cage motor switched on directly", basis.CommonPractice)
}

// own is an event of the station file.
func (p *Plant) own(in station.Event, all []int) (Event, bool) {
	e := Event{ID: slug(in.Name), Title: in.Name, Kind: in.Kind, running: all, stopping: all}
	switch {
	case in.Name == "":
		return e, false // one of those that every station has
	case in.Kind == OneTrips:
		e.stopping = all[:1]
	case in.Kind == NormalStop:
		e = p.normalStop(e, all[0], in.RampTime)
		e.RampS = in.RampTime
	case in.Kind == Schedule:
		e.steps = in.Steps
		e.running, e.stopping = nil, nil
		first := map[int]string{}
		for _, s := range in.Steps {
			if unit := p.st.Unit(s.Pump); first[unit] == "" {
				first[unit] = s.Does
				e.stopping = append(e.stopping, unit)
			}
		}
		for _, i := range all {
			if first[i] != "starts" {
				e.running = append(e.running, i)
			}
		}
	case in.Kind == Start:
		e.running, e.stopping, e.RampS = nil, all[:1], runUp(in.RampTime)
	}
	return e, true
}

// lastS is when the event has done all that it does to the pumps, s.
func (e Event) lastS() float64 {
	if e.Kind != Schedule {
		return e.RampS.SI
	}
	last := 0.0
	for _, s := range e.steps {
		last = math.Max(last, s.At.SI+s.RampTime.SI)
	}
	return last
}

// slug makes an ID of a name.
func slug(name string) string {
	return strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a'
		}
		return '-'
	}, name), "-")
}

// Stops says whether the event may slam a valve.
func (e Event) Stops() bool { return e.Kind != Start && len(e.running) > 0 }

// does is true for an event that does the same to the same pumps at the same level.
func (e *Event) does(o *Event) bool {
	ramps := func(x *Event) float64 { return x.RampS.SI }
	return e.ID == o.ID || (e.Kind != Start) == (o.Kind != Start) && e.Kind != Schedule && o.Kind != Schedule &&
		e.level.WetWellM == o.level.WetWellM && e.level.OutletM == o.level.OutletM && ramps(e) == ramps(o) &&
		slices.Equal(e.running, o.running) && slices.Equal(e.stopping, o.stopping)
}

// Same are the events of this plant with the IDs of those of another: a station that differs by a
// remedy has them with other times.
func (p *Plant) Same(as []Event) []Event {
	var out []Event
	for _, e := range p.Events() {
		if slices.ContainsFunc(as, func(x Event) bool { return x.ID == e.ID }) {
			out = append(out, e)
		}
	}
	return out
}

// EventIDs lists the events of a station as --event takes them.
func EventIDs(st *station.Station) ([]Event, error) {
	p, err := New(st)
	if err != nil {
		return nil, err
	}
	return p.Events(), nil
}

// FindEvents picks the events that a name means: one, or both levels of one.
func (p *Plant) FindEvents(name string) ([]Event, error) {
	all := p.Events()
	var out []Event
	var ids []string
	for _, e := range all {
		ids = append(ids, e.ID)
		if e.ID == name || e.both == name {
			out = append(out, e)
		}
	}
	if len(out) > 0 {
		return out, nil
	}
	hint := "the station has: " + strings.Join(ids, ", ")
	if near := diag.DidYouMean(name, ids); near != "" {
		hint = fmt.Sprintf("did you mean %q? %s", near, hint)
	}
	return nil, &NoEventError{fmt.Sprintf("no event is called %q; %s", name, hint)}
}

// NoEventError says that an event is not known, and which are.
type NoEventError struct{ text string }

// Error says which events there are.
func (e *NoEventError) Error() string { return e.text }
