package document

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/quantity"
)

// TestMetricThickness: a metric paper has micrometers before the mils of a catalog, the other
// one stays, and the document itself is not changed.
func TestMetricThickness(t *testing.T) {
	d := &Document{Units: quantity.SI, Blocks: []Block{
		Paragraph{Text: "epoxy, 8 mils, AWWA C550"},
		Clause{Text: "[epoxy, 16 mils]"},
		List{Items: []string{"1 mil", "families and 2 millions"}},
		Table{Rows: []Row{{Cells: []Cell{{Text: "0.5 mil of zinc"}}}}},
	}}
	want := []Block{
		Paragraph{Text: "epoxy, 200 µm (8 mils), AWWA C550"},
		Clause{Text: "[epoxy, 410 µm (16 mils)]"},
		List{Items: []string{"25 µm (1 mil)", "families and 2 millions"}},
		Table{Rows: []Row{{Cells: []Cell{{Text: "13 µm (0.5 mil) of zinc"}}}}},
	}
	if diff := cmp.Diff(want, d.InItsUnits().Blocks); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if got := d.Blocks[0].(Paragraph).Text; got != "epoxy, 8 mils, AWWA C550" {
		t.Errorf("the document became %q", got)
	}
	d.Units = quantity.US
	if got := d.InItsUnits(); got != d {
		t.Error("a document in US units was changed")
	}
}
