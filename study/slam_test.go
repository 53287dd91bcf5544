package study_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

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
	s, err := study.Run(context.Background(), st,
		study.Options{Catalogs: catalogs, Rules: book, Valve: id, Quick: true})
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

func severityOf(a judge.Assessment, k *judge.Kind) (judge.Severity, bool) {
	for _, f := range a.Findings {
		if f.Kind == k {
			return f.Severity, true
		}
	}
	return 0, false
}

// TestWhatTheCatalogDoesNotSay: a datum that the catalog leaves out is never a pass: it
// is a condition where the valve cannot be ordered without it, else to be confirmed.
func TestWhatTheCatalogDoesNotSay(t *testing.T) {
	drinking := [2]string{"kind: raw sewage\n  rags: light\n  grit: some\n  oil: trace", "kind: drinking water"}
	for _, c := range []struct {
		what     string
		kind     *judge.Kind
		edit     [2]string
		severity judge.Severity
	}{
		{"rating", judge.RatingUnknown, [2]string{}, judge.Condition},
		{"passage", judge.SolidsUnknown, [2]string{}, judge.Condition},
		{"masses", judge.LiftingUnknown, [2]string{}, judge.Confirm},
		{
			"length", judge.LayingLengthUnknown,
			[2]string{"place: dry pit", "place: dry pit\n  laying_length: 14 in"},
			judge.Confirm,
		},
		{"grit", judge.GritUnknown, [2]string{}, judge.Confirm},
		{"rags", judge.RagsUnknown, [2]string{}, judge.Confirm},
		{"drinking water", judge.DrinkingWaterUnknown, drinking, judge.Condition},
		{"back head", judge.BackHeadUnknown, [2]string{}, judge.Condition},
		{"elastomer", judge.ElastomerUnsuitable, [2]string{"oil: trace", "oil: heavy"}, judge.Rejects},
	} {
		t.Run(c.what, func(t *testing.T) {
			text := strings.Replace(layout(t), c.edit[0], c.edit[1], 1)
			a := judgedWith(t, text, less(t, "flap", c.what), "flap/6in", "0.15 m/s", "0.30 m/s")
			got, ok := severityOf(a, c.kind)
			if !ok || got != c.severity {
				t.Errorf("want %s as %s, got %v", c.kind.ID, c.severity, a.Findings)
			}
			if whole, ok := severityOf(judged(t, text, "flap/6in")[0], c.kind); ok {
				t.Errorf("%s is %s with the datum too", c.kind.ID, whole)
			}
			if c.severity >= judge.Condition && a.Verdict == judge.Suitable {
				t.Error("suitable with a condition")
			}
		})
	}
}

// TestLyingBallNeedsBackHead: a ball on its side does not seal at a static head of 2 m.
func TestLyingBallNeedsBackHead(t *testing.T) {
	text := strings.NewReplacer("position: flow up", "position: horizontal", "outlet: 46 ft",
		"outlet: 14.5 ft").Replace(layout(t))
	a := judged(t, text, "ball-pocket/6in")[0]
	if got, ok := severityOf(a, judge.BackHeadTooSmall); !ok || got != judge.Rejects || a.Verdict != judge.Unsuitable {
		t.Errorf("2 m of static head: verdict %s, %v", a.Verdict, a.Findings)
	}
}
