package catalog

import (
	"fmt"

	"seatward/internal/yamlfile"
)

// Kinds of measured curve.
const (
	lossCurve    = "loss against opening"
	openingCurve = "opening against velocity"
	closingCurve = "reverse velocity against deceleration"
)

// measured hangs the measured curves on their items.
func (r *resolver) measured(f *Family, ff *FamilyFile) {
	for i := range ff.Measured {
		m := &ff.Measured[i]
		points := map[string][]yamlfile.Tuple{lossCurve: m.Loss, openingCurve: m.Opening, closingCurve: m.Closing}[m.Kind.Text]
		if len(points) < 2 {
			r.add(m.Kind.At, "measured-empty", "the measured curve has fewer than two points", "a list of points that goes with the kind: loss, opening or closing", "add the points")
			continue
		}
		out := Measured{Kind: m.Kind.Text, Position: m.Position.Text, Source: m.Source.Text, Licence: m.Licence.Text}
		ok := true
		for j, p := range points {
			x, y := p.Items[0].SI(), p.Items[1].SI()
			if j > 0 && x <= out.X[j-1] {
				r.add(p.At, "measured-order", "the first number does not rise from the point before", "points in rising order", "order the points")
				ok = false
				break
			}
			out.X, out.Y = append(out.X, x), append(out.Y, y)
		}
		if ok {
			r.hang(f, m, out)
		}
	}
}

func (r *resolver) hang(f *Family, m *MeasuredFile, out Measured) {
	found := false
	for _, it := range f.Items {
		if it.Size == m.Size.Size && (m.Variant.Text == "" || m.Variant.Text == it.Variant) {
			it.Measured = append(it.Measured, out)
			found = true
		}
	}
	if !found {
		r.add(m.Size.At, "measured-for-nothing", fmt.Sprintf("no item of %s has the size and variant of this curve", f.ID), "a size and variant of the family", "mend size or variant")
	}
}
