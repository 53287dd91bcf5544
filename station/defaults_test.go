package station

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

// bare is a station of which hardly anything is said; %s takes more.
func bare(fluid, more string) string {
	return "station: x\nunits: US\nfluid: {kind: " + fluid + "}\nvalve: {size: 6 in, position: flow up}\n" + more
}

const duty = "duty: {flow: 500 gpm, head: 62 ft, static_head: 40 ft}\n"

// Every number that is assumed, with where it comes from beside it. Where no source is
// named it is common practice.
func TestDefaults(t *testing.T) {
	sewage, sludge := bare("raw sewage", duty), bare("sludge", duty)
	effluent, raw, drinking := bare("effluent", duty), bare("raw water", duty), bare("drinking water", duty)
	si := strings.Replace(sewage, "units: US", "units: SI", 1)
	grinder := strings.Replace(bare("raw sewage", "duty: {flow: 40 gpm, head: 62 ft, static_head: 40 ft}\n"), "6 in",
		"2 in", 1)
	curve := bare("raw sewage", "duty: {static_head: 40 ft}\npumps: [{name: A, submersible: no, curve: [[0 gpm, 95 ft], [500 gpm, 70 ft], [1000 gpm, 30 ft]]}]\n")
	booster := bare("drinking water", "duty: {flow: 500 gpm}\nlevels: {outlet_pressure: 60 psi}\n")
	ft, gpm := 0.3048, 0.003785411784/60
	for _, tt := range []struct {
		path, text      string
		best, low, high float64
	}{
		{"fluid.temperature", sewage, 288.15, 278.15, 298.15},
		{"fluid.max_temperature", sewage, 303.15, 298.15, 313.15},
		{
			"fluid.max_temperature", strings.Replace(sewage, "raw sewage", "raw sewage, temperature: 45 °C", 1), 318.15,
			318.15, 318.15,
		},
		{"fluid.density", sludge, 1020, 1000, 1060},
		{"fluid.friction_factor", sewage, 1, 1, 1.05},
		{"fluid.friction_factor", sludge, 1.5, 1, 3},
		{
			"fluid.solids", sewage, 0.0762, 0.050,
			0.080,
		}, // 3 in: Recommended Standards for Wastewater Facilities 42.33, from memory
		{"fluid.solids", sludge, 0.0762, 0.050, 0.080},
		{"fluid.solids", effluent, 0.010, 0, 0.025},
		{"fluid.solids", raw, 0.010, 0, 0.025},
		{"fluid.solids", drinking, 0, 0, 0},
		{"fluid.solids", grinder, 0.010, 0.003, 0.025},
		{"fluid.solids", strings.Replace(sewage, "6 in", "3 in", 1), 0.8 * 0.0762, 0.050, 0.0762},
		{"fluid.bulk_modulus < free gas by volume", sewage, 0, 0, 5e-4},
		{"fluid.bulk_modulus < free gas by volume", drinking, 0, 0, 5e-5},
		{"site.elevation", sewage, 100, 0, 1000},
		{"valve.angle", strings.Replace(sewage, ", position: flow up", "", 1), 0, 0, math.Pi / 2},
		{"static_high", bare("raw sewage", "duty: {flow: 500 gpm, head: 100 ft}\n"), 65 * ft, 35 * ft, 95 * ft},
		{
			"pumps[0].duty_head", bare("raw sewage", "duty: {flow: 500 gpm, static_head: 65 ft}\n"), 100 * ft,
			65 / 0.95 * ft, 65 / 0.35 * ft,
		},
		{
			"static_high", bare("raw sewage", "duty: {flow: 500 gpm}\nlevels: {wet_well_high: 4 m, outlet: 14 m}\n"), 11,
			10.3, 12,
		},
		{
			"static_low", bare("raw sewage", "duty: {flow: 500 gpm}\nlevels: {wet_well_low: 4 m, outlet: 14 m}\n"), 9, 8,
			9.7,
		},
		{"static_low < difference of elevation between outlet and suction", booster, 0, -2, 2},
		{"pumps[0].speed", sewage, 1760 * rpm, 1160 * rpm, 3500 * rpm},
		{"pumps[0].speed", si, 1465 * rpm, 970 * rpm, 2930 * rpm},
		{
			"pumps[0].speed", strings.Replace(curve, "submersible: no", "submersible: no, least_speed: 2400 rpm", 1),
			3500 * rpm, 2400 * rpm, 3500 * rpm,
		},
		{"pumps[0].duty_flow", curve, 600 * gpm, 400 * gpm, 850 * gpm},
		{
			"pumps[0].shutoff_head", sewage, 62 * ft * 4 / 3, 62 * ft * 1.1,
			62 * ft * 1.8,
		}, // Rossman 2000, EPA/600/R-00/057, from memory
		{"pumps[0].efficiency", sewage, 0.66, 0.48, 0.80},
		{"pumps[0].efficiency", drinking, 0.76, 0.60, 0.87},
		{"pumps[0].efficiency", grinder, 0.35, 0.20, 0.50},
		{"pumps[0].motor_efficiency", sewage, 0.89, 0.82, 0.935},
		{"branch.runs[0].length", sewage, 6, 3, 15},
		{"branch.runs[0].loss", sewage, 1.5, 0.8, 3},
		{
			"branch.runs[0].inner_diameter", sewage, 0.159385, 0.150241,
			0.162560,
		}, // PC350 of AWWA C151 lined by C104; bare, and CL56
		{"branch.runs[0].roughness", sewage, 6e-5, 3e-5, 1.2e-4},
		{"main.runs[0].loss", sewage, 3, 1, 10},
		{"main.runs[0].loss", good, 0, 0, 2},
		{"surge.ramp_time", sewage + "surge: {normal_stop: soft stop}\n", 10, 3, 60},
		{"operation.running_time", sewage, 2200 * 3600, 700 * 3600, 6000 * 3600},
		{"operation.starts_per_hour", sewage, 4, 1, 10},
		{"operation.tariff", sewage, 0.14 / 3.6e6, 0.07 / 3.6e6, 0.30 / 3.6e6},
		{"operation.interest", sewage, 0.04, 0.02, 0.08},
		{"operation.years", sewage, 20, 10, 30},
	} {
		st := must(t, tt.text)
		v := value(t, st, tt.path)
		if !near(v.SI, tt.best) || !near(v.Low, tt.low) || !near(v.High, tt.high) {
			t.Errorf("%s = %.6g (%.6g to %.6g), want %.6g (%.6g to %.6g)", tt.path, v.SI, v.Low, v.High, tt.best,
				tt.low, tt.high)
		}
		if v.Origin != basis.Assumed && len(basis.Assumptions(v)) == 0 {
			t.Errorf("%s rests on no assumption", tt.path)
		}
		sound(t, st)
	}
}

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-4*math.Abs(want)+1e-12 }

// What can be computed from other facts of the file is computed, not assumed.
func TestComputed(t *testing.T) {
	for _, tt := range []struct {
		path, text string
		best, tol  float64
		why        string
	}{
		{"fluid.density", short, 999.1, 1e-3, "water at 15 °C, IAPWS-IF97"},
		{"fluid.viscosity", short, 1.138e-3, 1e-2, "water at 15 °C, IAPWS R12-08"},
		{"fluid.vapor_pressure", short, 1705.8, 1e-2, "water at 15 °C, IAPWS-IF97 region 4"},
		{"fluid.bulk_modulus", short, 2.14e9, 2e-2, "water at 15 °C, ρ c² with c = 1466 m/s"},
		{"site.air_pressure", short + "site: {elevation: 1000 m}\n", 89874.6, 1e-4, "ISO 2533"},
		{"static_low", good, 38 * 0.3048, 1e-9, "outlet less high level"},
		{"static_high", good, 42 * 0.3048, 1e-9, "outlet less low level"},
		{"static_low", bare("raw water",
			"duty: {flow: 500 gpm}\nlevels: {wet_well_high: 0 m, wet_well_low: 0 m, outlet: 10 m, outlet_pressure: 98 kPa}\n"), 20, 2e-3, "10 m and 98 kPa of water"},
		{
			"branch.runs[0].inner_diameter", good, 0.15481, 1e-4,
			"6 in CL53: 6.90 in less 2 of 0.34 in and 2 of 1/16 in lining, AWWA C151 and C104",
		},
		{"main.runs[0].inner_diameter", good, 0.20307, 1e-2, "8 in DR18: 9.05 in over 18, AWWA C900"},
		{"main.runs[0].wave_speed", good, 420, 0.05, "PVC DR18, some 1370 ft/s"},
		{"pumps[0].shutoff_head", good, 95 * 0.3048, 1e-9, "first point of the curve"},
		{
			"pumps[0].inertia_time", strings.Replace(good, "submersible: no",
				"submersible: no, inertia: 0.25 kg m2, power: [[0 gpm, 5 kW], [500 gpm, 10 kW], [800 gpm, 11 kW]]", 1),
			0.25 * 184.307 * 184.307 / 1e4, 1e-3, "I ω²/P",
		},
	} {
		v := value(t, must(t, tt.text), tt.path)
		if math.Abs(v.SI-tt.best) > tt.tol*tt.best {
			t.Errorf("%s = %.6g, want %.6g (%s)", tt.path, v.SI, tt.best, tt.why)
		}
	}
}

// With the main known and the head not, the head is what levels and pipes ask for.
func TestHeadFromPipes(t *testing.T) {
	text := bare("raw sewage", "duty: {flow: 500 gpm, static_head: 40 ft}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 3400 ft}]}\n")
	st := must(t, text)
	v := value(t, st, "pumps[0].duty_head")
	// 40 ft and some 12 ft of friction at 500 gpm, 3.4 ft/s, in 3400 ft of 8 in PVC.
	if ft := v.SI / 0.3048; ft < 50 || ft > 56 || v.Origin != basis.Computed || v.Low < 40*0.3048 {
		t.Errorf("duty head %s", v.Format(quantity.US))
	}
	hazen := must(t, strings.Replace(text, "class: DR18", "class: DR18, hazen_williams: 150", 1))
	if w := value(t, hazen, "pumps[0].duty_head"); math.Abs(w.SI-v.SI) > 0.05*v.SI || w.SI == v.SI {
		t.Errorf("duty head %s with C 150, %s by roughness", w.Format(quantity.US), v.Format(quantity.US))
	}
}

// The main of a first call loses, at duty, what the pump lifts above the static head.
func TestAssumedMain(t *testing.T) {
	st := must(t, short)
	run := st.Main.Runs[0]
	flow := st.Pumps[0].DutyFlow.SI
	if v := flow / (math.Pi / 4 * run.InnerDiameter.SI * run.InnerDiameter.SI); v > mainSpeedMS || v < 0.5 {
		t.Errorf("%g m/s in the assumed main", v)
	}
	r := &resolver{st: st}
	lost := r.lossM(&run, flow, best) + r.lossM(&st.Branch.Runs[0], flow, best)
	if want := 22 * 0.3048; math.Abs(lost-want) > 1e-6 {
		t.Errorf("branch and main lose %g m, want %g", lost, want)
	}
	if l := run.Length; l.High < 8*l.Low {
		t.Errorf("length %g to %g: too sure for a guess", l.Low, l.High)
	}
	// A bigger duty flow takes a bigger main.
	big := must(t, strings.Replace(strings.Replace(short, "500 gpm", "2500 gpm", 1), "6 in", "10 in", 1))
	if big.Main.Runs[0].Size.DN <= run.Size.DN {
		t.Errorf("main of %s for 2500 gpm", big.Main.Runs[0].Size)
	}
	// Where the pump lifts hardly more than the static head the main is short.
	flat := must(t, strings.Replace(short, "head: 62 ft", "head: 41 ft", 1))
	rise := flat.OutletAboveDatum() - flat.ValveAboveDatum()
	if l := flat.Main.Runs[0].Length; l.SI > run.Length.SI/3 || l.SI < rise || l.Low < rise {
		t.Errorf("length %g m, from %g m, up a rise of %g m", l.SI, l.Low, rise)
	}
	if lost := r.lossM(&flat.Main.Runs[0], flow, best) + r.lossM(&flat.Branch.Runs[0], flow,
		best); math.Abs(lost-0.3048) > 1e-6 {
		t.Errorf("branch and main lose %g m, want 1 ft", lost)
	}
	small := must(t, strings.Replace(strings.Replace(short, "500 gpm", "20 gpm", 1), "6 in", "2 in", 1))
	if m := small.Main.Runs[0].Material; m != "steel" {
		t.Errorf("a 2 in main of %s", m)
	}
}

// Every default says why and whence.
func TestDefaultsHaveReasons(t *testing.T) {
	check := func(d fallback) {
		if d.name == "" || d.reason == "" || d.source == "" || !(d.low <= d.best && d.best <= d.high) {
			t.Errorf("%+v", d)
		}
		if d.source != practice && !basis.Cited(d.source) {
			t.Errorf("%s: the source %q is not in the bibliography", d.name, d.source)
		}
	}
	count := 0
	v := reflect.ValueOf(defaults)
	for i := range v.NumField() {
		f := v.Field(i)
		if f.Kind() == reflect.Map {
			for _, k := range f.MapKeys() {
				check(fallbackOf(f.MapIndex(k)))
				count++
			}
			continue
		}
		check(fallbackOf(f))
		count++
	}
	if count < 35 {
		t.Errorf("%d defaults seen", count)
	}
}

// fallbackOf reads a fallback out of an unexported field.
func fallbackOf(v reflect.Value) fallback {
	return fallback{
		name: v.Field(0).String(), kind: quantity.Kind(v.Field(1).Uint()),
		best: v.Field(2).Float(), low: v.Field(3).Float(), high: v.Field(4).Float(),
		reason: v.Field(5).String(), source: v.Field(6).String(),
	}
}
