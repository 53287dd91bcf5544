package document_test

import (
	"encoding/json"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/document"
	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
)

// TestNumbers: every number of the study that a document shows is one of those that the
// machine forms hold, and its text is that number, to the digits shown.
func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		name, valve string
		sys         quantity.System
	}{{"study", "", quantity.US}, {"study", "ball-pocket/6in", quantity.SI}, {
		"layout", "swing/6in",
		quantity.SI,
	}, {"booster", "", quantity.SI}, {"first-call", "flap/6in", quantity.US}} {
		t.Run(c.name+" "+c.valve, func(t *testing.T) {
			d := dossier(t, request(t, c.name, c.sys, true), c.valve)
			known := machineNumbers(t, d)
			n := 0
			for _, k := range document.Kinds() {
				for _, q := range d.Make(k).Quotes {
					n++
					if !among(known, q.SI) {
						t.Errorf("%s: %s shows %s (%g), which no machine form holds", k.ID, q.Path, q.Text, q.SI)
					}
					if got, ok := parsed(q); !ok || !near(got, q) {
						t.Errorf("%s: %s shows %q, which reads %g, for %g", k.ID, q.Path, q.Text, got, q.SI)
					}
				}
			}
			if n < 150 {
				t.Errorf("only %d numbers were looked at", n)
			}
		})
	}
}

// parsed reads a number back as it is printed. Kinds that are written in words only
// (money) have no unit to read.
func parsed(q document.Quote) (float64, bool) {
	switch q.Kind {
	case quantity.Cost, quantity.AnnualCost:
		v, err := quantity.Parse(quantity.Number, strings.TrimSuffix(q.Text, " a year"))
		return v.SI, err == nil
	}
	v, err := quantity.Parse(q.Kind, strings.NewReplacer("−", "-", "<", "", ">", "").Replace(q.Text))
	return v.SI, err == nil
}

// near holds a printed number to two figures, a time to a hundredth of a second, a small
// velocity to a hundredth of its unit, a chance to a percent, or to the side of one that it is on.
func near(got float64, q document.Quote) bool {
	d := math.Abs(got - q.SI)
	switch {
	case strings.Contains(q.Path, " chance_") && strings.ContainsAny(q.Text, "<>"):
		return d < 0.01
	case q.Kind == quantity.Time, strings.Contains(q.Path, " chance_"):
		return d <= 0.00501
	case q.Kind == quantity.Velocity && d <= 0.00501:
		return true
	}
	return d <= 0.006*math.Abs(q.SI)+1e-6
}

func among(sorted []float64, x float64) bool {
	i, _ := slices.BinarySearch(sorted, x-1e-9*math.Abs(x))
	return i < len(sorted) && math.Abs(sorted[i]-x) <= 1e-9*math.Abs(x)+1e-12
}

// machineNumbers are all numbers of what --json prints of the valve: select, trip,
// explain, loss, closing, and of the catalog and the configuration.
func machineNumbers(t *testing.T, d *document.Dossier) []float64 {
	t.Helper()
	var out []float64
	add := func(v basis.Value) {
		v.Walk(func(_ int, v basis.Value) bool {
			out = append(out, v.SI)
			return true
		})
	}
	alone, err := study.Run(t.Context(), d.Study.Station,
		study.Options{Catalogs: d.Study.Catalogs, Rules: d.Rules, Quick: true, Valve: d.Assessment.Item.ID})
	if err != nil { // its operating points have it in place, those of the study the first valve
		t.Fatal(err)
	}
	for _, x := range []any{d.Study, alone, d.Trip.JSON(), d.Loss, d.Closing} {
		data, err := json.Marshal(x)
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(data, &tree); err != nil {
			t.Fatal(err)
		}
		out = numbers(tree, out)
	}
	for _, n := range append(d.Study.Values(), alone.Values()...) {
		add(n.Value)
	}
	c := d.Configuration
	for _, v := range []basis.Value{
		c.Mass, c.Cover, c.Element, c.Rating, c.ShellTest, c.SeatTest, d.LiftLimit,
		d.Rules.Limit("slam-quiet").Value, c.Family.StraightBefore, c.Family.StraightAfter,
	} {
		add(v)
	}
	for _, p := range c.Parts {
		add(p.Mass)
	}
	for i := range d.Study.Assessments { // a comparison shows several
		a := &d.Study.Assessments[i]
		for _, p := range a.Duties {
			add(p.Flow)
			add(p.Velocity)
			add(p.Loss)
			add(p.Opening)
		}
		for _, x := range a.Slam.Inputs {
			out = append(out, x.Share)
		}
		if x := a.Slam.Threshold; x != nil {
			add(x.Limit)
		}
		for _, v := range items(a.Item) {
			add(v)
		}
		for _, p := range a.Item.Params {
			out = append(out, p.SI)
		}
	}
	for _, a := range d.Trip.Assumed {
		add(a.Value)
	}
	out = append(out, flange(d)...)
	out = append(out, byHand(d)...)
	out = append(out, crewNumbers(d)...)
	slices.Sort(out)
	return out
}

// byHand is a V/g of the run's own reverse velocity in the branch, worked out here anew.
func byHand(d *document.Dossier) []float64 {
	run, bore := d.Study.Station.Branch.Runs[0], d.Assessment.Item.Bore.SI
	v := d.Assessment.Slam.ReverseVelocity.SI * math.Pow(bore/run.InnerDiameter.SI, 2)
	return []float64{run.WaveSpeed.SI, v, run.WaveSpeed.SI * v / 9.80665}
}

// crewNumbers are those of the stop tests, worked out here anew: gauge pressures at the valve,
// the pulse of the branch, the swing of the main, the bolt.
func crewNumbers(d *document.Dossier) []float64 {
	st := d.Study.Station
	var out []float64
	for _, x := range d.Assessment.Answer.Stops {
		if x.Fault == "" {
			out = append(out, st.Fluid.Density.SI*9.80665*(x.MostM()-st.ValveAboveDatum()), 2*x.BranchS,
				x.Closing.First.TimeS)
		}
	}
	swing := 0.0
	for _, r := range st.Main.Runs {
		swing += 4 * r.Length.SI / r.WaveSpeed.SI
	}
	if r := judge.WeakestRating(d.Assessment.Item); r.Known() {
		out = append(out, r.SI)
	}
	for _, l := range []string{"slam-harmful", "one-person-mass"} {
		out = append(out, d.Rules.Limit(l).Value.SI)
	}
	return append(out, swing)
}

func items(it *catalog.Item) []basis.Value {
	return []basis.Value{
		it.FaceToFace, it.Clearance, it.Mass, it.Rating, it.Bore, it.Passage, it.FlowCoefficient,
		it.Price,
	}
}

func numbers(tree any, out []float64) []float64 {
	switch x := tree.(type) {
	case float64:
		return append(out, x)
	case []any:
		for _, e := range x {
			out = numbers(e, out)
		}
	case map[string]any:
		for k, e := range x {
			if v, isNumber := e.(float64); isNumber && strings.HasSuffix(k, "kwh_per_year") {
				e = v * 3.6e6
			}
			out = numbers(e, out)
		}
	}
	return out
}

// floats are format verbs and calls that print numbers.
var floats = regexp.MustCompile(`%[-+0-9.]*[feg]|strconv\.(FormatFloat|AppendFloat)|quantity\.Figures`)

// TestOneWayToPrint: no kind of document prints a number past the one place that
// records it, but for shares and factors, and for what a calculation is worked with, which
// test/papers recomputes from the paper alone; they are named here.
func TestOneWayToPrint(t *testing.T) {
	allowed := map[string]int{"equations.go": 4, "comparison.go": 3, "crew.go": 1, "works.go": 1}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") || e.Name() == "sheet.go" {
			continue
		}
		data, err := os.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if n := len(floats.FindAll(data, -1)); n != allowed[e.Name()] {
			t.Errorf("%s prints %d numbers past sheet.number, want %d", e.Name(), n, allowed[e.Name()])
		}
	}
}
