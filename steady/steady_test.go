package steady

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// poly is a source h = a + b q - c q^2 known up to end (0: no range).
type poly struct{ a, b, c, end float64 }

func (p poly) Head(q float64) float64 { return p.a + p.b*q - p.c*q*q }

func (p poly) Range() (low, high float64) { return 0, p.end }

// loss is an element h = k q |q|.
type loss float64

func (k loss) Settle(q float64) float64 { return float64(k) * q * math.Abs(q) }

// crack is an element that needs a head to open, and then no more.
type crack float64

func (c crack) Settle(q float64) float64 {
	if q == 0 {
		return 0
	}
	return math.Copysign(float64(c), q)
}

func main1(k float64) []Reach { return []Reach{{Name: "main", Elements: []Element{loss(k)}}} }

func static(h float64) Level { return Level{OutletM: h} }

func pumps(alike string, n int, s Source, elements ...Element) []Branch {
	var out []Branch
	for i := range n {
		out = append(out, Branch{Name: fmt.Sprint(alike, i), Alike: alike, Source: s, Elements: elements})
	}
	return out
}

func all(s *System) []int {
	var out []int
	for i := range s.Branches {
		out = append(out, i)
	}
	return out
}

func mustSolve(t testing.TB, s *System, l Level) OperatingPoint {
	t.Helper()
	p, err := s.Solve(all(s), l)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g within %g of it", what, got, want, rel)
	}
}

// n equal pumps h = a - c q^2 with a branch loss k1 q^2 against s + k Q^2 give
// Q = sqrt((a - s)/((c + k1)/n^2 + k)), exactly.
func TestEqualPumpsAgainstClosedForm(t *testing.T) {
	const a, c, k1, k, s = 40.0, 9000.0, 700.0, 2500.0, 22.0
	for n := 1; n <= 5; n++ {
		sys := &System{Branches: pumps("p", n, poly{a, 0, c, 0.06}, loss(k1)), Main: main1(k)}
		p := mustSolve(t, sys, static(s))
		m := float64(n)
		want := math.Sqrt((a - s) / ((c+k1)/(m*m) + k))
		near(t, "flow", p.FlowM3S, want, 1e-14)
		near(t, "header head", p.HeaderHeadM, s+k*want*want, 1e-14)
		near(t, "main loss", p.MainLossM, k*want*want, 1e-13)
		if p.Outcome != Flowing || len(p.Others) != 0 || len(p.Flags) != 0 || p.StaticHeadM != s {
			t.Errorf("%d pumps: %v, others %v, flags %v", n, p.Outcome, p.Others, p.Flags)
		}
		for _, b := range p.Branches {
			near(t, "branch flow", b.FlowM3S, want/m, 1e-14)
			near(t, "branch loss", b.LossM[0], k1*want*want/(m*m), 1e-13)
		}
	}
}

// Without loss in the main the header stands at the static head, and each branch
// h_i = a_i - c_i q^2 gives q_i = sqrt((a_i - s)/c_i).
func TestUnequalPumpsAgainstClosedForm(t *testing.T) {
	const s = 15.0
	sys := &System{Main: main1(0)}
	want := 0.0
	for i, x := range []poly{{30, 0, 8000, 0.1}, {22, 0, 3000, 0.1}, {45, 0, 20000, 0.1}} {
		sys.Branches = append(sys.Branches, Branch{Name: fmt.Sprint(i), Source: x})
		want += math.Sqrt((x.a - s) / x.c)
	}
	p := mustSolve(t, sys, static(s))
	near(t, "flow", p.FlowM3S, want, 1e-13)
	near(t, "header head", p.HeaderHeadM, s, 1e-14)
}

// A weak pump beside a strong one is pushed shut, and the point is that of the
// strong one alone; with a flatter main both run.
func TestWeakPumpIsPushedShut(t *testing.T) {
	sys := &System{Branches: []Branch{
		{Name: "strong", Source: poly{40, 0, 4000, 0.1}},
		{Name: "weak", Source: poly{25, 0, 4000, 0.1}},
	}, Main: main1(8000)}
	p := mustSolve(t, sys, static(20))
	want := math.Sqrt(20.0 / 12000)
	near(t, "flow", p.FlowM3S, want, 1e-14)
	if !p.Branches[1].PushedShut || p.Branches[1].FlowM3S != 0 || p.Branches[0].PushedShut || !p.Has(PushedShut) {
		t.Errorf("branches %+v, flags %v", p.Branches, p.Flags)
	}
	if b := p.Branches[1]; b.ShutOffM != 25 || b.SourceHeadM != 25 {
		t.Errorf("the pump pushed shut stands at its shut-off head: %+v", b)
	}
	sys.Main = main1(100)
	if p = mustSolve(t, sys, static(20)); p.Has(PushedShut) || p.Branches[1].FlowM3S <= 0 {
		t.Errorf("flat main: %+v", p.Branches)
	}
}

func TestStaticAboveShutOff(t *testing.T) {
	sys := &System{Branches: pumps("p", 2, poly{20, 0, 4000, 0.1}), Main: main1(100)}
	p := mustSolve(t, sys, static(25))
	if p.Outcome != NoFlow || p.FlowM3S != 0 || p.HeaderHeadM != 25 || !p.Branches[0].PushedShut ||
		len(p.Others) != 0 || p.Shares() != nil {
		t.Errorf("%+v", p)
	}
}

// h = 20 + 100 q - 2000 q^2 droops. Against 20.5 + 500 Q^2, above its shut-off,
// 2500 q^2 - 100 q + 0.5 = 0 has the roots (100 -+ sqrt(5000))/5000.
func TestDroopAboveShutOff(t *testing.T) {
	sys := &System{Branches: pumps("", 1, poly{20, 100, 2000, 0.1}), Main: main1(500)}
	p := mustSolve(t, sys, static(20.5))
	if p.Outcome != NoFlow || len(p.Others) != 2 || !p.Has(OtherStates) {
		t.Fatalf("%v, others %+v", p.Outcome, p.Others)
	}
	near(t, "first other", p.Others[0].FlowM3S, (100-math.Sqrt(5000))/5000, 1e-13)
	near(t, "second other", p.Others[1].FlowM3S, (100+math.Sqrt(5000))/5000, 1e-13)
	if p.Others[0].Stable || !p.Others[1].Stable {
		t.Errorf("the first cannot last, the second can: %+v", p.Others)
	}
	// Against 19 m there is one point, on the falling side.
	p = mustSolve(t, sys, static(19))
	near(t, "flow", p.FlowM3S, (100+math.Sqrt(20000))/5000, 1e-13)
	if len(p.Others) != 0 || p.Has(Unstable) || p.Has(AboveShutOff) != (p.HeaderHeadM > 20) {
		t.Errorf("others %v, flags %v", p.Others, p.Flags)
	}
	// A steep main holds the pump on the rising side: 2000 q^2 + 48000 q^2 - 100 q - 1 = 0.
	sys.Main = main1(48000)
	p = mustSolve(t, sys, static(19))
	near(t, "flow on the rise", p.FlowM3S, (100+math.Sqrt(210000))/100000, 1e-13)
	if len(p.Others) != 0 || p.Has(Unstable) || !p.Has(AboveShutOff) {
		t.Errorf("others %v, flags %v", p.Others, p.Flags)
	}
}

// Two drooping pumps of different make: the state of least flow is chosen, every
// state balances, and a pump that is shut can still be found running beside it.
func TestTwoDroopingPumps(t *testing.T) {
	sys := &System{
		Branches: []Branch{{Name: "a", Source: poly{24, 0, 3000, 0.1}}, {Name: "b", Source: poly{20, 200, 4000, 0.08}}},
		Main:     main1(200),
	}
	p := mustSolve(t, sys, static(20.2))
	if p.Outcome != Flowing || !p.Branches[1].PushedShut || len(p.Others) != 2 {
		t.Fatalf("%+v", p)
	}
	near(t, "strong pump alone", p.FlowM3S, math.Sqrt(3.8/3200), 1e-13)
	low := p.FlowM3S
	for _, o := range p.Others {
		if o.FlowM3S <= low {
			t.Errorf("%+v is not above %g", o, low)
		}
		near(t, "total of branches", o.BranchM3S[0]+o.BranchM3S[1], o.FlowM3S, 1e-14)
		near(t, "main", 20.2+200*o.FlowM3S*o.FlowM3S, o.HeaderHeadM, 1e-13)
		near(t, "a", sys.Branches[0].Source.Head(o.BranchM3S[0]), o.HeaderHeadM, 1e-12)
		near(t, "b", sys.Branches[1].Source.Head(o.BranchM3S[1]), o.HeaderHeadM, 1e-12)
	}
	if p.Others[0].Stable || !p.Others[1].Stable {
		t.Errorf("stability of %+v", p.Others)
	}
	// With the first pump weak, the point lies on the hump of the second, above
	// its shut-off head: no flow from rest gives it by head alone.
	sys.Branches[0].Source = poly{19.9, 0, 3000, 0.1}
	sys.Main = main1(60000)
	p = mustSolve(t, sys, static(19.5))
	near(t, "on the hump", p.FlowM3S, (200+math.Sqrt(40000+4*64000*0.5))/(2*64000), 1e-12)
	if !p.Branches[0].PushedShut || p.HeaderHeadM <= 20 || p.Has(Unstable) {
		t.Errorf("%+v", p)
	}
}

// A source of constant head has a level curve: the flow is set by the main alone.
func TestLevelCurves(t *testing.T) {
	tank := poly{30, 0, 0, 0}
	sys := &System{Branches: pumps("", 1, tank), Main: main1(1000)}
	near(t, "one", mustSolve(t, sys, static(20)).FlowM3S, 0.1, 1e-14)
	sys.Branches = append(sys.Branches, Branch{Name: "pump", Source: poly{40, 0, 4000, 0.1}})
	p := mustSolve(t, sys, static(20))
	near(t, "header", p.HeaderHeadM, 30, 1e-14)
	near(t, "both", p.FlowM3S, 0.1, 1e-13)
	near(t, "pump", p.Branches[1].FlowM3S, 0.05, 1e-13)
	sys = &System{Branches: pumps("", 1, tank), Main: main1(0)}
	if p := mustSolve(t, sys, static(20)); p.Outcome != Unlimited {
		t.Errorf("nothing limits the flow: %+v", p)
	}
}

// A valve that needs 3 m to crack open and then keeps that loss.
func TestCrackingHead(t *testing.T) {
	sys := &System{Branches: pumps("p", 2, poly{30, 0, 4000, 0.1}, crack(3)), Main: main1(1000)}
	near(t, "flow", mustSolve(t, sys, static(20)).FlowM3S, math.Sqrt(7.0/2000), 1e-13)
	p := mustSolve(t, sys, static(28))
	if p.Outcome != NoFlow || p.Branches[0].ShutOffM != 27 || p.Branches[0].LossM[0] != 0 {
		t.Errorf("28 m is above 30 m less 3 m: %+v", p)
	}
}

// The high point is at 26 m, the outlet at 20 m. Up to Q^2 = 6/k2 the main runs
// partly open behind the high point, beyond it the outlet sets the head.
func TestHighPoint(t *testing.T) {
	const k1, k2 = 1000.0, 3000.0
	sys := &System{
		Main: []Reach{
			{Name: "to the hill", Elements: []Element{loss(k1)}, EndM: 28},
			{Name: "to the outlet", Elements: []Element{loss(k2)}},
		},
	}
	level := Level{Name: "low", WetWellM: 2, OutletM: 22}
	for _, x := range []struct {
		a, flow float64
		control int
	}{
		{28, math.Sqrt(2.0 / (k1 + 4000)), 0},
		{60, math.Sqrt(40.0 / (k1 + k2 + 4000)), 1},
	} {
		sys.Branches = pumps("", 1, poly{x.a, 0, 4000, 0.2})
		p := mustSolve(t, sys, level)
		near(t, "flow", p.FlowM3S, x.flow, 1e-13)
		if p.Control != x.control || p.Has(HighPoint) != (x.control == 0) || p.StaticHeadM != 20 {
			t.Errorf("%g m: control %d, flags %v", x.a, p.Control, p.Flags)
		}
		near(t, "lift and losses make the header head", p.Reaches[p.Control].LiftM+p.MainLossM, p.HeaderHeadM, 1e-13)
		sum, fall := 0.0, 0.0
		for _, s := range p.Shares() {
			sum += s.Part
			if s.Element == -2 {
				fall = s.HeadM
			}
		}
		near(t, "shares", sum, 1, 1e-13)
		if (fall > 0) != (x.control == 0) {
			t.Errorf("fall behind the high point %g", fall)
		}
	}
	sys.Branches = pumps("", 1, poly{25, 0, 4000, 0.2})
	if p := mustSolve(t, sys, level); p.Outcome != NoFlow || p.HeaderHeadM != 26 || !p.Has(HighPoint) {
		t.Errorf("25 m lifts over 20 m but not over the hill: %+v", p)
	}
}

func TestRunoutIsFlagged(t *testing.T) {
	sys := &System{Branches: pumps("p", 2, poly{40, 0, 4000, 0.05}), Main: main1(0)}
	p := mustSolve(t, sys, static(20))
	if !p.Has(Runout) || len(p.Flags) != 2 || p.Flags[1] != (Flag{Runout, 1, p.Branches[1].FlowM3S, 0.05}) {
		t.Errorf("flags %v", p.Flags)
	}
	sys.Branches = []Branch{{Source: late{poly{40, 0, 4000, 0.2}, 0.1}}}
	if p = mustSolve(t, sys, static(20)); !p.Has(BelowRange) {
		t.Errorf("flags %v", p.Flags)
	}
}

type late struct {
	poly
	from float64
}

func (l late) Range() (low, high float64) { return l.from, l.end }

func TestCombinations(t *testing.T) {
	sys := &System{Branches: append(pumps("p", 2, poly{40, 0, 4000, 0.1}), pumps("", 1, poly{30, 0, 4000, 0.1})...)}
	got, err := sys.Combinations()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][]int{{0}, {2}, {0, 1}, {0, 2}, {0, 1, 2}}, got); diff != "" {
		t.Error(diff)
	}
	sys.Branches = pumps("p", 7, poly{})
	if got, err = sys.Combinations(); err != nil || len(got) != 7 || len(got[6]) != 7 {
		t.Errorf("7 equal pumps: %v, %v", got, err)
	}
	sys.Branches = pumps("", 8, poly{})
	if got, err = sys.Combinations(); err != nil || len(got) != 255 {
		t.Errorf("8 unequal pumps: %d, %v", len(got), err)
	}
	sys.Branches = slices.Concat(pumps("a", 6, poly{}), pumps("b", 6, poly{}), pumps("c", 6, poly{}))
	if got, err = sys.Combinations(); err != nil || len(got) != 7*7*7-1 {
		t.Errorf("6 + 6 + 6 pumps of three kinds: %d, %v", len(got), err)
	}
	sys.Branches = pumps("", 13, poly{})
	if _, err = sys.Combinations(); !errors.Is(err, ErrTooMany) {
		t.Errorf("13 unequal pumps: %v", err)
	}
}

func TestSolveAll(t *testing.T) {
	sys := &System{
		Branches: pumps("p", 3, poly{40, 0, 4000, 0.1}), Main: main1(1000),
		Levels: []Level{{Name: "low", WetWellM: 0, OutletM: 25}, {Name: "high", WetWellM: 3, OutletM: 25}},
	}
	points, err := sys.SolveAll()
	if err != nil || len(points) != 6 {
		t.Fatalf("%d points, %v", len(points), err)
	}
	for i, p := range points {
		one, err := sys.Solve(p.Running, p.Level)
		if err != nil || len(p.Running) != i/2+1 || p.Level.Name != sys.Levels[i%2].Name {
			t.Errorf("point %d: %v at %q, %v", i, p.Running, p.Level.Name, err)
		}
		near(t, "the same alone", p.FlowM3S, one.FlowM3S, 1e-13)
	}
	again, err := sys.SolveAll()
	if diff := cmp.Diff(points, again); diff != "" || err != nil {
		t.Errorf("not the same twice: %v %s", err, diff)
	}
}

// stiff is a valve that takes a head to open at all.
type stiff float64

func (s stiff) Settle(q float64) float64 {
	if q > 0 {
		return float64(s)
	}
	return 0
}

// A pump whose shut-off head lies between the static head and that plus the opening head
// of the valve gives no flow, and the point says why.
func TestPumpDoesNotOpenTheValve(t *testing.T) {
	sys := &System{Branches: pumps("p", 2, poly{20, 0, 4000, 0.1}), Main: main1(1000)}
	for i := range sys.Branches {
		sys.Branches[i].Elements = append(sys.Branches[i].Elements, stiff(0.5))
	}
	for _, running := range [][]int{{0}, {0, 1}} {
		for static, not := range map[float64]bool{19.4: false, 19.6: true, 19.99: true, 20.1: false} {
			p, err := sys.Solve(running, Level{OutletM: static})
			if err != nil {
				t.Fatal(err)
			}
			if flows := static < 19.5; (p.Outcome == Flowing) != flows || (p.FlowM3S > 0) != flows ||
				p.Outcome == Unsettled || p.Has(NotOpened) != not || p.Has(PushedShut) == flows {
				t.Errorf("static head %g m: %v, %g m3/s, %v", static, p.Outcome, p.FlowM3S, p.Flags)
			}
		}
	}
}
