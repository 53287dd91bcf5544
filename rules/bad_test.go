package rules

import (
	"math"
	"strings"
	"testing"
)

const row = "limits:\n  - {id: slam-quiet, title: t, kind: velocity, value: 0.1 m/s, source: s, status: seen}\n"

// TestBadFiles edits one good row, or brings a file of its own, and looks for the
// fault that must be reported and its place.
func TestBadFiles(t *testing.T) {
	change := func(from, to string) string {
		if !strings.Contains(row, from) {
			t.Fatalf("%q does not stand in the row", from)
		}
		return strings.Replace(row, from, to, 1)
	}
	b := mustBase(t)
	for _, c := range []struct{ name, text, id, place string }{
		{"unknown limit", change("slam-quiet", "slam-quite"), "limit-unknown", ":2:10"},
		{"limit twice", row + strings.TrimPrefix(row, "limits:\n"), "limit-twice", ":3:10"},
		{"unknown kind", change("kind: velocity", "kind: speed"), "kind-unknown", ":2:38"},
		{"other kind", change("kind: velocity", "kind: head"), "kind-differs", ":2:38"},
		{"unit of another kind", change("0.1 m/s", "1 m"), "value-unreadable", ":2:55"},
		{"bare number", change("0.1 m/s", "1"), "value-unreadable", ":2:55"},
		{"not a number", change("0.1 m/s", "NaN m/s"), "value-unreadable", ":2:55"},
		{"infinite", change("0.1 m/s", "1e999 m/s"), "value-unreadable", ":2:55"},
		{"negative", change("0.1 m/s", "-1 m/s"), "value-out-of-range", ":2:55"},
		{"a range", change("0.1 m/s", "1..2 m/s"), "value-unreadable", ":2:55"},
		{"quiet above harmful", change("0.1 m/s", "1 m/s"), "limits-reversed", ":2:10"},
		{"harmful below quiet", "limits: [{id: slam-harmful, value: 0.1 m/s, source: s}]", "limits-reversed", ":1:15"},
		{"ordered by nothing", change("status: seen", "status: seen, not_above: slam"), "limit-unknown", ":2:10"},
		{
			"ordered by another kind", change("status: seen", "status: seen, not_above: one-person-mass"),
			"limits-reversed", ":2:10",
		},
		{"no source", change(", source: s", ""), "key-missing", ":2:5"},
		{"no value", change(", value: 0.1 m/s", ""), "key-missing", ":2:5"},
		{"no id", change("id: slam-quiet, ", ""), "key-missing", ":2:5"},
		{"unknown status", change("status: seen", "status: sean"), "word-unknown", ":2:83"},
		{"unknown severity", change("status: seen", "status: seen, severity: fatal"), "word-unknown", ":2:99"},
		{"unknown key", change("title:", "titel:"), "key-unknown", ":2:22"},
		{"key twice", change("title: t", "title: t, title: u"), "key-twice", ":2:32"},
		{"not a list", "limits: 3\n", "yaml-shape", ":1:9"},
		{"a list for a word", change("title: t", "title: [t]"), "yaml-shape", ":2:29"},
		{"broken", "limits: [\n", "yaml-syntax", ":"},
		{"empty", "", "file-empty", ":1:1"},
		{"nothing after a key", "limits:\n", "value-missing", ":1:8"},
		{"alias", "limits: &a\n  - *a\n", "yaml", ":"},
		{"deep", "limits: " + strings.Repeat("[", 200) + strings.Repeat("]", 200), "file-too-deep", ":1:1"},
		{"10 MB", row + "# " + strings.Repeat("x", 10<<20), "file-too-large", ":1:1"},
		{"temperature in words", "elastomers:\n  - {name: NBR, greatest_temperature: hot, oil: none, grit: none, source: s}\n", "value-unreadable", ":2:39"},
		{"frozen elastomer", "elastomers:\n  - {name: NBR, greatest_temperature: -20 °C, oil: none, grit: none, source: s}\n", "value-out-of-range", ":2:39"},
		{"unknown elastomer", "elastomers:\n  - {name: NRB, greatest_temperature: 50 °C, oil: none, grit: none, source: s}\n", "elastomer-unknown", ":2:12"},
		{"elastomer twice", "elastomers:\n  - &x {name: NBR, greatest_temperature: 50 °C, oil: none, grit: none, source: s}\n  - {name: NBR, greatest_temperature: 50 °C, oil: none, grit: none, source: s}\n", "elastomer-twice", ":3:12"},
		{"caution at no time", "cautions:\n  - {id: x, when: [often], text: t, defers: d}\n", "word-unknown", ":2:20"},
		{"caution that defers to nobody", "cautions:\n  - {id: x, when: [always], text: t}\n", "key-missing", ":2:5"},
		{
			"caution without words", "cautions:\n  - {id: x, when: [always], text: \" \", defers: d}\n", "value-missing",
			":2:35",
		},
		{"caution twice", "cautions:\n  - {id: x, when: [always], text: t, defers: d}\n  - {id: x, when: [always], text: t, defers: d}\n", "caution-twice", ":3:10"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, faults := Parse("own.yaml", []byte(c.text))
			if faults.Err() == nil {
				var own *Book
				if own, faults = b.With(f); own != nil {
					t.Fatal("it was taken")
				}
			}
			for _, m := range faults {
				if m.Mend == "" {
					t.Errorf("no way to mend: %v", m)
				}
				if strings.HasPrefix(m.ID, c.id) && strings.Contains(m.Error(), "own.yaml"+c.place) {
					return
				}
			}
			t.Errorf("want %s at %s, got\n%v", c.id, c.place, faults)
		})
	}
}

func TestDidYouMean(t *testing.T) {
	f, _ := Parse("own.yaml", []byte(strings.Replace(row, "slam-quiet", "slam-quite", 1)))
	if _, faults := mustBase(t).With(f); !strings.Contains(faults.Error(), `did you mean "slam-quiet"?`) {
		t.Error(faults)
	}
}

// All faults of a file are reported together.
func TestFaultsAreToldTogether(t *testing.T) {
	f, _ := Parse("own.yaml", []byte(`limits:
  - {id: slam-quite, value: 1 m/s, source: s}
  - {id: loss-share, value: 5 ft, source: s}
elastomers:
  - {name: nbr, greatest_temperature: 50 °C, oil: none, grit: none, source: s}
`))
	if _, faults := mustBase(t).With(f); len(faults) != 3 {
		t.Errorf("three faults wanted, got\n%v", faults)
	}
}

// A limit that the book does not have is a slip of the pen, but in an empty book all
// are new, and each must be whole.
func TestNewLimitsAreWhole(t *testing.T) {
	f, _ := Parse("base.yaml", []byte("limits:\n  - {id: new, value: 1 m/s, source: s}\n"))
	if b, faults := (&Book{}).With(f); b != nil || !strings.Contains(faults.Error(), `"title" is missing`) {
		t.Error(faults)
	}
}

func FuzzParse(f *testing.F) {
	f.Add(string(baseFile))
	f.Add(string(cautionsFile))
	f.Add(row)
	f.Add("limits: [{id: a}]")
	f.Add("elastomers: [{name: NBR, greatest_temperature: 1 K, oil: none, grit: none, source: s}]")
	f.Add("cautions: [{id: x, when: [always], text: t, defers: d}]")
	b := mustBase(f)
	f.Fuzz(func(t *testing.T, text string) {
		file, faults := Parse("fuzz.yaml", []byte(text))
		if faults.Err() != nil {
			return
		}
		own, faults := b.With(file)
		if (own == nil) != (faults.Err() != nil) {
			t.Fatalf("a book and faults: %v", faults)
		}
		if own == nil {
			return
		}
		for _, id := range own.IDs() {
			if v := own.Limit(id).Value; v.Kind != b.Limit(id).Value.Kind || !(v.SI >= 0) || math.IsInf(v.SI, 0) {
				t.Fatalf("%s is %g %s", id, v.SI, v.Kind)
			}
		}
		if own.Limit("slam-quiet").Value.SI > own.Limit("slam-harmful").Value.SI {
			t.Fatal("quiet stands above harmful")
		}
	})
}
