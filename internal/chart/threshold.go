package chart

import (
	"fmt"
	"math"

	"seatward/internal/figure"
	"seatward/judge"
	"seatward/quantity"
)

// Threshold draws the class of slam against the fact that decides it: where the class
// changes, and the range and best estimate that the fact has now. Nil where no one fact
// decides.
func Threshold(a *judge.Assessment, sys quantity.System) *figure.Figure {
	t := a.Slam.Threshold
	if t == nil {
		return nil
	}
	kind := t.Fact.Kind
	at, best := sys.In(kind, t.At.SI), sys.In(kind, t.Fact.SI)
	low, high := sys.In(kind, t.Fact.Low), sys.In(kind, t.Fact.High)
	below, above := a.Slam.Milder, a.Slam.Harder
	if !t.Above {
		below, above = above, below
	}
	ink := func(class string) figure.Style {
		if class == a.Slam.Milder {
			return figure.Water
		}
		return figure.Rust
	}
	label := t.Fact.Name
	if unit := sys.Unit(kind); unit != "" {
		label += ", " + unit
	}
	margin := (high - low) / 10
	return &figure.Figure{
		Title: "Slam of " + a.Item.ID + " against its deciding fact",
		Note:  "All other facts at their best estimates. Preliminary calculation for review.",
		Panels: []figure.Panel{{
			Title: fmt.Sprintf("%s below %s, %s above", below, sys.Format(kind, t.At.SI), above), XLabel: label, BareY: true,
			Series: []figure.Series{
				{X: []float64{low, high}, Y: []float64{1, 1}, Style: figure.Ink, Name: "range now"},
				{X: []float64{low - margin, high + margin}, Y: []float64{0, 2}, Bare: true}, // room round the range
			},
			Points: []figure.Point{{X: best, Y: 1, Text: "best estimate", Style: figure.Ink}},
			Marks:  []figure.Mark{{X: at, Text: "limit"}},
			Shades: []figure.Shade{
				{From: math.Inf(-1), To: at, Text: below, Style: ink(below)},
				{From: at, To: math.Inf(1), Text: above, Style: ink(above)},
			},
		}},
		PanelHeight: 190,
	}
}
