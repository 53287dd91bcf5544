package soak

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"seatward/internal/generate"
	"seatward/quantity"
)

// heldInTest are the changes that must leave the answer as it is, by name. The others are
// counted by make soak PAIRS=1, until the program holds them; then their names go here.
var heldInTest = []string{"other units", "other datum", "equal pumps apart"}

// pairsInTest is how many pairs of each change are asked here.
const pairsInTest = 6

// TestPairs asks one valve for generated stations and for their changed ones.
func TestPairs(t *testing.T) {
	p, err := newProgram()
	if err != nil {
		t.Fatal(err)
	}
	known := 0
	for _, c := range generate.Changes() {
		if !slices.Contains(heldInTest, c.Name) {
			continue
		}
		known++
		t.Run(c.Name, func(t *testing.T) {
			t.Parallel()
			asked := 0
			for seed := uint64(1); asked < pairsInTest && seed < 200; seed++ {
				s := generate.Seeded(seed)
				if other, ok := c.Apply(s); ok && small(s) && p.hold(t, c, s, other) {
					asked++
				}
			}
			if asked < pairsInTest {
				t.Errorf("%d pairs, %d wanted", asked, pairsInTest)
			}
		})
	}
	if known != len(heldInTest) {
		t.Errorf("%v names a change that there is not", heldInTest)
	}
}

// hold compares a pair; false where the first of the two has no answer to compare with.
func (p program) hold(t *testing.T, c generate.Change, s, other generate.Station) bool {
	t.Helper()
	valve := fmt.Sprintf("flap/%gin", quantity.Size{DN: s.Valve.DN}.NPS())
	var first Result
	answer, _ := p.whole(context.Background(), question{s.Text(), valve, valve}, &first)
	if answer == nil || answer.Events == nil {
		return false
	}
	if difference := p.differs(context.Background(), c.Near, question{other.Text(), valve, valve}, answer); difference != "" {
		t.Errorf("%s\n%s\n%s", difference, s.Text(), other.Text())
	}
	return true
}

// small is true for a station that is run through quickly: a short main.
func small(s generate.Station) bool {
	sum := 0.0
	for _, r := range s.Main {
		sum += r.LengthM.SI
	}
	return sum < 800 && s.Running() < 4
}

// TestCompareFails shows that a comparison finds what it is for.
func TestCompareFails(t *testing.T) {
	answer := func(reverse, most float64) *Answer {
		return &Answer{
			Valves: []ValveAnswer{{ID: "flap/6in", Verdict: "suitable", ReverseMS: [3]float64{reverse, reverse, reverse}}, {ID: "swing/6in"}},
			Events: []EventAnswer{{ID: "stop-high", Kind: "normal stop", Level: "high", ReverseMS: reverse, MostM: most}},
		}
	}
	for _, tt := range []struct {
		name string
		b    func(*Answer)
		near bool
		same bool
	}{
		{"itself", func(*Answer) {}, false, true},
		{"a billionth more", func(a *Answer) { a.Events[0].MostM += 1e-8 }, false, true},
		{"more head", func(a *Answer) { a.Events[0].MostM += 1e-3 }, false, false},
		{"more head, near", func(a *Answer) { a.Events[0].MostM += 1e-3 }, true, true},
		{"much more head, near", func(a *Answer) { a.Events[0].MostM *= 1.2 }, true, false},
		{"another verdict", func(a *Answer) { a.Valves[0].Verdict = "unsuitable" }, false, false},
		{"another order", func(a *Answer) { slices.Reverse(a.Valves) }, false, false},
		{"a faster reverse velocity", func(a *Answer) { a.Valves[0].ReverseMS[1] *= 1.01 }, false, false},
		{"an event less", func(a *Answer) { a.Events = nil }, false, false},
		{"a valve less", func(a *Answer) { a.Valves = a.Valves[:1] }, true, false},
	} {
		b := answer(0.2, 40)
		tt.b(b)
		if d := Compare(answer(0.2, 40), b, tt.near); (d == "") != tt.same {
			t.Errorf("%s: %q", tt.name, d)
		}
	}
}
