package desk

import (
	"math"
	"slices"

	"seatward/internal/figure"
)

// Chart is a line chart as the page draws it, in the units of the reader.
type Chart struct {
	Title  string       `json:"title"`
	Note   string       `json:"note"`
	Panels []ChartPanel `json:"panels"`
}

// ChartPanel is one chart of it.
type ChartPanel struct {
	Title  string       `json:"title"`
	XLabel string       `json:"x_label"`
	YLabel string       `json:"y_label"`
	Zero   bool         `json:"from_zero"`
	Lines  []ChartLine  `json:"lines"`
	Marks  []ChartMark  `json:"marks"`
	Points []ChartPoint `json:"points"`
	Shades []ChartShade `json:"shades"`
	Levels []ChartLevel `json:"levels"`
}

// ChartLine is one line. A null leaves a gap.
type ChartLine struct {
	Name string   `json:"name"` // empty for a bar of error
	Ink  string   `json:"ink" jsonschema:"enum=ink,enum=water,enum=amber,enum=rust"`
	Dash bool     `json:"dash"`
	X    []Number `json:"x"`
	Y    []Number `json:"y"`
}

// ChartMark is an upright line with its text.
type ChartMark struct {
	X    Number `json:"x"`
	Text string `json:"text"`
}

// ChartPoint is a point with its text.
type ChartPoint struct {
	X    Number `json:"x"`
	Y    Number `json:"y"`
	Text string `json:"text"`
	Ink  string `json:"ink" jsonschema:"enum=ink,enum=water,enum=amber,enum=rust"`
}

// ChartShade is a spell that is tinted.
type ChartShade struct {
	From Number `json:"from"`
	To   Number `json:"to"`
	Text string `json:"text"`
	Ink  string `json:"ink" jsonschema:"enum=ink,enum=water,enum=amber,enum=rust"`
}

// ChartLevel is a level line with its text.
type ChartLevel struct {
	Y    Number `json:"y"`
	Text string `json:"text"`
}

// mostPoints are those of a panel's lines together.
const mostPoints = 4000

// chartDigits are as many as a screen shows, and keep the answer small.
const chartDigits = 6

// inkNames are the inks of a figure by name.
var inkNames = map[figure.Style]string{
	figure.Ink: "ink", figure.Water: "water", figure.Amber: "amber", figure.Rust: "rust",
}

// chartOf is a figure as the page draws it.
func chartOf(f *figure.Figure) *Chart {
	out := &Chart{Title: f.Title, Note: f.Note, Panels: []ChartPanel{}}
	for i := range f.Panels {
		p := &f.Panels[i]
		q := ChartPanel{
			Title: p.Title, XLabel: p.XLabel, YLabel: p.YLabel, Zero: p.YFromZero, Lines: []ChartLine{},
			Marks: []ChartMark{}, Points: []ChartPoint{}, Shades: []ChartShade{}, Levels: []ChartLevel{},
		}
		for _, s := range sparse(p.Series) {
			q.Lines = append(q.Lines, ChartLine{s.Name, inkNames[s.Style], s.Dash, short(s.X), short(s.Y)})
		}
		for _, m := range p.Marks {
			q.Marks = append(q.Marks, ChartMark{Number(m.X), m.Text})
		}
		for _, m := range p.Points {
			q.Points = append(q.Points, ChartPoint{Number(m.X), Number(m.Y), m.Text, inkNames[m.Style]})
		}
		for _, s := range p.Shades {
			q.Shades = append(q.Shades, ChartShade{Number(s.From), Number(s.To), s.Text, inkNames[s.Style]})
		}
		for _, l := range p.Levels {
			q.Levels = append(q.Levels, ChartLevel{Number(l.Y), l.Text})
		}
		out.Panels = append(out.Panels, q)
	}
	return out
}

// sparse are the lines of a panel with few enough points. Of long ones that share their times, each
// stretch keeps the points at which one of them is lowest or highest: no peak is lost, and the times
// stay shared.
func sparse(lines []figure.Series) []figure.Series {
	n := 0
	for _, s := range lines {
		n = max(n, len(s.X))
	}
	stretch := (2*len(lines)*n + mostPoints - 1) / mostPoints
	if len(lines) == 0 || len(lines)*n <= mostPoints {
		return lines
	}
	out := slices.Clone(lines)
	for i := range out {
		out[i].X, out[i].Y = nil, nil
	}
	for from := 0; from < n; from += stretch {
		keep := map[int]bool{}
		for _, s := range lines {
			extremes(keep, s.Y, from, min(from+stretch, len(s.Y)))
		}
		for k := from; k < from+stretch; k++ {
			for i, s := range lines {
				if keep[k] && k < len(s.X) {
					out[i].X, out[i].Y = append(out[i].X, s.X[k]), append(out[i].Y, s.Y[k])
				}
			}
		}
	}
	return out
}

// extremes keeps the lowest and the highest place, and gaps.
func extremes(keep map[int]bool, y []float64, from, to int) {
	low, high := -1, -1
	for k := from; k < to; k++ {
		switch {
		case math.IsNaN(y[k]):
			keep[k] = true
			continue
		case low < 0:
			low, high = k, k
		case y[k] < y[low]:
			low = k
		case y[k] > y[high]:
			high = k
		}
	}
	if low >= 0 {
		keep[low], keep[high] = true, true
	}
}

// short are numbers to the digits of a chart.
func short(v []float64) []Number {
	out := make([]Number, len(v))
	for i, x := range v {
		if x != 0 && !math.IsNaN(x) && !math.IsInf(x, 0) {
			k := math.Pow(10, chartDigits-1-math.Floor(math.Log10(math.Abs(x))))
			if r := math.Round(x*k) / k; !math.IsNaN(r) && !math.IsInf(r, 0) {
				x = r
			}
		}
		out[i] = Number(x)
	}
	return out
}
