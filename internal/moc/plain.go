package moc

import "math"

// plain runs everywhere and says what the other paths must give to the last bit.
var plain = path{"plain", plainInterior, plainExtremes}

// plainInterior works out the drop Q (B - R |Q|) once for each node and carries
// it along, for two nodes need it. The conversions keep compilers that fuse
// multiply and add (arm64 and others) from doing so.
func plainInterior(h1, q1, h0, q0 []float64, c Reach) {
	n := len(h0)
	if n < 3 {
		return
	}
	h1, q1, q0 = h1[:n], q1[:n], q0[:n]
	left, here := drop(q0[0], c), drop(q0[1], c)
	for i := 1; i < n-1; i++ {
		right := drop(q0[i+1], c)
		cp := h0[i-1] + left
		cm := h0[i+1] - right
		h1[i] = float64(0.5 * (cp + cm))
		q1[i] = float64((cp - cm) * c.HalfInvB)
		left, here = here, right
	}
}

// drop is Q (B - R |Q|), m.
func drop(q float64, c Reach) float64 {
	return float64(q * (c.B - float64(c.R*math.Abs(q))))
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
