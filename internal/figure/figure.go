// Package figure draws line charts for reports, as SVG and as PNG, from one description.
// A chart is laid out once, on a canvas that knows lines, areas and text; the two forms
// differ in the canvas only. The same figure gives the same bytes.
package figure

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Style is the ink of a series. Ink is never the only difference: series have their name
// at the line's end, and dashes where two are of one kind.
type Style uint8

// The inks.
const (
	Ink Style = iota
	Water
	Amber
	Rust
)

// Series is one line. NaN and infinite values leave a gap.
type Series struct {
	Name  string
	X, Y  []float64
	Low   []float64 // where set, the area between Low and Y is tinted
	Style Style
	Dash  bool
	Bare  bool // only its tint
}

// Mark is a vertical line with a short text.
type Mark struct {
	X    float64
	Text string
}

// Point is a single point with a short text.
type Point struct {
	X, Y  float64
	Text  string
	Style Style
}

// Shade tints the panel from one x to another; infinite ends are those of the panel.
type Shade struct {
	From, To float64
	Text     string
	Style    Style
}

// Level is a horizontal line with a short text.
type Level struct {
	Y     float64
	Text  string
	Style Style
}

// Panel is one chart. On logarithmic axes only numbers above zero stand.
type Panel struct {
	Title, XLabel, YLabel string
	Series                []Series
	Marks                 []Mark
	Points                []Point
	Shades                []Shade
	Levels                []Level
	YFromZero             bool
	LogX, LogY            bool
}

// Figure is panels, one below the other.
type Figure struct {
	Title, Note string
	Panels      []Panel
	Width       int // px; 0 means 900
	PanelHeight int // px; 0 means 250
	NameRoom    int // px for the names of the lines; 0 means what they need
}

const (
	usualWidth  = 900
	usualPanel  = 250
	marginLeft  = 70.0
	titleRoom   = 44.0
	noteRoom    = 26.0
	bareRoom    = 6.0 // in place of the room for a title or a note that is not there
	panelTop    = 30.0
	panelBottom = 42.0
	mostPoints  = 1500 // of a series; more are drawn by their extremes
)

// Canvas is what a chart is drawn on; y grows downwards.
type Canvas interface {
	Path(x, y []float64, p Pen)
	Area(x, y []float64, color Color)
	Text(x, y float64, s string, t Lettering)
}

// line draws a straight line.
func line(c Canvas, x0, y0, x1, y1 float64, p Pen) {
	c.Path([]float64{x0, x1}, []float64{y0, y1}, p)
}

// Pen is how a line is drawn.
type Pen struct {
	Color Color
	Width float64
	Dash  []float64 // lengths of dashes and of the gaps behind them, px; nil draws through
}

// dashes are those of lines that are no curves.
var dashes = []float64{5, 4}

// pen is that of a curve: each ink has a width and dashes of its own, so that curves differ
// where there is no color.
func (s Series) pen() Pen {
	p := Pen{Color: inks[s.Style], Width: [...]float64{1.6, 2.2, 2, 1.6}[s.Style]}
	switch {
	case s.Style == Amber && s.Dash:
		p.Dash = []float64{2, 3}
	case s.Style == Amber:
		p.Dash = []float64{10, 3, 2, 3}
	case s.Style == Water && s.Dash:
		p.Dash = []float64{9, 4}
	case s.Style == Rust && s.Dash:
		p.Dash = []float64{3, 3}
	case s.Dash:
		p.Dash = dashes
	}
	return p
}

// Lettering is how a text is set.
type Lettering struct {
	Size   float64
	Anchor float64 // 0 starts at x, 0.5 is centered, 1 ends there
	Bold   bool
	Color  Color
	Upward bool // turned to read from below
}

// Color is a color of the screen (sRGB).
type Color struct{ R, G, B uint8 }

var (
	inks  = [...]Color{{0x1b, 0x25, 0x30}, {0x1b, 0x7f, 0x86}, {0xb7, 0x79, 0x1f}, {0xa8, 0x43, 0x2a}}
	tints = [...]Color{{0xe3, 0xe6, 0xe8}, {0xd6, 0xea, 0xeb}, {0xf5, 0xe8, 0xcf}, {0xf3, 0xdc, 0xd5}}
	faint = Color{0xd9, 0xdd, 0xe0}
	grey  = Color{0x5b, 0x66, 0x70}
)

// Draw lays the figure out on a canvas.
func (f *Figure) Draw(c Canvas) {
	width, height := f.Size()
	for i, l := range f.titleLines() {
		c.Text(marginLeft-50, 27+titleStep*float64(i), l, Lettering{Size: titleSize, Bold: true, Color: inks[Ink]})
	}
	right := f.nameRoom()
	panel := (float64(height) - f.titleRoom() - f.noteRoom()) / float64(max(1, len(f.Panels)))
	for i := range f.Panels {
		top := f.titleRoom() + float64(i)*panel
		(&frame{
			c: c, p: &f.Panels[i], x0: marginLeft, x1: float64(width) - right, y0: top + panelTop,
			y1: top + panel - panelBottom, edge: float64(width) - right,
		}).draw()
	}
	note := f.noteLines()
	for i, l := range note {
		c.Text(marginLeft-50, float64(height)-9-float64(len(note)-1-i)*noteStep, l, Lettering{Size: 11, Color: grey})
	}
}

// frame is a panel at its place.
type frame struct {
	c              Canvas
	p              *Panel
	x0, x1, y0, y1 float64
	xs, ys         scale
	edge           float64   // how far right texts may stand
	texts          []box     // so that none is written over another
	lines          []segment // that texts keep clear of
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// span is the range of the data of a panel.
func (f *frame) span() (xl, xh, yl, yh float64, any bool) {
	xl, xh, yl, yh = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, s := range f.p.Series {
		for i := range min(len(s.X), len(s.Y)) {
			if !f.stands(s.X[i], s.Y[i]) {
				continue
			}
			any = true
			xl, xh = math.Min(xl, s.X[i]), math.Max(xh, s.X[i])
			yl, yh = math.Min(yl, s.Y[i]), math.Max(yh, s.Y[i])
			if i < len(s.Low) && f.stands(s.X[i], s.Low[i]) {
				yl, yh = math.Min(yl, s.Low[i]), math.Max(yh, s.Low[i])
			}
		}
	}
	for _, p := range f.p.Points {
		if f.stands(p.X, p.Y) {
			any = true
			xl, xh = math.Min(xl, p.X), math.Max(xh, p.X)
			yl, yh = math.Min(yl, p.Y), math.Max(yh, p.Y)
		}
	}
	return xl, xh, yl, yh, any
}

// stands is true for a place that the axes have.
func (f *frame) stands(x, y float64) bool {
	return finite(x) && finite(y) && (x > 0 || !f.p.LogX) && (y > 0 || !f.p.LogY)
}

func (f *frame) draw() {
	c := f.c
	c.Text(f.x0, f.y0-10, f.p.Title, Lettering{Size: 13, Bold: true, Color: inks[Ink]})
	xl, xh, yl, yh, any := f.span()
	if !any {
		line(c, f.x0, f.y1, f.x1, f.y1, Pen{Color: grey, Width: 1})
		c.Text((f.x0+f.x1)/2, (f.y0+f.y1)/2, "no data", Lettering{Size: 13, Anchor: 0.5, Color: grey})
		return
	}
	if f.p.YFromZero {
		yl, yh = math.Min(0, yl), math.Max(0, yh)
	}
	f.xs = newScale(xl, xh, f.x0, f.x1, 8, false)
	if f.p.LogX {
		f.xs = newLogScale(xl, xh, f.x0, f.x1, false)
	}
	f.ys = newScale(yl, yh, f.y1, f.y0, 5, true)
	if f.p.LogY {
		f.ys = newLogScale(yl, yh, f.y1, f.y0, true)
	}
	f.shades()
	for _, v := range f.ys.ticks() {
		y := f.ys.at(v)
		line(c, f.x0, y, f.x1, y, Pen{Color: faint, Width: 1})
		tick := Lettering{Size: 11, Anchor: 1, Color: grey}
		c.Text(f.x0-7, y+4, f.ys.label(v), tick)
		f.texts = append(f.texts, boxOf(f.x0-7, y+4, f.ys.label(v), tick))
	}
	for _, v := range f.xs.ticks() {
		x := f.xs.at(v)
		if f.p.LogX {
			line(c, x, f.y0, x, f.y1, Pen{Color: faint, Width: 1})
		}
		line(c, x, f.y1, x, f.y1+4, Pen{Color: grey, Width: 1})
		c.Text(x, f.y1+17, f.xs.label(v), Lettering{Size: 11, Anchor: 0.5, Color: grey})
	}
	line(c, f.x0, f.y1, f.x1, f.y1, Pen{Color: grey, Width: 1})
	c.Text((f.x0+f.x1)/2, f.y1+34, f.p.XLabel, Lettering{Size: 11.5, Anchor: 0.5, Color: grey})
	c.Text(f.x0-50, (f.y0+f.y1)/2, f.p.YLabel, Lettering{Size: 11.5, Anchor: 0.5, Color: grey, Upward: true})
	f.marks()
	f.obstacles()
	for _, s := range f.p.Series {
		f.band(s)
	}
	for _, s := range f.p.Series {
		if !s.Bare {
			f.series(s)
		}
	}
	f.levels()
	f.markNotes()
	f.levelNotes()
	f.shadeNotes()
	f.points()
	f.names()
}

// band tints the area between a series and its Low.
func (f *frame) band(s Series) {
	n := min(len(s.X), len(s.Y), len(s.Low))
	var x, y []float64
	for i := range n {
		if f.stands(s.X[i], s.Y[i]) && f.stands(s.X[i], s.Low[i]) {
			x, y = append(x, f.xs.at(s.X[i])), append(y, f.ys.at(s.Y[i]))
		}
	}
	for i := n - 1; i >= 0; i-- {
		if f.stands(s.X[i], s.Y[i]) && f.stands(s.X[i], s.Low[i]) {
			x, y = append(x, f.xs.at(s.X[i])), append(y, f.ys.at(s.Low[i]))
		}
	}
	if len(x) > 2 {
		f.c.Area(x, y, tints[s.Style])
	}
}

func (f *frame) series(s Series) {
	p := s.pen()
	x, y := Decimate(s.X, s.Y, mostPoints)
	var px, py []float64
	flush := func() {
		if len(px) > 1 {
			f.c.Path(px, py, p)
		}
		px, py = nil, nil
	}
	for i := range x {
		if !f.stands(x[i], y[i]) {
			flush()
			continue
		}
		px, py = append(px, f.xs.at(x[i])), append(py, f.ys.at(y[i]))
	}
	flush()
}

// Decimate keeps at most about most points of a line, for each bucket its least and its
// greatest value in order, so that no peak is lost. Gaps stay gaps.
func Decimate(x, y []float64, most int) (dx, dy []float64) {
	n := min(len(x), len(y))
	if n <= most {
		return x[:n], y[:n]
	}
	bucket := (2*n + most - 1) / most
	for from := 0; from < n; from += bucket {
		to := min(n, from+bucket)
		low, high := -1, -1
		for i := from; i < to; i++ {
			if !finite(y[i]) {
				continue
			}
			if low < 0 || y[i] < y[low] {
				low = i
			}
			if high < 0 || y[i] > y[high] {
				high = i
			}
		}
		if low < 0 {
			dx, dy = append(dx, x[from]), append(dy, math.NaN())
			continue
		}
		for _, i := range []int{min(low, high), max(low, high)} {
			dx, dy = append(dx, x[i]), append(dy, y[i])
		}
	}
	return dx, dy
}

// SVG writes the figure as SVG, with title and description for readers that cannot see.
func (f *Figure) SVG(w io.Writer) error {
	width, height := f.Size()
	c := &svg{}
	fmt.Fprintf(&c.out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" font-family="'Source Sans 3','Segoe UI',Helvetica,Arial,sans-serif">`+"\n", width, height, width, height)
	fmt.Fprintf(&c.out, "<title>%s</title>\n<desc>%s</desc>\n", escape(f.Title), escape(f.describe()))
	fmt.Fprintf(&c.out, `<rect width="%d" height="%d" fill="#fffefa"/>`+"\n", width, height)
	f.Draw(c)
	c.out.WriteString("</svg>\n")
	_, err := io.WriteString(w, c.out.String())
	return err
}

// describe says in words what the panels show.
func (f *Figure) describe() string {
	var parts []string
	for i := range f.Panels {
		p := &f.Panels[i]
		var names []string
		for _, s := range p.Series {
			names = append(names, s.Name)
		}
		parts = append(parts, fmt.Sprintf("%s: %s over %s: %s.", p.Title, p.YLabel, p.XLabel,
			strings.Join(names, ", ")))
	}
	return strings.Join(parts, " ")
}
