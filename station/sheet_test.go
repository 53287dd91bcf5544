package station

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/quantity"
)

func exampleFiles(t testing.TB) map[string][]byte {
	t.Helper()
	out := map[string][]byte{"starter US": []byte(Starter(quantity.US)), "starter SI": []byte(Starter(quantity.SI))}
	for _, name := range []string{"first-call", "layout", "study", "booster"} {
		data, err := os.ReadFile(filepath.Join("..", "examples", name+".station.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		out[name] = data
	}
	return out
}

func fieldsOf(t testing.TB, data []byte) map[string]Field {
	t.Helper()
	st, list := Load("x.yaml", data)
	if st == nil {
		t.Fatal(list)
	}
	all, list := Fields(st, data)
	if list != nil {
		t.Fatal(list)
	}
	out := map[string]Field{}
	for _, f := range all {
		if out[f.Path].Path != "" {
			t.Errorf("%s stands twice", f.Path)
		}
		out[f.Path] = f
	}
	return out
}

func TestFields(t *testing.T) {
	files := exampleFiles(t)
	layout := fieldsOf(t, files["layout"])
	for _, tt := range []struct{ path, written, text, origin, explain string }{
		{"levels.wet_well_high", "8 ft", "8.00 ft", "given", "wet_well_high"},
		{"valve.position", "flow up", "flow up", "given", ""},
		{"fluid.hydrogen_sulfide", "", "none", "assumed", ""},
		{"main.runs[0].length", "3400 ft", "3400 ft", "given", "main.runs[0].length"},
		{
			"pumps[0].curve", "[[0 gpm, 95 ft], [200 gpm, 85 ft], [400 gpm, 74 ft], [600 gpm, 59 ft], [800 gpm, 38 ft]]",
			"", "given", "",
		},
		{"branch.runs[0].fittings", "{90 elbow: 2, gate valve: 1, tee branch: 1}", "", "given", ""},
		{"duty.least_flow", "", "", "unknown", ""},
	} {
		f := layout[tt.path]
		if f.Written != tt.written || tt.text != "" && f.Text != tt.text || f.Origin != tt.origin ||
			f.Explain != tt.explain || f.Label == "" {
			t.Errorf("%+v, want %+v", f, tt)
		}
	}
	if f := layout["pumps[0].inertia"]; f.Origin == "given" || !f.Value.Ranged() || f.Kind != quantity.Inertia ||
		f.Shape != ShapeQuantity {
		t.Errorf("the inertia that nobody gave: %+v", f)
	}
	first := fieldsOf(t, files["first-call"])
	if f := first["main.runs[0].length"]; f.Origin != "assumed" || f.Reason == "" || f.Text == "" {
		t.Errorf("the length that was assumed: %+v", f)
	}
	for name, data := range files {
		for path, f := range fieldsOf(t, data) {
			if _, _, known := typeAt(fileType, path); !known || f.Written != "" && f.Origin != "given" ||
				f.Explain != "" && !f.Value.Known() {
				t.Errorf("%s: %+v", name, f)
			}
		}
	}
}

// Every field that was written can be written again as it stands, and nothing moves: the
// file reads the same, and so does the station.
func TestEditWritesFieldsBack(t *testing.T) {
	for name, data := range exampleFiles(t) {
		st, _ := Load("x.yaml", data)
		for path, f := range fieldsOf(t, data) {
			if f.Written == "" {
				continue
			}
			out, list := Edit("x.yaml", data, []Change{{path, &f.Written}})
			if list != nil {
				t.Fatalf("%s: %s: %v", name, path, list)
			}
			again, list := Load("x.yaml", out)
			if again == nil || again.Hash != st.Hash {
				t.Errorf("%s: %s = %s makes another station: %v\n%s", name, path, f.Written, list, out)
			}
			if f.Shape != ShapeList && f.Shape != ShapeKeys && string(out) != string(data) {
				t.Errorf("%s: %s = %q moved bytes", name, path, f.Written)
			}
		}
	}
}

// An edit sets its field and leaves all others as they were written; removing it gives
// back the file that did not have it.
func TestEditSetsOneField(t *testing.T) {
	files := exampleFiles(t)
	values := map[string][]string{
		"levels.wet_well_low": {"3 ft", "5 ft ± 1 ft", "1.5 m"},
		"main.runs[0].length": {"3390 ft", "3400 ft ± 10 ft", "1036 m"},
		"valve.position":      {"horizontal", "flow up"},
		"valve.clearance":     {"28 in", "1 m"}, "pumps[0].curve[4][1]": {"40 ft", "36 ft"},
		"surge.normal_stop": {"soft stop", "speed ramp"}, "operation.tariff": {"0.2 /kWh"},
		"fluid.kind": {"effluent", "raw sewage"}, "branch.runs[0].fittings.gate valve": {"2"},
		"main.profile": {"[[0 ft, 10 ft], [3400 ft, 45 ft]]"}, "place": {"Marram: \"Ness\" # here"},
	}
	var paths []string
	for p := range values {
		paths = append(paths, p)
	}
	rapid.Check(t, func(r *rapid.T) {
		name := rapid.SampledFrom([]string{"layout", "study"}).Draw(r, "file")
		now := files[name]
		for range rapid.IntRange(1, 4).Draw(r, "edits") {
			path := rapid.SampledFrom(paths).Draw(r, "path")
			value := rapid.SampledFrom(values[path]).Draw(r, "value")
			out, list := Edit("x.yaml", now, []Change{{path, &value}})
			if list != nil {
				r.Fatal(list)
			}
			if st, list := Load("x.yaml", out); st == nil {
				r.Fatalf("%s = %s: %v", path, value, list)
			}
			before, after := fieldsOf(t, now), fieldsOf(t, out)
			whole := path
			if cut := strings.Index(path, "curve["); cut >= 0 {
				whole = "pumps[0].curve"
			} else if strings.Contains(path, "fittings.") {
				whole = "branch.runs[0].fittings"
			} else if after[path].Written != value {
				r.Fatalf("%s holds %q, want %q", path, after[path].Written, value)
			}
			for p, f := range after {
				if p != whole && f.Written != before[p].Written {
					r.Fatalf("%s = %s moved %s from %q to %q", path, value, p, before[p].Written, f.Written)
				}
			}
			for line := range strings.Lines(string(files[name])) {
				if _, c, ok := strings.Cut(line, " #"); ok && !strings.Contains(string(out), strings.TrimSpace(c)) {
					r.Fatalf("%s = %s: the comment %q is gone", path, value, c)
				}
			}
			now = out
		}
	})
}

func TestEditRefuses(t *testing.T) {
	data := exampleFiles(t)["layout"]
	v := "3 ft"
	for _, path := range []string{
		"", "zebra", "levels.zebra", "levels", "pumps[0]", "pumps[x].speed", "pumps[7].speed",
		"station.name", "main.runs[0", "main[0]", "Levels.Outlet", ".",
	} {
		if out, list := Edit("x.yaml", data, []Change{{path, &v}}); out != nil || len(list) != 1 {
			t.Errorf("%q: %v", path, list)
		}
	}
	if out, list := Edit("x.yaml", data, []Change{{"levels", nil}, {"pumps[0]", nil}}); list != nil ||
		strings.Contains(string(out), "levels") {
		t.Errorf("%v\n%s", list, out)
	}
}
