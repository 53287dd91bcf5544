package soak

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// leastAnswered is the share of stations that must be answered whole.
const leastAnswered = 0.99

// tally is what came of all stations.
type tally struct {
	stations, whole, events, answered, whyNot int

	seconds      []float64 // rising
	slowest      Result
	kinds        map[string]int    // faults by kind
	groups       map[string]int    // and by their text
	first        map[string]string // the first station of each group
	held, broken map[string]int    // pairs by the name of the change
}

func newTally(all []Result) tally {
	t := tally{
		stations: len(all), kinds: map[string]int{}, groups: map[string]int{}, first: map[string]string{},
		held: map[string]int{}, broken: map[string]int{},
	}
	for _, r := range all {
		if r.whole() {
			t.whole++
		}
		t.events, t.answered, t.whyNot = t.events+r.Events, t.answered+r.Answered, t.whyNot+r.WhyNot
		t.seconds = append(t.seconds, r.Seconds)
		if r.Seconds > t.slowest.Seconds {
			t.slowest = r
		}
		for _, f := range r.Faults {
			g := f.Group()
			if t.groups[g] == 0 {
				t.first[g] = r.Name
			}
			t.groups[g]++
			t.kinds[f.Kind]++
		}
		add(t.held, r.Held)
		add(t.broken, r.Broken)
	}
	slices.Sort(t.seconds)
	return t
}

func add(to, from map[string]int) {
	for k, n := range from {
		to[k] += n
	}
}

// print writes the table; true when the program passes.
func (t tally) print(out io.Writer) bool {
	share := float64(t.whole) / float64(max(t.stations, 1))
	row := func(name, format string, args ...any) {
		fmt.Fprintf(out, "%-38s "+format+"\n", append([]any{name}, args...)...)
	}
	row("stations", "%d", t.stations)
	row("answered, or reason given", "%d (%.1f %%)", t.whole, 100*share)
	row("events asked", "%d", t.events)
	row("  answered", "%d", t.answered)
	row("  reason given", "%d", t.whyNot)
	for _, kind := range []string{refused, noChoice, noTrip, noEvent, notANumber, panicked, hung, unequal} {
		row("faults: "+kind, "%d", t.kinds[kind])
	}
	if n := len(t.seconds); n > 0 {
		row("processor time per station", "median %.2f s, 95 %% below %.2f s, max. %.2f s (%s)", t.seconds[n/2],
			t.seconds[n*95/100], t.slowest.Seconds, t.slowest.Name)
	}
	changes := maps.Clone(t.held)
	maps.Copy(changes, t.broken)
	for _, name := range slices.Sorted(maps.Keys(changes)) {
		row("one answer, "+name, "%d of %d", t.held[name], t.held[name]+t.broken[name])
	}
	groups := slices.SortedFunc(maps.Keys(t.groups), func(a, b string) int {
		return cmp.Or(cmp.Compare(t.groups[b], t.groups[a]), strings.Compare(a, b))
	})
	for _, g := range groups {
		fmt.Fprintf(out, "%5d  first: %-24s %s\n", t.groups[g], t.first[g], g)
	}
	return share >= leastAnswered && t.kinds[notANumber]+t.kinds[panicked]+t.kinds[hung] == 0
}
