package render

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/internal/document"
	"seatward/quantity"
)

// TestMetricThickness: a metric paper has micrometers before the mils of a catalog, the other
// one stays, and the document itself is not changed.
func TestMetricThickness(t *testing.T) {
	d := &document.Document{Units: quantity.SI, Blocks: []document.Block{
		document.Paragraph{Text: "epoxy, 8 mils, AWWA C550"},
		document.Clause{Text: "[epoxy, 16 mils]"},
		document.List{Items: []string{"1 mil", "families and 2 millions", "8 × 3/4 in", "12 × 1-1/8 in, 4 × 1 in", "3 × 4 inlets"}},
		document.Table{Rows: []document.Row{{Cells: []document.Cell{{Text: "0.5 mil of zinc"}}}}},
	}}
	want := []document.Block{
		document.Paragraph{Text: "epoxy, 200 µm (8 mils), AWWA C550"},
		document.Clause{Text: "[epoxy, 410 µm (16 mils)]"},
		document.List{Items: []string{
			"25 µm (1 mil)", "families and 2 millions", "8 × 3/4 in (19 mm)", "12 × 1-1/8 in (29 mm), 4 × 1 in (25 mm)",
			"3 × 4 inlets",
		}},
		document.Table{Rows: []document.Row{{Cells: []document.Cell{{Text: "13 µm (0.5 mil) of zinc"}}}}},
	}
	if diff := cmp.Diff(want, inItsUnits(d).Blocks); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if got := d.Blocks[0].(document.Paragraph).Text; got != "epoxy, 8 mils, AWWA C550" {
		t.Errorf("the document became %q", got)
	}
	d.Units = quantity.US
	if got := inItsUnits(d); got != d {
		t.Error("a document in US units was changed")
	}
}
