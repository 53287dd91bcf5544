package text

import (
	"bytes"
	"context"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/catalog"
	"seatward/diag"
	"seatward/fluid"
	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
	"seatward/valve"
)

// fault says what is wrong with a printed report; empty when nothing is. Where its
// texts are arbitrary, they may read like a number that is none.
func fault(out string, arbitrary bool) (line int, what string) {
	for i, l := range strings.Split(out, "\n") {
		switch {
		case width(l) > Width:
			return i + 1, "too wide"
		case strings.HasSuffix(l, " "):
			return i + 1, "blanks at its end"
		case strings.ContainsFunc(l, unicode.IsControl):
			return i + 1, "a control character"
		case !arbitrary && (strings.Contains(l, "NaN") || strings.Contains(l, "Inf") || strings.Contains(l, "%!")):
			return i + 1, "a number that is none"
		}
	}
	return 0, ""
}

// answer answers for an example station.
func answer(t testing.TB, file, only string) *study.Study {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(file, data)
	if st == nil {
		t.Fatal(list)
	}
	catalogs, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	s, err := study.Run(context.Background(), st,
		study.Options{Catalogs: catalogs, Rules: book, Valve: only, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestThresholdPicture: the bar fits the page, its limit stands between the classes, and the
// range below it.
func TestThresholdPicture(t *testing.T) {
	fact := basis.NewAssumed("inertia of pump and motor", quantity.Inertia, 0.1, 0.05, 0.2, "", "")
	for _, above := range []bool{true, false} {
		p := newPage(Options{Units: quantity.US})
		p.threshold(&judge.Slam{
			Milder: judge.Quiet, Harder: judge.Audible,
			Threshold: &plant.Threshold{
				Fact: fact, At: basis.NewSimulated("threshold", quantity.Inertia, 0.12, "test"),
				Above: above,
			},
		})
		want := "audible ##################|..................... quiet"
		if !above {
			want = "quiet ..................|##################### audible"
		}
		out := p.out.String()
		if !strings.Contains(out, want) || !strings.Contains(out, "├─────") || !strings.Contains(out, "◆") {
			t.Errorf("%q is not in\n%s", want, out)
		}
		if line, what := fault(out, false); what != "" {
			t.Errorf("line %d: %s", line, what)
		}
	}
}

// TestExamplesFit: every report about every example fits the page, in both systems of
// units, and says its color by escape codes only where asked.
func TestExamplesFit(t *testing.T) {
	files, err := filepath.Glob("../../../examples/*.station.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, file := range files {
		full, one := answer(t, file, ""), answer(t, file, "ball-pocket/6in")
		for _, sys := range []quantity.System{quantity.US, quantity.SI} {
			for name, print := range map[string]func(io.Writer, Options) error{
				"select": func(w io.Writer, o Options) error { return Select(w, full, o) },
				"valve":  func(w io.Writer, o Options) error { return Valve(w, one, o) },
				"paths":  func(w io.Writer, o Options) error { return Paths(w, full.Values(), o) },
				"tree":   func(w io.Writer, o Options) error { return Explain(w, "x", full.Assessments[0].Slam.HeadRise, o) },
			} {
				var bare, colored bytes.Buffer
				if err := print(&bare, Options{Units: sys, All: true}); err != nil {
					t.Fatal(err)
				}
				if line, what := fault(bare.String(), false); what != "" {
					t.Errorf("%s of %s in %s, line %d: %s", name, file, sys, line, what)
				}
				if err := print(&colored, Options{Units: sys, All: true, Color: true}); err != nil {
					t.Fatal(err)
				}
				if got := uncolored(colored.String()); got != bare.String() {
					t.Errorf("%s of %s in %s: color changes the text", name, file, sys)
				}
			}
		}
	}
}

// uncolored takes the escape codes out, and the blanks that they kept at line ends.
func uncolored(s string) string {
	for {
		from := strings.Index(s, "\x1b[")
		if from < 0 {
			break
		}
		to := from + strings.IndexByte(s[from:], 'm')
		s = s[:from] + s[to+1:]
	}
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// TestAnyStudyFits: whatever a study holds, its reports fit the page and hold no control
// character.
func TestAnyStudyFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStudy(t)
		opt := Options{
			Units: rapid.SampledFrom([]quantity.System{quantity.US, quantity.SI}).Draw(t, "units"),
			All:   rapid.Bool().Draw(t, "all"),
		}
		for name, print := range map[string]func(io.Writer, *study.Study, Options) error{"select": Select, "valve": Valve} {
			var out bytes.Buffer
			if err := print(&out, s, opt); err != nil {
				t.Fatal(err)
			}
			if line, what := fault(out.String(), true); what != "" {
				t.Fatalf("%s, line %d: %s:\n%s", name, line, what, out.String())
			}
		}
	})
}

var (
	anyText = rapid.OneOf(
		rapid.String(), rapid.StringMatching(`[a-z/.-]{0,90}`), rapid.StringMatching(`([A-Za-z]{1,14} ){0,30}`),
		rapid.SampledFrom([]string{"", "\x1b[31mred\x1b[0m", "北海の揚水ポンプ場北海の揚水ポンプ場北海の揚水ポンプ場北海の揚水ポンプ場北海の", "a\nb\tc"}),
	)
	anyNumber = rapid.OneOf(rapid.Float64Range(-10, 1000),
		rapid.SampledFrom([]float64{0, 1e-9, 1e12, -5e7, math.MaxFloat64, math.NaN(), math.Inf(1)}))
)

func anyValue(t *rapid.T, kind quantity.Kind) basis.Value {
	if rapid.IntRange(0, 5).Draw(t, "known") == 0 {
		return basis.Value{}
	}
	v := basis.NewAssumed("x"+anyText.Draw(t, "name"), kind, anyNumber.Draw(t, "best"), 0, 0, anyText.Draw(t, "reason"),
		anyText.Draw(t, "source"))
	v.Low, v.High = anyNumber.Draw(t, "low"), anyNumber.Draw(t, "high")
	return v
}

func anyStudy(t *rapid.T) *study.Study {
	st := &station.Station{
		Name: anyText.Draw(t, "station"), Place: anyText.Draw(t, "place"),
		Notes:     rapid.SliceOfN(anyText, 0, 2).Draw(t, "notes"),
		StaticLow: anyValue(t, quantity.Head), StaticHigh: anyValue(t, quantity.Head), Pumps: make([]station.Pump, 1),
	}
	st.Valve.Size, st.Valve.Position, st.Fluid.Kind = quantity.Sizes()[3], valve.FlowUp, fluid.Service(anyText.Draw(t,
		"fluid"))
	st.Warnings = diag.List{{
		ID: "odd", Severity: diag.Warning, Text: anyText.Draw(t, "warning"),
		Path: anyText.Draw(t, "path"),
	}}
	s := &study.Study{
		Station: st, DecisiveFact: anyText.Draw(t, "decisive"), Separation: anyText.Draw(t, "separation"),
		Pending: rapid.IntRange(0, 2).Draw(t, "pending"), References: rapid.SliceOfN(anyText, 0, 3).Draw(t,
			"references"),
	}
	s.Cautions = []judge.Caution{{ID: "caution", Text: anyText.Draw(t, "caution")}}
	for range rapid.IntRange(0, 2).Draw(t, "points") {
		s.Points = append(s.Points, plant.Point{
			Name: anyText.Draw(t, "point"), Valve: anyText.Draw(t, "in place"), Flow: anyValue(t, quantity.Flow),
			Head: anyValue(t, quantity.Head), StaticHead: anyValue(t, quantity.Head),
			Power: anyValue(t, quantity.Power), MainVelocity: anyValue(t, quantity.Velocity),
			ValveLoss: []basis.Value{anyValue(t, quantity.Head)},
			Notes:     rapid.SliceOfN(anyText, 0, 2).Draw(t, "notes"),
		})
		s.Assumed = append(s.Assumed, study.Assumed{
			Path:  "x",
			Value: anyValue(t, rapid.SampledFrom(quantity.Kinds()).Draw(t, "kind")),
		})
	}
	for rank := range rapid.IntRange(0, 4).Draw(t, "valves") {
		s.Assessments = append(s.Assessments, anyAssessment(t, rank))
	}
	return s
}

func anyAssessment(t *rapid.T, rank int) judge.Assessment {
	f := &catalog.Family{
		Catalog: &catalog.Catalog{Maker: anyText.Draw(t, "maker"), Invented: rapid.Bool().Draw(t, "invented")},
		ID:      anyText.Draw(t, "family"), Title: anyText.Draw(t, "title"),
		Summary: anyText.Draw(t, "summary"), Type: valve.Types()[0], Positions: []valve.Position{valve.FlowUp},
		Spares: []string{anyText.Draw(t, "spare")},
	}
	it := &catalog.Item{
		Family: f, ID: anyText.Draw(t, "id"), Size: rapid.SampledFrom(quantity.Sizes()).Draw(t, "size"),
		VariantTitle: anyText.Draw(t, "variant"), Positions: f.Positions,
		Mass: anyValue(t, quantity.Mass), Rating: anyValue(t, quantity.Pressure),
		FaceToFace: anyValue(t, quantity.Diameter), Passage: anyValue(t, quantity.Diameter),
	}
	duty := judge.Duty{
		Name: anyText.Draw(t, "duty"), Flow: anyValue(t, quantity.Flow), Velocity: anyValue(t, quantity.Velocity),
		Loss: anyValue(t, quantity.Head), Opening: anyValue(t, quantity.Fraction),
		State: rapid.SampledFrom([]string{"", "closed", "floating", "parked", "full open"}).Draw(t, "state"),
	}
	a := judge.Assessment{
		Item: it, Verdict: rapid.SampledFrom([]judge.Verdict{
			judge.Suitable, judge.WithConditions, judge.CannotSay,
			judge.Unsuitable,
		}).Draw(t, "verdict"),
		Duties: []judge.Duty{duty}, Governing: duty, FullOpenVelocity: anyValue(t, quantity.Velocity),
		BackHead: anyValue(t, quantity.Head), CrackingHead: anyValue(t, quantity.Head),
		EnergyPerYear: anyValue(t, quantity.Energy), CostPerYear: anyValue(t, quantity.AnnualCost),
		LifeCycleCost: anyValue(t, quantity.Cost), RankReason: anyText.Draw(t, "why here"),
	}
	if a.Verdict != judge.Unsuitable {
		a.Rank = rank + 1
	}
	a.Slam = judge.Slam{
		Class: rapid.SampledFrom([]string{"", judge.Quiet, judge.Harmful}).Draw(t, "class"), ClassLow: judge.Quiet,
		ClassHigh: judge.Harmful, Method: anyText.Draw(t, "method"), Event: anyText.Draw(t, "event"),
		ReverseVelocity: anyValue(t, quantity.Velocity), HeadRise: anyValue(t, quantity.Head),
		Deceleration: anyValue(t, quantity.Acceleration),
		MedianMS:     anyNumber.Draw(t, "median"), Lucky: rapid.Bool().Draw(t, "lucky"),
		AtRest: rapid.Bool().Draw(t, "rests"), Resolved: true, Runs: rapid.IntRange(0, 100).Draw(t, "runs"),
		Chances: plant.Chances{Quiet: anyNumber.Draw(t, "quiet"), Audible: anyNumber.Draw(t, "audible")},
		Risk:    rapid.SampledFrom([]judge.Risk{judge.InOrder, judge.WillHarm}).Draw(t, "risk"),
		Inputs:  []plant.Influence{{Value: anyValue(t, quantity.Inertia), Share: anyNumber.Draw(t, "share")}},
		Milder:  judge.Quiet, Harder: judge.Harmful,
		NotRun: rapid.OneOf(rapid.Just(""), anyText).Draw(t, "not run"),
	}
	if rapid.Bool().Draw(t, "one fact decides") {
		a.Slam.Threshold = &plant.Threshold{
			Fact: anyValue(t, quantity.Inertia), At: anyValue(t, quantity.Inertia),
			Above: rapid.Bool().Draw(t, "above"),
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "findings") {
		a.Findings = append(a.Findings, judge.Finding{
			Kind: rapid.SampledFrom(judge.Kinds()).Draw(t, "finding"),
			Severity: rapid.SampledFrom([]judge.Severity{
				judge.Pass, judge.Note, judge.Condition, judge.Confirm,
				judge.Open, judge.Rejects,
			}).Draw(t, "severity"), Text: anyText.Draw(t, "text"),
			Value: anyValue(t, quantity.Velocity), Limit: anyValue(t, quantity.Velocity),
			Basis: anyText.Draw(t, "basis"), Mend: anyText.Draw(t, "mend"), Missing: anyText.Draw(t, "missing"),
		})
	}
	return a
}
