package render

import (
	"regexp"
	"slices"
	"strconv"

	"seatward/internal/document"
	"seatward/quantity"
)

// mils are thicknesses that catalogs give in thousandths of an inch.
var mils = regexp.MustCompile(`(\d+(?:\.\d+)?) mils?\b`)

// micrometersPerMil follows from the inch of 25.4 mm.
const micrometersPerMil = 25.4

// bolts are how many of a size in inches go into a flange: "8 × 3/4 in", "12 × 1-1/8 in".
var bolts = regexp.MustCompile(`(\d+ × (?:(\d+)-)?(\d+)(?:/(\d+))? in)\b`)

// inMillimeters puts the diameter of bolts behind their size, which is a name and stays.
func inMillimeters(s string) string {
	return bolts.ReplaceAllStringFunc(s, func(m string) string {
		part := bolts.FindStringSubmatch(m)
		inches := count(part[3])
		if part[4] != "" {
			inches = count(part[2]) + inches/max(1, count(part[4]))
		}
		return m + " (" + quantity.Figures(inches*millimetersPerInch, 2) + " mm)"
	})
}

// count reads digits; none are 0.
func count(digits string) float64 {
	n, _ := strconv.ParseFloat(digits, 64) // the expression lets digits through only
	return n
}

const millimetersPerInch = 25.4

// inMicrometers puts micrometers before the mils of a text. The mils stay in parentheses: the
// product is ordered by them.
func inMicrometers(s string) string {
	return mils.ReplaceAllStringFunc(s, func(m string) string {
		n, err := strconv.ParseFloat(mils.FindStringSubmatch(m)[1], 64)
		if err != nil {
			return m
		}
		return quantity.Figures(n*micrometersPerMil, 2) + " µm (" + m + ")"
	})
}

func inMetric(s string) string { return inMicrometers(inMillimeters(s)) }

// inItsUnits is the document with the thicknesses and bolts of catalog texts in its own units
// too: a metric paper does not have mils and inches alone.
func inItsUnits(d *document.Document) *document.Document {
	if d.Units != quantity.SI {
		return d
	}
	out := *d
	out.Blocks = slices.Clone(d.Blocks)
	for i, b := range out.Blocks {
		switch x := b.(type) {
		case document.Paragraph:
			x.Text = inMetric(x.Text)
			out.Blocks[i] = x
		case document.Clause:
			x.Text = inMetric(x.Text)
			out.Blocks[i] = x
		case document.List:
			x.Items = slices.Clone(x.Items)
			for k := range x.Items {
				x.Items[k] = inMetric(x.Items[k])
			}
			out.Blocks[i] = x
		case document.Table:
			x.Rows = slices.Clone(x.Rows)
			for k := range x.Rows {
				x.Rows[k].Cells = slices.Clone(x.Rows[k].Cells)
				for c := range x.Rows[k].Cells {
					x.Rows[k].Cells[c].Text = inMetric(x.Rows[k].Cells[c].Text)
				}
			}
			out.Blocks[i] = x
		}
	}
	return &out
}
