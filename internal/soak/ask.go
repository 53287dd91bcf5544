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
	"time"

	"seatward/internal/generate"
)

// Kinds of fault, the worst first.
const (
	panicked   = "panic"
	hung       = "hang"
	notANumber = "NaN"
	noChoice   = "select"
	noTrip     = "trip"
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
	Name     string // the seed, or the name of a kept station
	Seconds  float64
	Events   int // asked
	Answered int // events answered
	WhyNot   int // events, or the whole station, of which the reason was said
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

// ask puts one station through: read, choose, all events. The name is a seed or that of a
// kept station.
func (p program) ask(ctx context.Context, name string, pairs bool) (Result, error) {
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
	begun := time.Now()
	answer, faults := p.whole(ctx, question{text: text}, &out)
	out.Seconds = time.Since(begun).Seconds()
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
	ids, err := p.events(st)
	if err != nil {
		return answer, []Fault{fault(noTrip, err)}
	}
	out.Events += len(ids)
	if answer.Events, err = p.trip(ctx, st, answer.Valve, ""); err == nil {
		out.Answered += len(answer.Events)
		return answer, nil
	}
	faults := []Fault{fault(noTrip, err)}
	if saysWhyNot(err) {
		out.WhyNot += len(ids)
		return answer, nil
	}
	for _, id := range ids { // one event that breaks off must not hide the others
		rows, err := p.trip(ctx, st, answer.Valve, id)
		switch {
		case err == nil:
			out.Answered += len(rows)
		case saysWhyNot(err):
			out.WhyNot++
		}
	}
	return answer, faults
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
