package station

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"
	"seatward/basis"
	"seatward/quantity"
)

// heads are the numbers of a station above its datum.
func heads(st *Station) []float64 {
	axis, _ := st.Axis()
	out := []float64{
		st.OutletHeadM(), st.OutletAboveDatum() + st.headOf(st.OutletPressure), st.WellLowM(),
		st.ValveAboveDatum(),
	}
	for _, p := range axis {
		out = append(out, p.ChainageM, p.ElevationM)
	}
	top, above := st.HighPoint()
	if above {
		out = append(out, top.ElevationM)
	}
	return out
}

func same(t rapid.TB, what string, a, b []float64, within float64) {
	t.Helper()
	if len(a) != len(b) {
		t.Fatalf("%s: %v against %v", what, a, b)
	}
	for i := range a {
		if !(math.Abs(a[i]-b[i]) <= within) {
			t.Errorf("%s: number %d is %.12g against %.12g", what, i, a[i], b[i])
		}
	}
}

// booster is a booster station with the levels and the profile given.
const booster = `
station: Booster
units: SI
fluid: {kind: drinking water, temperature: 10 °C}
valve: {size: DN150, position: horizontal}
pumps: [{name: P1, count: 2, speed: 2940 rpm, submersible: no, curve: [[0 L/s, 61 m], [20 L/s, 54 m], [38 L/s, 34 m]]}]
branch: {runs: [{material: steel, size: DN150, class: STD, length: 6 m}]}
levels: {%s}
main: {runs: [{material: ductile iron, class: K9, size: DN200, length: 850 m}], profile: [%s]}
`

// The same hydraulics stated by pressures and by levels have the same heads above the
// datum: a pressure is a column of the liquid, p/(ρ g), derived here.
func TestPressuresAreLevels(t *testing.T) {
	byPressure := resolved(t, fmt.Sprintf(booster,
		"wet_well_high: 0 m, wet_well_low: 0 m, outlet: 0 m, suction_pressure: 4 bar, outlet_pressure: 7 bar", "[0 m, 0 m], [850 m, 0 m]"))
	column := func(pa float64) float64 {
		return pa / (byPressure.Fluid.Density.SI * quantity.StandardGravity)
	}
	byLevel := resolved(t, fmt.Sprintf(booster,
		fmt.Sprintf("wet_well_high: %.12f m, wet_well_low: %.12f m, outlet: %.12f m", column(4e5), column(4e5),
			column(7e5)), "[0 m, 0 m], [850 m, 0 m]"))
	same(t, "by pressure and by level", heads(byPressure), heads(byLevel), 1e-9)
	if want := -column(4e5); math.Abs(byPressure.ValveAboveDatum()-want) > 1e-9 {
		t.Errorf("the valve stands %g m above the datum, not %g", byPressure.ValveAboveDatum(), want)
	}
	// The files below give levels to 1 µm, for water of 999.7 kg/m³: a table figure for
	// 10 °C under the air, where the density assumed here is at the pressure of a station.
	for _, pair := range [][2]string{{"boostA", "boostB"}, {"rating-by-pressure", "rating-by-level"}} {
		a, b := shared(t, "booster-"+pair[0]), shared(t, "booster-"+pair[1])
		same(t, pair[0]+" and "+pair[1], heads(a), heads(b), 2e-6)
	}
	// An outlet pressure without a profile: the pipe lies where the levels say.
	same(t, "with and without a level profile", heads(shared(t, "booster-po")), heads(shared(t, "booster-poA")), 1e-9)
}

func shared(t *testing.T, name string) *Station {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	data = bytes.Replace(data, []byte("10 °C"), []byte("10 °C, density: 999.7 kg/m3"), 1)
	return resolved(t, string(data))
}

// A shift of all elevations changes nothing above the datum.
func TestDatumShift(t *testing.T) {
	levels := func(by, suction float64) string {
		return fmt.Sprintf("wet_well_high: %.9f m, wet_well_low: %.9f m, outlet: %.9f m, suction_pressure: %.9f bar, outlet_pressure: 1 bar", by+2, by+1, by+20, suction)
	}
	profile := func(by, top float64) string {
		return fmt.Sprintf("[0 m, %.9f m], [400 m, %.9f m], [850 m, %.9f m]", by+3, by+top, by+20)
	}
	rapid.Check(t, func(t *rapid.T) {
		by, suction, top := rapid.Float64Range(-300, 3000).Draw(t, "shift"), rapid.Float64Range(0, 2).Draw(t,
			"suction"), rapid.Float64Range(0, 40).Draw(t, "top")
		one := resolved(t, fmt.Sprintf(booster, levels(0, suction), profile(0, top)))
		other := resolved(t, fmt.Sprintf(booster, levels(by, suction), profile(by, top)))
		same(t, "shifted", heads(one), heads(other), 1e-8)
		// The outlet's pressure of 1 bar holds the main full to some 10.2 m above it.
		full := 20 + 1e5/(one.Fluid.Density.SI*quantity.StandardGravity)
		if _, above := one.HighPoint(); above != (top > full) {
			t.Errorf("a high point at %g m, the head line at %g m: %v", top, full, above)
		}
	})
}

// What is not given is assumed, listed, and lies where the heads say.
func TestDatumWithoutLevels(t *testing.T) {
	const first = "station: X\nunits: SI\nfluid: {kind: drinking water}\nvalve: {size: DN150, position: horizontal}\nduty: {flow: 20 L/s, head: 40 m%s}\n%s"
	for name, c := range map[string]struct{ duty, rest string }{
		"static head": {", static_head: 25 m", ""},
		"static head and pressure": {
			", static_head: 25 m",
			"levels: {suction_pressure: 2 bar, outlet_pressure: 4 bar}",
		},
		"outlet pressure alone": {"", "levels: {outlet_pressure: 2 bar}"},
		"nothing":               {"", ""},
	} {
		st := resolved(t, fmt.Sprintf(first, c.duty, c.rest))
		axis, assumed := st.Axis()
		if !assumed || len(axis) != 2 || axis[0].ElevationM != st.ValveAboveDatum() ||
			math.Abs(axis[1].ElevationM+st.headOf(st.OutletPressure)-st.OutletHeadM()) > 2e-9 {
			t.Errorf("%s: the axis is %v, assumed %v", name, axis, assumed)
		}
		found := false
		Walk(st, func(path string, _ basis.Value) { found = found || path == "valve_elevation" })
		if !found || !st.ValveElevation.Ranged() {
			t.Errorf("%s: the valve's elevation is not among the assumptions", name)
		}
		if got, want := st.ValveAboveDatum(), st.WellLowM()-st.headOf(st.SuctionPressure); math.Abs(got-want) > 2e-9 {
			t.Errorf("%s: the valve stands at %g m, not %g", name, got, want)
		}
	}
}

// resolved is the station of a file without faults.
func resolved(t rapid.TB, text string) *Station {
	t.Helper()
	st, list := Load("test.yaml", []byte(text))
	if st == nil {
		t.Fatalf("%v\n%s", list, text)
	}
	return st
}
