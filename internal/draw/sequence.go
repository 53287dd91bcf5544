package draw

import (
	"fmt"
	"math/bits"
)

// Sequence gives points of the unit cube that fill every axis evenly: the first 2^k points,
// for every k, have exactly one in each of the 2^k equal parts of every axis (a nested Latin
// hypercube; McKay, Beckman and Conover 1979). Point i does not depend on how many are drawn.
//
// Each axis is a van der Corput sequence with the scrambling of Owen (1995), and the points
// from 2^k to 2^(k+1) stand in an order of their own on each axis. A digital sequence (Sobol)
// would fill pairs of axes more evenly too, but at the few dozen points that an estimate
// starts from, some pairs of its 40 axes lie on one diagonal.
type Sequence struct{ seeds []uint64 }

// NewSequence makes a sequence; every seed gives another one. An axis depends on the seed and
// its number alone.
func NewSequence(axes int, seed uint64) (*Sequence, error) {
	if axes < 1 {
		return nil, fmt.Errorf("draw: %d axes; a sequence has at least 1", axes)
	}
	s := &Sequence{make([]uint64, axes)}
	for d := range axes {
		s.seeds[d] = mix(mix(seed) + uint64(d))
	}
	return s, nil
}

// Axes is how many coordinates a point has.
func (s *Sequence) Axes() int { return len(s.seeds) }

// At is the coordinate of point i (from 0) on an axis, strictly between 0 and 1.
func (s *Sequence) At(i, axis int) float64 {
	seed := s.seeds[axis]
	x := shuffled(uint32(i), seed)
	// Turned about, bit k of x is digit k of the point. Each step changes a bit by those below
	// it alone, so a digit is turned over or not by a choice that depends on the digits before it.
	x += uint32(seed)
	x ^= x * (uint32(seed>>32) &^ 1)
	x *= uint32(seed>>16) | 1
	x ^= x * (uint32(seed>>8) &^ 1)
	return (float64(bits.Reverse32(x)) + 0.5) / (1 << 32)
}

// Point writes point i into out, one coordinate for each axis.
func (s *Sequence) Point(i int, out []float64) {
	for d := range out {
		out[d] = s.At(i, d)
	}
}

// shuffled puts the numbers from 2^k to 2^(k+1) into another order.
func shuffled(i uint32, seed uint64) uint32 {
	if i < 2 {
		return i
	}
	k := bits.Len32(i) - 1
	first := uint32(1) << k
	mask, j := first-1, i-first
	for round := range uint64(4) {
		// An odd factor, a sum and a shift to the right each give every number once.
		h := mix(seed ^ (uint64(k)<<8|round)<<32)
		j = (j*(uint32(h)|1) + uint32(h>>32)) & mask
		j ^= j >> (k/2 + 1)
	}
	return first + j
}

// mix is SplitMix64 (Steele, Lea and Flood 2014).
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
