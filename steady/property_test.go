package steady

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawStation draws a station of falling curves in the scale of real ones.
func drawStation(t *rapid.T) (*System, Level) {
	sys := &System{Main: main1(rapid.Float64Range(0, 1e5).Draw(t, "main"))}
	kinds := rapid.IntRange(1, 3).Draw(t, "kinds of pump")
	for k := range kinds {
		p := poly{a: rapid.Float64Range(5, 80).Draw(t, "shut-off"), end: rapid.Float64Range(0.005, 0.5).Draw(t, "end")}
		p.c = p.a * rapid.Float64Range(0.2, 1).Draw(t, "fall") / (p.end * p.end)
		element := loss(p.c * rapid.Float64Range(0, 1).Draw(t, "branch"))
		n := rapid.IntRange(1, 3).Draw(t, "equal pumps")
		sys.Branches = append(sys.Branches, pumps(string(rune('a'+k)), n, p, element)...)
	}
	return sys, static(rapid.Float64Range(-5, 60).Draw(t, "static"))
}

// balanced fails unless the point balances: the flows add up, and each flowing
// branch gives the header head, which is what the main needs.
func balanced(t *rapid.T, s *System, p OperatingPoint) {
	sum, scale := 0.0, math.Abs(p.HeaderHeadM)
	for _, b := range p.Branches {
		sum += b.FlowM3S
		scale = math.Max(scale, math.Abs(b.ShutOffM))
	}
	if math.Abs(sum-p.FlowM3S) > 1e-14*p.FlowM3S {
		t.Fatalf("branches add up to %g, the main has %g", sum, p.FlowM3S)
	}
	for _, b := range p.Branches {
		net := b.SourceHeadM
		for _, l := range b.LossM {
			net -= l
		}
		switch {
		case b.FlowM3S > 0 && math.Abs(net-p.HeaderHeadM) > 1e-12*scale:
			t.Fatalf("branch %d gives %.15g m at the header of %.15g m", b.Branch, net, p.HeaderHeadM)
		case b.FlowM3S == 0 && p.HeaderHeadM < b.ShutOffM-1e-12*scale:
			t.Fatalf("branch %d is shut at %g m, below its shut-off %g m", b.Branch, p.HeaderHeadM, b.ShutOffM)
		}
	}
	need, err := s.MainCurve(p.Level, []float64{p.FlowM3S})
	if err != nil || math.Abs(need[0].HeadM-p.HeaderHeadM) > 1e-12*scale {
		t.Fatalf("the main needs %+v (%v) at the header of %g m", need, err, p.HeaderHeadM)
	}
}

func TestEveryPointBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys, level := drawStation(t)
		sys.Levels = []Level{level, {Name: "higher", OutletM: level.OutletM + 3}}
		points, err := sys.SolveAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range points {
			if p.Outcome != Flowing && p.Outcome != NoFlow {
				t.Fatalf("%v", p.Outcome)
			}
			balanced(t, sys, p)
			if len(p.Others) > 0 || p.Has(Unstable) {
				t.Fatalf("falling curves have one point: %+v", p)
			}
		}
	})
}

func TestEqualPumpsShareEqually(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys, level := drawStation(t)
		p, err := sys.Solve(all(sys), level)
		if err != nil {
			t.Fatal(err)
		}
		byKind := map[string]float64{}
		for i, b := range p.Branches {
			word := sys.Branches[i].Alike
			if q, seen := byKind[word]; seen && q != b.FlowM3S {
				t.Fatalf("equal pumps give %g and %g", q, b.FlowM3S)
			}
			byKind[word] = b.FlowM3S
		}
		// The caller's word spares work but changes no result.
		for i := range sys.Branches {
			sys.Branches[i].Alike = ""
		}
		apart, err := sys.Solve(all(sys), level)
		if err != nil || math.Abs(apart.FlowM3S-p.FlowM3S) > 1e-9*(p.FlowM3S+1e-6) {
			t.Fatalf("taken apart %g, together %g, %v", apart.FlowM3S, p.FlowM3S, err)
		}
	})
}

func TestMorePumpsNeverLessFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys, level := drawStation(t)
		before, rest := 0.0, level.StaticHeadM()
		for n := 1; n <= len(sys.Branches); n++ {
			p, err := sys.Solve(all(sys)[:n], level)
			if err != nil {
				t.Fatal(err)
			}
			// The flow follows the head that drives it, the difference of two that are
			// known to twelve figures: of those it keeps what the difference keeps.
			drive := 0.0
			for _, b := range p.Branches {
				drive = math.Max(drive, b.ShutOffM-rest)
			}
			if p.FlowM3S < before*(1-1e-12*(rest+drive)/drive) {
				t.Fatalf("%d pumps give %.15g, %d gave %.15g", n, p.FlowM3S, n-1, before)
			}
			before = p.FlowM3S
		}
	})
}

func TestMoreStaticNeverMoreFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys, level := drawStation(t)
		low, err := sys.Solve(all(sys), level)
		if err != nil {
			t.Fatal(err)
		}
		level.OutletM += rapid.Float64Range(0, 20).Draw(t, "more")
		high, err := sys.Solve(all(sys), level)
		if err != nil || high.FlowM3S > low.FlowM3S*(1+1e-12) {
			t.Fatalf("%g at %g m, then %g, %v", low.FlowM3S, low.StaticHeadM, high.FlowM3S, err)
		}
	})
}

// Drooping pumps: whatever is reported as balanced is, the one chosen has the
// least flow, and one in NoFlow cannot open against the main at rest.
func TestDroopingStations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys, level := drawStation(t)
		for i := range sys.Branches {
			if i > 0 && sys.Branches[i].Alike == sys.Branches[i-1].Alike {
				sys.Branches[i].Source = sys.Branches[i-1].Source
				continue
			}
			p := sys.Branches[i].Source.(poly)
			p.b = p.c * p.end * rapid.Float64Range(0, 0.7).Draw(t, "droop")
			sys.Branches[i].Source = p
		}
		p, err := sys.Solve(all(sys), level)
		if err != nil {
			t.Fatal(err)
		}
		if p.Outcome != Flowing && p.Outcome != NoFlow {
			t.Fatalf("%v with %g m left", p.Outcome, p.ResidualM)
		}
		balanced(t, sys, p)
		for _, o := range p.Others {
			if o.FlowM3S < p.FlowM3S*(1-1e-9) {
				t.Fatalf("%+v is below the chosen %g", o, p.FlowM3S)
			}
		}
	})
}

// rough is a source and an element that join wild values by straight lines.
type rough struct {
	values []float64
	step   float64
	ranged bool
}

func (r rough) at(q float64) float64 {
	x := math.Min(math.Abs(q)/r.step, float64(len(r.values)-1))
	i := min(int(x), len(r.values)-2)
	return r.values[i] + (x-float64(i))*(r.values[i+1]-r.values[i])
}

func (r rough) Head(q float64) float64   { return r.at(q) }
func (r rough) Settle(q float64) float64 { return math.Copysign(r.at(q), q) }
func (r rough) Range() (low, high float64) {
	if !r.ranged {
		return 0, 0
	}
	return 0, r.step * float64(len(r.values)-1)
}

// Whatever finite values devices answer with, a point comes back without panic
// and without a number that is none.
func TestAnyFiniteInput(t *testing.T) {
	wild := rapid.Custom(func(t *rapid.T) rough {
		value := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-100, 100), rapid.Just(0.0))
		r := rough{step: rapid.Float64Range(1e-12, 1e6).Draw(t, "step"), ranged: rapid.Bool().Draw(t, "ranged")}
		r.values = rapid.SliceOfN(value, 2, 5).Draw(t, "values")
		for i := range r.values { // so that differences of two stay finite
			r.values[i] = math.Max(-1e300, math.Min(1e300, r.values[i]))
		}
		return r
	})
	rapid.Check(t, func(t *rapid.T) {
		sys := &System{Main: []Reach{{
			Elements: []Element{wild.Draw(t, "reach")},
			EndM:     rapid.Float64Range(-1e6, 1e6).Draw(t, "hill"),
		}, {Elements: []Element{wild.Draw(t, "reach")}}}}
		for range rapid.IntRange(1, 3).Draw(t, "branches") {
			sys.Branches = append(sys.Branches, Branch{
				Alike: rapid.SampledFrom([]string{"", "x"}).Draw(t, "alike"), Source: wild.Draw(t, "source"),
				Elements: []Element{wild.Draw(t, "element")},
			})
		}
		p, err := sys.Solve(all(sys), Level{
			WetWellM: rapid.Float64Range(-1e6, 1e6).Draw(t, "well"),
			OutletM:  rapid.Float64Range(-1e6, 1e6).Draw(t, "outlet"),
		})
		if err != nil {
			t.Fatal(err)
		}
		numbers := []float64{p.FlowM3S, p.HeaderHeadM, p.MainLossM, p.ResidualM}
		for _, o := range p.Others {
			numbers = append(numbers, o.FlowM3S, o.HeaderHeadM)
		}
		for _, b := range p.Branches {
			numbers = append(numbers, b.FlowM3S, b.SourceHeadM, b.ShutOffM, b.LossM[0])
		}
		for _, s := range p.Shares() {
			numbers = append(numbers, s.HeadM, s.Part)
		}
		for _, v := range numbers {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", p)
			}
		}
	})
}

func station3() *System {
	return &System{
		Branches: pumps("p", 3, poly{40, 0, 9000, 0.06}, loss(700), loss(300), loss(50)),
		Main:     main1(2500), Levels: []Level{{Name: "low", OutletM: 22}, {Name: "high", WetWellM: 2, OutletM: 22}},
	}
}

func BenchmarkSolveOne(b *testing.B) {
	sys := station3()
	for b.Loop() {
		if _, err := sys.Solve([]int{0, 1}, sys.Levels[0]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveAllThreeEqual(b *testing.B) {
	sys := station3()
	for b.Loop() {
		if _, err := sys.SolveAll(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveAllThreeUnequal(b *testing.B) {
	sys := station3()
	for i := range sys.Branches {
		sys.Branches[i].Alike = ""
		sys.Branches[i].Source = poly{40 + float64(i), 0, 9000, 0.06}
	}
	for b.Loop() {
		if _, err := sys.SolveAll(); err != nil {
			b.Fatal(err)
		}
	}
}
