package draw

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// many is more axes than a station and its valve have numbers.
const many = 96

func sequence(t testing.TB, axes int, seed uint64) *Sequence {
	t.Helper()
	s, err := NewSequence(axes, seed)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Each of 2^k equal parts of every axis holds exactly one of 2^k points for every k.
func TestSequenceFillsEachAxis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(0, 10).Draw(t, "k")
		axis := rapid.IntRange(0, many-1).Draw(t, "axis")
		s, err := NewSequence(many, rapid.Uint64().Draw(t, "seed"))
		if err != nil {
			t.Fatal(err)
		}
		seen := make([]bool, 1<<k)
		for i := range seen {
			u := s.At(i, axis)
			if u <= 0 || u >= 1 {
				t.Fatalf("coordinate %v", u)
			}
			cell := int(u * float64(len(seen)))
			if seen[cell] {
				t.Fatalf("part %d of %d holds two points", cell, len(seen))
			}
			seen[cell] = true
		}
	})
}

// The points of two axes must not go together: at 64 points no pair correlates by more than
// 4.5 standard errors of chance, at 1,024 not either.
func TestSequencePairsAreUncorrelated(t *testing.T) {
	for _, tt := range []struct {
		points int
		most   float64
	}{{64, 4.5 / 8}, {1024, 4.5 / 32}} {
		s := sequence(t, many, 13)
		for a := range many {
			for b := range a {
				r := 0.0
				for i := range tt.points {
					r += 12 * (s.At(i, a) - 0.5) * (s.At(i, b) - 0.5) / float64(tt.points)
				}
				if math.Abs(r) > tt.most {
					t.Errorf("%d points: axes %d and %d correlate by %.3f", tt.points, a, b, r)
				}
			}
		}
	}
}

// A product is integrated better than by chance, whose standard error is 0.0066: what each
// axis adds alone is even, and 4,096 points leave the products of two (0.0009).
func TestSequenceIntegrates(t *testing.T) {
	const n, axes = 4096, 8
	s := sequence(t, axes, 1)
	p := make([]float64, axes)
	sum := 0.0
	for i := range n {
		s.Point(i, p)
		f := 1.0
		for _, x := range p {
			f *= 1 + (x-0.5)/2
		}
		sum += f / n
	}
	if math.Abs(sum-1) > 3e-3 {
		t.Errorf("the mean is %.6f, exactly 1", sum)
	}
}

func TestSequenceAxes(t *testing.T) {
	for _, axes := range []int{0, -1} {
		if _, err := NewSequence(axes, 1); err == nil {
			t.Errorf("%d axes are taken", axes)
		}
	}
	// An axis does not depend on how many there are.
	if a, b := sequence(t, 3, 9), sequence(t, many, 9); a.At(77, 2) != b.At(77, 2) {
		t.Error("an axis depends on how many there are")
	}
}
