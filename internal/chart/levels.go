package chart

import (
	"seatward/internal/figure"
	"seatward/leakback"
	"seatward/quantity"
)

// Levels draws a record of wet-well levels, with the spells in which a pump ran and those in
// which the isolating valve was shut.
func Levels(record []leakback.Reading, sys quantity.System) *figure.Figure {
	const minute = 60.0
	p := figure.Panel{XLabel: "time, min", YLabel: "level, " + sys.Unit(quantity.Length)}
	line := figure.Series{Name: "level", Style: figure.Water}
	at := func(i int) float64 { return (record[i].TimeS - record[0].TimeS) / minute }
	for i, r := range record {
		line.X, line.Y = append(line.X, at(i)), append(line.Y, sys.In(quantity.Length, r.LevelM))
	}
	p.Series = []figure.Series{line}
	for from := 0; from < len(record); {
		to, r := from, record[from]
		for to+1 < len(record) && record[to+1].Running == r.Running && record[to+1].Open == r.Open {
			to++
		}
		s := figure.Shade{From: at(from), To: at(min(to+1, len(record)-1))}
		switch {
		case r.Running:
			s.Text, s.Style = "pump on", figure.Amber
		case r.Open:
			s.Text, s.Style = "valve open", figure.Water
		default:
			s.Text = "valve shut"
		}
		if s.To > s.From {
			p.Shades = append(p.Shades, s)
		}
		from = to + 1
	}
	return &figure.Figure{
		Title: "Levels of the wet well", Note: "Readings as recorded; nothing is filled in between.", Panels: []figure.Panel{p},
	}
}
