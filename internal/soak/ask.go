// Package soak asks the program about many generated stations: whether each is answered,
// how long it takes, and whether stations that must have one answer have it. make soak and
// make survey print what it finds. It serves tests only.
package soak

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"seatward/internal/generate"
)

// Kinds of fault, the worst first.
const (
	panicked   = "panic"
	hung       = "hang"
	notANumber = "NaN"
	noChoice   = "select"
	noTrip     = "trip"
	noEvent    = "event"
	refused    = "refused"
	unequal    = "pair"
)

// Fault is one thing that went wrong.
type Fault struct {
	Kind string
	Text string
}

// Result is what came of one station.
type Result struct {
	Name     string  // the seed, or the name of a kept station
	Seconds  float64 // that the processors worked for it
	Events   int     // asked, of all valves
	Answered int     // events answered
	WhyNot   int     // events, or the whole station, of which the reason was said
	Faults   []Fault
	Held     map[string]int // pairs by the name of their change that had one answer
	Broken   map[string]int // and that had not
}

// whole is true when every event was answered or its reason said.
func (r Result) whole() bool {
	for _, f := range r.Faults {
		if f.Kind != refused && f.Kind != unequal {
			return false
		}
	}
	return true
}

// soakSamples is how many draws of what is uncertain a soak makes for each valve: they repeat
// one event, and the soak asks whether every event is answered.
const soakSamples = 4

// ask puts one station through: read, choose, all events. The name is a seed or that of a
// kept station. Every event is asked with every valve that is judged; of generated stations
// those of a few families, other ones for each seed.
func (p program) ask(ctx context.Context, name string, families int, pairs bool) (Result, error) {
	out := Result{Name: name, Held: map[string]int{}, Broken: map[string]int{}}
	var s generate.Station
	seed, err := strconv.ParseUint(name, 10, 64)
	generated := err == nil
	text := ""
	if generated {
		s = generate.Seeded(seed)
		text = s.Text()
	} else if text, err = keptText(name); err != nil {
		return out, err
	}
	begun := busy()
	p.samples = soakSamples
	if st, err := p.read(text); err == nil && generated {
		p = p.few(st, families, seed)
	}
	answer, faults := p.whole(ctx, question{text: text}, &out)
	out.Seconds = (busy() - begun).Seconds()
	out.Faults = faults
	if pairs && generated && answer != nil {
		p.pairs(ctx, s, answer, &out)
	}
	return out, nil
}

// question is what is asked of a file.
type question struct {
	text string
	trip string // the valve that trip is asked about; the first of select where none is named
	only string // the valve that select is asked about; all where none is named
}

// whole asks select and trip of one file. The answer is nil where select gave none.
func (p program) whole(ctx context.Context, q question, out *Result) (*Answer, []Fault) {
	st, err := p.read(q.text)
	if err != nil {
		return nil, []Fault{{refused, oneLine(err)}}
	}
	answer := &Answer{Valve: q.trip}
	answer.Valves, err = p.choose(ctx, st, q.only)
	switch {
	case err != nil && saysWhyNot(err):
		out.WhyNot++
		return nil, nil
	case err != nil:
		return nil, []Fault{fault(noChoice, err)}
	case len(answer.Valves) == 0:
		return nil, []Fault{{noChoice, "no valve was judged"}}
	case q.trip == "":
		answer.Valve = answer.Valves[0].ID
	}
	var faults []Fault
	for i := range answer.Valves {
		faults = append(faults, out.count(&answer.Valves[i])...)
	}
	if answer.Events, err = p.trip(ctx, st, answer.Valve, ""); err != nil && !saysWhyNot(err) {
		faults = append(faults, fault(noTrip, err))
	}
	return answer, faults
}

// count adds the events of one valve: each is answered, or cannot happen at the station, or
// has an error.
func (r *Result) count(v *ValveAnswer) []Fault {
	var out []Fault
	for _, e := range v.Stops {
		r.Events++
		switch {
		case e.WhyNot == "":
			r.Answered++
		case e.Idle:
			r.WhyNot++
		default:
			out = append(out, Fault{noEvent, fmt.Sprintf("%s, %s: %s", v.ID, e.Kind, e.WhyNot)})
		}
	}
	return out
}

func fault(kind string, err error) Fault {
	if errors.Is(err, errNaN) {
		kind = notANumber
	}
	return Fault{kind, oneLine(err)}
}

func oneLine(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }

// What differs between stations in the text of one fault.
var (
	numbers = regexp.MustCompile(`[-+]?\d+(\.\d+)?(e[-+]?\d+)?`)
	names   = regexp.MustCompile(`(?i)generated( #)?: |(\w+-)*\w+/#in: |at [^:]*:#:#: `)
)

// Group is the text without what differs between stations, so that like faults are counted
// together.
func (f Fault) Group() string {
	text := numbers.ReplaceAllString(f.Text, "#")
	return fmt.Sprintf("%s: %s", f.Kind, names.ReplaceAllString(text, ""))
}
