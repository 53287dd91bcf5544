package rules

import (
	"math"
	"strings"
	"testing"
)

func TestBaseIsWhole(t *testing.T) {
	b, faults := Base()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, id := range b.IDs() {
		l := b.Limit(id)
		if l.Value.Source == "" || l.Status == "" || l.Value.Reason == "" {
			t.Errorf("%s has no source or status", id)
		}
		if strings.HasPrefix(l.Status, "common practice") != (l.Value.Source == "common-practice") {
			t.Errorf("%s: status %q does not go with source %q", id, l.Status, l.Value.Source)
		}
	}
	defers := []string{"maker", "local", "licensed", "guard", "Test the air"}
	for _, c := range b.Cautions() {
		found := false
		for _, d := range defers {
			found = found || strings.Contains(c.Text, d)
		}
		if !found {
			t.Errorf("the caution %s defers to nobody", c.ID)
		}
	}
}

func TestAUsersFileReplacesOneLimit(t *testing.T) {
	b, _ := Base()
	f, faults := Parse("own.yaml", []byte("limits:\n  - {id: slam-quiet, title: ours, kind: velocity, value: 0.3 ft/s, source: our manual, status: seen}\n"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	own, faults := b.With(f)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if got := own.Limit("slam-quiet").Value.SI; math.Abs(got-0.09144) > 1e-12 {
		t.Errorf("the limit is %g", got)
	}
	if b.Limit("slam-quiet").Value.SI != 0.15 || own.Limit("slam-harmful").Value.SI != 0.30 {
		t.Error("other limits moved")
	}
}

func TestFaultsAreTold(t *testing.T) {
	b, _ := Base()
	const row = "limits:\n  - {id: slam-quiet, title: t, kind: velocity, value: 1 m/s, source: s, status: seen}\n"
	for name, c := range map[string]struct{ text, id, place string }{
		"unknown limit": {strings.Replace(row, "slam-quiet", "slam-quite", 1), "limit-unknown", ":2:10"},
		"unknown kind":  {strings.Replace(row, "kind: velocity", "kind: speed", 1), "kind-unknown", ":2:38"},
		"other kind":    {strings.Replace(strings.Replace(row, "kind: velocity", "kind: head", 1), "1 m/s", "1 m", 1), "kind-differs", ":2:38"},
		"wrong unit":    {strings.Replace(row, "1 m/s", "1 m", 1), "value-unreadable", ":2:55"},
		"bare number":   {strings.Replace(row, "1 m/s", "1", 1), "value-unreadable", ":2:55"},
		"no source":     {strings.Replace(row, ", source: s", "", 1), "key-missing", ":2:5"},
		"status":        {strings.Replace(row, "status: seen", "status: sean", 1), "word-unknown", ":2:81"},
		"unknown key":   {strings.Replace(row, "title:", "titel:", 1), "key-unknown", ":2:22"},
		"not a list":    {"limits: 3\n", "yaml-shape", ":1:9"},
		"broken":        {"limits: [\n", "yaml-syntax", ":"},
		"empty":         {"", "file-empty", ":1:1"},
		"null":          {"limits:\n", "value-missing", ":1:8"},
		"temperature":   {"elastomers:\n  - {name: X, greatest_temperature: hot, oil: none, grit: none, source: s, status: seen}\n", "value-unreadable", ":2:37"},
		"when":          {"cautions:\n  - {id: x, when: [often], text: t}\n", "word-unknown", ":2:20"},
		"alias":         {"limits: &a\n  - *a\n", "yaml", ":"},
	} {
		f, faults := Parse("own.yaml", []byte(c.text))
		if faults.Err() == nil {
			_, faults = b.With(f)
		}
		if len(faults) == 0 {
			t.Errorf("%s: no fault told", name)
			continue
		}
		m := faults[0]
		for _, x := range faults {
			if strings.HasPrefix(x.ID, c.id) {
				m = x
			}
		}
		if !strings.HasPrefix(m.ID, c.id) || !strings.Contains(m.Error(), c.place) || m.Mend == "" {
			t.Errorf("%s: %s; want %s at %s", name, m.Error(), c.id, c.place)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(string(baseFile))
	f.Add("limits: [{id: a}]")
	b, _ := Base()
	f.Fuzz(func(t *testing.T, text string) {
		file, faults := Parse("fuzz.yaml", []byte(text))
		if faults.Err() == nil {
			_, _ = b.With(file)
		}
	})
}
