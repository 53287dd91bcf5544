package station

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/diag"
)

// good is the station that the bad ones are edited from.
const good = `station: x
units: US
fluid: {kind: raw sewage, temperature: 60 °F, rags: light}
duty: {flow: 500 gpm, least_flow: 300 gpm, greatest_flow: 700 gpm}
valve: {size: 6 in, position: flow up}
pumps:
  - {name: P, count: 2, speed: 1760 rpm, submersible: no, curve: [[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]}
levels: {wet_well_high: 8 ft, wet_well_low: 4 ft, outlet: 46 ft}
branch: {runs: [{material: ductile iron, class: CL53, size: 6 in, length: 20 ft, fittings: {90 elbow: 2}}]}
main: {runs: [{material: PVC, class: DR18, size: 8 in, length: 3400 ft}]}
`

// short is a first call that the bad ones are edited from.
const short = `station: x
units: US
duty: {flow: 500 gpm, head: 62 ft, static_head: 40 ft}
valve: {size: 6 in, position: flow up}
`

// edit is a change of the good station and the fault that it must give: the ID of the
// message and the place at which it stands.
type edit struct{ name, from, to, id, place string }

var bad = []edit{
	{"unit of another kind", "500 gpm", "500 ft", "value-unreadable", "4:14"},
	{"pressure for head", "46 ft", "20 psi", "value-unreadable", "8:59"},
	{"unknown unit", "500 gpm", "500 gmp", "value-unreadable", "4:14"},
	{"comma", "500 gpm", "\"1,500 L/s\"", "value-unreadable", "4:14"},
	{"not a number", "500 gpm", "NaN gpm", "value-unreadable", "4:14"},
	{"infinite", "500 gpm", "1e999 gpm", "value-unreadable", "4:14"},
	{"no number", "500 gpm", "many gpm", "value-unreadable", "4:14"},
	{"negative flow", "500 gpm", "-500 gpm", "value-out-of-range", "4:14"},
	{"zero flow", "500 gpm", "0 gpm", "value-out-of-range", "4:14"},
	{"negative length", "3400 ft", "-3400 ft", "value-out-of-range", "10:64"},
	{"endless length", "3400 ft", "1e9 ft", "value-out-of-range", "10:64"},
	{"frozen", "60 °F", "20 °F", "value-out-of-range", "3:40"},
	{"absolute zero", "60 °F", "-500 °F", "value-out-of-range", "3:40"},
	{"range backwards", "500 gpm", "600..500 gpm", "value-unreadable", "4:14"},
	{"open bracket", "500 gpm", "500 (400..600 gpm", "value-unreadable", "4:14"},
	{"size that is none", "{size: 6 in, p", "{size: 7 in, p", "value-unreadable", "5:15"},
	{"size in words", "{size: 6 in, p", "{size: six, p", "value-unreadable", "5:15"},
	{"unknown key", "duty:", "dutty:", "key-unknown", "4:1"},
	{"unknown inner key", "least_flow", "leastflow", "key-unknown", "4:23"},
	{"key twice", "units: US", "station: y", "key-twice", "2:1"},
	{"unknown word", "raw sewage", "raw sewerage", "word-unknown", "3:15"},
	{"unknown position", "flow up", "upwards", "word-unknown", "5:31"},
	{"unknown units", "units: US", "units: imperial", "word-unknown", "2:8"},
	{"a list for a value", "500 gpm", "[500 gpm]", "yaml-shape", "4:14"},
	{"a value for keys", "valve: {size: 6 in, position: flow up}", "valve: 6 in", "yaml-shape", "5:8"},
	{"keys for a list", "pumps:\n  - {", "pumps:\n    {", "yaml-shape", "7:5"},
	{"point of three", "[400 gpm, 74 ft]", "[400 gpm, 74 ft, 3 ft]", "yaml-shape", "7:83"},
	{"nothing after a key", "500 gpm", "", "value-missing", "4:14"},
	{"alias", "500 gpm", "*a", "yaml-alias", "4:14"},
	{"tab", "duty:", "\tduty:", "yaml-syntax", "4:1"},
	{"open quote", "station: x", "station: \"x", "yaml-syntax", "11:1"},
	{"open list", "[0 gpm, 95 ft]", "[0 gpm, 95 ft", "yaml-syntax", "7:117"},
	{"no name", "station: x\n", "", "key-missing", "1:1"},
	{"deep", "[0 gpm, 95 ft]", strings.Repeat("[", 200) + strings.Repeat("]", 200), "file-too-deep", "1:1"},
	{"10 MB", "station: x", "station: " + strings.Repeat("x", 10<<20), "file-too-large", "1:1"},
	{"binary", good, "\x00\x01\x02\xff\xfe", "file-not-text", "1:1"},
	{"empty", good, "", "file-empty", "1:1"},
	{"only a comment", good, "# nothing\n", "file-empty", "1:1"},
	{"only a list", good, "- 1\n", "yaml-shape", "1:1"},
	{
		"head rises twice", "[400 gpm, 74 ft]", "[200 gpm, 60 ft], [300 gpm, 90 ft], [400 gpm, 50 ft], [500 gpm, 80 ft]",
		"curve-head-rises-twice", "7:137",
	},
	{
		"flows do not rise", "[400 gpm, 74 ft]", "[400 gpm, 74 ft], [400 gpm, 70 ft]", "curve-flow-does-not-increase",
		"7:101",
	},
	{
		"one point", "[[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]", "[[0 gpm, 95 ft]]", "curve-too-few-points",
		"7:67",
	},
	{"static above shut-off", "outlet: 46 ft", "outlet: 146 ft", "static-above-shutoff", "8:59"},
	{"levels reversed", "wet_well_low: 4 ft", "wet_well_low: 9 ft", "levels-reversed", "8:45"},
	{"outlet below the well", "outlet: 46 ft", "outlet: 2 ft", "outlet-below-well", "8:59"},
	{"static head twice", "{flow: 500 gpm", "{static_head: 80 ft, flow: 500 gpm", "static-twice", "4:21"},
	{"least above greatest", "300 gpm", "800 gpm", "flows-reversed", "4:35"},
	{"greatest below normal", "700 gpm", "400 gpm", "flows-reversed", "4:59"},
	{
		"shut-off below head", "{flow: 500 gpm", "{head: 70 ft, shutoff_head: 60 ft, flow: 500 gpm", "shutoff-below-head",
		"4:35",
	},
	{"wall too thick", "length: 20 ft", "wall: 5 in, inner_diameter: 6 in, length: 20 ft", "wall-too-thick", "9:73"},
	{"bore above outside", "length: 20 ft", "inner_diameter: 9 in, length: 20 ft", "diameter-too-large", "9:83"},
	{"unknown material", "material: PVC", "material: PVK", "pipe-material-unknown", "10:26"},
	{"unknown class", "class: DR18", "class: DR19", "pipe-class-unknown", "10:38"},
	{"size not made", "size: 8 in", "size: 2 in", "pipe-size-unknown", "10:50"},
	{"unknown fitting", "90 elbow: 2", "90 elbo: 2", "fitting-unknown", "9:93"},
	{"fittings uncounted", "90 elbow: 2", "90 elbow: two", "count-unreadable", "9:103"},
	{"no length", ", length: 3400 ft", "", "length-missing", "10:15"},
	{
		"profile order", "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[0 ft, 10 ft], [900 ft, 9 ft], [800 ft, 9 ft], [3400 ft, 45 ft]]}",
		"profile-order", "10:116",
	},
	{
		"profile length", "length: 3400 ft}]}", "length: 3400 ft}], profile: [[0 ft, 10 ft], [900 ft, 45 ft]]}",
		"profile-length", "10:100",
	},
	{"boils", "fluid: {", "site: {elevation: 2500 m}\nfluid: {greatest_temperature: 205 °F, ", "boils", "4:31"},
	{"rags in drinking water", "raw sewage", "drinking water", "not-drinking", "3:15"},
	{"all standby", "count: 2", "count: 2, standby: 2", "standby-too-many", "7:34"},
	{"speeds reversed", "speed: 1760 rpm", "speed: 1760 rpm, least_speed: 1900 rpm", "speeds-reversed", "7:55"},
	{
		"efficiency above one", "submersible: no", "efficiency: [[400 gpm, 60 %], [600 gpm, 130 %]]",
		"curve-efficiency-out-of-range", "7:72",
	},
	{
		"power below hydraulic", "submersible: no", "power: [[300 gpm, 1 W], [400 gpm, 8 kW]]",
		"curve-power-below-hydraulic-power", "7:50",
	},
	{
		"duty beyond the curve", "flow: 500 gpm, least_flow: 300 gpm, greatest_flow: 700 gpm", "flow: 900 gpm",
		"duty-beyond-curve", "4:14",
	},
	{"second document", "duty:", "---\nduty:", "file-second-document", "4:1"},
	{"control character", "station: x", "station: \"x\\e[31m\"", "text-control", "1:10"},
	{"count and a half", "count: 2", "count: 2.5", "value-not-whole", "7:22"},
	{"no pumps", "count: 2", "count: 0", "value-out-of-range", "7:22"},
	{"too many pumps", "count: 2", "count: 40", "value-out-of-range", "7:22"},
	{"efficiency in gallons", "submersible: no", "motor_efficiency: 90 gpm", "value-unreadable", "7:60"},
	{"efficiency above one hundred", "submersible: no", "motor_efficiency: 190 %", "value-out-of-range", "7:60"},
	{"speed in hertz", "speed: 1760 rpm", "speed: 60 Hz", "value-unreadable", "7:32"},
	{"tariff in money", "station: x", "station: x\noperation: {tariff: 0.14 $}", "value-unreadable", "2:21"},
	{
		"more than a year", "station: x", "station: x\noperation: {running_time_per_year: 9000 h}", "value-out-of-range",
		"2:36",
	},
	{"event without a kind", "station: x", "station: x\nevents: [{name: stop}]", "key-missing", "2:10"},
	{"event unknown", "station: x", "station: x\nevents: [{kind: power cut}]", "word-unknown", "2:17"},
	{"friction less than water", "rags: light", "friction_multiplier: 0.5", "value-out-of-range", "3:68"},
	{"wave too slow", "length: 3400 ft", "length: 3400 ft, wave_speed: 30 m/s", "value-out-of-range", "10:85"},
	{"wave faster than sound", "length: 3400 ft", "length: 3400 ft, wave_speed: 1490 m/s", "wave-above-sound", "10:85"},
	{"moon", "station: x", "station: x\nsite: {elevation: 9000 m}", "value-out-of-range", "2:19"},
	{"greatest temperature below", "rags: light", "greatest_temperature: 50 °F", "temperatures-reversed", "3:69"},
	{"solids larger than the pipe", "rags: light", "solids: 7 in", "solids-too-large", "3:55"},
	{
		"solids in drinking water", "raw sewage, temperature: 60 °F, rags: light", "drinking water, solids: 2 in",
		"not-drinking", "3:15",
	},
	{
		"oil in drinking water", "raw sewage, temperature: 60 °F, rags: light", "drinking water, oil: heavy",
		"not-drinking", "3:15",
	},
	{
		"two pumps of one name", "  - {name: P,",
		"  - {name: P, curve: [[0 gpm, 90 ft], [700 gpm, 40 ft]]}\n  - {name: P,", "name-twice", "8:12",
	},
	{
		"named as the unnamed", "  - {name: P,", "  - {curve: [[0 gpm, 90 ft], [700 gpm, 40 ft]]}\n  - {name: P1,",
		"name-twice", "8:12",
	},
	{"head rises to the end", "[800 gpm, 38 ft]", "[800 gpm, 88 ft]", "curve-head-rises-to-the-end", "7:101"},
	{
		"no head anywhere", "[[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]", "[[0 gpm, 0 ft], [400 gpm, 0 ft]]",
		"curve-no-head", "7:67",
	},
	{
		"efficiency at rest", "submersible: no", "efficiency: [[0 gpm, 20 %], [600 gpm, 70 %]]",
		"curve-efficiency-at-zero-flow", "7:55",
	},
	{
		"power and efficiency", "submersible: no",
		"efficiency: [[200 gpm, 44 %], [600 gpm, 70 %]], power: [[600 gpm, 30 kW]]", "power-and-efficiency", "7:98",
	},
	{
		"profile starts elsewhere", "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[900 ft, 9 ft], [3400 ft, 45 ft]]}", "profile-start", "10:85",
	},
	{
		"point of the profile in feet and gallons", "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[0 ft, 9 ft], [3400 ft, 45 gpm]]}", "value-unreadable", "10:109",
	},
	{"fittings without a number", "90 elbow: 2", "90 elbow:", "yaml-shape", "9:102"},
	{"reducer without its other bore", "90 elbow: 2", "reducer: 1", "fitting-unusable", "9:93"},
	{
		"duty far beyond the curve", "flow: 500 gpm, least_flow: 300 gpm, greatest_flow: 700 gpm", "flow: 5000 gpm",
		"duty-beyond-curve", "4:14",
	},
	{
		"profile above its length", "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[0 ft, 10 ft], [5 ft, 45 ft], [3400 ft, 45 ft]]}", "profile-above-length",
		"10:100",
	},
	{"valve far above the well", "outlet: 46 ft}", "outlet: 46 ft, valve: 1008 ft}", "valve-above-shutoff", "8:73"},
	{
		"schedule of half a pump", "station: x",
		"station: x\nevents: [{kind: schedule, name: y, steps: [{at: 1 s, pump: 1.5, does: trips}]}]",
		"value-not-whole", "2:60",
	},
	{
		"schedule of a pump beyond all", "station: x",
		"station: x\nevents: [{kind: schedule, name: y, steps: [{at: 1 s, pump: 1e308, does: trips}]}]", "pump-unknown",
		"2:60",
	},
	{
		"schedule of a range of pumps", "station: x",
		"station: x\nevents: [{kind: schedule, name: y, steps: [{at: 1 s, pump: 1e308..1.7e308, does: trips}]}]",
		"value-not-whole", "2:60",
	},
	{"flow too large to compute with", "500 gpm", "1e308 m3/s ± 1e308 m3/s", "value-unreadable", "4:14"},
	{"no number", good, "station: x\nfluid: {kind: raw sewage}\nplace: Marram Ness\n", "station-empty", "1:10"},
}

var badShort = []edit{
	{"static above head", "head: 62 ft", "head: 30 ft", "static-above-head", "3:49"},
	{"shut-off below head", "{flow", "{shutoff_head: 60 ft, flow", "shutoff-below-head", "3:22"},
	{"size too small for the flow", "size: 6 in", "size: 1 in", "velocity-absurd", "3:14"},
	{"size that no pipe has", "size: 6 in", "size: 120 in", "value-unreadable", "4:15"},
	{"liters for gallons", "500 gpm", "500 L/s", "velocity-absurd", "3:14"},
}

// load gives the messages of an edited station.
func (e edit) load(t *testing.T, base string) (*Station, diag.List) {
	t.Helper()
	if !strings.Contains(base, e.from) {
		t.Fatalf("%s: %q does not stand in the good station", e.name, e.from)
	}
	return Load("bad.yaml", []byte(strings.Replace(base, e.from, e.to, 1)))
}

// Each bad station gives one clear message at the place of the fault. The texts are
// kept in testdata/bad.golden.
func TestBadStations(t *testing.T) {
	if len(bad)+len(badShort) < 60 {
		t.Fatalf("%d bad stations; at least 60 are wanted", len(bad)+len(badShort))
	}
	var all strings.Builder
	for _, set := range []struct {
		base  string
		edits []edit
	}{{good, bad}, {short, badShort}} {
		if _, list := Load("good.yaml", []byte(set.base)); list.Err() != nil {
			t.Fatalf("the good station has faults: %v", list)
		}
		for _, e := range set.edits {
			t.Run(e.name, func(t *testing.T) {
				st, list := e.load(t, set.base)
				if st != nil || len(list) != 1 {
					t.Fatalf("want one message, got %d\n%v", len(list), list)
				}
				m := list[0]
				if m.ID != e.id || fmt.Sprintf("%d:%d", m.Place.Line, m.Place.Col) != e.place {
					t.Errorf("want %s at %s, got\n%v", e.id, e.place, m)
				}
				if m.Mend == "" {
					t.Errorf("no way to mend: %v", m)
				}
				fmt.Fprintf(&all, "# %s\n%s\n", e.name, m)
			})
		}
	}
	golden(t, "testdata/bad.golden", all.String())
}

// Reading faults, contradictions and missing facts come in one go, each once: nothing
// is reported that only follows from another fault.
func TestFaultsAreToldTogether(t *testing.T) {
	for _, tt := range []struct {
		name  string
		edits []string // from, to, from, to ...
		want  string
	}{
		{
			"two readings and a contradiction",
			[]string{"500 gpm", "500 ft", "46 ft}", "46 psi}", "count: 2", "count: 2, standby: 2"},
			"value-unreadable standby-too-many value-unreadable",
		},
		{
			"unreadable duty and reversed levels",
			[]string{"500 gpm", "500 ft", "wet_well_low: 4 ft", "wet_well_low: 9 ft"},
			"value-unreadable levels-reversed",
		},
		{
			"every part",
			[]string{
				"wet_well_low: 4 ft", "wet_well_low: 9 ft", "[800 gpm, 38 ft]", "[800 gpm, 98 ft]", "CL53", "CL99",
				"PVC", "PVK", "300 gpm", "800 gpm", "kind: raw sewage", "kind: drinking water",
			},
			"not-drinking flows-reversed levels-reversed",
		},
		{
			"pipes and pump",
			[]string{"[800 gpm, 38 ft]", "[800 gpm, 98 ft]", "CL53", "CL99", "PVC", "PVK"},
			"curve-head-rises-to-the-end pipe-class-unknown pipe-material-unknown",
		},
		{
			"two runs",
			[]string{
				"length: 3400 ft}",
				"length: 3400 ft}, {material: PVK, size: 8 in, length: 3 m}, {material: PVC, class: DR99, size: 8 in}",
			},
			"pipe-material-unknown length-missing pipe-class-unknown",
		},
		{
			"unreadable valve, unknown pipe",
			[]string{"{size: 6 in, p", "{size: 6 gpm, p", "PVC", "PVK"},
			"value-unreadable pipe-material-unknown",
		},
		{"unreadable curve is not missing", []string{"[400 gpm, 74 ft]", "[400 ft, 74 ft]"}, "value-unreadable"},
		{"unreadable static head is not missing", []string{"46 ft", "46 gpm"}, "value-unreadable"},
		{
			"unreadable length upsets no profile",
			[]string{"length: 3400 ft}]}", "length: 3400 gpm}], profile: [[0 ft, 10 ft], [3400 ft, 45 ft]]}"},
			"value-unreadable",
		},
		{"unknown inner key is not missing", []string{"outlet: 46 ft", "outlte: 46 ft"}, "key-unknown"},
		{
			"unknown key, and a contradiction of two others",
			[]string{"valve:", "vavle:", "wet_well_low: 4 ft", "wet_well_low: 9 ft"},
			"key-unknown levels-reversed",
		},
	} {
		text := good
		for i := 0; i < len(tt.edits); i += 2 {
			if !strings.Contains(text, tt.edits[i]) {
				t.Fatalf("%s: %q does not stand in the good station", tt.name, tt.edits[i])
			}
			text = strings.Replace(text, tt.edits[i], tt.edits[i+1], 1)
		}
		st, list := Load("two.yaml", []byte(text))
		var ids []string
		for _, m := range list {
			ids = append(ids, m.ID)
		}
		if got := strings.Join(ids, " "); got != tt.want || st != nil {
			t.Errorf("%s: got %s, want %s\n%v", tt.name, got, tt.want, list)
		}
	}
}

// golden holds a text to the one kept, or keeps it where SEATWARD_UPDATE is set.
func golden(t *testing.T, name, got string) {
	t.Helper()
	if os.Getenv("SEATWARD_UPDATE") != "" {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s has changed (SEATWARD_UPDATE=1 go test ./station keeps it):\n%s", name, diff)
	}
}
