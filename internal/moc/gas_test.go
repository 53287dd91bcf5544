package moc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near draws numbers of a size at which gas opens and shuts, and now and then odd ones.
func near(strange bool, low, high float64) *rapid.Generator[float64] {
	usual := rapid.Float64Range(low, high)
	if strange {
		return rapid.OneOf(usual, usual, odd())
	}
	return usual
}

// drawNodes draws a pipe, with heads on either side of the floors.
func drawNodes(t *rapid.T, n int, vapor, strange bool) *Nodes {
	draw := func(name string, low, high float64) []float64 {
		return rapid.SliceOfN(near(strange, low, high), n, n).Draw(t, name)
	}
	out := &Nodes{
		H: draw("h", -12, 8), Q: draw("q", -1, 1), Volume: draw("volume", 0, 1e-3), Floor: draw("floor", -11, -9),
		Loss: draw("loss", -1, 1),
		H1:   draw("h1", -12, 8), Q1: draw("q1", -1, 1), Volume1: make([]float64, n),
	}
	out.Up, out.Up1 = copied(out.Q), copied(out.Q1)
	if vapor {
		out.Far = draw("far", -8, -4)
		for i := range n {
			if out.H[i] <= out.Far[i] {
				out.Up[i] += 0.01
			}
		}
	}
	return out
}

func copied(x []float64) []float64 { return append([]float64(nil), x...) }

// fresh is the pipe with arrays of its own for what is found.
func (n *Nodes) fresh() *Nodes {
	c := *n
	c.H1, c.Q1, c.Up1, c.Volume1 = copied(n.H1), copied(n.Q1), copied(n.Up1), copied(n.Volume1)
	return &c
}

// Every path moves gas, and passes it by, with the bits of the plain one.
func TestGasGivesTheSameBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		count, vapor := rapid.IntRange(3, 45).Draw(t, "nodes"), rapid.Bool().Draw(t, "vapor")
		from := rapid.IntRange(1, count-2).Draw(t, "from")
		end := rapid.IntRange(from, count-1).Draw(t, "end")
		n := drawNodes(t, count, vapor, rapid.Bool().Draw(t, "strange"))
		n.step = Gas{
			B: rapid.Float64Range(1, 1e4).Draw(t, "b"), R: rapid.Float64Range(0, 100).Draw(t, "r"),
			Inverse:  rapid.Float64Range(1e-5, 1).Draw(t, "inverse"),
			StepM2:   rapid.Float64Range(1e-6, 1e-2).Draw(t, "step"),
			AmountM4: rapid.Float64Range(1e-9, 1e-3).Draw(t, "amount"),
		}.step()
		run := func(p path, n *Nodes) (most float64, felt bool) {
			if vapor {
				return p.vapor(n, from, end)
			}
			return p.gas(n, from, end), true
		}
		want := n.fresh()
		wantMost, wantFelt := run(plain, want)
		for _, p := range paths() {
			got := n.fresh()
			most, felt := run(p, got)
			if !same(most, wantMost) || felt != wantFelt {
				t.Fatalf("%s: most %v felt %v, plain %v %v", p.kind, most, felt, wantMost, wantFelt)
			}
			for i := range count {
				for k, x := range [][2][]float64{
					{got.H1, want.H1},
					{got.Q1, want.Q1},
					{got.Up1, want.Up1},
					{got.Volume1, want.Volume1},
				} {
					if !same(x[0][i], x[1][i]) {
						t.Fatalf("%s, node %d of %d, array %d: %v, plain %v", p.kind, i, count, k, x[0][i], x[1][i])
					}
				}
			}
		}
	})
}

// The head and volume that a step finds fulfil the equations of the node.
func TestGasFulfilsItsEquations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNodes(t, 3, false, false)
		const stepS, b = 0.01, 500.0
		g := Gas{B: b, R: 3, Inverse: 1 / b, StepM2: stepS / b, AmountM4: 1e-4}
		g.Step(n, 1, 1)
		cp := n.H[0] + n.Q[0]*(b-3*math.Abs(n.Q[0])) - n.Loss[0]
		cm := n.H[2] - n.Up[2]*(b-3*math.Abs(n.Up[2])) + n.Loss[2]
		h, up, q := n.H1[1], n.Up1[1], n.Q1[1]
		grown := n.Volume[1] + stepS*(q-up)
		scale := math.Abs(cp) + math.Abs(cm) + math.Abs(h)
		if math.Abs(cp-b*up-h) > 1e-12*scale || math.Abs(cm+b*q-h) > 1e-12*scale {
			t.Fatalf("characteristics: %v %v against %v", cp-b*up, cm+b*q, h)
		}
		if least := 1e-12 * (math.Abs(n.Volume[1]) + stepS*(math.Abs(q)+math.Abs(up)) + scale*stepS/b); math.Abs(
			grown-n.Volume1[1]) > least {
			t.Fatalf("volume %v, by the flows %v", n.Volume1[1], grown)
		}
		if x := h - n.Floor[1]; math.Abs(n.Volume1[1]*x-g.AmountM4) > 1e-9*g.AmountM4+1e-13*scale*n.Volume1[1] {
			t.Fatalf("volume %v times %v m, not %v", n.Volume1[1], x, g.AmountM4)
		}
	})
}

// Every path remembers, and counts what lies above, with the bits of the plain one.
func TestMemoryGivesTheSameBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, count := rapid.IntRange(0, 45).Draw(t, "nodes"), rapid.IntRange(0, 5).Draw(t, "terms")
		draw := func(name string, n int) []float64 { return rapid.SliceOfN(odd(), n, n).Draw(t, name) }
		q0, q1, h, loss := draw("q0", n), draw("q1", n), draw("h", n), draw("loss", n)
		state := draw("state", n*count)
		terms := make([]Memory, count)
		for i := range terms {
			terms[i] = Memory{rapid.Float64Range(0, 1).Draw(t, "decay"), rapid.Float64Range(0, 1e3).Draw(t, "gain")}
		}
		c := Reach{B: 100, R: 2, HalfInvB: 0.005}
		c.Loss = loss
		want, wantH, wantQ := Friction{terms, 3, copied(state), copied(loss)}, make([]float64, n), make([]float64, n)
		plain.recall(&want, q1, q0)
		plain.remembering(wantH, wantQ, h, q0, c)
		wantAbove := plain.above(h, q0)
		for _, p := range paths() {
			got, gotH, gotQ := Friction{terms, 3, copied(state), copied(loss)}, make([]float64, n), make([]float64, n)
			p.recall(&got, q1, q0)
			p.remembering(gotH, gotQ, h, q0, c)
			if count := p.above(h, q0); count != wantAbove {
				t.Fatalf("%s: %d above, plain %d", p.kind, count, wantAbove)
			}
			for k, x := range [][2][]float64{
				{got.State, want.State},
				{got.Loss, want.Loss},
				{gotH, wantH},
				{gotQ, wantQ},
			} {
				for i := range x[0] {
					if !same(x[0][i], x[1][i]) {
						t.Fatalf("%s, array %d, place %d of %d: %v, plain %v", p.kind, k, i, n, x[0][i], x[1][i])
					}
				}
			}
		}
	})
}
