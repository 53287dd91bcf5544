package study

import (
	"testing"
)

// A step of a whole station, with pumps running down and valves that move, allocates
// nothing.
func TestStepsAllocateNothing(t *testing.T) {
	_, p := layoutPlant(t)
	_, m, _, err := p.theValve(TripOptions{Catalogs: options(t).Catalogs, Valve: "swing/6in"})
	if err != nil {
		t.Fatal(err)
	}
	events, err := p.findEvents("one-trips-high")
	if err != nil {
		t.Fatal(err)
	}
	for _, gas := range []bool{false, true} {
		l, err := p.network(m, events[0], Change{}, gas, 1)
		if err != nil {
			t.Fatal(err)
		}
		if got := testing.AllocsPerRun(150, func() {
			if err := l.net.Advance(); err != nil {
				t.Fatal(err)
			}
		}); got > 0 {
			t.Errorf("%g allocations in a step, with gas: %v", got, gas)
		}
		if l.valves[l.watched].Motion.First.TimeS == 0 {
			t.Error("the valve did not shut in the steps that were watched")
		}
	}
}
