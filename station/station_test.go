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

// must loads a station that has no faults.
func must(t testing.TB, text string) *Station {
	t.Helper()
	st, list := Load("test.yaml", []byte(text))
	if st == nil {
		t.Fatalf("%v\n%s", list, text)
	}
	return st
}

// value finds a value of the station by its path.
func value(t testing.TB, st *Station, path string) basis.Value {
	t.Helper()
	v, err := st.find(path)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// sound holds a station to finite values in order, assumptions with reason and source,
// and names that stand for one value each.
func sound(t testing.TB, st *Station) {
	t.Helper()
	byName := map[string]basis.Value{}
	Walk(st, func(path string, v basis.Value) {
		if math.IsNaN(v.SI) || math.IsInf(v.SI, 0) || !(v.Low <= v.SI && v.SI <= v.High) || math.IsInf(v.Low, 0) ||
			math.IsInf(v.High, 0) {
			t.Errorf("%s: %g in %g to %g", path, v.SI, v.Low, v.High)
		}
		if v.Origin == basis.Assumed && (v.Reason == "" || v.Source == "") {
			t.Errorf("%s is assumed without reason or source", path)
		}
		if v.Origin == basis.Given && v.Place == "" && path != "valve.angle" {
			t.Errorf("%s is given nowhere", path)
		}
		if strings.Contains(path, " < ") {
			return // assumptions of other packages are alike for every pump
		}
		if other, ok := byName[v.Name]; ok {
			t.Errorf("%s and another value of %g are both called %q", path, other.SI, v.Name)
		}
		byName[v.Name] = v
	})
}

func TestExamplesResolveToTheirDepth(t *testing.T) {
	want := map[string]Depth{"first-call": FirstCall, "layout": Layout, "study": Full, "booster": Layout}
	for name, data := range examples(t) {
		st := must(t, string(data))
		if st.Depth != want[name] {
			t.Errorf("%s is a %s, want %s", name, st.Depth, want[name])
		}
		sound(t, st)
		for _, m := range st.Warnings {
			if name != "first-call" {
				t.Errorf("%s: %v", name, m)
			}
		}
	}
}

// The three depths describe one station: what is estimated with less agrees with what
// is given with more.
func TestExamplesAreOneStation(t *testing.T) {
	data := examples(t)
	first, layout, study := must(t, string(data["first-call"])), must(t, string(data["layout"])), must(t,
		string(data["study"]))
	for _, path := range []string{
		"static_low", "static_high", "pumps[0].duty_head", "pumps[0].shutoff_head",
		"pumps[0].speed", "pumps[0].inertia", "main.runs[0].length", "main.runs[0].inner_diameter", "fluid.temperature", "operation.running_time",
	} {
		a, b, c := value(t, first, path), value(t, layout, path), value(t, study, path)
		if b.Low < a.Low*0.95 || b.High > a.High*1.05 {
			// The first call does not know the pump's curve: only its shut-off head is wide.
			if path != "pumps[0].duty_head" && path != "pumps[0].inertia" && path != "main.runs[0].inner_diameter" {
				t.Errorf("%s: the layout has %g..%g, the first call %g..%g", path, b.Low, b.High, a.Low, a.High)
			}
		}
		if c.Low < b.Low*0.95 || c.High > b.High*1.05 {
			t.Errorf("%s: the study has %g..%g, the layout %g..%g", path, c.Low, c.High, b.Low, b.High)
		}
	}
}

func TestDepth(t *testing.T) {
	study := strings.Replace(good, "  - {name: P,", "  - {name: P, inertia: 8 lb ft2,", 1) +
		"operation: {running_time_per_year: 2000 h}\n"
	noMain := good[:strings.Index(good, "main:")]
	for _, tt := range []struct {
		name, text string
		want       Depth
	}{
		{"duty point", short, FirstCall},
		{"curve and main", good, Layout},
		{"curve without main", noMain, FirstCall},
		{"inertia and running time", study, Full},
		{"inertia without running time", study[:strings.Index(study, "operation:")], Layout},
		{"profile and running time", strings.Replace(study, "inertia: 8 lb ft2,", "", 1) + "", Layout},
		{
			"one pump of two without a curve",
			strings.Replace(good, "pumps:\n", "pumps:\n  - {name: Q, submersible: no}\n", 1), FirstCall,
		},
	} {
		if st := must(t, tt.text); st.Depth != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, st.Depth, tt.want)
		}
	}
	profile := strings.Replace(study, "inertia: 8 lb ft2,", "", 1)
	profile = strings.Replace(profile, "length: 3400 ft}]}",
		"length: 3400 ft}], profile: [[0 ft, 10 ft], [3400 ft, 45 ft]]}", 1)
	if st := must(t, profile); st.Depth != Full {
		t.Errorf("profile and running time: %s", st.Depth)
	}
}

func TestUnitsFollowTheFile(t *testing.T) {
	for text, want := range map[string]quantity.System{
		good:                       quantity.US,
		drop(short, "units: US\n"): quantity.US,
		metric:                     quantity.SI,
		"units: US\n" + metric:     quantity.US,
		"units: SI\n" + drop(good, "units: US\n"): quantity.SI,
	} {
		if st := must(t, text); st.Units != want {
			t.Errorf("units %s, want %s:\n%s", st.Units, want, text)
		}
	}
}

// metric is a first call in SI units.
const metric = `station: x
duty: {flow: 28 L/s, head: 19 m, static_head: 12 m}
valve: {size: DN150, position: flow up}
`

func drop(text, part string) string { return strings.Replace(text, part, "", 1) }

func TestStarterResolves(t *testing.T) {
	for _, sys := range []quantity.System{quantity.US, quantity.SI} {
		st := must(t, Starter(sys))
		sound(t, st)
		if st.Units != sys {
			t.Errorf("the starter in %s answers in %s", sys, st.Units)
		}
		// What the starter shows as comments must be right too.
		full := strings.NewReplacer("# pumps:", "pumps:", "# levels:", "levels:", "# branch:", "branch:", "# main:",
			"main:", "# operation:", "operation:", "#   ", "  ", "#\n", "\n").Replace(Starter(sys))
		full = strings.ReplaceAll(full, "  static_head:", "  # static_head:")
		full = strings.ReplaceAll(full, "  head:", "  # head:")
		st = must(t, full)
		if st.Depth != Full || len(st.Warnings) > 0 {
			t.Errorf("%s with its comments opened is a %s: %v", sys, st.Depth, st.Warnings)
		}
	}
}

// The hash is that of the content: not of comments, order or spelling of units.
func TestHashNamesTheContent(t *testing.T) {
	first := must(t, good).Hash
	for name, text := range map[string]string{
		"a comment":    "# a comment\n" + good,
		"another unit": strings.Replace(good, "3400 ft", "1036.32 m", 1),
		"another order": strings.Replace(good, "length: 20 ft, fittings: {90 elbow: 2}",
			"fittings: {90 elbow: 2}, length: 20 ft", 1),
		"another spelling": strings.Replace(good, "material: ductile iron", "material: DI", 1),
	} {
		if must(t, text).Hash != first {
			t.Errorf("%s changes the hash", name)
		}
	}
	for name, text := range map[string]string{
		"another length": strings.Replace(good, "3400 ft", "3401 ft", 1),
		"a range":        strings.Replace(good, "3400 ft", "3400 ft ± 1 ft", 1),
		"another word":   strings.Replace(good, "rags: light", "rags: heavy", 1),
		"a word said":    strings.Replace(good, "rags: light", "rags: light, grit: none", 1),
		"the position unsaid": strings.Replace(strings.Replace(good, "position: flow up", "position: horizontal",
			1), ", position: horizontal", "", 1),
		"a default said": good + "operation: {interest: 4 %}\n",
		"another number": strings.Replace(good, "count: 2", "count: 3", 1),
		"another curve":  strings.Replace(good, "38 ft]]", "39 ft]]", 1),
		"an efficiency curve": strings.Replace(good, "submersible: no",
			"submersible: no, efficiency: [[200 gpm, 44 %], [500 gpm, 70 %], [800 gpm, 50 %]]", 1),
		"another profile": strings.Replace(good, "length: 3400 ft}]}",
			"length: 3400 ft}], profile: [[0 ft, 10 ft], [3400 ft, 45 ft]]}", 1),
		"another valve there now": strings.Replace(good, "position: flow up", "position: flow up, existing: swing", 1),
		"an event":                good + "events: [{kind: power failure}]\n",
		"another name":            strings.Replace(good, "station: x", "station: y", 1),
	} {
		if must(t, text).Hash == first {
			t.Errorf("%s does not change the hash", name)
		}
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(good)
	f.Add(short)
	f.Add(metric)
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
