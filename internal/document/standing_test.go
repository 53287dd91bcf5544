package document_test

import (
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/judge"
	"seatward/quantity"
)

// decisive are the kinds on which a decision rests, by what a buyer, engineer or crew does
// with them.
var decisive = []string{
	"datasheet", "comparison", "specification", "calculation", "submittal", "request", "installation",
	"commissioning",
	"maintenance", "fieldcard",
}

// upper is what stands in a paper before its first heading, frame or table.
func upper(d *document.Document) string {
	var out []string
	for _, b := range d.Blocks {
		p, isText := b.(document.Paragraph)
		if !isText {
			break
		}
		out = append(out, p.Label+" "+p.Text)
	}
	return strings.Join(out, "\n")
}

// TestStanding: each thing that the stops may find stands at the head of every paper that a
// decision rests on, with its number and limit; on a card by its name.
func TestStanding(t *testing.T) {
	base := dossier(t, request(t, "layout", quantity.US, true), "flap/6in")
	found := []judge.Finding{
		{Kind: judge.SlamLater, Severity: judge.Note, Text: "A later slam is 2.1 times the first, at 3.40 s."},
		{Kind: judge.SlamNotResolved, Severity: judge.Note, Text: "0.31 ft/s on one grid, 0.52 ft/s on the other."},
		{Kind: judge.SlamRunsFailed, Severity: judge.Confirm, Text: "5 of 64 runs gave no closing."},
		{Kind: judge.EventNotRun, Severity: judge.Confirm, Text: "One pump trips was not run."},
		{Kind: judge.SurgeValveRating, Severity: judge.Condition, Text: "412 psi at the valve, above 250 psi."},
		{Kind: judge.SurgeMainRating, Severity: judge.Condition, Text: "390 psi in the main, above 376 psi."},
		{Kind: judge.SlamMayHarm, Severity: judge.Condition, Text: "Reverse velocity 1.40 ft/s, limit 0.98 ft/s."},
	}
	for _, f := range found {
		d, a := *base, *base.Assessment
		a.Findings = append([]judge.Finding{f}, a.Findings...)
		d.Assessment = &a
		at := 0
		for i := range d.Study.Assessments {
			if d.Study.Assessments[i].Item.ID == a.Item.ID {
				at = i
			}
		}
		s := *d.Study
		s.Assessments = append([]judge.Assessment{}, s.Assessments...)
		s.Assessments[at] = a
		d.Study, d.Compared = &s, []string{a.Item.ID}
		for _, id := range decisive {
			k, err := document.KindNamed(id)
			if err != nil {
				t.Fatal(err)
			}
			want := f.Text
			if k.Large {
				want = f.Kind.Head
			}
			if head := upper(d.Make(k)); !strings.Contains(head, want) {
				t.Errorf("%s does not tell %q at its head:\n%s", id, want, head)
			}
		}
	}
}

// TestDecides: the kinds on which a decision rests are those that say so.
func TestDecides(t *testing.T) {
	var got []string
	for _, k := range document.Kinds() {
		if k.Decides {
			got = append(got, k.ID)
		}
	}
	if strings.Join(got, " ") != strings.Join(decisive, " ") {
		t.Errorf("a decision rests on %q, want %q", got, decisive)
	}
}
