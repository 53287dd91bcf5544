package study

import (
	"math"
	"testing"

	"seatward/internal/draw"
)

// First-order shares of y = 3x + z are 9/10 and 1/10; the standard error of a share S from n
// draws is 2 √(S (1-S)/n), and three of them are allowed.
func TestFirstOrder(t *testing.T) {
	s, err := draw.NewSequence(2, 5)
	if err != nil {
		t.Fatal(err)
	}
	const n = 2048
	x, z, y := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		x[i], z[i] = s.At(i, 0), s.At(i, 1)
		y[i] = 3*x[i] + z[i]
	}
	most := 3 * 2 * math.Sqrt(0.9*0.1/n)
	if a, b := firstOrder(x, y), firstOrder(z, y); math.Abs(a-0.9) > most || math.Abs(b-0.1) > most {
		t.Errorf("shares %.3f and %.3f, exactly 0.9 and 0.1", a, b)
	}
}
