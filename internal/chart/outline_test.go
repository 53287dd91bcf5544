package chart

import (
	"bytes"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
)

// TestOutline: the sketch shows what the catalog gives, in the units of the paper, and leaves
// out what it does not give.
func TestOutline(t *testing.T) {
	catalogs, _ := catalog.Demo()
	it, err := catalog.Find(catalogs, "flap/6in")
	if err != nil {
		t.Fatal(err)
	}
	text := func(it *catalog.Item, ends string, sys quantity.System) string {
		f := Outline(it, ends, sys)
		if f == nil {
			return ""
		}
		var b bytes.Buffer
		if err := f.SVG(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	us := text(it, "ASME B16.42 Class 150 flanges", quantity.US)
	for _, want := range []string{"14 in", "flange 11 in", "bore 6 in", "free height for cover and element, 9.016 in", "flow"} {
		if !strings.Contains(us, want) {
			t.Errorf("%q is not in the sketch", want)
		}
	}
	if si := text(it, "", quantity.SI); !strings.Contains(si, "355.6 mm") || strings.Contains(si, "flange") {
		t.Error("a metric sketch without a flange is not as it should be")
	}
	bare := *it
	bare.Bore, bare.Clearance = basis.Value{}, basis.Value{}
	if s := text(&bare, "", quantity.US); strings.Contains(s, "bore") || strings.Contains(s, "NaN") {
		t.Error("what the catalog does not give is drawn")
	}
	bare.FaceToFace = basis.Value{}
	if Outline(&bare, "", quantity.US) != nil {
		t.Error("a sketch without a length")
	}
}
