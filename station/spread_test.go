package station

import (
	"math"
	"strings"
	"testing"
)

const plainCurve = "[[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]"

// Ranges on points of the curve are kept as one factor on all heads: the widest.
func TestCurveSpread(t *testing.T) {
	if st := must(t, good); st.Pumps[0].CurveSpread.Known() {
		t.Errorf("a curve without ranges has the spread %v", st.Pumps[0].CurveSpread)
	}
	for points, want := range map[string][2]float64{
		"[[0 gpm, 95 ft ± 2 %], [400 gpm, 74 ft], [800 gpm, 38 ft]]":       {0.98, 1.02},
		"[[0 gpm, 90..100 ft], [400 gpm, 74 ft ± 3 %], [800 gpm, 38 ft]]":  {90.0 / 95, 100.0 / 95},
		"[[0 gpm, 95 (94..95.95) ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]": {94.0 / 95, 1.01},
		"[[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft], [1000 gpm, 0..4 ft]]": {
			1,
			1,
		}, // near the end it says nothing
	} {
		st := must(t, strings.Replace(good, plainCurve, points, 1))
		s := st.Pumps[0].CurveSpread
		if want[0] == 1 && want[1] == 1 {
			if s.Known() {
				t.Errorf("%s: spread %v", points, s)
			}
			continue
		}
		if math.Abs(s.Low-want[0]) > 1e-12 || s.SI != 1 || math.Abs(s.High-want[1]) > 1e-12 {
			t.Errorf("%s: %g to %g about %g, want %v", points, s.Low, s.High, s.SI, want)
		}
		if h := st.Pumps[0].ShutoffHead; math.Abs(h.Low/h.SI-want[0]) > 1e-12 || math.Abs(h.High/h.SI-want[1]) > 1e-12 {
			t.Errorf("%s: shut-off head %v", points, h)
		}
	}
	// A range of the flow counts by the slope of the curve.
	s := must(t, strings.Replace(good, plainCurve, "[[0 gpm, 95 ft], [380..420 gpm, 74 ft], [800 gpm, 38 ft]]",
		1)).Pumps[0].CurveSpread
	if !(s.Low < 0.99 && s.Low > 0.96 && s.High > 1.01 && s.High < 1.04) {
		t.Errorf("a range of the flow gives %g to %g", s.Low, s.High)
	}
}

// WithCurve moves the whole curve and leaves the first station alone; Vary does the same.
func TestWithCurve(t *testing.T) {
	st := must(t, strings.Replace(good, plainCurve, "[[0 gpm, 95 ft ± 4 %], [400 gpm, 74 ft], [800 gpm, 38 ft]]", 1))
	up := st.WithCurve(0, 1.03)
	varied := vary(t, st, "pumps[0].curve_spread", 1.03)
	for i := range 12 {
		q := float64(i) * 0.005
		h := st.Pumps[0].Performance.Head(q)
		for name, other := range map[string]*Station{"WithCurve": up, "Vary": varied} {
			if got := other.Pumps[0].Performance.Head(q); math.Abs(got.SI-1.03*h.SI) > 1e-9*math.Abs(h.SI)+1e-12 ||
				got.Condition != h.Condition {
				t.Errorf("%s: %g m at %g m³/s, want %g", name, got.SI, q, 1.03*h.SI)
			}
		}
	}
	if math.Abs(up.Pumps[0].ShutoffHead.SI-1.03*st.Pumps[0].ShutoffHead.SI) > 1e-9 || st.Pumps[0].CurveSpread.SI != 1 ||
		up.Pumps[0].CurveSpread.SI != 1.03 {
		t.Errorf("shut-off head %v, spread %v", up.Pumps[0].ShutoffHead, up.Pumps[0].CurveSpread)
	}
	if back := varied.WithCurve(0, 1).Pumps[0].ShutoffHead.SI; math.Abs(back-st.Pumps[0].ShutoffHead.SI) > 1e-9 {
		t.Errorf("back at 1 the shut-off head is %g m", back)
	}
}

// Ranges of the profile's elevations are kept, above the datum too.
func TestProfileRanges(t *testing.T) {
	st := must(t, strings.Replace(good, "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[0 ft, 6 ft], [900 ft, 9..11 ft], [3400 ft, 45 ft ± 2 ft]]}", 1))
	for u, want := range map[float64]float64{-1: 9, -0.5: 9.5, 0: 10, 1: 11} {
		if got := st.WithProfile(u).Main.Profile[1].ElevationM / 0.3048; math.Abs(got-want) > 1e-9 ||
			math.Abs(st.Main.Profile[1].ElevationM/0.3048-10) > 1e-9 {
			t.Errorf("at %g of its range the point lies at %g ft, want %g", u, got, want)
		}
	}
	axis, assumed := st.Axis()
	for i, want := range [][3]float64{{6, 6, 6}, {10, 9, 11}, {45, 43, 47}} {
		p, a := st.Main.Profile[i], axis[i]
		for k, got := range []float64{p.ElevationM, p.LowM, p.HighM} {
			if math.Abs(got/0.3048-want[k]) > 1e-9 {
				t.Errorf("point %d: %g ft, want %g", i, got/0.3048, want[k])
			}
		}
		if assumed || math.Abs(a.HighM-a.LowM-(p.HighM-p.LowM)) > 1e-12 ||
			math.Abs(a.ElevationM-st.AboveDatum(p.ElevationM)) > 1e-12 {
			t.Errorf("point %d above the datum: %+v", i, a)
		}
	}
}
