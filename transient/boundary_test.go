package transient

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// line1 is one pipe of 1000 m between two boundaries.
func line1(t testing.TB, from, to Boundary, change func(*Model)) *Network {
	t.Helper()
	m := Model{
		GravityMS2: g, StepS: 0.05,
		Pipes: []Pipe{{
			Name: "p", From: "a", To: "b", LengthM: 1000, DiameterM: 0.5, WaveSpeedMS: 1000, FlowM3S: 0.2,
			HeadM: 50,
		}},
		Nodes: map[string]Boundary{"a": from, "b": to},
	}
	if change != nil {
		change(&m)
	}
	n, err := New(m)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func advance(t testing.TB, n *Network, until float64, each func()) {
	t.Helper()
	for n.TimeS() < until-1e-9 {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
		if each != nil {
			each()
		}
	}
}

// A small oscillation of an air vessel has the period 2π √(L ∀/(g A n H)) of a rigid
// column on an air spring (derived here; the pipe's own elasticity is small beside the
// air's).
func TestAirVesselSwings(t *testing.T) {
	v := &AirVessel{VolumeM3: 20, Exponent: 1.2}
	n := line1(t, Level{50}, v, func(m *Model) { m.Pipes[0].FlowM3S = 0.01 })
	head, err := n.HeadAt("p", 1)
	if err != nil {
		t.Fatal(err)
	}
	var crossings []float64
	last := 0.0
	advance(t, n, 400, func() {
		if z := head() - 50; last < 0 && z >= 0 {
			crossings = append(crossings, n.TimeS())
			last = z
		} else {
			last = z
		}
	})
	area := math.Pi / 4 * 0.25
	// The water stored in the pipe acts as air of ∀ = gAL nH/a² would; a third of it counts.
	stored := g * area * 1000 * 1.2 * (50 + 10.33) / 1e6 / 3
	want := 2 * math.Pi * math.Sqrt(1000*(20+stored)/(g*area*1.2*(50+10.33)))
	if len(crossings) < 3 {
		t.Fatalf("it swings %d times", len(crossings))
	}
	if got := crossings[2] - crossings[1]; math.Abs(got/want-1) > 0.01 {
		t.Errorf("the period is %.2f s, %.2f s by the closed form", got, want)
	}
	if !(v.GreatestM3() > 20) {
		t.Error("the air never grew")
	}
}

// A relief valve that opens bounds the head of a stop near its setting, and lets out what
// the pipe brings.
func TestReliefValve(t *testing.T) {
	plain := line1(t, Level{50}, Junction{}, nil)
	r := &ReliefValve{SetM: 80, FullM: 85, CdAM2: 0.05, GravityMS2: g}
	eased := line1(t, Level{50}, r, nil)
	most := func(n *Network) float64 {
		top := 0.0
		head, _ := n.HeadAt("p", 1)
		advance(t, n, 3, func() { top = math.Max(top, head()) })
		return top
	}
	if a, b := most(plain), most(eased); !(a > 150 && b < 90 && b > 80) {
		t.Errorf("the head reaches %.1f m, with the valve %.1f m", a, b)
	}
	if !(r.Spilt > 0.05) {
		t.Errorf("it let out %g m³", r.Spilt)
	}
}

// An air valve holds the head near its own elevation as long as air is in, and closes
// when the air is out.
func TestAirValve(t *testing.T) {
	// A pump stop: the flow into the pipe ends at once, the column runs on.
	a := &AirValve{ElevationM: 10, InCdAM2: 0.01, OutCdAM2: 0.001, GravityMS2: g}
	n := line1(t, a, Level{20}, func(m *Model) { m.Pipes[0].HeadM = 20 })
	head, _ := n.HeadAt("p", 0)
	least := math.Inf(1)
	advance(t, n, 60, func() { least = math.Min(least, head()) })
	if !(least < 10 && least > 5) {
		t.Errorf("the head falls to %.2f m, the valve stands at 10 m", least)
	}
	if !(a.AirMostM3 > 0.1) {
		t.Errorf("%g m³ of air came in", a.AirMostM3)
	}
	if a.SlamHeadM == 0 {
		t.Error("the air never went out again")
	}
}

// A rigid branch at a header acts as an elastic one of the same column, but for its
// waves: the flow after a stop at its supply falls alike.
func TestHeaderAndBranchAgree(t *testing.T) {
	falls := func(rigid bool) float64 {
		chain := &Chain{}
		supply := Level{HeadM: 30}
		branch := &Branch{Supply: supply, Chain: chain}
		m := Model{
			GravityMS2: g, StepS: 0.01, MostAdjust: 1e-9,
			Pipes: []Pipe{{
				Name: "main", From: "header", To: "out", LengthM: 1000, DiameterM: 0.5, WaveSpeedMS: 1000,
				FlowM3S: 0.2, HeadM: 50,
			}},
			Nodes: map[string]Boundary{"out": Level{50}},
		}
		if rigid {
			chain.InertanceS2 = 30 / (g * math.Pi / 4 * 0.25)
			m.Nodes["header"] = &Header{Branches: []*Branch{branch}, FlowsM3S: []float64{0.2}}
		} else {
			m.Pipes = append(m.Pipes, Pipe{
				Name: "branch", From: "start", To: "header", LengthM: 30, DiameterM: 0.5,
				WaveSpeedMS: 1000, FlowM3S: 0.2, HeadM: 50,
			})
			m.Nodes["header"], m.Nodes["start"] = Junction{}, branch
		}
		n, err := New(m)
		if err != nil {
			t.Fatal(err)
		}
		q, _ := n.FlowAt("main", 0)
		advance(t, n, 1.5, nil)
		return q()
	}
	rigid, elastic := falls(true), falls(false)
	if !(rigid < 0.19) || math.Abs(rigid-elastic) > 0.002 {
		t.Errorf("the flow falls to %.4f in a rigid branch, %.4f in an elastic one", rigid, elastic)
	}
}

// Like pipes laid once are as several.
func TestParallelPipes(t *testing.T) {
	run := func(parallel bool) float64 {
		pipe := Pipe{From: "a", To: "join", LengthM: 100, DiameterM: 0.3, WaveSpeedMS: 1000, FlowM3S: 0.05, HeadM: 50}
		m := Model{
			GravityMS2: g, StepS: 0.05,
			Pipes: []Pipe{{
				Name: "main", From: "join", To: "b", LengthM: 1000, DiameterM: 0.5, WaveSpeedMS: 1000,
				FlowM3S: 0.1, HeadM: 50,
			}},
			Nodes: map[string]Boundary{"join": Junction{}, "b": Level{50}, "a": Level{40}},
		}
		one := pipe
		one.Name = "one"
		if parallel {
			one.Parallel = 2
			m.Pipes = append(m.Pipes, one)
		} else {
			two := pipe
			two.Name = "two"
			m.Pipes = append(m.Pipes, one, two)
		}
		n, err := New(m)
		if err != nil {
			t.Fatal(err)
		}
		advance(t, n, 3, nil)
		q, _ := n.FlowAt("main", 0.5)
		return q()
	}
	if a, b := run(false), run(true); math.Abs(a-b) > 1e-12 {
		t.Errorf("two pipes give %.15g, one that stands for two %.15g", a, b)
	}
}

// The scheme is of first order where friction is: halving the step halves the error.
func TestConvergenceOrder(t *testing.T) {
	peak := func(reaches int) float64 {
		n, err := New(Model{
			GravityMS2: g, StepS: 1 / float64(reaches),
			Pipes: []Pipe{{
				Name: "p", From: "a", To: "b", LengthM: 1000, DiameterM: 0.2, WaveSpeedMS: 1000,
				FrictionFactor: 0.03, FlowM3S: 0.06, HeadM: 120,
			}},
			Nodes: map[string]Boundary{"a": Level{120}, "b": Junction{}},
		})
		if err != nil {
			t.Fatal(err)
		}
		head, _ := n.HeadAt("p", 1)
		advance(t, n, 1.5, nil)
		return head()
	}
	a, b, c := peak(20), peak(40), peak(80)
	order := math.Log2(math.Abs(a-b) / math.Abs(b-c))
	t.Logf("order %.3f", order)
	if order < 0.9 || order > 2.2 {
		t.Errorf("the order is %.2f: heads %.6f, %.6f, %.6f", order, a, b, c)
	}
}

// A grid that cannot be says which pipe, and why.
func TestGridsThatCannotBe(t *testing.T) {
	pipe := func(name string, length float64) Pipe {
		return Pipe{Name: name, From: name, To: "end", LengthM: length, DiameterM: 0.3, WaveSpeedMS: 1000}
	}
	for _, c := range []struct {
		name string
		m    Model
		want string
	}{
		{"no pipe", Model{}, "needs a pipe"},
		{"length of none", Model{Pipes: []Pipe{pipe("p", 0)}}, "the length is 0"},
		{"not a number", Model{Pipes: []Pipe{pipe("p", math.NaN())}}, "the length is NaN"},
		{"step too short", Model{Pipes: []Pipe{pipe("p", 100)}, StepS: 1e-7}, "at least 1e-06"},
		{"too many reaches", Model{Pipes: []Pipe{pipe("p", 1e6)}, StepS: 1e-5}, "reaches"},
		{"short beside long", Model{Pipes: []Pipe{pipe("p", 0.01), pipe("q", 1e5)}}, "rigid column"},
		{"nothing there", Model{Pipes: []Pipe{{
			Name: "p", From: "x", To: "y", LengthM: 1, DiameterM: 1,
			WaveSpeedMS: 1,
		}}}, `"x"`},
		{"misfit", Model{Pipes: []Pipe{pipe("p", 100), pipe("q", 149)}, StepS: 0.1}, "wave speed changed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.m.Nodes == nil && c.name != "nothing there" {
				c.m.Nodes = map[string]Boundary{}
				for _, p := range c.m.Pipes {
					c.m.Nodes[p.From], c.m.Nodes["end"] = Level{0}, Junction{}
				}
			}
			if _, err := New(c.m); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want something on %q", err, c.want)
			}
		})
	}
}

// The grid changes no wave speed by more than was allowed, whatever the pipes.
func TestGridHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Model{Nodes: map[string]Boundary{"a": Level{0}, "b": Junction{}}, MostAdjust: 0.03}
		for i := range rapid.IntRange(1, 4).Draw(t, "pipes") {
			m.Pipes = append(m.Pipes, Pipe{
				Name: string(rune('p' + i)), From: "a", To: "b",
				LengthM: rapid.Float64Range(5, 3000).Draw(t,
					"length"), DiameterM: 0.3, WaveSpeedMS: rapid.Float64Range(250, 1400).Draw(t, "wave"),
			})
		}
		n, err := New(m)
		if err != nil {
			return // told in words; TestGridsThatCannotBe holds those
		}
		for _, x := range n.Adjusted() {
			if math.Abs(x) > 0.03+1e-9 {
				t.Errorf("a wave speed is changed by %.2f%%", 100*x)
			}
		}
	})
}

// humped is a source whose head rises with the flow, more steeply than any pipe takes up,
// before it falls.
type humped struct{}

func (humped) Gain(_, _, q float64) (head, slope float64) {
	switch {
	case q < 0.1:
		return 20 - 100*q, -100
	case q < 0.2:
		return 10 + 1e5*(q-0.1), 1e5
	}
	return 10 + 1e4 - 1e5*(q-0.2), -1e5
}
func (humped) Commit(_, _, _ float64) {}

// Where two flows hold, that is taken which the flow before the step leads to.
func TestTheNearerOfTwoFlows(t *testing.T) {
	const b = 1e3
	for _, c := range []struct{ before, offer float64 }{{0, -15}, {0.09, -15}, {0.25, -15}, {0.25, 1000}, {0, 1000}} {
		chain := &Chain{Sources: []Source{humped{}}}
		chain.begin(c.before)
		q, err := chain.solve(Step{StepS: 0.01}, c.offer, b)
		head, _ := humped{}.Gain(0, 0, q)
		if err != nil || math.Abs(c.offer+head-b*q) > 1e-3 {
			t.Errorf("from %g: %g m³/s (%v), %g m open", c.before, q, err, c.offer+head-b*q)
		}
		if c.offer < 0 && (q > 0.15) != (c.before > 0.15) {
			t.Errorf("from %g it goes to %g m³/s", c.before, q)
		}
	}
}

// The first node may be a cavity: it opens, and its volume is what the flow leaves.
func TestCavityAtTheFirstNode(t *testing.T) {
	n := line1(t, Junction{}, Level{10}, func(m *Model) {
		m.Pipes[0].HeadM, m.Pipes[0].FlowM3S, m.Gas = 10, 0.4, &Gas{VaporHeadM: -10}
	})
	head, _ := n.HeadAt("p", 0)
	least := math.Inf(1)
	advance(t, n, 12, func() { least = math.Min(least, head()) })
	if least < -10 || least > -9.9 {
		t.Errorf("the head falls to %.4f m, vapor stands at −10 m", least)
	}
	opened := false
	for _, l := range n.lines {
		l.gas.watch(l, 0)
	}
	for _, v := range n.lines[0].gas.volume {
		opened = opened || v > 0
	}
	if !opened {
		t.Error("no cavity is kept")
	}
}

// TestBareRun: a run that keeps nothing beside has the same heads, to the bit, and one that is
// to end at vapor cannot be such.
func TestBareRun(t *testing.T) {
	run := func(opt Options) (*Network, *Result, error) {
		n := line1(t, Junction{}, Level{10}, func(m *Model) {
			m.Pipes[0].HeadM, m.Pipes[0].FlowM3S, m.Gas = 10, 0.4, &Gas{VaporHeadM: -10}
		})
		opt.DurationS = 12
		r, err := n.Run(context.Background(), opt)
		return n, r, err
	}
	whole, kept, err := run(Options{})
	if err != nil {
		t.Fatal(err)
	}
	bare, none, err := run(Options{Bare: true})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(whole.lines[0].h, bare.lines[0].h) || !slices.Equal(whole.lines[0].q, bare.lines[0].q) ||
		kept.Steps != none.Steps {
		t.Error("a bare run is another run")
	}
	if len(kept.Envelopes) != 1 || len(kept.Cavities) == 0 || none.Envelopes != nil || none.Cavities != nil {
		t.Errorf("%d envelopes and %d cavities; bare %d and %d", len(kept.Envelopes), len(kept.Cavities),
			len(none.Envelopes), len(none.Cavities))
	}
	if _, _, err := run(Options{Bare: true, FloorM: -10}); err == nil {
		t.Error("a bare run is to end at vapor")
	}
}
