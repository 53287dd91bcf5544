package document_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/internal/trace"
	"seatward/quantity"
)

// crewKinds are the papers that a crew works by.
var crewKinds = []string{"installation", "maintenance", "commissioning", "fieldcard"}

// crewPaper is one of them.
func crewPaper(t testing.TB, d *document.Dossier, kind string) *document.Document {
	t.Helper()
	k, err := document.KindNamed(kind)
	if err != nil {
		t.Fatal(err)
	}
	return d.Make(k)
}

// families are those of the demonstration catalog in one size.
func families(r document.Request) []string {
	var out []string
	seen := map[string]bool{}
	for _, a := range r.Study.Assessments {
		if f := a.Item.Family.ID; !seen[f] {
			seen[f] = true
			out = append(out, a.Item.ID)
		}
	}
	return out
}

// TestCrewOrder: the work stands in the order in which it is done, energy outside is secured
// before pressure is let off, and zero is proven before anything is opened.
func TestCrewOrder(t *testing.T) {
	r := request(t, "layout", quantity.US, true)
	d := dossier(t, r, "swing-assisted-weight/6in")
	for kind, order := range map[string][]string{
		"maintenance": {
			"Before entry", "Making safe", "Opening", "Lifting", "Inspection of the moving element", "Reassembly",
			"Back to service", "First stop, watched", "Record",
		},
		"installation": {
			"Before entry", "Making safe", "Lifting", "Setting the valve", "Back to service", "First stop, watched", "Record",
		},
	} {
		doc := crewPaper(t, d, kind)
		var heads, steps []string
		for _, b := range doc.Blocks {
			switch x := b.(type) {
			case document.Heading:
				heads = append(heads, x.Text)
			case document.List:
				steps = append(steps, x.Items...)
			}
		}
		inOrder(t, kind, heads, order)
		inOrder(t, kind, steps, []string{
			"Isolate:", "Lock and tag", "Secure the lever first", "Vent:", "Drain", "Prove zero", "With zero proven",
			"Tools, rags", "Take the block off", "Open the pump-side", "Open the header-side", "Each person removes", "Start the pump",
		})
	}
}

// inOrder: each of the beginnings is found after the one before it.
func inOrder(t *testing.T, kind string, texts, order []string) {
	t.Helper()
	at := 0
	for _, want := range order {
		i := slices.IndexFunc(texts[at:], func(s string) bool { return strings.HasPrefix(s, want) })
		if i < 0 {
			t.Errorf("%s: %q does not come after what goes before it in %q", kind, want, texts)
			return
		}
		at += i
	}
}

// TestCrewByType: a paper speaks of a lever, a spring, a cushion and a ball only where the
// valve has one, asks for a hoist only for what is too heavy for two, and gives no torque.
func TestCrewByType(t *testing.T) {
	r := request(t, "layout", quantity.SI, true)
	for _, id := range families(r) {
		d := dossier(t, r, id)
		it := d.Assessment.Item
		has := it.Family.Type.Figure(it.Params)
		for _, kind := range crewKinds {
			doc := crewPaper(t, d, kind)
			text := outline(doc)
			for word, there := range map[string]bool{
				"Block the lever": has.Lever && kind == "fieldcard", "outside lever": has.Lever && kind != "fieldcard",
				"Oil cushion": has.Cushion && kind != "installation" && kind != "fieldcard",
				"bucket":      false, "rated gear": false, "his own": false,
			} {
				if strings.Contains(text, word) != there {
					t.Errorf("%s of %s: %q stands there: %v", kind, id, word, !there)
				}
			}
			if kind == "maintenance" && strings.Contains(text, "The ball rolls") != (has.Element == "ball") {
				t.Errorf("%s: the ball is in the wrong paper", id)
			}
			for _, b := range doc.Blocks {
				x, isTable := b.(document.Table)
				if !isTable || x.ID != "lifting" {
					continue
				}
				for _, row := range x.Rows {
					kg := row.Cells[1].Number
					if hoist := strings.Contains(row.Cells[2].Text, "hoist"); row.Cells[1].Numeric && hoist != (kg > 23) {
						t.Errorf("%s: hoist %v for the %s of %g kg", id, hoist, row.Cells[0].Text, kg)
					}
				}
			}
		}
	}
}

// TestStopTestsRise: stop tests go from mild to severe, each that is predicted to bring harm
// stands in the table of agreements by its number, and the recorder is fast enough.
func TestStopTestsRise(t *testing.T) {
	for _, name := range []string{"layout", "study", "booster"} {
		d := dossier(t, request(t, name, quantity.US, true), "")
		doc := crewPaper(t, d, "commissioning")
		var listed, marked []string
		for _, b := range doc.Blocks {
			x, isTable := b.(document.Table)
			switch {
			case isTable && x.ID == "agree":
				for _, row := range x.Rows {
					listed = append(listed, row.Cells[0].Text)
				}
			case isTable && x.ID == "stops":
				n := 0
				for _, row := range x.Rows {
					if row.Group {
						n++
						if strings.HasSuffix(row.Cells[0].Text, "only with the agreement") {
							marked = append(marked, strconv.Itoa(n))
						} else if len(marked) > 0 {
							t.Errorf("%s: test %d needs no agreement and comes after one that does", name, n)
						}
					}
				}
				if n < 4 {
					t.Errorf("%s: %d stop tests", name, n)
				}
			case isTable && x.ID == "instruments":
				rate, err := strconv.ParseFloat(strings.Fields(x.Rows[0].Cells[2].Text)[0], 64)
				if err != nil {
					t.Fatal(err)
				}
				pulse := 0.0
				for _, s := range d.Assessment.Answer.Stops {
					if s.BranchS > 0 {
						pulse = 2 * s.BranchS
					}
				}
				if trace.CaughtTriangle(pulse, 1/rate) < 0.95 ||
					rate > 100 && trace.CaughtTriangle(pulse, 3/rate) > 0.95 {
					t.Errorf("%s: %g readings a second for a pulse of %g s", name, rate, pulse)
				}
			}
		}
		if !slices.Equal(listed, marked) {
			t.Errorf("%s: agreement is asked for tests %q, marked are %q", name, listed, marked)
		}
		if d.Assessment.Separation != "" && len(listed) == 0 {
			t.Errorf("%s: vapor is predicted, and no test needs an agreement", name)
		}
	}
}

// TestUnsuitableForCrew: the papers of an unsuitable valve say so in their body.
func TestUnsuitableForCrew(t *testing.T) {
	r := request(t, "study", quantity.US, true)
	d := dossier(t, r, "dual-plate/6in")
	for kind, want := range map[string]string{
		"commissioning": "Make no stop test before the engineer", "maintenance": "unsuitable valve: call the engineer",
		"fieldcard": "unsuitable valve: call the engineer", "installation": "unsuitable valve: call the engineer",
	} {
		if !strings.Contains(outline(crewPaper(t, d, kind)), want) {
			t.Errorf("%s does not say %q", kind, want)
		}
	}
}

// TestSquareCode: it opens the study where there is an address, and holds the key numbers in
// both systems where there is none.
func TestSquareCode(t *testing.T) {
	d := *dossier(t, request(t, "layout", quantity.US, true), "flap/6in")
	code := func() document.Code {
		for _, b := range crewPaper(t, &d, "fieldcard").Blocks {
			if c, found := b.(document.Code); found {
				return c
			}
		}
		t.Fatal("the card has no code")
		return document.Code{}
	}
	got := code().Text
	for _, want := range []string{
		"CV-101", "flap/6in", " lb", " kg", " psi", " kPa", " gpm", " L/s", d.Study.Station.Hash[:12],
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the code %q has no %q", got, want)
		}
	}
	d.Link = "https://desk.example/#study=7&rev=2"
	if got := code().Text; got != d.Link {
		t.Errorf("the code is %q", got)
	}
}

// TestCheckLink: only addresses that a camera can open.
func TestCheckLink(t *testing.T) {
	for link, good := range map[string]bool{
		"https://desk.example/#study=7": true, "http://10.0.0.5:8080/": true, "desk.example": false,
		"javascript:alert(1)": false, "https://": false, "https://x.example/" + strings.Repeat("a", 500): false,
	} {
		if (document.CheckLink(link) == nil) != good {
			t.Errorf("%.40q: %v", link, document.CheckLink(link))
		}
	}
}
