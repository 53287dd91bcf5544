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
		out = append([]path{{"AVX2", interior2, extremes2, recall2}}, out...)
	}
	if cpu.X86.HasAVX512F {
		out = append([]path{{"AVX-512", interior512, extremes512, recall512}}, out...)
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

func recall2(state, loss, change []float64, m Memory) {
	n := len(state) / lanes2 * lanes2
	if n > 0 {
		recallAVX2(&state[0], &loss[0], &change[0], n, m.Decay, m.Gain)
	}
	plainRecall(state[n:], loss[n:], change[n:], m)
}

func recall512(state, loss, change []float64, m Memory) {
	n := len(state) / lanes512 * lanes512
	if n > 0 {
		recallAVX512(&state[0], &loss[0], &change[0], n, m.Decay, m.Gain)
	}
	plainRecall(state[n:], loss[n:], change[n:], m)
}
