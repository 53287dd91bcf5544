package catalog

import (
	"testing"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// closings are the bands of a valve at the decelerations, as `seatward closing` draws them: it
// stops from just above its full-open velocity, and from a quarter less and more.
func closings(t *testing.T, id string, ratesMS2 ...float64) []valve.Band {
	t.Helper()
	it, err := Find(demoCatalogs(t), id)
	if err != nil {
		t.Fatal(err)
	}
	m := built(t, it)
	draws, err := it.Draw(valve.Setting{DensityKgM3: testWaterKgM3, InclinationRad: m.InclinationRad}, valve.CurveDraws)
	if err != nil {
		t.Fatal(err)
	}
	start := 1.02 * m.FullOpenVelocity().VelocityMS
	var out []valve.Band
	for _, rate := range ratesMS2 {
		band, err := draws.Close(valve.Duty{
			Start: basis.NewAssumed("start", quantity.Velocity, start, 0.75*start, 1.25*start, "test",
				basis.DerivedHere),
			Deceleration: basis.NewSimulated("deceleration", quantity.Acceleration, rate, "test"),
		})
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		out = append(out, band)
	}
	return out
}

// TestDemoMediansRise: each closing curve's median rises with the deceleration. Where it falls
// between two neighbors it stays inside the scatter of the first: an element that swings
// about its falling equilibrium meets the seat early or late by its phase.
func TestDemoMediansRise(t *testing.T) {
	rates := []float64{1, 2, 3, 4, 6, 10, 15}
	for _, f := range demoCatalogs(t)[0].Families {
		it := f.Items[0]
		for _, other := range f.Items {
			if other.Size.DN == 200 && (it.Size.DN != 200 || other.Variant == "sinking") {
				it = other
			}
		}
		bands, fell := closings(t, it.ID, rates...), 0
		for i := 1; i < len(bands); i++ {
			if bands[i].Median > bands[i-1].Median {
				continue
			}
			fell++
			if bands[i].Median < bands[i-1].Low || bands[i].High < bands[i-1].High {
				t.Errorf("%s: median %.3f m/s at %g m/s², %.3f to %.3f before it", it.ID, bands[i].Median, rates[i],
					bands[i-1].Low, bands[i-1].High)
			}
		}
		if fell > 1 || bands[len(bands)-1].Median < bands[0].Median {
			t.Errorf("%s: the median falls %d times", it.ID, fell)
		}
	}
}

// TestDemoAgreesWithThePairsOfHandbooks: what the open element bears, K V² of the full-open
// pair, is that of the handbook's pairs within the 30 % of their velocities, for swing and
// tilting discs from 6 to 24 in (Technical Paper 410: 50 f_T with 60 √v and 100 f_T with
// 35 √v; 40, 30, 20 f_T with 80 √v and 120, 90, 60 f_T with 30 √v; f_T of clean steel pipe).
// The plain swing check is the straight pattern, so its K and V must be those of the one
// pair: 5 % and 30 %.
func TestDemoAgreesWithThePairsOfHandbooks(t *testing.T) {
	friction := func(dn int) float64 {
		switch {
		case dn <= 150:
			return 0.015
		case dn <= 250:
			return 0.014
		case dn <= 400:
			return 0.013
		}
		return 0.012
	}
	size := func(dn int, small, middle, large float64) float64 {
		switch {
		case dn <= 200:
			return small
		case dn <= 350:
			return middle
		}
		return large
	}
	const straight, angled, steep, flat = 2.37, 1.42, 3.17, 1.27 // m/s
	count := 0
	eachDemo(t, func(t *testing.T, it *Item) {
		dn := it.Size.DN
		if dn < 150 || dn > 600 {
			return
		}
		f := friction(dn)
		var pairs [2]float64
		switch it.Family.ID {
		case "swing":
			pairs = [2]float64{100 * f * angled * angled, 50 * f * straight * straight}
		case "tilting-disc":
			pairs = [2]float64{size(dn, 120, 90, 60) * f * flat * flat, size(dn, 40, 30, 20) * f * steep * steep}
		default:
			return
		}
		count++
		open := built(t, it).FullOpenVelocity()
		if bears := open.Loss * open.VelocityMS * open.VelocityMS; bears < pairs[0]/1.69 || bears > pairs[1]*1.69 {
			t.Errorf("%s: K V² %.2f m²/s², %.2f and %.2f by the pairs", it.ID, bears, pairs[0], pairs[1])
		}
		if it.Family.ID == "swing" {
			near(t, it.ID+" loss", open.Loss, 50*f, 0.05)
			near(t, it.ID+" full-open velocity", open.VelocityMS, straight, 0.3)
		}
	})
	if count < 15 {
		t.Errorf("only %d valves were looked at", count)
	}
}

// TestDemoSprings: valves with springs crack at what the trade knows of its types, a quarter
// to half a psi (common practice, no source), and are fully open between 6 and 9 ft/s.
func TestDemoSprings(t *testing.T) {
	eachDemo(t, func(t *testing.T, it *Item) {
		if it.Family.ID != "axial-spring" && it.Family.ID != "dual-plate" {
			return
		}
		m := built(t, it)
		if psi := m.CrackingHeadM() * testWaterKgM3 * 9.80665 / 6894.757; psi < 0.24 || psi > 0.55 {
			t.Errorf("%s cracks at %.2f psi", it.ID, psi)
		}
		if v := m.FullOpenVelocity().VelocityMS / 0.3048; v < 6 || v > 9 {
			t.Errorf("%s is fully open at %.1f ft/s", it.ID, v)
		}
	})
}
