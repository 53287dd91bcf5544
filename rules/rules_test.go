package rules

import (
	"math"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

func mustBase(t testing.TB) *Book {
	t.Helper()
	b, faults := Base()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return b
}

// with lays a file over the base.
func with(t testing.TB, text string) *Book {
	t.Helper()
	f, faults := Parse("own.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	own, faults := mustBase(t).With(f)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return own
}

// A number without a source says so, in the same words in both places.
func TestBaseIsWhole(t *testing.T) {
	b := mustBase(t)
	marks := map[string]string{
		"common practice, no source": basis.CommonPractice,
		"choice of this program":     basis.OwnChoice,
	}
	for _, id := range b.IDs() {
		l := b.Limit(id)
		if l.ID != id || l.Title == "" || l.Value.Source == "" || l.Status == "" || l.Value.Reason == "" ||
			l.Severity == "" {
			t.Errorf("%s is not whole: %+v", id, l)
		}
		for status, source := range marks {
			if (l.Status == status) != (l.Value.Source == source) {
				t.Errorf("%s: status %q does not go with source %q", id, l.Status, l.Value.Source)
			}
		}
		if l.Value.Low != l.Value.SI || l.Value.High != l.Value.SI || l.Value.SI < 0 {
			t.Errorf("%s: %g to %g", id, l.Value.Low, l.Value.High)
		}
	}
	for _, name := range b.Elastomers() {
		e, _ := b.Elastomer(name)
		if e.Source == "" || e.Status == "" || e.Oil == "" || e.Grit == "" || e.MostK < 300 || e.MostK > 450 {
			t.Errorf("%+v", e)
		}
	}
}

// Every caution defers to somebody who may decide.
func TestCautionsDefer(t *testing.T) {
	all := mustBase(t).Cautions()
	for _, c := range all {
		found := false
		for _, who := range []string{
			"maker's instructions", "licensed engineer", "Local rules", "local rules",
			"Local codes", "maker's masses",
		} {
			found = found || strings.Contains(c.Defers, who)
		}
		if !found || len(c.When) == 0 {
			t.Errorf("the caution %s defers to nobody, or never: %+v", c.ID, c)
		}
	}
	subjects := []string{"pressure", "lifting", "confined-space", "sewage", "drinking-water", "surge"}
	for _, want := range subjects {
		found := false
		for _, c := range all {
			found = found || c.ID == want
		}
		if !found {
			t.Errorf("no caution is about %s", want)
		}
	}
}

// The numbers as their sources print them, typed a second time.
func TestNumbersOfTheSources(t *testing.T) {
	b := mustBase(t)
	const foot, inch = 0.3048, 0.0254
	for _, c := range []struct {
		id     string
		want   float64
		source string
	}{
		{"slam-quiet", 0.15, "Ballun, J. AWWA 99(3), 2007: about 0.5 ft/s (from memory)"},
		{"slam-harmful", 0.30, "Ballun, J. AWWA 99(3), 2007: about 1.0 ft/s (from memory)"},
		{"horizontal-ball-back-head", 10 * foot, "common practice, no source: 10 ft of water"},
		{"ball-velocity", 5 * foot, "common practice, no source: about 5 ft/s"},
		{"scour-velocity", 2 * foot, "35 Ill. Adm. Code 370.470(a): at least 2 ft/s (seen)"},
		{"main-velocity", 8 * foot, "9VAC25-790-440 A: 8 ft/s not exceeded (seen)"},
		{"greatest-velocity", 15 * foot, "ANSI/HI 9.6.6: discharge not above 15 ft/s (from memory)"},
		{"solids-sphere", 3 * inch, "Ten States Standards 42.33: spheres of at least 3 in (from memory)"},
		{"standard-temperature", (125 + 459.67) / 1.8, "AWWA C508 and C518: 125 degF (seen)"},
		{"one-person-mass", 23, "NIOSH 94-110: load constant 23 kg (seen)"},
		{"straight-before", 5, "AWWA M44/M49 practice: at least 5 diameters (from memory)"},
	} {
		if got := b.Limit(c.id).Value.SI; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s is %g, want %g by %s", c.id, got, c.want, c.source)
		}
	}
	for name, celsius := range map[string]float64{
		"NBR": 80, "EPDM": 120, "NR": 70, "CR": 100, "HNBR": 150,
		"polyurethane": 50,
	} {
		if e, ok := b.Elastomer(name); !ok || math.Abs(e.MostK-273.15-celsius) > 1e-9 {
			t.Errorf("%s bears %g °C, want %g (general rubber handbooks, from memory; NBR seen)", name, e.MostK-273.15,
				celsius)
		}
	}
}

// A file that replaces a limit need only say the new number and where it comes from.
func TestAUsersFileReplacesOneLimit(t *testing.T) {
	b := mustBase(t)
	own := with(t, "limits:\n  - {id: slam-quiet, value: 0.3 ft/s, source: our manual}\n")
	was, is := b.Limit("slam-quiet"), own.Limit("slam-quiet")
	if math.Abs(is.Value.SI-0.09144) > 1e-12 || is.Status != "owner's rule" || is.Value.Source != "our manual" {
		t.Errorf("the limit is %+v", is)
	}
	if is.Title != was.Title || is.Severity != was.Severity || is.Value.Kind != quantity.Velocity {
		t.Errorf("what the file does not say is lost: %+v", is)
	}
	if b.Limit("slam-quiet").Value.SI != 0.15 || own.Limit("slam-harmful").Value.SI != 0.30 ||
		len(own.Cautions()) != len(b.Cautions()) {
		t.Error("others moved")
	}
	strict := with(t, "limits:\n  - {id: loss-share, value: 5 %, severity: rejects, title: ours, source: our manual, status: seen, edition: 2026-01, note: x}\n")
	if l := strict.Limit("loss-share"); l.Severity != Rejects || l.Title != "ours" || l.Edition != "2026-01" ||
		l.Note != "x" || l.Status != "seen" {
		t.Errorf("%+v", l)
	}
}

func TestAUsersFileReplacesElastomersAndCautions(t *testing.T) {
	own := with(t, `elastomers:
  - {name: NBR, greatest_temperature: 60 °C, oil: trace, grit: heavy, source: our tests}
cautions:
  - {id: surge, when: [surge], text: Ours., defers: Ask a licensed engineer.}
  - {id: own, when: [sewage, vault], text: Own., defers: Local rules say how.}
`)
	if e, ok := own.Elastomer("NBR"); !ok || e.Oil != "trace" || e.Chloramine || e.Status != "owner's rule" {
		t.Errorf("%+v", e)
	}
	base, all := mustBase(t).Cautions(), own.Cautions()
	if len(all) != len(base)+1 || all[len(all)-1].ID != "own" {
		t.Fatalf("%d cautions after %d", len(all), len(base))
	}
	for i, c := range base {
		if all[i].ID != c.ID || (c.ID == "surge") != (all[i].Text == "Ours.") {
			t.Errorf("the caution %s became %+v", c.ID, all[i])
		}
	}
}
