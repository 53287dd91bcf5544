package soak

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"

	"seatward/internal/generate"
	"seatward/quantity"
)

// Pairs of each change that are asked: in a test run, and with SEATWARD_LONG=1.
const (
	fewPairs  = 1
	longPairs = 12
)

// TestPairs asks one valve for generated stations and for their changed ones: every change
// that must not move the answer, or only a little.
func TestPairs(t *testing.T) {
	p, err := newProgram()
	if err != nil {
		t.Fatal(err)
	}
	p.samples = soakSamples
	wanted := fewPairs
	if os.Getenv("SEATWARD_LONG") != "" {
		wanted = longPairs
	}
	left := map[string]int{}
	for _, c := range generate.Changes() {
		left[c.Name] = wanted
	}
	for seed := uint64(1); len(left) > 0 && seed < mostSeeds; seed++ {
		s := generate.Seeded(seed)
		if !small(s) {
			continue
		}
		p.holdAll(t, s, left)
	}
	for name, n := range left {
		t.Errorf("%s: %d of %d pairs are missing", name, n, wanted)
	}
}

// mostSeeds is where a test ends that does not find its pairs.
const mostSeeds = 400

// holdAll asks the station once, and compares with it each change of which pairs are left.
func (p program) holdAll(t *testing.T, s generate.Station, left map[string]int) {
	t.Helper()
	valve := fmt.Sprintf("flap/%gin", quantity.Size{DN: s.Valve.DN}.NPS())
	var answer *Answer
	for _, c := range generate.Changes() {
		other, ok := c.Apply(s)
		if !ok || left[c.Name] == 0 {
			continue
		}
		if answer == nil {
			var first Result
			if answer, _ = p.whole(context.Background(), question{s.Text(), valve, valve}, &first); answer == nil ||
				answer.Events == nil {
				return // there is no answer to compare with
			}
		}
		if difference := p.differs(context.Background(), c.Near, question{other.Text(), valve, valve},
			answer); difference != "" {
			t.Errorf("seed %d, %s: %s\n%s\n%s", s.Seed, c.Name, difference, s.Text(), other.Text())
		}
		if left[c.Name]--; left[c.Name] == 0 {
			delete(left, c.Name)
		}
	}
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
			Valves: []ValveAnswer{{
				ID: "flap/6in", Verdict: "suitable",
				ReverseMS: [3]float64{reverse, reverse, reverse},
			}, {ID: "swing/6in"}},
			Events: []EventAnswer{{
				ID: "stop-high", Kind: "normal stop", Level: "high", ReverseMS: reverse,
				MostM: most,
			}},
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
		{
			"much more head, near, and it says so", func(a *Answer) { a.Events[0].MostM, a.Events[0].Unsure = 60, true },
			true, true,
		},
		{
			"more head, and it says that it is near a limit",
			func(a *Answer) { a.Events[0].MostM, a.Events[0].Unsure = 40.1, true }, false, false,
		},
		{"a much faster valve, near", func(a *Answer) { a.Valves[0].ReverseMS[1] = 0.3 }, true, false},
		{
			"a much faster valve, near, and it says so",
			func(a *Answer) { a.Valves[0].ReverseMS[1], a.Valves[0].Unsure = 0.3, true }, true, true,
		},
		{"another end of the interval", func(a *Answer) { a.Valves[0].ReverseMS[2] *= 1.001 }, false, false},
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
