package study_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// judgedWith judges one valve of the given catalogs at the layout example with the slam
// limits replaced.
func judgedWith(t testing.TB, text string, catalogs []*catalog.Catalog, id, quiet, harmful string) judge.Assessment {
	t.Helper()
	base, faults := rules.Base()
	own, more := rules.Parse("own.yaml", fmt.Appendf(nil, `limits:
  - {id: slam-quiet, title: quiet, kind: velocity, value: %s, source: invented, status: seen}
  - {id: slam-harmful, title: harmful, kind: velocity, value: %s, source: invented, status: seen}
`, quiet, harmful))
	if faults.Err() != nil || more.Err() != nil {
		t.Fatal(faults, more)
	}
	book, bad := base.With(own)
	if bad.Err() != nil {
		t.Fatal(bad)
	}
	st, list := station.Load("test.yaml", []byte(text))
	if st == nil {
		t.Fatal(list)
	}
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: catalogs, Rules: book, Valve: id, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	return s.Assessments[0]
}

func demo(t testing.TB) []*catalog.Catalog {
	t.Helper()
	all, faults := catalog.Demo()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	return all
}

// TestSlamClasses moves the two limits across the band of one valve: every class that a
// band can have is told, with its severity and the words that go with it.
func TestSlamClasses(t *testing.T) {
	const id = "flap/6in"
	v := judgedWith(t, layout(t), demo(t), id, "0.15 m/s", "0.30 m/s").Slam.ReverseVelocity
	if !v.Ranged() {
		t.Fatalf("the band of %s is a point: the classes cannot be told apart", id)
	}
	below, within, later, above := v.Low/2, (v.Low+v.SI)/2, (v.SI+v.High)/2, v.High*2
	for _, c := range []struct {
		name           string
		quiet, harmful float64
		id, text       string
		severity       judge.Severity
		verdict        judge.Verdict
	}{
		{"quiet", above, above + 1, "slam-quiet", "quiet", judge.Pass, judge.Suitable},
		{"quiet to audible", within, above, "slam-audible", "quiet to audible", judge.Condition, judge.WithConditions},
		{"audible", below, above, "slam-audible", ": audible", judge.Condition, judge.WithConditions},
		{"audible to harmful", below, later, "slam-audible", "audible to harmful", judge.Condition, judge.WithConditions},
		{"harmful", below / 2, below, "slam-harmful", "harmful", judge.Rejects, judge.Unsuitable},
		{"harmful at best", below, within, "slam-open", "harmful at the best guess", judge.Unchecked, judge.CannotSay},
		{"open", within, later, "slam-open", "too wide to say", judge.Unchecked, judge.CannotSay},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := judgedWith(t, layout(t), demo(t), id, fmt.Sprintf("%g m/s", c.quiet), fmt.Sprintf("%g m/s", c.harmful))
			i := slices.IndexFunc(a.Findings, func(f judge.Finding) bool { return strings.HasPrefix(f.ID, "slam-") })
			if i < 0 {
				t.Fatal("no slam finding")
			}
			f := a.Findings[i]
			if f.ID != c.id || f.Severity != c.severity || !strings.Contains(f.Text, c.text) || a.Verdict != c.verdict {
				t.Errorf("got %s, %s, %q, verdict %s", f.ID, f.Severity, f.Text, a.Verdict)
			}
			if f.Severity == judge.Unchecked && f.Missing == "" {
				t.Error("what would settle it is not told")
			}
			if a.Slam.HeadRise.SI < 0 || a.Slam.HeadRise.Low < 0 {
				t.Errorf("head rise %g, from %g", a.Slam.HeadRise.SI, a.Slam.HeadRise.Low)
			}
		})
	}
}

// less is the demonstration family with some lines left out or changed, as a catalog of
// its own.
func less(t testing.TB, family string, edit ...string) []*catalog.Catalog {
	t.Helper()
	for _, f := range demo(t)[0].Families {
		if f.ID != family {
			continue
		}
		c := *f.Catalog
		own := *f
		own.Catalog, c.Families, own.Items = &c, []*catalog.Family{&own}, nil
		for _, it := range f.Items {
			mine := *it
			mine.Family = &own
			for _, what := range edit {
				leaveOut(t, &own, &mine, what)
			}
			own.Items = append(own.Items, &mine)
		}
		return []*catalog.Catalog{&c}
	}
	t.Fatalf("no family %s", family)
	return nil
}

func leaveOut(t testing.TB, f *catalog.Family, it *catalog.Item, what string) {
	t.Helper()
	switch what {
	case "rating":
		it.Rating = basis.Value{}
	case "passage":
		it.Passage = basis.Value{}
	case "masses":
		it.ElementMass, it.CoverMass = basis.Value{}, basis.Value{}
	case "length":
		it.FaceToFace = basis.Value{}
	case "grit":
		f.Grit = ""
	case "rags":
		f.Rags = ""
	case "drinking water":
		f.DrinkingWater = ""
	case "back head":
		f.BackHead = nil
	case "elastomer":
		f.Elastomers = []string{"EPDM"}
	default:
		t.Fatalf("nothing is called %q", what)
	}
}

// TestWhatTheCatalogDoesNotSay: a datum that the catalog leaves out is an open point that
// names the datum, and never a pass.
func TestWhatTheCatalogDoesNotSay(t *testing.T) {
	drinking := [2]string{"kind: raw sewage\n  rags: light\n  grit: some\n  oil: trace", "kind: drinking water"}
	for _, c := range []struct {
		what, id string
		edit     [2]string
		severity judge.Severity
	}{
		{"rating", "rating-unknown", [2]string{}, judge.Unchecked},
		{"passage", "solids-unknown", [2]string{}, judge.Unchecked},
		{"masses", "lifting-unknown", [2]string{}, judge.Unchecked},
		{"length", "laying-length-unknown", [2]string{"place: dry pit", "place: dry pit\n  laying_length: 14 in"}, judge.Unchecked},
		{"grit", "grit-unknown", [2]string{}, judge.Unchecked},
		{"rags", "rags-unknown", [2]string{}, judge.Unchecked},
		{"drinking water", "drinking-water-unknown", drinking, judge.Unchecked},
		{"back head", "back-head-unknown", [2]string{}, judge.Unchecked},
		{"elastomer", "elastomer-unsuitable", [2]string{"oil: trace", "oil: heavy"}, judge.Rejects},
	} {
		t.Run(c.what, func(t *testing.T) {
			text := strings.Replace(layout(t), c.edit[0], c.edit[1], 1)
			a := judgedWith(t, text, less(t, "flap", c.what), "flap/6in", "0.15 m/s", "0.30 m/s")
			got, ok := severityOf(a, c.id)
			if !ok || got != c.severity {
				t.Errorf("want %s as %s, got %v", c.id, c.severity, a.Findings)
			}
			if whole, ok := severityOf(judged(t, text, "flap/6in")[0], c.id); ok {
				t.Errorf("%s is %s with the datum too", c.id, whole)
			}
			if a.Verdict == judge.Suitable {
				t.Error("suitable with an open point")
			}
		})
	}
}

// TestLyingBallNeedsBackHead: a ball on its side does not seal at a static head of 2 m.
func TestLyingBallNeedsBackHead(t *testing.T) {
	text := strings.NewReplacer("position: flow up", "position: horizontal", "outlet: 46 ft", "outlet: 14.5 ft").Replace(layout(t))
	a := judged(t, text, "ball-pocket/6in")[0]
	if got, ok := severityOf(a, "back-head-too-small"); !ok || got != judge.Rejects || a.Verdict != judge.Unsuitable {
		t.Errorf("2 m of static head: verdict %s, %v", a.Verdict, a.Findings)
	}
}

// A finding that gets worse never makes the verdict better.
func TestVerdictFollowsAWorseFinding(t *testing.T) {
	all := []judge.Severity{judge.Pass, judge.Note, judge.Condition, judge.Unchecked, judge.Rejects}
	rapid.Check(t, func(t *rapid.T) {
		findings := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) judge.Finding {
			return judge.Finding{ID: rapid.SampledFrom([]string{"x", "slam-open"}).Draw(t, "id"), Severity: rapid.SampledFrom(all).Draw(t, "severity")}
		}), 1, 8).Draw(t, "findings")
		worse := slices.Clone(findings)
		i := rapid.IntRange(0, len(worse)-1).Draw(t, "which")
		worse[i].Severity = rapid.SampledFrom(all[findings[i].Severity:]).Draw(t, "worse")
		if before, after := judge.VerdictOf(findings), judge.VerdictOf(worse); after < before {
			t.Fatalf("%s becomes %s", before, after)
		}
	})
}
