package valve

import (
	"math"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

func duty(low, best, high float64) Duty {
	return Duty{
		Start:        basis.NewGiven("velocity", quantity.Velocity, 2, "test"),
		Deceleration: basis.NewAssumed("deceleration", quantity.Acceleration, best, low, high, "test", "test"),
	}
}

// TestBand: the band holds its best value and every single deviation, and names first what
// moves it most.
func TestBand(t *testing.T) {
	for _, typ := range Types() {
		p, err := typ.ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		s := In(998.2, typ.Positions[0])
		b, err := typ.ClosingBand(p, s, duty(5, 6, 8), nil)
		if err != nil {
			t.Fatal(err)
		}
		if b.Low < 0 || b.Low > b.Best || b.High < b.Best || len(b.Doubts) < 4 {
			t.Errorf("%s: %.3f to %.3f to %.3f from %d doubts", typ.Key, b.Low, b.Best, b.High, len(b.Doubts))
		}
		last := math.Inf(1)
		for _, d := range b.Doubts {
			if low, high := min(d.LowMS, d.HighMS), max(d.LowMS, d.HighMS); low < b.Low-1e-12 || high > b.High+1e-12 {
				t.Errorf("%s: %s moves it to %.3f and %.3f, outside the band %.3f to %.3f", typ.Key, d.Key, low, high, b.Low, b.High)
			}
			if d.Swing() > last {
				t.Errorf("%s: %s stands behind a smaller doubt", typ.Key, d.Key)
			}
			last = d.Swing()
		}
		m, err := typ.Build(p, s)
		if err != nil {
			t.Fatal(err)
		}
		if alone := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 6}); alone != b.Closing || alone.ReverseVelocityMS != b.Best {
			t.Errorf("%s: best of the band %+v, alone %+v", typ.Key, b.Closing, alone)
		}
	}
}

// TestBandNarrows: knowing the deceleration better narrows the band.
func TestBandNarrows(t *testing.T) {
	typ := typeNamed(t, "swing")
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	wide, err := typ.ClosingBand(p, In(998.2, Horizontal), duty(3, 6, 12), nil)
	if err != nil {
		t.Fatal(err)
	}
	narrow, err := typ.ClosingBand(p, In(998.2, Horizontal), duty(6, 6, 6), nil)
	if err != nil {
		t.Fatal(err)
	}
	if wide.Doubts[0].Key != "deceleration" || narrow.High-narrow.Low >= wide.High-wide.Low {
		t.Errorf("first doubt %s; band %.3f, and %.3f with the deceleration known", wide.Doubts[0].Key, wide.High-wide.Low, narrow.High-narrow.Low)
	}
	if _, err := typ.ClosingBand(p, In(998.2, Horizontal), duty(0, 0, 0), nil); err == nil {
		t.Error("a band without deceleration was given")
	}
}
