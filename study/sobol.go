package study

import "math/bits"

// sobolData are the primitive polynomials and first direction numbers of Joe and Kuo
// (2008), dimensions 2 to 21 (from memory; a test holds each pair of them to even filling).
var sobolData = []struct {
	degree int
	poly   uint32
	m      []uint32
}{
	{1, 0, []uint32{1}},
	{2, 1, []uint32{1, 3}},
	{3, 1, []uint32{1, 3, 1}},
	{3, 2, []uint32{1, 1, 1}},
	{4, 1, []uint32{1, 1, 3, 3}},
	{4, 4, []uint32{1, 3, 5, 13}},
	{5, 2, []uint32{1, 1, 5, 5, 17}},
	{5, 4, []uint32{1, 1, 5, 5, 5}},
	{5, 7, []uint32{1, 1, 7, 11, 19}},
	{5, 11, []uint32{1, 1, 5, 1, 1}},
	{5, 13, []uint32{1, 1, 1, 3, 11}},
	{5, 14, []uint32{1, 3, 5, 5, 31}},
	{6, 1, []uint32{1, 3, 3, 9, 7, 49}},
	{6, 13, []uint32{1, 1, 1, 15, 21, 21}},
	{6, 16, []uint32{1, 3, 1, 13, 27, 49}},
	{6, 19, []uint32{1, 1, 1, 15, 7, 5}},
	{6, 22, []uint32{1, 3, 1, 15, 13, 25}},
	{6, 25, []uint32{1, 1, 5, 5, 19, 61}},
	{7, 1, []uint32{1, 3, 7, 11, 23, 15, 103}},
	{7, 4, []uint32{1, 3, 7, 13, 13, 15, 69}},
}

// mostDimensions is how many ranges a sample can span.
const mostDimensions = 21

// sobol gives points of the unit cube that fill it evenly (Sobol 1967), shifted by a seed
// so that no point lies on an edge.
type sobol struct {
	directions [][32]uint32
	shift      []uint32
}

func newSobol(dimensions int, seed uint64) *sobol {
	s := &sobol{directions: make([][32]uint32, dimensions), shift: make([]uint32, dimensions)}
	for d := range dimensions {
		v := &s.directions[d]
		if d == 0 {
			for i := range v {
				v[i] = 1 << (31 - i)
			}
		} else {
			row := sobolData[d-1]
			for i := range v {
				if i < row.degree {
					v[i] = row.m[i] << (31 - i)
					continue
				}
				x := v[i-row.degree] ^ v[i-row.degree]>>row.degree
				for k := 1; k < row.degree; k++ {
					if row.poly>>(row.degree-1-k)&1 == 1 {
						x ^= v[i-k]
					}
				}
				v[i] = x
			}
		}
		// SplitMix64 (Steele, Lea and Flood 2014) makes a shift of its own for each axis.
		z := seed + uint64(d+1)*0x9e3779b97f4a7c15
		z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
		z = (z ^ z>>27) * 0x94d049bb133111eb
		s.shift[d] = uint32((z ^ z>>31) >> 32)
	}
	return s
}

// point is the i-th one, by the Gray code of i.
func (s *sobol) point(i int, out []float64) {
	gray := uint32(i) ^ uint32(i)>>1
	for d := range out {
		x := s.shift[d]
		for g := gray; g != 0; g &= g - 1 {
			x ^= s.directions[d][bits.TrailingZeros32(g)]
		}
		out[d] = (float64(x) + 0.5) / (1 << 32)
	}
}
