package station

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"seatward/basis"
)

// drawnPump is one entry of a list of pumps, as text.
func drawnPump(t *rapid.T, name string) string {
	head := rapid.IntRange(25, 60).Draw(t, "head")
	flow := rapid.IntRange(15, 40).Draw(t, "flow")
	out := fmt.Sprintf("{name: %s, count: %d, curve: [[0 L/s, %d m], [%d L/s, %d m], [%d L/s, %d m]]", name,
		rapid.IntRange(1, 3).Draw(t, "count"), head, flow/2, head*9/10, flow, head*5/10)
	for _, fact := range []string{
		"speed: 1450 rpm", "inertia: 0.4 kg m2 ± 20 %", "submersible: yes",
		"motor_power: 22 kW",
	} {
		if rapid.Bool().Draw(t, fact) {
			out += ", " + fact
		}
	}
	return out + "}"
}

const ofPumps = "station: X\nunits: SI\nfluid: {kind: raw water}\nvalve: {size: DN150, position: horizontal}\nlevels: {wet_well_high: 11 m, wet_well_low: 9 m, outlet: 25 m}\n%spumps:\n  - %s\n"

func withPumps(t rapid.TB, rest string, pumps []string) *Station {
	return resolved(t, fmt.Sprintf(ofPumps, rest, strings.Join(pumps, "\n  - ")))
}

// numbers are all values of the station in the order of the walk.
func numbers(st *Station) []float64 {
	var out []float64
	Walk(st, func(_ string, v basis.Value) { out = append(out, v.SI, v.Low, v.High) })
	return out
}

// The order in which a file lists its pumps changes no number and not the hash; paths
// stay those of the file.
func TestOrderOfPumps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 4).Draw(t, "pumps")
		var pumps []string
		for i := range n {
			pumps = append(pumps, drawnPump(t, fmt.Sprintf("P%c", 'A'+i)))
		}
		rest := rapid.SampledFrom([]string{
			"", "duty: {flow: 5 L/s}\n",
			"main: {runs: [{material: PVC, size: DN200, length: 500 m}]}\n",
		}).Draw(t, "rest")
		mixed := slices.Clone(pumps)
		rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed"))).Shuffle(n,
			func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		a, b := withPumps(t, rest, pumps), withPumps(t, rest, mixed)
		same(t, "reordered", numbers(a), numbers(b), 0)
		if a.Hash != b.Hash {
			t.Errorf("the hash is %s and %s", a.Hash, b.Hash)
		}
		for i := range a.Pumps {
			p, q := &a.Pumps[i], &b.Pumps[i]
			if p.Name != q.Name || !p.Alike(q) || !strings.Contains(mixed[q.Index], "name: "+q.Name) {
				t.Errorf("pump %d is %s (%d) and %s (%d)", i, p.Name, p.Index, q.Name, q.Index)
			}
			if v, err := b.find(q.Path() + ".inertia"); err != nil || v.SI != q.Inertia.SI {
				t.Errorf("the path %s finds %v, %v", q.Path(), v, err)
			}
		}
		// Every number of a step means the same pump, wherever it stands in the file.
		seen := map[int]bool{}
		number := 1
		for i := range n {
			for group := range b.Pumps {
				if p := &b.Pumps[group]; p.Index == i {
					for nth := range p.InService() {
						g, k, ok := b.UnitOf(number)
						if !ok || g != group || k != nth || seen[b.Unit(number)] {
							t.Errorf("pump %d is unit %d of group %d, not %d of %d", number, k, g, nth, group)
						}
						seen[b.Unit(number)] = true
						number++
					}
				}
			}
		}
		if _, _, ok := b.UnitOf(number); ok || b.Unit(0) != -1 || b.Unit(number) != -1 {
			t.Error("a pump beyond the last is found")
		}
	})
}

// Equal pumps listed apart are alike, and alike to the same in one entry.
func TestPumpsListedApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := drawnPump(t, "PA")
		count := rapid.IntRange(2, 4).Draw(t, "apart")
		single := strings.Replace(one, "count: "+countOf(one), "count: 1", 1)
		var apart []string
		for i := range count {
			apart = append(apart, strings.Replace(single, "PA", fmt.Sprintf("P%d", i), 1))
		}
		together := withPumps(t, "", []string{strings.Replace(single, "count: 1", fmt.Sprintf("count: %d", count), 1)})
		st := withPumps(t, "", apart)
		for i := range st.Pumps {
			if !st.Pumps[i].Alike(&together.Pumps[0]) || st.KindOf(i) != 0 {
				t.Errorf("pump %d listed apart is another machine: %+v", i, st.Pumps[i])
			}
		}
		a, b := st.Main.Runs[0].Length, together.Main.Runs[0].Length
		if a.SI != b.SI || a.Low != b.Low || a.High != b.High {
			t.Errorf("the assumed main is %g m and %g m long", a.SI, b.SI)
		}
	})
}

func countOf(pump string) string {
	_, rest, _ := strings.Cut(pump, "count: ")
	count, _, _ := strings.Cut(rest, ",")
	return count
}

// Steps of a schedule mean the same pump when the list is turned round.
func TestScheduleKeepsItsPump(t *testing.T) {
	small := "{name: S, count: 1, curve: [[0 L/s, 30 m], [10 L/s, 28 m], [20 L/s, 20 m]], speed: 1450 rpm, submersible: no}"
	great := "{name: G, count: 2, curve: [[0 L/s, 40 m], [20 L/s, 36 m], [40 L/s, 25 m]], speed: 1450 rpm, submersible: no}"
	events := "events: [{name: dance, kind: schedule, steps: [{at: 1 s, pump: %d, does: trips}]}]\n"
	a := withPumps(t, fmt.Sprintf(events, 1), []string{small, great})
	b := withPumps(t, fmt.Sprintf(events, 3), []string{great, small})
	for _, st := range []*Station{a, b} {
		group, nth, ok := st.UnitOf(st.Events[0].Steps[0].Pump)
		if !ok || st.Pumps[group].Name != "S" || nth != 0 || st.Unit(st.Events[0].Steps[0].Pump) != 2 {
			t.Errorf("the step means pump %d of %s", nth, st.Pumps[group].Name)
		}
	}
	if a.Hash != b.Hash {
		t.Errorf("the hash is %s and %s", a.Hash, b.Hash)
	}
}
