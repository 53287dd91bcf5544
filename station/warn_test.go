package station

import (
	"fmt"
	"strings"
	"testing"

	"seatward/diag"
)

var odd = []edit{
	{"no kind of liquid", "kind: raw sewage, ", "", "word-assumed", "1:1"},
	{"no position", ", position: flow up", "", "word-assumed", "1:1"},
	{"no valve size", "size: 6 in, position", "position", "word-assumed", "1:1"},
	{"no word on submersible", "submersible: no, ", "", "word-assumed", "1:1"},
	{"no material", "{material: PVC, class: DR18, ", "{", "word-assumed", "10:15"},
	{"no size of a run", "class: DR18, size: 8 in", "class: DR18", "word-assumed", "10:15"},
	{"valve of another size", "{size: 6 in, p", "{size: 8 in, p", "valve-size-differs", "5:15"},
	{"nominal size for the bore", "class: DR18", "class: DR14, inner_diameter: 8 in", "nominal-as-bore", "10:60"},
	{"another bore", "class: DR18", "class: DR18, inner_diameter: 7.2 in", "diameter-differs", "10:60"},
	{"another wall", "class: DR18", "class: DR18, wall: 1 in", "wall-differs", "10:50"},
	{"lining of plastic", "class: DR18", "class: DR18, lining: cement", "lining-unknown", "10:52"},
	{"slow wave", "length: 3400 ft", "length: 3400 ft, wave_speed: 700 ft/s", "wave-differs", "10:85"},
	{"inertia as GD²", "submersible: no", "submersible: no, inertia: 2 kg m2", "inertia-odd", "7:68"},
	{"inertia in another unit", "submersible: no", "submersible: no, inertia: 0.2 lb ft2", "inertia-odd", "7:68"},
	{"motor too small", "submersible: no", "submersible: no, motor_power: 5 hp", "motor-too-small", "7:72"},
	{"duty off the curve", "{flow: 500 gpm", "{head: 90 ft, flow: 500 gpm", "duty-off-curve", "4:14"},
	{"shut-off off the curve", "{flow: 500 gpm", "{shutoff_head: 130 ft, flow: 500 gpm", "shutoff-off-curve", "4:22"},
	{"greatest flow beyond the curve", "700 gpm", "900 gpm", "greatest-beyond-curve", "4:59"},
	{"number in service", "{flow: 500 gpm", "{pumps_in_service: 5, flow: 500 gpm", "pumps-in-service-unused", "4:26"},
	{"low level too low", "wet_well_low: 4 ft", "wet_well_low: -60 ft", "static-above-shutoff-low", "8:61"},
	{"least speed too low", "speed: 1760 rpm", "speed: 1760 rpm, least_speed: 900 rpm", "least-speed-no-flow", "7:55"},
	{
		"a weak pump", "  - {name: P,",
		"  - {name: Q, submersible: no, curve: [[0 gpm, 40 ft], [600 gpm, 9 ft]]}\n  - {name: P,",
		"pump-never-delivers", "7:5",
	},
	{"droop", "[0 gpm, 95 ft]", "[0 gpm, 70 ft]", "curve-droop-at-shut-off", "7:"},
	{"curve from one flow on", "[0 gpm, 95 ft], ", "[100 gpm, 90 ft], ", "curve-no-shut-off-point", "7:"},
	{
		"high point", "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[0 ft, 10 ft], [900 ft, 60 ft], [3400 ft, 45 ft]]}", "high-point", "10:100",
	},
	{
		"end of the profile", "length: 3400 ft}]}", "length: 3400 ft}], profile: [[0 ft, 10 ft], [3400 ft, 15 ft]]}",
		"profile-end", "10:100",
	},
	{"density of brine", "rags: light", "density: 1150 kg/m3", "density-unlike", "3:56"},
	{
		"friction of sludge", "raw sewage, temperature: 60 °F, rags: light", "effluent, friction_multiplier: 1.5",
		"friction-unlike", "3:46",
	},
	{"slow main", "size: 8 in", "size: 16 in", "velocity-low", "10:50"},
	{"quick main", "size: 8 in", "size: 4 in", "velocity-high", "10:50"},
	{
		"main shorter than its rise",
		"outlet: 46 ft}\nbranch: {runs: [{material: ductile iron, class: CL53, size: 6 in, length: 20 ft, fittings: {90 elbow: 2}}]}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 3400 ft}]}", "outlet: 88 ft}\nbranch: {runs: [{material: ductile iron, class: CL53, size: 6 in, length: 20 ft, fittings: {90 elbow: 2}}]}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 20 ft}]}", "main-below-rise", "10:64",
	},
	{
		"main shorter than its rise from the valve",
		"outlet: 46 ft}\nbranch: {runs: [{material: ductile iron, class: CL53, size: 6 in, length: 20 ft, fittings: {90 elbow: 2}}]}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 3400 ft}]}", "outlet: 66 ft, valve: 2 ft}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 40 ft}]}", "main-below-rise", "9:64",
	},
	{"valve above the outlet", "outlet: 46 ft}", "outlet: 46 ft, valve: 60 ft}", "valve-above-outlet", "8:73"},
	{"valve far from the main", "outlet: 46 ft}\nbranch: {runs: [{material: ductile iron, class: CL53, size: 6 in, length: 20 ft, fittings: {90 elbow: 2}}]}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 3400 ft}]}", "outlet: 46 ft, valve: -40 ft}\nbranch: {runs: [{material: ductile iron, class: CL53, size: 6 in, length: 20 ft}]}\nmain: {runs: [{material: PVC, class: DR18, size: 8 in, length: 3400 ft}], profile: [[0 ft, 10 ft], [3400 ft, 45 ft]]}", "valve-off-main", "8:73"},
	{"duty off the curve by the flow", "{flow: 500 gpm", "{head: 63 ft, flow: 500 gpm", "duty-off-curve", "4:14"},
	{"ramp unused", "station: x", "station: x\nsurge: {ramp_time: 20 s}", "ramp-unused", "2:20"},
	{"duty off the system", "length: 3400 ft", "length: 34000 ft", "duty-off-system", "4:14"},
}

var oddShort = []edit{
	{"quick branch", "500 gpm", "1500 gpm", "velocity-high", "3:14"},
	{"one pump of one trips", "valve:", "events: [{kind: one pump trips}]\npumps: [{count: 1}]\nvalve:", "event-impossible", "4:17"},
	{"outlet alone", ", static_head: 40 ft}", "}\nlevels: {outlet: 46 ft}", "levels-unused", "4:18"},
	{"high level alone", ", static_head: 40 ft}", "}\nlevels: {wet_well_high: 6 ft}", "levels-unused", "4:25"},
	{"low level alone", ", static_head: 40 ft}", "}\nlevels: {wet_well_low: 6 ft}", "levels-unused", "4:24"},
	{"no static head", "static_head: 40 ft", "static_head: 0 ft", "no-static-head", "3:49"},
}

// What is odd is reported with the station, and changes nothing.
func TestWarnings(t *testing.T) {
	for _, set := range []struct {
		base  string
		edits []edit
	}{{good, odd}, {short, oddShort}} {
		for _, e := range set.edits {
			t.Run(e.name, func(t *testing.T) {
				st, list := e.load(t, set.base)
				if st == nil {
					t.Fatalf("it was refused: %v", list)
				}
				if len(list) != len(st.Warnings) || !told(list, e) {
					t.Errorf("want %s at %s, got\n%v", e.id, e.place, list)
				}
				for _, m := range list {
					if m.Severity != diag.Warning || m.Mend == "" {
						t.Errorf("no warning, or no way to mend: %v", m)
					}
				}
			})
		}
	}
}

func told(list diag.List, e edit) bool {
	for _, m := range list {
		if m.ID == e.id && strings.HasPrefix(fmt.Sprintf("%d:%d", m.Place.Line, m.Place.Col), e.place) {
			return true
		}
	}
	return false
}

// A good station says nothing.
func TestGoodIsQuiet(t *testing.T) {
	if st := must(t, good); len(st.Warnings) > 0 {
		t.Error(st.Warnings)
	}
}
