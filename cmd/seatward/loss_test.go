package main

import (
	"math"
	"slices"
	"testing"

	"seatward/quantity"
)

// TestSpan: ranges and lists of the command line, as people write them.
func TestSpan(t *testing.T) {
	gpm := func(list ...float64) []float64 {
		for i := range list {
			list[i] /= quantity.US.In(quantity.Flow, 1)
		}
		return list
	}
	for _, tt := range []struct {
		text string
		want []float64
	}{
		{"450 gpm", gpm(450)},
		{"100 gpm, 450 gpm", gpm(100, 450)},
		{"70..110 gpm", gpm(70, 80, 100, 110)},
		{"100..200 gpm", gpm(100, 150, 200)},
		{"101..102 gpm", gpm(101, 102)},
		{"100 gpm, 100 gpm", nil},
		{"200 gpm, 100 gpm", nil},
		{"0 gpm", nil},
		{"0..100 gpm", nil},
		{"200..100 gpm", nil},
		{"100", nil},
		{"10 psi", nil},
		{"", nil},
		{"..", nil},
	} {
		got, err := span("--flow", tt.text, quantity.Flow, quantity.US, quantity.Reading{})
		if (err == nil) != (tt.want != nil) ||
			!slices.EqualFunc(got, tt.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9*b }) {
			t.Errorf("%q gives %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

// FuzzSpan: whatever is written, the numbers rise from above zero, are finite and not
// too many, or there is an error.
func FuzzSpan(f *testing.F) {
	for _, seed := range []string{
		"450 gpm", "5..80 L/s", "1 m3/h, 2 m3/h", "1e-300..1e300 gpm", "NaN gpm",
		"1..2..3 gpm", "1 gpm,,2 gpm", "±", "12 ± 20 % L/s",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		out, err := span("--flow", text, quantity.Flow, quantity.SI, quantity.Reading{})
		if err != nil {
			return
		}
		last := 0.0
		for _, x := range out {
			if !(x > last) || math.IsInf(x, 0) {
				t.Fatalf("%q gives %v", text, out)
			}
			last = x
		}
		if len(out) == 0 || len(out) > 200 {
			t.Fatalf("%q gives %d numbers", text, len(out))
		}
	})
}
