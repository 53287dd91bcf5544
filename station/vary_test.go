package station

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/diag"
)

func vary(t testing.TB, st *Station, path string, si float64) *Station {
	t.Helper()
	out, err := st.Vary(path, si)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	sound(t, out)
	return out
}

// What follows from a varied value follows; the rest stays; so does the first station.
func TestVary(t *testing.T) {
	st := must(t, good)
	before := st.Hash
	for _, tt := range []struct {
		path    string
		factor  float64
		follows []string // values that must change with it
		stays   []string
	}{
		{
			"main.runs[0].inner_diameter", 0.9,
			[]string{"main.runs[0].wave_speed"},
			[]string{"main.runs[0].wall", "branch.runs[0].wave_speed"},
		},
		{"main.runs[0].wall", 1.2, []string{"main.runs[0].wave_speed"}, []string{"main.runs[0].inner_diameter"}},
		{
			"main.runs[0].wave_speed < Young's modulus of the main", 1.1,
			[]string{"main.runs[0].wave_speed"},
			[]string{"branch.runs[0].wave_speed"},
		},
		{"main.runs[0].wave_speed", 0.8, nil, []string{"branch.runs[0].wave_speed"}},
		{"main.runs[0].length", 2, nil, []string{"main.runs[0].wave_speed", "static_low"}},
		{
			"fluid.temperature", 1.03,
			[]string{"fluid.density", "fluid.viscosity", "fluid.vapor_pressure"},
			[]string{"pumps[0].speed"},
		},
		{"fluid.density", 1.05, []string{"pumps[0].shaft_power", "pumps[0].inertia"}, []string{"static_low"}},
		{
			"pumps[0].speed", 0.9,
			[]string{"pumps[0].inertia", "pumps[0].inertia_time", "pumps[0].least_speed"},
			[]string{"pumps[0].shaft_power"},
		},
		{"pumps[0].inertia", 3, []string{"pumps[0].inertia_time"}, []string{"pumps[0].shaft_power"}},
		{"pumps[0].efficiency", 0.9, []string{"pumps[0].shaft_power"}, []string{"pumps[0].duty_head"}},
		{
			"flows.normal", 1.2,
			[]string{"pumps[0].duty_flow", "pumps[0].duty_head", "pumps[0].shaft_power"},
			[]string{"static_low"},
		},
		{"wet_well_high", 0.9, []string{"static_low"}, []string{"static_high"}},
		{"site.elevation", 2, []string{"site.air_pressure"}, []string{"fluid.density"}},
		{"operation.tariff", 2, nil, []string{"operation.running_time"}},
	} {
		si := value(t, st, tt.path).SI * tt.factor
		out := vary(t, st, tt.path, si)
		if v := value(t, out, tt.path); v.SI != si || v.Low != si || v.High != si {
			t.Errorf("%s = %g (%g to %g), want %g", tt.path, v.SI, v.Low, v.High, si)
		}
		for _, path := range tt.follows {
			if value(t, out, path).SI == value(t, st, path).SI {
				t.Errorf("%s does not follow %s", path, tt.path)
			}
		}
		for _, path := range tt.stays {
			if value(t, out, path).SI != value(t, st, path).SI {
				t.Errorf("%s follows %s", path, tt.path)
			}
		}
		if out.Hash == before || st.Hash != before || must(t, good).Hash != before {
			t.Errorf("%s: hashes %s and %s", tt.path, before, out.Hash)
		}
	}
}

func TestVaryTwice(t *testing.T) {
	st := must(t, short)
	a := vary(t, vary(t, st, "pumps[0].speed", 150), "main.runs[0].length", 500)
	b := vary(t, vary(t, st, "main.runs[0].length", 500), "pumps[0].speed", 150)
	if a.Hash != b.Hash || value(t, a, "pumps[0].speed").SI != 150 || value(t, a, "main.runs[0].length").SI != 500 {
		t.Error("the order of two changes matters")
	}
	back := vary(t, vary(t, a, "pumps[0].speed", 140), "pumps[0].speed", 150)
	if back.Hash != a.Hash {
		t.Error("a change taken back leaves a trace")
	}
}

// A first call's curve follows the shut-off head and the ratio that is assumed.
func TestVaryMakesAnotherCurve(t *testing.T) {
	st := must(t, short)
	high := vary(t, st, "pumps[0].shutoff_head", 30)
	if got := high.Pumps[0].Performance.ShutOffM(); math.Abs(got-30) > 1e-9 {
		t.Errorf("the curve begins at %g m", got)
	}
	ratio := vary(t, st, "pumps[0].shutoff_head < shut-off head over duty head", 1.5)
	if got := ratio.Pumps[0].Performance.ShutOffM(); math.Abs(got-1.5*62*0.3048) > 1e-9 {
		t.Errorf("the curve begins at %g m", got)
	}
}

func TestVaryRefuses(t *testing.T) {
	st := must(t, good)
	for _, tt := range []struct {
		path string
		si   float64
		hint string
	}{
		{"main.runs[0].wavespeed", 300, `did you mean "main.runs[0].wave_speed"?`},
		{"zebra", 1, "no value"},
		{"main.runs[0].length", math.NaN(), "cannot be NaN"},
		{"main.runs[0].length", math.Inf(1), "cannot be +Inf"},
		{"main.runs[0].length", -1, "cannot be -1 m"},
		{"main.runs[0].inner_diameter", 0, "velocity"},
		{"main.runs[0].inner_diameter", 2, "diameter-too-large"},
		{"wet_well_high", -100, "static-above-shutoff"},
		{"pumps[0].shutoff_head", 20, "read off a curve"},
		{"pumps[0].inertia < inertia of motor", 0.1, "estimated as part"},
		{"fluid.temperature", 900, "cannot be computed"},
		{"flows.normal", 1, "duty-beyond-curve"},
	} {
		out, err := st.Vary(tt.path, tt.si)
		if err == nil || out != nil || !strings.Contains(err.Error(), tt.hint) {
			t.Errorf("%s = %g: %v lacks %q", tt.path, tt.si, err, tt.hint)
		}
	}
	if _, err := new(Station).Vary("static_low", 1); err == nil {
		t.Error("a station of no file was varied")
	}
	var list diag.List
	if _, err := st.Vary("wet_well_high", -100); !errors.As(err, &list) {
		t.Errorf("%T", err)
	}
}

// Any value can be moved to either end of its range, or says that it cannot be varied.
func TestVaryToTheEnds(t *testing.T) {
	for name, data := range examples(t) {
		st := must(t, string(data))
		varied := 0
		Walk(st, func(path string, v basis.Value) {
			for _, si := range []float64{v.Low, v.High} {
				out, err := st.Vary(path, si)
				var list diag.List
				switch {
				case err == nil:
					varied++
					sound(t, out)
					if got := value(t, out, path); got.SI != si {
						t.Errorf("%s: %s = %g, want %g", name, path, got.SI, si)
					}
				case !errors.As(err, &list):
					t.Errorf("%s: %s to %g: %v", name, path, si, err)
				case list[0].ID != "not-varied" && v.Origin != basis.Computed:
					t.Errorf("%s: %s to %g: %v", name, path, si, err)
				}
			}
		})
		if varied < 50 {
			t.Errorf("%s: only %d ends could be reached", name, varied)
		}
	}
}

// Between the ends too, whatever the station.
func TestVaryAnywhere(t *testing.T) {
	st := must(t, short)
	var all []string
	Walk(st, func(path string, v basis.Value) {
		if v.Ranged() && v.Origin == basis.Assumed && !strings.Contains(path, " < ") {
			all = append(all, path)
		}
	})
	rapid.Check(t, func(rt *rapid.T) {
		path := rapid.SampledFrom(all).Draw(rt, "path")
		v := value(t, st, path)
		si := v.Low + rapid.Float64Range(0, 1).Draw(rt, "share")*(v.High-v.Low)
		out, err := st.Vary(path, si)
		if err != nil {
			rt.Fatalf("%s = %g: %v", path, si, err)
		}
		sound(t, out)
	})
}

// A name that two values have is no way to vary one of them: both would be replaced.
func TestVaryTellsValuesOfOneName(t *testing.T) {
	st := must(t, strings.Replace(good, "  - {name: P, count: 2,",
		"  - {name: motor, inertia: 12 lb ft2, curve: [[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]}\n  - {name: P, count: 2,", 1))
	var list diag.List
	for _, path := range []string{"pumps[0].inertia", "pumps[1].inertia < inertia of motor"} {
		v, err := st.find(path)
		if err != nil || v.Name != "inertia of motor" {
			t.Fatalf("%s: %q, %v", path, v.Name, err)
		}
		if _, err := st.Vary(path, 0.2); !errors.As(err, &list) || list[0].ID != "not-varied" ||
			!strings.Contains(list[0].Text, "the same name") {
			t.Errorf("%s: %v", path, err)
		}
	}
	if out, err := st.Vary("pumps[0].speed", 150); err != nil || value(t, out, "pumps[0].speed").SI != 150 ||
		value(t, out, "pumps[1].speed").SI == 150 {
		t.Errorf("a name of its own: %v", err)
	}
}
