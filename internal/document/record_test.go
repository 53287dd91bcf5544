package document_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/quantity"
	"seatward/study"
)

// examples are the stations of the examples, each with a valve to write papers of and
// valves to compare.
var examples = []struct {
	name, valve string
	compared    []string
}{
	{"layout", "", []string{"flap/6in", "swing/6in", "ball-pocket/6in"}},
	{"layout", "swing/6in", nil},
	{"study", "", []string{"flap/6in", "ball-pocket/6in"}},
	{"booster", "", nil},
	{"first-call", "flap/6in", []string{"flap/6in", "swing/6in"}},
}

// TestOneAnswer: class, event, reverse velocity, head rise, deceleration and chances of a
// valve, and every number of every stop and remedy, are in all papers the very ones that
// select and trip give, and those two are the same.
func TestOneAnswer(t *testing.T) {
	for _, c := range examples {
		t.Run(c.name+" "+c.valve, func(t *testing.T) {
			r := request(t, c.name, quantity.US, true)
			r.Compared = c.compared
			d := dossier(t, r, c.valve)
			want := record(d.Study.JSON(), d.Trip.JSON())
			for _, e := range d.Trip.JSON().Events { // heads become gauge pressures for the crew
				st := d.Study.Station
				want["trip "+e.ID+" greatest_pressure"] = st.Fluid.Density.SI * quantity.StandardGravity *
					(e.MostHeadM - st.ValveAboveDatum())
			}
			sameSlam(t, d)
			seen := map[string]bool{}
			for _, k := range document.Kinds() {
				doc := d.Make(k)
				for _, q := range doc.Quotes {
					x, ofRecord := want[q.Path]
					if !ofRecord {
						if path, _, _ := strings.Cut(q.Path, " "); path == "remedy" || path == "trip" &&
							strings.Count(q.Path, " ") > 1 && !strings.HasPrefix(q.Path, "trip events ") {
							t.Errorf("%s: %s = %s is not in the record", k.ID, q.Path, q.Text)
						}
						continue
					}
					seen[q.Path] = true
					if q.SI != x {
						t.Errorf("%s: %s shows %s (%g), the record has %g", k.ID, q.Path, q.Text, q.SI, x)
					}
				}
				sameWords(t, k.ID, d, doc)
			}
			id := d.Assessment.Item.ID
			for _, path := range []string{
				id + " reverse_velocity", id + " head_rise",
				"trip " + d.Assessment.Slam.EventID + " reverse_velocity",
			} {
				if d.Assessment.Slam.Class != "" && !seen[path] {
					t.Errorf("no paper shows %s", path)
				}
			}
		})
	}
}

// record gives the numbers of the machine forms by the paths that papers quote.
func record(s study.JSON, trip study.TripJSON) map[string]float64 {
	out := map[string]float64{}
	for _, c := range s.Candidates {
		x := c.Slam
		if x == nil || x.ReverseVelocityMS == nil {
			continue
		}
		at := c.ID + " "
		bands := map[string]*study.BandJSON{"reverse_velocity": x.ReverseVelocityMS, "head_rise": x.HeadRiseM}
		for name, b := range bands {
			out[at+name], out[at+name+" low"], out[at+name+" high"] = b.Best, b.Low, b.High
		}
		out[at+"reverse_velocity median"] = *x.MedianMS
		out[at+"chance_quiet"], out[at+"chance_audible"], out[at+
			"chance_harmful"] = x.Chances.Quiet, x.Chances.Audible, x.Chances.Harmful
		if x.DecelerationMS2 != nil {
			out[at+"deceleration"] = *x.DecelerationMS2
		}
		if x.Threshold != nil && c.ID == trip.Valve {
			out["threshold"] = x.Threshold.Value
		}
	}
	for _, e := range trip.Events {
		at := "trip " + e.ID + " "
		out[at+"closing_time"], out[at+"reverse_velocity"], out[at+"head_rise"], out[at+
			"greatest_head"] = e.TimeS, e.ReverseMS, e.HeadRiseM, e.MostHeadM
		out[at+"greatest_pressure_head"], out[at+"least_pressure_head"] = e.MostPressureM, e.LeastPressureM
	}
	for _, r := range trip.Remedies {
		if r.ReverseMS != nil {
			at := "remedy " + r.Name + " "
			out[at+"reverse_velocity"], out[at+"head_rise"], out[at+"greatest_head"], out[at+
				"least_pressure_head"] = *r.ReverseMS, *r.HeadRiseM, *r.MostHeadM, *r.LeastPressureM
		}
	}
	return out
}

// sameSlam: select and trip give the slam of the valve the same words and numbers.
func sameSlam(t *testing.T, d *document.Dossier) {
	t.Helper()
	closing := d.Trip.JSON().Closing
	for _, c := range d.Study.JSON().Candidates {
		if c.ID != d.Assessment.Item.ID || c.Slam == nil || c.Slam.ReverseVelocityMS == nil {
			continue
		}
		if closing == nil {
			t.Fatalf("select has %s, trip has no closing", c.Slam.Class)
		}
		a, b := fmt.Sprintf("%+v", flat(*c.Slam)), fmt.Sprintf("%+v", flat(closing.SlamJSON))
		if a != b {
			t.Errorf("select has %s\ntrip has   %s", a, b)
		}
	}
}

// flat is a slam without pointers, to be compared.
func flat(s study.SlamJSON) string {
	out := fmt.Sprint(s.Class, s.Event, s.EventTitle, s.Pump, *s.ReverseVelocityMS, *s.MedianMS, *s.HeadRiseM,
		*s.Chances, s.Resolved, s.AtRest, s.Runs, s.DecisiveInput)
	if s.DecelerationMS2 != nil {
		out += fmt.Sprint(*s.DecelerationMS2)
	}
	if s.Later != nil {
		out += fmt.Sprint(*s.Later)
	}
	if s.Threshold != nil {
		out += fmt.Sprint(*s.Threshold)
	}
	return out
}

// sameWords: class and event in the form of slam are those of the record.
func sameWords(t *testing.T, kind string, d *document.Dossier, doc *document.Document) {
	t.Helper()
	s := &d.Assessment.Slam
	for _, b := range doc.Blocks {
		x, ok := b.(document.Table)
		if !ok || x.ID != "slam" {
			continue
		}
		for _, r := range x.Rows {
			want, known := map[string]string{
				"Slam class": d.Assessment.SlamWords(),
				"Worst stop": s.Event,
			}[r.Cells[0].Text]
			if known && r.Cells[1].Text != want {
				t.Errorf("%s: %s is %q, the record has %q", kind, r.Cells[0].Text, r.Cells[1].Text, want)
			}
		}
	}
}

// TestHeads: column separation stands under the title of every paper that a decision rests
// on, an unsuitable valve's papers say so in the title block, and no remedy is recommended
// that its own run refutes.
func TestHeads(t *testing.T) {
	separated, unsuitable := 0, 0
	for _, c := range examples {
		r := request(t, c.name, quantity.US, true)
		r.Compared = c.compared
		d := dossier(t, r, c.valve)
		for _, k := range document.Kinds() {
			doc := d.Make(k)
			first := ""
			if p, ok := doc.Blocks[0].(document.Paragraph); ok {
				first = p.Text
			}
			if k.Decides && !k.Compares && d.Assessment.Separation != "" {
				separated++
				if k.Large {
					first = strings.Replace(first, "Found: column separation", d.Assessment.Separation, 1)
				}
				if !strings.HasPrefix(first, d.Assessment.Separation) {
					t.Errorf("%s %s: begins with %q, not with the column separation", c.name, k.ID, first)
				}
			}
			if !k.Compares && d.Assessment.Rank == 0 {
				unsuitable++
				if !strings.Contains(doc.Subject, "UNSUITABLE") {
					t.Errorf("%s %s: the title block says %q of an unsuitable valve", c.name, k.ID, doc.Subject)
				}
			}
		}
		for i := range d.Trip.Remedies {
			r := &d.Trip.Remedies[i]
			if r.Cures && (r.Separates() || math.IsNaN(r.LeastPressureM())) {
				t.Errorf("%s: %s is recommended and leaves column separation", c.name, r.Name)
			}
		}
	}
	if separated == 0 || unsuitable == 0 {
		t.Errorf("%d papers with column separation and %d of unsuitable valves were looked at", separated, unsuitable)
	}
}

// TestNothingPends: a dossier of a quick study runs its own stops.
func TestNothingPends(t *testing.T) {
	r := request(t, "layout", quantity.US, true)
	d, err := document.NewDossier(context.Background(), r, "flap/6in", false)
	if err != nil {
		t.Fatal(err)
	}
	if d.Assessment.Pending() {
		t.Error("the valve of the papers was not run")
	}
}
