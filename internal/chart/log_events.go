package chart

import (
	"cmp"
	"fmt"
	"slices"

	"seatward/internal/trace"
	"seatward/quantity"
)

// LogEvent is one thing that happened in a log.
type LogEvent struct {
	FromNS, ToNS int64
	Kind         string // start, stop, slam, separation or flutter
	Text         string
}

// Events are all that was found, in the order of time.
func (x *Log) Events(sys quantity.System) []LogEvent {
	var out []LogEvent
	add := func(from, to int64, kind, text string) { out = append(out, LogEvent{from, to, kind, text}) }
	operations := func(all []trace.Operation, in string) {
		for _, op := range all {
			kind := "stop"
			if op.Start {
				kind = "start"
			}
			add(op.AtNS, op.AtNS, kind, OperationWords(op)+in)
		}
	}
	operations(x.Switches, "")
	for i := range x.Traces {
		t := &x.Traces[i]
		in := ", " + t.Channel
		if len(x.Switches) == 0 {
			operations(t.Operations, in)
		}
		for k := range t.Slams {
			s := &t.Slams[k]
			add(s.AtNS, s.AtNS, "slam", slamWords(s, sys)+in)
		}
		for _, c := range t.Cavities {
			add(c.FromNS, c.ToNS, "separation", fmt.Sprintf("column separation for %s s, rejoining peak %s%s",
				quantity.Figures(c.LifeS, 3), sys.Format(quantity.Head, c.RejoinM), in))
		}
		for _, f := range t.Flutter {
			add(f.FromNS, f.ToNS, "flutter", fmt.Sprintf("steady swing of %s Hz%s", quantity.Figures(f.Hz, 3), in))
		}
	}
	slices.SortStableFunc(out, func(a, b LogEvent) int { return cmp.Compare(a.FromNS, b.FromNS) })
	return out
}

// OperationWords are a start or a stop, and of which pump.
func OperationWords(op trace.Operation) string {
	out := "stop"
	if op.Start {
		out = "start"
	}
	if op.Pump > 0 {
		out += fmt.Sprintf(" of pump %d", op.Pump)
	}
	return out
}

// slamWords are a step of the head in short.
func slamWords(s *trace.Slam, sys quantity.System) string {
	text := "slam, step " + sys.Format(quantity.Head, s.StepM())
	if s.Cause != "closing" {
		text = "rejoining of the column, step " + sys.Format(quantity.Head, s.StepM())
	}
	if s.Later {
		text = "later " + text
	}
	return text
}
