package moc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// odd draws numbers of every kind, with those at the edges of float64 among them.
func odd() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-1e3, 1e3),
		rapid.SampledFrom([]float64{
			0, math.Copysign(0, -1), 5e-324, -5e-324, math.Inf(1), math.Inf(-1), 1e308, -1e308,
			math.NaN(),
		}),
	)
}

func same(a, b float64) bool {
	return math.Float64bits(a) == math.Float64bits(b) || math.IsNaN(a) && math.IsNaN(b)
}

// Every path gives the bits of the plain one, and leaves the ends alone.
func TestPathsGiveTheSameBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 67).Draw(t, "nodes")
		draw := func(name string) []float64 { return rapid.SliceOfN(odd(), n, n).Draw(t, name) }
		h0, q0, lo, hi := draw("h0"), draw("q0"), draw("lo"), draw("hi")
		c := Reach{
			B: rapid.Float64Range(1, 1e4).Draw(t, "b"), R: rapid.Float64Range(0, 100).Draw(t, "r"),
			HalfInvB: rapid.Float64Range(1e-5, 1).Draw(t, "half"),
		}
		wantH, wantQ, wantLo, wantHi := make([]float64, n), make([]float64, n), copied(lo), copied(hi)
		for i := range wantH {
			wantH[i], wantQ[i] = 7, 9
		}
		plain.interior(wantH, wantQ, h0, q0, c)
		plain.extremes(wantLo, wantHi, h0)
		for _, p := range paths() {
			h1, q1, a, b := make([]float64, n), make([]float64, n), copied(lo), copied(hi)
			for i := range h1 {
				h1[i], q1[i] = 7, 9
			}
			p.interior(h1, q1, h0, q0, c)
			p.extremes(a, b, h0)
			for i := range h1 {
				if !same(h1[i], wantH[i]) || !same(q1[i], wantQ[i]) {
					t.Fatalf("%s, node %d of %d: %v %v, plain %v %v", p.kind, i, n, h1[i], q1[i], wantH[i], wantQ[i])
				}
				if !same(a[i], wantLo[i]) || !same(b[i], wantHi[i]) {
					t.Fatalf("%s, node %d of %d: extremes %v %v, plain %v %v", p.kind, i, n, a[i], b[i], wantLo[i],
						wantHi[i])
				}
			}
			if n > 0 && (h1[0] != 7 || q1[n-1] != 9) {
				t.Fatalf("%s touches the ends", p.kind)
			}
		}
	})
}

// A steady flow with friction stays to the last bit where the numbers allow it.
func TestSteadyStays(t *testing.T) {
	const n, q = 50, 0.25
	c := Reach{B: 1024, R: 16, HalfInvB: 1.0 / 2048}
	h0, q0, h1, q1 := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range h0 {
		h0[i], q0[i] = 100-float64(i)*c.R*q*q, q
	}
	copy(h1, h0)
	copy(q1, q0)
	Interior(h1, q1, h0, q0, c)
	for i := range h0 {
		if h1[i] != h0[i] || q1[i] != q {
			t.Fatalf("node %d moves to %v, %v", i, h1[i], q1[i])
		}
	}
}

func TestUnequalLengths(t *testing.T) {
	Interior(make([]float64, 3), make([]float64, 30), make([]float64, 20), make([]float64, 9), Reach{})
	Extremes(make([]float64, 3), nil, make([]float64, 20))
	Interior(nil, nil, nil, nil, Reach{})
	if chosen.kind == "" {
		t.Error("the path has no name")
	}
}

func TestNoAllocation(t *testing.T) {
	x := make([][]float64, 6)
	for i := range x {
		x[i] = make([]float64, 300)
	}
	for _, p := range paths() {
		if got := testing.AllocsPerRun(100, func() {
			p.interior(x[0], x[1], x[2], x[3], Reach{B: 1, R: 1, HalfInvB: 1})
			p.extremes(x[4], x[5], x[0])
		}); got != 0 {
			t.Errorf("%s: %g allocations", p.kind, got)
		}
	}
	friction := &Friction{Terms: make([]Memory, 2), State: make([]float64, 600), Loss: x[4]}
	gas := Gas{B: 1, Inverse: 1, StepM2: 1, AmountM4: 1}
	nodes := &Nodes{x[0], x[1], x[2], x[3], x[5], x[5], x[5], x[5], x[5], x[5], nil, gasStep{}}
	if got := testing.AllocsPerRun(100, func() {
		Interior(x[0], x[1], x[2], x[3], Reach{B: 1, R: 1, HalfInvB: 1})
		Interior(x[0], x[1], x[2], x[3], Reach{B: 1, R: 1, HalfInvB: 1, Loss: x[4]})
		Extremes(x[4], x[5], x[0])
		friction.Recall(x[1], x[3])
		gas.Step(nodes, 1, 298)
		nodes.Far = x[4]
		gas.Step(nodes, 1, 298)
	}); got != 0 {
		t.Errorf("%g allocations", got)
	}
}

// A pipe's arrays may lie in larger ones: no path writes around them, and what
// stands around them does not count.
func TestNeighborsInMemory(t *testing.T) {
	const around = 16
	framed := func(n int) (all, inner []float64) {
		all = make([]float64, n+2*around)
		for i := range all {
			all[i] = math.Inf(1)
		}
		inner = all[around : around+n : around+n]
		clear(inner)
		return all, inner
	}
	for _, p := range paths() {
		for n := range 68 {
			var all, in [6][]float64
			for k := range all {
				all[k], in[k] = framed(n)
			}
			p.interior(in[0], in[1], in[2], in[3], Reach{B: 10, R: 1, HalfInvB: 0.05})
			p.extremes(in[4], in[5], in[0])
			for k := range all {
				for i, v := range all[k] {
					if inside := i >= around && i < around+n; inside && v != 0 || !inside && !math.IsInf(v, 1) {
						t.Fatalf("%s, %d nodes: array %d holds %v at %d", p.kind, n, k, v, i-around)
					}
				}
			}
		}
	}
}
