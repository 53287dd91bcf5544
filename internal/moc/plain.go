package moc

// plain runs everywhere and says what the other paths must give to the last bit.
var plain = path{
	kind: "plain", interior: plainInterior, remembering: plainRemembering, extremes: plainExtremes,
	above: plainAbove, recall: plainRecall, gas: plainGas, vapor: plainVapor,
}

// plainInterior works out Q (R |Q| - B) once for each node and carries it along, for two
// nodes need it; two nodes a turn, so that what is carried stays in its register. The sign
// of that term, half as a variable, and the branch on the sign of Q, which the processor
// guesses, each save a move: together they take a quarter off the time. The conversions
// keep compilers that fuse multiply and add (arm64 and others) from doing so.
func plainInterior(h1, q1, h0, q0 []float64, c Reach) {
	n := len(h0)
	if n < 3 {
		return
	}
	h1, q1, q0 = h1[:n], q1[:n], q0[:n]
	b, r, halfInvB, half := c.B, c.R, c.HalfInvB, halved
	odd, even := gain(q0[0], b, r), gain(q0[1], b, r)
	i := 1
	for ; i < n-2; i += 2 {
		left := h0[i-1] - odd
		odd = gain(q0[i+1], b, r)
		right := h0[i+1] + odd
		h1[i], q1[i] = float64((left+right)*half), float64((left-right)*halfInvB)

		left = h0[i] - even
		even = gain(q0[i+2], b, r)
		right = h0[i+2] + even
		h1[i+1], q1[i+1] = float64((left+right)*half), float64((left-right)*halfInvB)
	}
	if i < n-1 {
		left, right := h0[i-1]-odd, h0[i+1]+gain(q0[i+1], b, r)
		h1[i], q1[i] = float64((left+right)*half), float64((left-right)*halfInvB)
	}
}

// halved is a variable so that it is kept in a register.
var halved = 0.5

// gain is Q (R |Q| - B), m.
func gain(q, b, r float64) float64 {
	loss := float64(r * q)
	if q < 0 {
		loss = -loss
	}
	return float64(q * (loss - b))
}

func plainRemembering(h1, q1, h0, q0 []float64, c Reach) {
	n := len(h0)
	h1, q1, q0 = h1[:n], q1[:n], q0[:n]
	loss := c.Loss[:n]
	for i := 1; i < n-1; i++ {
		left := h0[i-1] - gain(q0[i-1], c.B, c.R) - loss[i-1]
		right := h0[i+1] + gain(q0[i+1], c.B, c.R) + loss[i+1]
		h1[i], q1[i] = float64((left+right)*halved), float64((left-right)*c.HalfInvB)
	}
}

func plainExtremes(lo, hi, h []float64) {
	lo, hi = lo[:len(h)], hi[:len(h)]
	for i, v := range h {
		if v < lo[i] {
			lo[i] = v
		}
		if v > hi[i] {
			hi[i] = v
		}
	}
}
