package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"seatward/internal/promise"
)

// released is the folder with the schemas of the releases, one folder each.
const released = "testdata/schemas"

// lastReleased is the folder of the last release.
func lastReleased(t *testing.T) string {
	t.Helper()
	folders, err := filepath.Glob(filepath.Join(released, "v*"))
	if err != nil || len(folders) == 0 {
		t.Fatalf("no schemas in %s, %v", released, err)
	}
	return slices.MaxFunc(folders, func(a, b string) int { return compareVersions(filepath.Base(a), filepath.Base(b)) })
}

// compareVersions orders versions by their numbers.
func compareVersions(a, b string) int {
	x, y := strings.Split(a, "."), strings.Split(b, ".")
	for i := range min(len(x), len(y)) {
		if d := len(x[i]) - len(y[i]); d != 0 {
			return d
		}
		if d := strings.Compare(x[i], y[i]); d != 0 {
			return d
		}
	}
	return len(x) - len(y)
}

// written are the schemas of what people write; the others are answers.
var written = []string{"station", "catalog", "rules", "map", "logmap", "profile", "wording"}

// TestPromises holds every schema against that of the last release. docs/compatibility.md
// says what is promised, and what to do where a promise must be broken.
func TestPromises(t *testing.T) {
	folder := lastReleased(t)
	files, err := filepath.Glob(filepath.Join(folder, "*.json"))
	if err != nil || len(files) < 20 {
		t.Fatalf("%d schemas in %s, %v", len(files), folder, err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		out, errOut, code := called(t, "seatward schema "+name)
		if code != answered {
			t.Errorf("%s was published with %s, and is gone: %s", name, filepath.Base(folder), errOut)
			continue
		}
		older, newer := unmarshaled(t, data), unmarshaled(t, []byte(out))
		for _, fault := range broken(name, older, newer) {
			t.Errorf("%s breaks the promise of %s: %s", name, filepath.Base(folder), fault)
		}
	}
}

// broken compares by the promise that a schema of this name gives.
func broken(name string, older, newer any) []string {
	if form(older) != form(newer) {
		return nil // a new form, which says that the old one ends
	}
	switch {
	case name == "api":
		return promise.API(older, newer)
	case slices.Contains(written, name):
		return promise.Written(older, newer, older, newer)
	}
	return promise.Answered(older, newer, older, newer)
}

// form is the name and version that the title of a schema ends with.
func form(schema any) string {
	o, _ := schema.(map[string]any)
	if info, ok := o["info"].(map[string]any); ok {
		o = info
	}
	title, _ := o["title"].(string)
	_, form, _ := strings.Cut(title, ", form ")
	return form
}

func unmarshaled(t *testing.T, data []byte) any {
	t.Helper()
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// TestForms: every schema names its form, and no two the same; every answer names the program.
func TestForms(t *testing.T) {
	seen := map[string]string{}
	for _, s := range schemas {
		data, err := s.make()
		if err != nil {
			t.Fatal(err)
		}
		doc := unmarshaled(t, data)
		f := form(doc)
		if fields, _ := doc.(map[string]any)["properties"].(map[string]any); fields["program"] == nil &&
			s.name != "api" && !slices.Contains(written, s.name) {
			t.Errorf("the answer %s does not name the program", s.name)
		}
		if other, twice := seen[f]; twice || !strings.HasPrefix(f, "seatward.") || !strings.Contains(f, "/") {
			t.Errorf("the schema %s has the form %q, %s too: want one like seatward.x/1 of its own", s.name, f, other)
		}
		seen[f] = s.name
	}
}

// TestPromisesCatch: a field taken from a real schema is found.
func TestPromisesCatch(t *testing.T) {
	for _, tt := range []struct{ name, from, to string }{
		{"station", `"raw sewage",`, ``},
		{"catalog", `"maker"`, `"manufacturer"`},
		{"study", `"ranking_rule"`, `"rule"`},
		{"closing", `"median_m_s"`, `"middle_m_s"`},
		{"api", `"/api/sheet"`, `"/api/page"`},
	} {
		out, _, _ := called(t, "seatward schema "+tt.name)
		if !strings.Contains(out, tt.from) {
			t.Fatalf("the schema %s has no %s", tt.name, tt.from)
		}
		older, newer := unmarshaled(t, []byte(out)), unmarshaled(t, []byte(strings.ReplaceAll(out, tt.from, tt.to)))
		if len(broken(tt.name, older, newer)) == 0 {
			t.Errorf("%s without %s breaks no promise", tt.name, tt.from)
		}
	}
}

func TestCompareVersions(t *testing.T) {
	order := []string{"v0.1.0", "v0.2.0", "v0.10.0", "v0.10.1", "v1.0.0", "v10.0.0"}
	for i := 1; i < len(order); i++ {
		if compareVersions(order[i-1], order[i]) >= 0 || compareVersions(order[i], order[i-1]) <= 0 ||
			compareVersions(order[i], order[i]) != 0 {
			t.Errorf("%s does not come before %s", order[i-1], order[i])
		}
	}
}
