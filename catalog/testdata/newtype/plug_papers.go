package document_test

import (
	"os"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/internal/document"
	"seatward/quantity"
	"seatward/standards"
)

// TestPlugPapers writes the papers of a product of the new type: they say what it is, and
// ask for nothing that it does not have.
func TestPlugPapers(t *testing.T) {
	catalogs, list := catalog.LoadFiles(os.DirFS("../../catalog/testdata/newtype"), "plug.yaml")
	if len(list) > 0 {
		t.Fatal(list)
	}
	r := requestOf(t, "first-call", quantity.SI, true, catalogs)
	d := dossier(t, r, "sliding-plug/6in")
	papers := map[string]string{}
	for _, k := range document.Kinds() {
		papers[k.ID] = outline(d.Make(k))
		if strings.Contains(papers[k.ID], "NaN") {
			t.Errorf("%s: not a number:\n%s", k.ID, papers[k.ID])
		}
	}
	for _, want := range []string{"Plug check", "150"} {
		if !strings.Contains(papers["datasheet"], want) {
			t.Errorf("the data sheet does not say %q:\n%s", want, papers["datasheet"])
		}
	}
	sheet := papers["maintenance"]
	_, rows, _ := strings.Cut(sheet, "table inspection")
	rows, _, _ = strings.Cut(rows, "\n[")
	for _, want := range []string{"Plug: mass", "Guide: wear, rags | none", "Plug: lift to the stop | 80", "Seat: print"} {
		if !strings.Contains(rows, want) {
			t.Errorf("the maintenance sheet does not ask for %q:\n%s", want, sheet)
		}
	}
	for _, none := range []string{"hinge", "lever", "spring", "ball", "flap", "not given"} {
		if strings.Contains(strings.ToLower(rows), none) {
			t.Errorf("the inspection speaks of %q:\n%s", none, rows)
		}
	}
	it, err := catalog.Find(catalogs, "sliding-plug/DN150")
	if err != nil {
		t.Fatal(err)
	}
	all, list := standards.Base()
	if len(list) > 0 {
		t.Fatal(list)
	}
	for _, v := range standards.Judge(all, it, standards.Place{Position: "horizontal"}) {
		if v.Standard.ID == "AWWA C508" && v.Verdict != standards.DoesNot {
			t.Errorf("%s: %v for a plug", v.Standard.ID, v.Verdict)
		}
	}
	if f := it.Family.Type.Figure(it.Params); f.Element != "plug" || f.Drawing != "" || f.Hinged || f.Lever || f.Spring {
		t.Errorf("the page draws %+v", f)
	}
}
