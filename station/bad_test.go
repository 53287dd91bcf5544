package station

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/quantity"
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

// edit is a change of the good station and the fault that it must give: the ID of the
// message and the place at which it stands.
type edit struct{ name, from, to, id, place string }

var bad = []edit{
	{"bare number", "500 gpm", "500", "value-unreadable", "4:14"},
	{"unit of another kind", "500 gpm", "500 ft", "value-unreadable", "4:14"},
	{"pressure for head", "46 ft", "20 psi", "value-unreadable", "8:59"},
	{"unknown unit", "500 gpm", "500 gmp", "value-unreadable", "4:14"},
	{"comma", "500 gpm", "\"1,500 gpm\"", "value-unreadable", "4:14"},
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
	{"nothing after a key", "500 gpm", "", "value-missing", "4:"},
	{"alias", "500 gpm", "*a", "yaml", ""},
	{"tab", "duty:", "\tduty:", "yaml-syntax", ""},
	{"open quote", "station: x", "station: \"x", "yaml-syntax", ""},
	{"open list", "[0 gpm, 95 ft]", "[0 gpm, 95 ft", "yaml-syntax", ""},
	{"no name", "station: x\n", "", "key-missing", "1:1"},
	{"deep", "[0 gpm, 95 ft]", strings.Repeat("[", 200) + strings.Repeat("]", 200), "file-too-deep", "1:1"},
	{"10 MB", "station: x", "station: " + strings.Repeat("x", 10<<20), "file-too-large", "1:1"},
	{"binary", good, "\x00\x01\x02\xff\xfe", "file-not-text", "1:1"},
	{"empty", good, "", "file-empty", "1:1"},
	{"only a comment", good, "# nothing\n", "file-empty", "1:1"},
	{"only a list", good, "- 1\n", "yaml-shape", "1:1"},
	{"head rises twice", "[400 gpm, 74 ft]", "[200 gpm, 60 ft], [300 gpm, 90 ft], [400 gpm, 50 ft], [500 gpm, 80 ft]", "curve-head-rises-twice", "7:"},
	{"flows do not rise", "[400 gpm, 74 ft]", "[400 gpm, 74 ft], [400 gpm, 70 ft]", "curve-flow-does-not-increase", "7:"},
	{"one point", "[[0 gpm, 95 ft], [400 gpm, 74 ft], [800 gpm, 38 ft]]", "[[0 gpm, 95 ft]]", "curve-too-few-points", "7:"},
	{"static above shut-off", "outlet: 46 ft", "outlet: 146 ft", "static-above-shutoff", "8:"},
	{"levels reversed", "wet_well_low: 4 ft", "wet_well_low: 9 ft", "levels-reversed", "8:"},
	{"outlet below the well", "outlet: 46 ft", "outlet: 2 ft", "outlet-below-well", "8:"},
	{"static head twice", "{flow: 500 gpm", "{static_head: 80 ft, flow: 500 gpm", "static-twice", "4:21"},
	{"least above greatest", "300 gpm", "800 gpm", "flows-reversed", "4:"},
	{"greatest below normal", "700 gpm", "400 gpm", "flows-reversed", "4:"},
	{"static above head", "{flow: 500 gpm", "{head: 30 ft, static_head: 40 ft, flow: 500 gpm", "static-above-head", "4:"},
	{"shut-off below head", "{flow: 500 gpm", "{head: 70 ft, shutoff_head: 60 ft, flow: 500 gpm", "shutoff-below-head", "4:"},
	{"wall too thick", "length: 20 ft", "wall: 5 in, inner_diameter: 6 in, length: 20 ft", "wall-too-thick", "9:"},
	{"bore above outside", "length: 20 ft", "inner_diameter: 9 in, length: 20 ft", "diameter-too-large", "9:"},
	{"unknown material", "material: PVC", "material: PVK", "pipe-material-unknown", "10:"},
	{"unknown class", "class: DR18", "class: DR19", "pipe-class-unknown", "10:"},
	{"size not made", "size: 8 in", "size: 2 in", "pipe-size-unknown", "10:"},
	{"unknown fitting", "90 elbow: 2", "90 elbo: 2", "fitting-unknown", "9:"},
	{"fittings uncounted", "90 elbow: 2", "90 elbow: two", "count-unreadable", "9:"},
	{"no length", ", length: 3400 ft", "", "length-missing", "10:"},
	{"profile order", "length: 3400 ft}]}", "length: 3400 ft}], profile: [[0 ft, 10 ft], [900 ft, 9 ft], [800 ft, 9 ft], [3400 ft, 45 ft]]}", "profile-order", "10:"},
	{"profile length", "length: 3400 ft}]}", "length: 3400 ft}], profile: [[0 ft, 10 ft], [900 ft, 45 ft]]}", "profile-length", "10:"},
	{"boils", "fluid: {", "site: {elevation: 2500 m}\nfluid: {greatest_temperature: 205 °F, ", "boils", "4:"},
	{"rags in drinking water", "raw sewage", "drinking water", "not-drinking", "3:15"},
	{"all standby", "count: 2", "count: 2, standby: 2", "standby-too-many", "7:"},
	{"speeds reversed", "speed: 1760 rpm", "speed: 1760 rpm, least_speed: 1900 rpm", "speeds-reversed", "7:"},
	{"efficiency above one", "submersible: no", "efficiency: [[400 gpm, 60 %], [600 gpm, 130 %]]", "curve-efficiency-out-of-range", "7:"},
	{"power below hydraulic", "submersible: no", "power: [[300 gpm, 1 W], [400 gpm, 2 W]]", "curve-power-below-hydraulic-power", "7:"},
	{"duty beyond the curve", "flow: 500 gpm, least_flow: 300 gpm, greatest_flow: 700 gpm", "flow: 900 gpm", "duty-beyond-curve", "4:"},
	{"no size", good, "station: x\nduty: {flow: 5 gpm, head: 10 ft, static_head: 5 ft}\n", "size-missing", "1:"},
	{"no static head", "levels: {wet_well_high: 8 ft, wet_well_low: 4 ft, outlet: 46 ft}", "", "static-missing", ""},
}

func TestBadStations(t *testing.T) {
	if len(bad) < 60 {
		t.Fatalf("%d bad stations; at least 60 are wanted", len(bad))
	}
	if _, list := Load("good.yaml", []byte(good)); list.Err() != nil {
		t.Fatalf("the good station has faults: %v", list)
	}
	for _, e := range bad {
		t.Run(e.name, func(t *testing.T) {
			if !strings.Contains(good, e.from) {
				t.Fatalf("%q does not stand in the good station", e.from)
			}
			st, list := Load("bad.yaml", []byte(strings.Replace(good, e.from, e.to, 1)))
			if st != nil || list.Err() == nil {
				t.Fatal("it was taken")
			}
			for _, m := range list {
				if m.Mend == "" && m.Severity == 0 {
					t.Errorf("no way to mend: %v", m)
				}
				if strings.HasPrefix(m.ID, e.id) && strings.Contains(m.Error(), "bad.yaml:"+e.place) {
					return
				}
			}
			t.Errorf("want %s at %s, got\n%v", e.id, e.place, list)
		})
	}
}

func TestFaultsAreToldTogether(t *testing.T) {
	text := strings.NewReplacer("500 gpm", "500", "wet_well_low: 4 ft", "wet_well_low: 9 ft").Replace(good)
	_, list := Load("two.yaml", []byte(text))
	if len(list) < 2 {
		t.Errorf("a reading fault and a contradiction in one go wanted, got\n%v", list)
	}
}

func TestNoPumpAndNoDuty(t *testing.T) {
	_, list := Load("x.yaml", []byte("station: x\nvalve: {size: 6 in}\nduty: {static_head: 30 ft}\n"))
	if list.Err() == nil || !strings.Contains(list.Error(), "duty-missing") {
		t.Errorf("got %v", list)
	}
}

func examples(t testing.TB) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../examples/*.station.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("examples: %v, %v", files, err)
	}
	out := map[string][]byte{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(f), ".station.yaml")] = data
	}
	return out
}

func TestExamplesResolveToTheirDepth(t *testing.T) {
	want := map[string]Depth{"first-call": FirstCall, "layout": Layout, "study": Full, "booster": Layout}
	for name, data := range examples(t) {
		st, list := Load(name, data)
		if st == nil {
			t.Errorf("%s: %v", name, list)
			continue
		}
		if st.Depth != want[name] {
			t.Errorf("%s is a %s, want %s", name, st.Depth, want[name])
		}
		sound(t, st)
	}
}

// sound holds a station to finite values in order and assumptions with reason and source.
func sound(t testing.TB, st *Station) {
	t.Helper()
	Walk(st, func(path string, v basis.Value) {
		if math.IsNaN(v.SI) || math.IsInf(v.SI, 0) || v.Low > v.SI || v.SI > v.High {
			t.Errorf("%s: %g in %g to %g", path, v.SI, v.Low, v.High)
		}
		if v.Origin == basis.Assumed && (v.Reason == "" || v.Source == "") {
			t.Errorf("%s is assumed without reason or source", path)
		}
	})
}

func TestStarterResolves(t *testing.T) {
	for _, sys := range []quantity.System{quantity.US, quantity.SI} {
		st, list := Load("starter.yaml", []byte(Starter(sys)))
		if st == nil {
			t.Errorf("%s: %v", sys, list)
			continue
		}
		sound(t, st)
		if st.Units != sys {
			t.Errorf("the starter in %s answers in %s", sys, st.Units)
		}
		// What the starter shows as comments must be right too.
		full := strings.NewReplacer("# pumps:", "pumps:", "# levels:", "levels:", "# branch:", "branch:", "# main:", "main:", "# operation:", "operation:", "#   ", "  ", "#\n", "\n").Replace(Starter(sys))
		full = strings.ReplaceAll(full, "  static_head:", "  # static_head:")
		full = strings.ReplaceAll(full, "  head:", "  # head:")
		if st, list := Load("full.yaml", []byte(full)); st == nil || st.Depth != Full {
			t.Errorf("%s with its comments opened: %v", sys, list)
		}
	}
}

func TestHashNamesTheContent(t *testing.T) {
	load := func(text string) string {
		st, list := Load("x.yaml", []byte(text))
		if st == nil {
			t.Fatal(list)
		}
		return st.Hash
	}
	first := load(good)
	if load("# a comment\n"+good) != first {
		t.Error("a comment changes the hash")
	}
	if load(strings.Replace(good, "3400 ft", "3401 ft", 1)) == first {
		t.Error("another length does not change the hash")
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(good)
	for _, data := range examples(f) {
		f.Add(string(data))
	}
	for _, e := range bad {
		if len(e.to) < 1000 {
			f.Add(strings.Replace(good, e.from, e.to, 1))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		st, list := Load("fuzz.yaml", []byte(text))
		if (st == nil) != (list.Err() != nil) {
			t.Fatalf("station %v with %v", st != nil, list)
		}
		if st != nil {
			sound(t, st)
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	data := examples(b)["layout"]
	b.ReportAllocs()
	for b.Loop() {
		if st, list := Load("layout", data); st == nil {
			b.Fatal(list)
		}
	}
}
