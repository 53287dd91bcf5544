package moc

import "golang.org/x/sys/cpu"

//go:generate go -C ../gen/asm run . -out ../../moc/moc_amd64.s -stubs ../../moc/stubs_amd64.go -pkg moc

// The least lengths that the vector loops take; shorter pipes go the plain way.
const (
	lanes2   = 4
	lanes512 = 8
)

// paths lists what this machine can run, the fastest first.
func paths() []path {
	out := []path{plain}
	if cpu.X86.HasAVX2 {
		out = append([]path{{
			kind: "AVX2", interior: interior2, remembering: remembering2, extremes: extremes2,
			above: above2, recall: recall2, gas: gas2, vapor: vapor2,
		}}, out...)
	}
	if cpu.X86.HasAVX512F {
		out = append([]path{{
			kind: "AVX-512", interior: interior512, remembering: remembering512, extremes: extremes512,
			above: above512, recall: recall512, gas: gas512, vapor: vapor512,
		}}, out...)
	}
	return out
}

func interior2(h1, q1, h0, q0 []float64, c Reach) {
	if len(h0) < lanes2+2 {
		plainInterior(h1, q1, h0, q0, c)
		return
	}
	interiorAVX2(&h1[0], &q1[0], &h0[0], &q0[0], len(h0), c.B, c.R, c.HalfInvB)
}

func interior512(h1, q1, h0, q0 []float64, c Reach) {
	if len(h0) < lanes512+2 {
		plainInterior(h1, q1, h0, q0, c)
		return
	}
	interiorAVX512(&h1[0], &q1[0], &h0[0], &q0[0], len(h0), c.B, c.R, c.HalfInvB)
}

func extremes2(lo, hi, h []float64) {
	if len(h) < lanes2 {
		plainExtremes(lo, hi, h)
		return
	}
	extremesAVX2(&lo[0], &hi[0], &h[0], len(h))
}

func extremes512(lo, hi, h []float64) {
	if len(h) < lanes512 {
		plainExtremes(lo, hi, h)
		return
	}
	extremesAVX512(&lo[0], &hi[0], &h[0], len(h))
}

func remembering2(h1, q1, h0, q0 []float64, c Reach) {
	if len(h0) < lanes2+2 {
		plainRemembering(h1, q1, h0, q0, c)
		return
	}
	rememberingAVX2(&h1[0], &q1[0], &h0[0], &q0[0], &c.Loss[0], len(h0), c.B, c.R, c.HalfInvB)
}

func recall2(f *Friction, q1, q0 []float64) {
	n := len(f.Loss) / lanes2 * lanes2
	if n > 0 && len(f.Terms) > 0 {
		recallAVX2(&f.State[0], &f.Loss[0], &q1[0], &q0[0], &f.Terms[0].Decay, n, len(f.Loss), len(f.Terms), f.AtOnce)
	} else {
		n = 0
	}
	f.recallFrom(n, q1, q0)
}

func gas2(n *Nodes, from, end int) (most float64) {
	whole := (end - from) / lanes2 * lanes2
	if whole > 0 {
		i := from
		most = gasAVX2(&n.H1[i], &n.Q1[i], &n.Up1[i], &n.Volume1[i], &n.H[i], &n.Q[i], &n.Up[i], &n.Volume[i],
			&n.Floor[i], &n.Loss[i], &n.step[0], whole)
	}
	return max0(plainGas(n, from+whole, end), most)
}

func vapor2(n *Nodes, from, end int) (most float64, felt bool) {
	whole, any := (end-from)/lanes2*lanes2, 0
	if whole > 0 {
		i := from
		most, any = vaporAVX2(&n.H1[i], &n.Q1[i], &n.Up1[i], &n.Volume1[i], &n.H[i], &n.Q[i], &n.Up[i], &n.Volume[i],
			&n.Floor[i], &n.Loss[i], &n.Far[i], &n.step[0], whole)
	}
	rest, felt := plainVapor(n, from+whole, end)
	return max0(rest, most), felt || any != 0
}

func above2(h, floor []float64) int {
	n := len(h) / lanes2 * lanes2
	if n > 0 {
		if i := aboveAVX2(&h[0], &floor[0], n); i < n {
			return aboveFrom(i, h, floor)
		}
	}
	return aboveFrom(n, h, floor)
}

func remembering512(h1, q1, h0, q0 []float64, c Reach) {
	if len(h0) < lanes512+2 {
		plainRemembering(h1, q1, h0, q0, c)
		return
	}
	rememberingAVX512(&h1[0], &q1[0], &h0[0], &q0[0], &c.Loss[0], len(h0), c.B, c.R, c.HalfInvB)
}

func recall512(f *Friction, q1, q0 []float64) {
	n := len(f.Loss) / lanes512 * lanes512
	if n > 0 && len(f.Terms) > 0 {
		recallAVX512(&f.State[0], &f.Loss[0], &q1[0], &q0[0], &f.Terms[0].Decay, n, len(f.Loss), len(f.Terms), f.AtOnce)
	} else {
		n = 0
	}
	f.recallFrom(n, q1, q0)
}

func gas512(n *Nodes, from, end int) (most float64) {
	whole := (end - from) / lanes512 * lanes512
	if whole > 0 {
		i := from
		most = gasAVX512(&n.H1[i], &n.Q1[i], &n.Up1[i], &n.Volume1[i], &n.H[i], &n.Q[i], &n.Up[i], &n.Volume[i],
			&n.Floor[i], &n.Loss[i], &n.step[0], whole)
	}
	return max0(plainGas(n, from+whole, end), most)
}

func vapor512(n *Nodes, from, end int) (most float64, felt bool) {
	whole, any := (end-from)/lanes512*lanes512, 0
	if whole > 0 {
		i := from
		most, any = vaporAVX512(&n.H1[i], &n.Q1[i], &n.Up1[i], &n.Volume1[i], &n.H[i], &n.Q[i], &n.Up[i], &n.Volume[i],
			&n.Floor[i], &n.Loss[i], &n.Far[i], &n.step[0], whole)
	}
	rest, felt := plainVapor(n, from+whole, end)
	return max0(rest, most), felt || any != 0
}

func above512(h, floor []float64) int {
	n := len(h) / lanes512 * lanes512
	if n > 0 {
		if i := aboveAVX512(&h[0], &floor[0], n); i < n {
			return aboveFrom(i, h, floor)
		}
	}
	return aboveFrom(n, h, floor)
}
