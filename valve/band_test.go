package valve

import (
	"errors"
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

// drawn is the example of a type, n times.
func drawn(t testing.TB, typ *Type, n int) *Draws {
	t.Helper()
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	d, err := typ.Draw(p, In(998.2, typ.Positions[0]), n, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func bandUnder(t testing.TB, d *Draws, u Duty) Band {
	t.Helper()
	b, err := d.Close(u)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestBand: low, median and high rise, the best estimate is the closing of the best numbers,
// and what moves the band most is named first. One draw of the ball has a pocket narrower
// than the ball, and is reported as failed.
func TestBand(t *testing.T) {
	for _, typ := range Types() {
		b := bandUnder(t, drawn(t, typ, FewDraws), duty(5, 6, 8))
		doubts := b.Doubts()
		if !(0 <= b.Low && b.Low < b.Median && b.Median < b.High) || b.Draws != FewDraws || b.Failed > 1 ||
			len(doubts) < 4 {
			t.Errorf("%s: %.3f to %.3f to %.3f from %d doubts; %d of %d draws failed", typ.Key, b.Low, b.Median, b.High,
				len(doubts), b.Failed, b.Draws)
		}
		last := math.Inf(1)
		for _, d := range doubts {
			if d.Swing() > last {
				t.Errorf("%s: %s stands behind a smaller doubt", typ.Key, d.Key)
			}
			last = d.Swing()
		}
		m := example(t, typ, typ.Positions[0])
		if alone := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 6}); alone != b.Closing ||
			alone.ReverseVelocityMS != b.Best {
			t.Errorf("%s: best of the band %+v, alone %+v", typ.Key, b.Closing, alone)
		}
	}
}

// TestBandNarrows: knowing the deceleration better narrows the band.
func TestBandNarrows(t *testing.T) {
	d := drawn(t, typeNamed(t, "swing"), CurveDraws)
	wide, narrow := bandUnder(t, d, duty(3, 6, 12)), bandUnder(t, d, duty(6, 6, 6))
	if first := wide.Doubts()[0].Key; first != "deceleration" || narrow.High-narrow.Low >= wide.High-wide.Low {
		t.Errorf("first doubt %s; band %.3f, and %.3f with the deceleration known", first, wide.High-wide.Low,
			narrow.High-narrow.Low)
	}
	if _, err := d.Close(duty(0, 0, 0)); err == nil {
		t.Error("a band without deceleration was given")
	}
}

// TestFailedDrawsAreTold: a draw that cannot be built does not narrow the band in silence.
func TestFailedDrawsAreTold(t *testing.T) {
	typ := typeNamed(t, "swing")
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	built := 0
	d, err := typ.Draw(p, In(998.2, Horizontal), 16, func(m *Mechanism) (*Mechanism, error) {
		if built++; built%4 == 0 {
			return nil, errors.New("no measured curve")
		}
		return m, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if b := bandUnder(t, d, duty(5, 6, 8)); b.Failed != 4 || b.Draws != 16 || !(b.High > b.Low) {
		t.Errorf("%d of %d draws failed, band %.3f to %.3f", b.Failed, b.Draws, b.Low, b.High)
	}
}

// TestDrawsAreCloseEnough holds the wider steps of draws to what is said of
// them, against steps a thousand times as fine.
func TestDrawsAreCloseEnough(t *testing.T) {
	for _, typ := range Types() {
		m := example(t, typ, typ.Positions[0])
		var sum, count float64
		for _, rate := range []float64{0.5, 1, 2, 4, 8, 16} {
			for _, start := range []float64{0.7, 1, 1.5, 2, 3} {
				fine, err := m.Close(Deceleration{StartMS: start, RateMS2: rate, Tolerance: drawTolerance / 1000})
				if err != nil {
					t.Fatal(err)
				}
				if fine.Outcome != ClosedShut {
					continue
				}
				wide, err := m.Close(Deceleration{StartMS: start, RateMS2: rate, Tolerance: drawTolerance})
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
