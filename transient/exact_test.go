package transient

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"
)

const g = 9.81

// frictionless is a pipe from a reservoir to an end that shuts at once.
func frictionless(t testing.TB, reaches int, end Boundary) *Network {
	t.Helper()
	n, err := New(Model{
		GravityMS2: g, StepS: 1.0 / float64(reaches),
		Pipes: []Pipe{{
			Name: "p", From: "res", To: "end", LengthM: 1000, DiameterM: 1, WaveSpeedMS: 1000,
			FlowM3S: math.Pi / 4, HeadM: 150,
		}},
		Nodes: map[string]Boundary{"res": Level{150}, "end": end},
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// The square wave of a sudden stop returns after 50 cycles as it went (d'Alembert).
func TestSquareWave(t *testing.T) {
	n := frictionless(t, 20, Junction{})
	valve, _ := n.HeadAt("p", 1)
	quarter, _ := n.HeadAt("p", 0.25)
	rise := 1000 * 1 / g
	for n.TimeS() < 200 {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
		phase := math.Mod(n.TimeS()-1e-9, 4)
		want := 150 + rise
		if phase > 2 {
			want = 150 - rise
		}
		if math.Abs(phase-2) > 0.06 && phase > 0.06 && phase < 3.94 && math.Abs(valve()-want) > 1e-9 {
			t.Fatalf("at %g s the head is %.12g, want %.12g", n.TimeS(), valve(), want)
		}
		want = 150
		switch {
		case phase > 0.75 && phase < 1.25:
			want += rise
		case phase > 2.75 && phase < 3.25:
			want -= rise
		}
		if math.Abs(math.Mod(phase+0.25, 0.5)) > 0.06 && math.Abs(math.Mod(phase+0.25, 0.5)) < 0.44 &&
			math.Abs(quarter()-want) > 1e-9 {
			t.Fatalf("at %g s the head at a quarter is %.12g, want %.12g", n.TimeS(), quarter(), want)
		}
	}
}

// A steady flow stays for 100 L/a, with friction, in a tree and in a loop.
func TestSteadyStays(t *testing.T) {
	pipe := func(name, from, to string, length, d, q, h float64) Pipe {
		return Pipe{
			Name: name, From: from, To: to, LengthM: length, DiameterM: d, WaveSpeedMS: 1000,
			FrictionFactor: 0.02, LocalLoss: 2, FlowM3S: q, HeadM: h,
		}
	}
	fall := func(p Pipe) float64 {
		a := p.AreaM2()
		return (p.FrictionFactor*p.LengthM/p.DiameterM + p.LocalLoss) / (2 * g * a * a) * p.FlowM3S * math.Abs(
			p.FlowM3S)
	}
	one := pipe("one", "res", "fork", 600, 0.3, 0.1, 80)
	upper := pipe("upper", "fork", "join", 400, 0.2, 0.05, 80-fall(one))
	lower := upper
	lower.Name = "lower"
	last := pipe("last", "join", "out", 500, 0.3, 0.1, 80-fall(one)-fall(upper))
	n, err := New(Model{
		GravityMS2: g, Pipes: []Pipe{one, upper, lower, last},
		Nodes: map[string]Boundary{
			"res": Level{80}, "fork": Junction{}, "join": Junction{},
			"out": Level{80 - fall(one) - fall(upper) - fall(last)},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	for n.TimeS() < 60 {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
	}
	for _, l := range n.lines {
		for i := range l.h {
			if math.Abs(l.q[i]-l.pipe.FlowM3S) > 1e-12 || math.Abs(l.hi[i]-l.lo[i]) > 1e-10 {
				t.Errorf("%s node %d drifts: flow %g, head by %g", l.pipe.Name, i, l.q[i]-l.pipe.FlowM3S,
					l.hi[i]-l.lo[i])
			}
		}
	}
}

// Water that is stored is the water that came in less that which went out: of the
// frictionless pipe, ∫(Qin − Qout) dt = gA/a² ∫(H − H₀) dx, to round-off.
func TestMassCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reaches := rapid.IntRange(2, 30).Draw(t, "reaches")
		shut := rapid.Float64Range(0, 3).Draw(t, "shut")
		n, err := New(Model{
			GravityMS2: g, StepS: 1 / float64(reaches),
			Pipes: []Pipe{{
				Name: "p", From: "res", To: "end", LengthM: 1000, DiameterM: 1, WaveSpeedMS: 1000,
				FlowM3S: 0.7, HeadM: 150,
			}},
			Nodes: map[string]Boundary{
				"res": Level{150},
				"end": Outlet{
					OutsideM: 0, CdAM2: 0.7 / math.Sqrt(2*g*150), GravityMS2: g,
					Opening: func(ts float64) float64 {
						return math.Max(0, 1-ts/(shut+1e-9))
					},
				},
			},
		})
		if err != nil {
			t.Fatal(err)
		}
		l := n.lines[0]
		end := l.last()
		var came float64
		area := l.pipe.AreaM2()
		for range 4 * reaches {
			in, out := l.q[0], l.q[end]
			if err := n.Advance(); err != nil {
				t.Fatal(err)
			}
			came += 0.5 * n.stepS * (in + l.q[0] - out - l.q[end])
			stored := 0.0
			for i := range end {
				stored += 0.5 * (l.h[i] + l.h[i+1] - 300) * 1000 / float64(reaches)
			}
			if stored *= g * area / 1e6; math.Abs(came-stored) > 1e-10 {
				t.Fatalf("at %g s %.15g m³ came, %.15g are stored", n.TimeS(), came, stored)
			}
		}
	})
}

// Friction and passive boundaries only take energy: ∫(½ρV² + ½ρ(gH'/a)²) dx never grows.
func TestEnergyFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Pipe{
			Name: "p", From: "res", To: "end", LengthM: 1000, DiameterM: 0.3, WaveSpeedMS: 1000,
			FrictionFactor: rapid.Float64Range(0, 0.05).Draw(t, "f"),
			LinearLossS:    rapid.Float64Range(0, 100).Draw(t, "laminar"), FlowM3S: 0.05, HeadM: 0,
		}
		n, err := New(Model{
			GravityMS2: g, StepS: 0.05, Pipes: []Pipe{p},
			Nodes: map[string]Boundary{"res": Level{0}, "end": Junction{}},
		})
		if err != nil {
			t.Fatal(err)
		}
		energy := func() float64 {
			sum := 0.0
			l := n.lines[0]
			for i := range l.last() {
				for _, k := range []int{i, i + 1} {
					v, h := l.q[k]/p.AreaM2(), g*l.h[k]/1000
					sum += v*v + h*h
				}
			}
			return sum
		}
		before := math.Inf(1)
		for range 400 {
			if err := n.Advance(); err != nil {
				t.Fatal(err)
			}
			now := energy()
			if now > before*(1+1e-9) {
				t.Fatalf("energy grows at %g s from %g to %g", n.TimeS(), before, now)
			}
			before = now
		}
	})
}

func TestNoAllocation(t *testing.T) {
	n := frictionless(t, 50, Junction{})
	head, _ := n.HeadAt("p", 1)
	rec := newRecorder([]Probe{{"head", head}}, 100)
	if got := testing.AllocsPerRun(1000, func() {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
		rec.note()
	}); got != 0 {
		t.Errorf("%g allocations in a step", got)
	}
}

func TestRunsEnd(t *testing.T) {
	n := frictionless(t, 50, Junction{})
	r, err := n.Run(context.Background(), Options{DurationS: 1e9, MostSteps: 500})
	if err != nil || r.Stopped == "" || r.Steps != 500 {
		t.Errorf("a run past its budget: %v, %+v", err, r)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := frictionless(t, 50, Junction{}).Run(ctx, Options{DurationS: 10}); err == nil {
		t.Error("a cancelled run goes on")
	}
}
