package soak

import (
	"context"
	"fmt"
	"math"
	"slices"

	"seatward/internal/generate"
)

// How far numbers of one answer may lie apart: as a share, or as a small number of its unit.
const (
	same       = 1e-6
	nearShare  = 0.05 // after a change of 0.1 %
	nearMS     = 0.02
	leastSpeed = 1e-3 // m/s: below it a reverse velocity is none
	leastHeadM = 1e-2
)

// pairs changes the station in each way that must not change the answer, and compares.
func (p program) pairs(ctx context.Context, s generate.Station, answer *Answer, out *Result) {
	for _, c := range generate.Changes() {
		other, ok := c.Apply(s)
		if !ok || ctx.Err() != nil {
			continue
		}
		if difference := p.differs(ctx, c.Near, question{text: other.Text(), trip: answer.Valve},
			answer); difference != "" {
			out.Broken[c.Name]++
			out.Faults = append(out.Faults, Fault{unequal, c.Name + ": " + difference})
		} else {
			out.Held[c.Name]++
		}
	}
}

// differs says in what the answer for the changed station differs; empty where it does not.
func (p program) differs(ctx context.Context, near bool, changed question, answer *Answer) string {
	var again Result
	b, faults := p.whole(ctx, changed, &again)
	switch {
	case b == nil && len(faults) > 0:
		return "no answer: " + faults[0].Text
	case b == nil:
		return "no flow"
	case (answer.Events == nil) != (b.Events == nil):
		return "one of the two has no trips"
	}
	return Compare(answer, b, near)
}

// Compare says in what two answers differ; empty where they are one. Near allows the moves
// of a change of 0.1 %: small ones, and any where one of the two says that it is near a limit.
func Compare(a, b *Answer, near bool) string {
	if len(a.Valves) != len(b.Valves) {
		return fmt.Sprintf("%d valves and %d", len(a.Valves), len(b.Valves))
	}
	for i := range a.Valves {
		x := &a.Valves[i]
		k := slices.IndexFunc(b.Valves, func(v ValveAnswer) bool { return v.ID == x.ID })
		if k < 0 {
			return x.ID + " is missing"
		}
		if d := x.differs(&b.Valves[k], near); d != "" {
			return d
		}
		if k != i && !near {
			return fmt.Sprintf("%s ranks %d and %d", x.ID, i+1, k+1)
		}
	}
	worst, other := a.worst(), b.worst()
	for kind, x := range worst {
		y, ok := other[kind]
		switch {
		case !ok:
			return kind + " is missing"
		case near && (x.Unsure || y.Unsure):
		case !alike(x.ReverseMS, y.ReverseMS, leastSpeed, near):
			return fmt.Sprintf("reverse velocity %.6g and %.6g m/s in a %s", x.ReverseMS, y.ReverseMS, kind)
		case !alike(x.MostM, y.MostM, leastHeadM, near):
			return fmt.Sprintf("greatest head %.6g and %.6g m in a %s", x.MostM, y.MostM, kind)
		}
	}
	return ""
}

// differs compares two rows for one valve.
func (v *ValveAnswer) differs(w *ValveAnswer, near bool) string {
	if near && (v.Unsure || w.Unsure) {
		return ""
	}
	names := [...]string{"low", "best", "high"}
	for i, x := range v.ReverseMS {
		if y := w.ReverseMS[i]; !alike(x, y, leastSpeed, near) {
			return fmt.Sprintf("%s reverse velocity %.6g and %.6g m/s of %s", names[i], x, y, v.ID)
		}
	}
	switch {
	case near:
	case v.Verdict != w.Verdict:
		return fmt.Sprintf("%s and %s of %s", v.Verdict, w.Verdict, v.ID)
	case v.Class != w.Class:
		return fmt.Sprintf("%s and %s of %s", v.Class, w.Class, v.ID)
	}
	return ""
}

// worst is the worst of each kind of event at each level: IDs follow the list of pumps.
func (a *Answer) worst() map[string]EventAnswer {
	out := map[string]EventAnswer{}
	for _, e := range a.Events {
		kind := e.Kind + ", " + e.Level + " level"
		w, ok := out[kind]
		if !ok {
			w = e
		}
		w.ReverseMS, w.MostM, w.LeastM = max(w.ReverseMS, e.ReverseMS), max(w.MostM, e.MostM), min(w.LeastM, e.LeastM)
		w.Unsure = w.Unsure || e.Unsure
		out[kind] = w
	}
	return out
}

// alike is true for two numbers that are one, or near where that is enough. Below the least
// that matters two numbers are one.
func alike(x, y, least float64, near bool) bool {
	apart, size := math.Abs(x-y), math.Max(math.Abs(x), math.Abs(y))
	if near {
		return apart <= math.Max(nearShare*size, math.Max(nearMS, least))
	}
	return apart <= same*math.Max(size, least)
}
