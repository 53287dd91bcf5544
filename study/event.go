package study

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/diag"
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
	Kind  string
	Title string // "1 of 2 pumps trips, the rest run; wet well high"
	RampS basis.Value

	running  []int // units that run before
	stopping []int // those that stop, or start
	level    steady.Level
	steps    []station.EventStep // of a schedule
}

// events lists what can happen at the station, at both levels: those that every station
// has, then the user's own.
func (p *plant) events() []Event {
	var out []Event
	all := make([]int, len(p.units))
	for i := range all {
		all[i] = i
	}
	for _, level := range p.levels {
		add := func(e Event) {
			e.level = level
			e.ID += "-" + strings.Fields(level.Name)[0]
			e.Title += "; wet well " + strings.Fields(level.Name)[0]
			out = append(out, e)
		}
		loses := "the pump loses power"
		if len(all) > 1 {
			loses = fmt.Sprintf("all %d pumps lose power", len(all))
		}
		add(Event{ID: "power-failure", Kind: PowerFailure, Title: loses, running: all, stopping: all})
		if p.st.Surge.CommonHeader {
			for _, e := range p.singles(all) {
				add(e)
			}
		}
		add(p.normalStop(Event{ID: "stop", Title: "one pump, alone, is stopped as usual"}, p.st.Surge.RampTime))
		add(Event{ID: "start", Kind: Start, Title: "one pump starts against the closed valve", stopping: []int{0}, RampS: runUp(basis.Value{})})
		for _, own := range p.st.Events {
			if e, ok := p.own(own, all); ok {
				add(e)
			}
		}
	}
	return out
}

// singles are the trips of one pump while the rest run, one for each kind of pump.
func (p *plant) singles(all []int) []Event {
	if len(all) < 2 {
		return nil
	}
	var out []Event
	seen := map[int]bool{}
	for _, i := range all {
		g := p.units[i].group
		if seen[g] {
			continue
		}
		seen[g] = true
		e := Event{ID: "one-trips", Kind: OneTrips, Title: fmt.Sprintf("1 of %d pumps trips, the rest run", len(all)), running: all, stopping: []int{i}}
		if len(p.st.Pumps) > 1 {
			e.ID += "-" + slug(p.st.Pumps[g].Name)
			e.Title = fmt.Sprintf("%s of %d pumps trips, the rest run", p.st.Pumps[g].Name, len(all))
		}
		out = append(out, e)
	}
	return out
}

// normalStop is a stop as usual: by a ramp, or by a switch.
func (p *plant) normalStop(e Event, ramp basis.Value) Event {
	e.Kind, e.running, e.stopping = NormalStop, []int{0}, []int{0}
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
	return basis.NewAssumed("time of the motor to full speed", kindTime, 1, 0.3, 3, "a squirrel-cage motor switched on directly", basis.CommonPractice)
}

// own is an event of the station file.
func (p *plant) own(in station.Event, all []int) (Event, bool) {
	e := Event{ID: slug(in.Name), Title: in.Name, Kind: in.Kind, running: all, stopping: all}
	switch {
	case in.Name == "":
		return e, false // one of those that every station has
	case in.Kind == OneTrips:
		e.stopping = all[:1]
	case in.Kind == NormalStop:
		e = p.normalStop(e, in.RampTime)
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

// EventIDs lists the events of a station as --event takes them.
func EventIDs(st *station.Station) ([]Event, error) {
	p, err := newPlant(st)
	if err != nil {
		return nil, err
	}
	return p.events(), nil
}

// findEvents picks the events that a name means: one, or both levels of one.
func (p *plant) findEvents(name string) ([]Event, error) {
	all := p.events()
	var out []Event
	var ids []string
	for _, e := range all {
		ids = append(ids, e.ID)
		if e.ID == name || e.ID == name+"-high" || e.ID == name+"-low" {
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
