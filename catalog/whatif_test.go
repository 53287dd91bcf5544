package catalog

import (
	"testing"

	"seatward/valve"
)

// A valve that was tested, with another mass: what the water does is as it was measured,
// so a heavier disc stands less far open; its measured closing is not that of the heavier
// one, and the item as it is sold stays.
func TestWhatIfOfATestedValve(t *testing.T) {
	it := items(t, good(t))["hinged/6in"]
	it.Measured = append(it.Measured, Measured{Kind: closingCurve, X: []float64{1, 4}, Y: []float64{0.1, 0.5}})
	before, measured := it.Params["disc_mass"].SI, len(it.Measured)
	s := valve.In(testWaterKgM3, valve.Horizontal)
	share := func(factor float64) float64 {
		t.Helper()
		tried, err := it.WhatIf(map[string]float64{"disc_mass": factor * before})
		if err != nil {
			t.Fatal(err)
		}
		if _, closing := tried.MeasuredClosing(valve.Horizontal); closing || !tried.MeasuredSteady() {
			t.Errorf("of %d measured curves these are left: %d", measured, len(tried.Measured))
		}
		m, err := tried.Build(s)
		if err != nil {
			t.Fatal(err)
		}
		half := m.At(0.5 * m.Stroke)
		near(t, "measured loss", half.Loss(1), 1.5, 1e-9)
		return m.Settle(0.9).Share
	}
	near(t, "opening of the valve as it is", share(1), 0.6, 1e-3)
	if heavy := share(1.5); !(heavy < 0.58) {
		t.Errorf("a heavier disc stands open by %g", heavy)
	}
	if it.Params["disc_mass"].SI != before || len(it.Measured) != measured {
		t.Error("the item as it is sold has changed")
	}
}
