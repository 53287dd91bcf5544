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

// TestEndsAreCloseEnough holds the wider steps at the ends of ranges to what is said of
// them, against steps a thousand times as fine.
func TestEndsAreCloseEnough(t *testing.T) {
	for _, typ := range Types() {
		m := example(t, typ, typ.Positions[0])
		var sum, count float64
		for _, rate := range []float64{0.5, 1, 2, 4, 8, 16} {
			for _, start := range []float64{0.7, 1, 1.5, 2, 3} {
				fine, err := m.Close(Deceleration{StartMS: start, RateMS2: rate, Tolerance: endTolerance / 1000})
				if err != nil {
					t.Fatal(err)
				}
				if fine.Outcome != ClosedShut {
					continue
				}
				wide, err := m.Close(Deceleration{StartMS: start, RateMS2: rate, Tolerance: endTolerance})
				if err != nil {
					t.Fatal(err)
				}
				off := math.Abs(wide.ReverseVelocityMS-fine.ReverseVelocityMS) / max(fine.ReverseVelocityMS, 0.02)
				sum, count = sum+off, count+1
				if off > 0.02 {
					t.Errorf("%s from %g m/s at %g m/s²: %.2f %% off", typ.Key, start, rate, 100*off)
				}
			}
		}
		if count < 10 || sum/count > 0.0025 {
			t.Errorf("%s: %.3f %% off in the mean of %g closings", typ.Key, 100*sum/count, count)
		}
	}
}
