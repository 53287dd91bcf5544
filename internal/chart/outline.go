package chart

import (
	"math"

	"seatward/catalog"
	"seatward/dimension"
	"seatward/internal/figure"
	"seatward/quantity"
)

// outlineWidth and outlineHeight are the room inside the axes of an outline, px: by them
// both axes have nearly the same scale.
const (
	outlineWidth  = 650.0
	outlineHeight = 288.0
)

// Outline is a sketch of the valve lying in its pipe, of what the catalog and the standard
// of its ends give: length, bore, flanges, free height above the axis, flow arrow. Nil where
// the catalog gives no length. What is not known is not drawn.
func Outline(it *catalog.Item, ends string, sys quantity.System) *figure.Figure {
	if !it.FaceToFace.Known() || !(it.FaceToFace.SI > 0) {
		return nil
	}
	in := func(m float64) float64 { return sys.In(quantity.Diameter, m) }
	said := func(m float64) string { return sys.Format(quantity.Diameter, m) }
	length := in(it.FaceToFace.SI)
	p := figure.Panel{
		Title:  "Outline from catalog data, lying; the maker's drawing governs",
		XLabel: "along the pipe, " + sys.Unit(quantity.Diameter), YLabel: "from the axis, " + sys.Unit(quantity.Diameter),
		Marks: []figure.Mark{{X: 0, Text: "inlet face"}, {X: length, Text: "outlet face, " + said(it.FaceToFace.SI)}},
	}
	low, high := 0.0, 0.0
	pair := func(name string, half float64, across bool) {
		low, high = min(low, -half), max(high, half)
		s := figure.Series{Name: name}
		if across {
			s.X, s.Y = []float64{0, 0, math.NaN(), length, length}, []float64{-half, half, math.NaN(), -half, half}
		} else {
			s.X, s.Y = []float64{0, length, math.NaN(), 0, length}, []float64{half, half, math.NaN(), -half, -half}
		}
		p.Series = append(p.Series, s)
	}
	if f, found := dimension.FlangeOf(ends, it.Size); found {
		pair("flange "+said(f.OutsideM), in(f.OutsideM)/2, true)
	}
	if it.Bore.Known() {
		pair("bore "+said(it.Bore.SI), in(it.Bore.SI)/2, false)
	}
	if it.Clearance.Known() {
		high = max(high, in(it.Clearance.SI))
		p.Levels = append(p.Levels, figure.Level{
			Y: in(it.Clearance.SI), Text: "free height for cover and element, " + said(it.Clearance.SI), Style: figure.Amber,
		})
	}
	head := 0.05 * length
	p.Series = append(p.Series, figure.Series{
		Name: "flow", Style: figure.Water,
		X: []float64{0.2 * length, 0.8 * length, 0.8*length - head, 0.8 * length, 0.8*length - head},
		Y: []float64{0, 0, head, 0, -head},
	})
	// The axes are made as wide as the height asks for, so that the sketch is not pulled.
	tall := 1.2 * max(high-low, 0.2*length)
	wide := max(tall*outlineWidth/outlineHeight, 1.3*length)
	p.Series = append(p.Series, figure.Series{
		Dash: true, X: []float64{(length - wide) / 2, (length + wide) / 2}, Y: []float64{0, 0},
	})
	p.Series = append(p.Series, figure.Series{
		Bare: true, X: []float64{length / 2, length / 2}, Y: []float64{low - 0.05*tall, high + 0.08*tall},
	})
	return &figure.Figure{
		Title: "Dimension sketch of " + it.ID, Panels: []figure.Panel{p}, PanelHeight: 360, NameRoom: 170,
		Note: "Not for construction. Axes have nearly the same scale; the numbers count.",
	}
}
