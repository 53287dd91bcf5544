package study

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

var examples = []string{"first-call", "layout", "study", "booster"}

// TestRankListsStay holds the rank lists of the examples: ID, verdict and slam class of
// each valve, best first. SEATWARD_UPDATE=1 renews them.
func TestRankListsStay(t *testing.T) {
	for _, name := range examples {
		t.Run(name, func(t *testing.T) {
			var got strings.Builder
			for _, c := range answer(t, example(t, name), options(t)).JSON().Candidates {
				class := "none"
				if c.Slam != nil {
					class = c.Slam.Class
				}
				fmt.Fprintf(&got, "%2d  %-24s  %-24s  %s\n", c.Rank, c.ID, c.Verdict, class)
			}
			path := filepath.Join("testdata", name+".golden")
			if os.Getenv("SEATWARD_UPDATE") == "1" {
				if err := os.WriteFile(path, []byte(got.String()), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Errorf("-golden +now\n%s", diff)
			}
		})
	}
}

// numbers visits every number of a decoded JSON value.
func numbers(path string, v any, visit func(path string, x float64)) {
	switch v := v.(type) {
	case float64:
		visit(path, v)
	case []any:
		for i, e := range v {
			numbers(fmt.Sprintf("%s[%d]", path, i), e, visit)
		}
	case map[string]any:
		for k, e := range v {
			numbers(path+"."+k, e, visit)
		}
	}
}

// TestNumbersAreFiniteAndBandsOrdered: no number of the answer is infinite or none, also
// of those that JSON leaves out when they are, and every band runs from low to high.
func TestNumbersAreFiniteAndBandsOrdered(t *testing.T) {
	for _, name := range examples {
		s := answer(t, example(t, name), options(t))
		for _, n := range s.Values() {
			for _, x := range []float64{n.Value.SI, n.Value.Low, n.Value.High} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Errorf("%s: %s is %g, %g to %g", name, n.Path, n.Value.SI, n.Value.Low, n.Value.High)
				}
			}
			if n.Value.Low > n.Value.SI || n.Value.SI > n.Value.High {
				t.Errorf("%s: %s is %g, outside %g to %g", name, n.Path, n.Value.SI, n.Value.Low, n.Value.High)
			}
		}
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var decoded any
		if err := json.Unmarshal(text, &decoded); err != nil {
			t.Fatal(err)
		}
		count := 0
		numbers(name, decoded, func(path string, x float64) {
			count++
			if math.Abs(x) > 1e15 {
				t.Errorf("%s is %g", path, x)
			}
		})
		if count < 500 {
			t.Errorf("%s: only %d numbers", name, count)
		}
	}
}

// A band of a further depth never leaves that of the first call, as it does not leave
// the depth before.
func TestDepthsStayInsideTheFirstCall(t *testing.T) {
	opt := options(t)
	first := map[string]judge.Assessment{}
	for _, a := range answer(t, example(t, "first-call"), opt).Assessments {
		first[a.Item.ID] = a
	}
	for _, name := range []string{"layout", "study"} {
		met := 0
		for _, a := range answer(t, example(t, name), opt).Assessments {
			v, w := a.Slam.ReverseVelocity, first[a.Item.ID].Slam.ReverseVelocity
			if !v.Known() || !w.Known() {
				continue
			}
			met++
			if v.High < w.Low || v.Low > w.High {
				t.Errorf("%s: %s %g to %g lies outside the first call's %g to %g", name, a.Item.ID, v.Low, v.High, w.Low, w.High)
			}
		}
		if met < 15 {
			t.Errorf("%s: only %d valves to compare", name, met)
		}
	}
}

// BenchmarkStages measures what a select is made of: data, operating points with a
// valve in place, and the judgement of that valve.
func BenchmarkStages(b *testing.B) {
	data, opt := example(b, "layout"), options(b)
	st, list := station.Load("layout", data)
	if st == nil {
		b.Fatal(list)
	}
	b.Run("catalogs", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, faults := catalog.LoadFiles(os.DirFS("../catalog/demo"), "*.yaml"); faults.Err() != nil {
				b.Fatal(faults)
			}
		}
	})
	b.Run("select-with-catalogs", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			catalogs, faults := catalog.LoadFiles(os.DirFS("../catalog/demo"), "*.yaml")
			book, more := rules.Base()
			st, bad := station.Load("layout", data)
			if faults.Err() != nil || more.Err() != nil || bad.Err() != nil {
				b.Fatal(faults, more, bad)
			}
			if _, err := Run(b.Context(), st, Options{Catalogs: catalogs, Rules: book}); err != nil {
				b.Fatal(err)
			}
		}
	})
	it, err := catalog.Find(opt.Catalogs, "flap/6in")
	if err != nil {
		b.Fatal(err)
	}
	m, err := it.Family.Type.Build(it.Params, valve.In(st.Fluid.Density.SI, valve.FlowUp))
	if err != nil {
		b.Fatal(err)
	}
	p, err := newPlant(st)
	if err != nil {
		b.Fatal(err)
	}
	points, err := p.points(m)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("points", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := p.points(m); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("judge", func(b *testing.B) {
		b.ReportAllocs()
		spread := flowSpread(st, points[0].Branches[0].FlowM3S)
		in := judge.Input{Station: st, Item: it, Mech: m, Rules: opt.Rules, Points: p.forValve(points, spread)}
		in.Stops = judge.NewStops(st, in.Points)
		for b.Loop() {
			judge.Assess(in)
		}
	})
}
