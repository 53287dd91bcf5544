package study

import (
	"math"
	"testing"
)

// Every pair of axes is a digital net: of 2^(t+6) points each of 8 by 8 cells holds exactly
// its part, where t is the sum of the degrees of the axes' polynomials less one each
// (Sobol 1967; Niederreiter 1992). Polynomials that are not primitive, or a slip in a
// direction number, break it.
func TestSobolFillsEvenly(t *testing.T) {
	degree := func(axis int) int {
		if axis == 0 {
			return 1
		}
		return sobolData[axis-1].degree
	}
	const side = 8
	n := 1 << (2*7 - 2 + 6)
	s := newSobol(mostDimensions, 3)
	cellOf := make([][]uint8, mostDimensions)
	for a := range cellOf {
		cellOf[a] = make([]uint8, n)
	}
	p := make([]float64, mostDimensions)
	for i := range n {
		s.point(i, p)
		for a, x := range p {
			cellOf[a][i] = uint8(x * side)
		}
	}
	for a := range mostDimensions {
		for b := range a {
			points := 1 << (degree(a) + degree(b) - 2 + 6)
			var cells [side * side]int
			for i := range points {
				cells[cellOf[a][i]*side+cellOf[b][i]]++
			}
			for _, c := range cells {
				if c != points/side/side {
					t.Errorf("axes %d and %d: a cell holds %d of %d points, %d are its part", a, b, c, points, points/side/side)
					break
				}
			}
		}
	}
}

// A sum of squares is integrated better than by chance.
func TestSobolIntegrates(t *testing.T) {
	const n, d = 4096, 8
	s := newSobol(d, 1)
	p := make([]float64, d)
	sum := 0.0
	for i := range n {
		s.point(i, p)
		f := 1.0
		for _, x := range p {
			f *= 1 + (x-0.5)/2
		}
		sum += f / n
	}
	if math.Abs(sum-1) > 2e-4 {
		t.Errorf("the mean is %.6f, exactly 1", sum)
	}
}

// First-order shares of y = 3x + z are 9/10 and 1/10.
func TestFirstOrder(t *testing.T) {
	s := newSobol(2, 5)
	const n = 2048
	x, z, y := make([]float64, n), make([]float64, n), make([]float64, n)
	p := make([]float64, 2)
	for i := range n {
		s.point(i, p)
		x[i], z[i], y[i] = p[0], p[1], 3*p[0]+p[1]
	}
	if a, b := firstOrder(x, y), firstOrder(z, y); math.Abs(a-0.9) > 0.02 || math.Abs(b-0.1) > 0.02 {
		t.Errorf("shares %.3f and %.3f, exactly 0.9 and 0.1", a, b)
	}
}
