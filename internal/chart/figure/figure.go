// Package figure draws line charts for reports, as SVG and as PNG, from one description.
// A figure is laid out once, on a canvas that knows lines, areas and measured text; the
// two forms differ in the canvas only. The same figure gives the same bytes.
package figure

import (
	"errors"
	"fmt"
	"io"
)

// Style is the ink of a series. It is never the only difference between two lines: each
// has its name at its end, and may be dashed.
type Style uint8

// The inks.
const (
	Ink Style = iota
	Water
	Amber
	Rust
)

// Series is one line. Points of which X or Y is NaN, infinite or beyond ±1e100 leave a
// gap; X and Y are read up to the shorter of the two. A point alone between gaps is
// drawn as a dot. Long series are drawn by some 2000 points that keep every extreme.
type Series struct {
	Name  string // stands at the end of the line
	X, Y  []float64
	Style Style
	Dash  bool
	Low   []float64 // where set, the area between Low and Y is tinted: a band
	Fill  bool      // without Low: tints the area down or up to the next series
}

// Mark is a vertical line with a short text above the chart. A mark outside the data is
// not drawn; a text that finds no room is left to the description, its line stays.
type Mark struct {
	X    float64
	Text string
}

// Panel is one chart. Labels should name the unit: "head, m".
type Panel struct {
	Title, XLabel, YLabel string
	Series                []Series
	YFromZero             bool // the axis takes in zero
	Marks                 []Mark
}

// Figure is panels, one below the other, that share no axis but stand flush.
type Figure struct {
	Title, Note   string
	Width, Height int // px of the whole; 0 means 900 wide and 260 high for each panel, title and note besides
	Panels        []Panel
}

// ErrSize means that a figure is asked for in a size in which it cannot be drawn.
var ErrSize = errors.New("size of the figure")

// SVG writes the figure as SVG: text as text, with a title and a description for readers
// that cannot see, and no scripts. The error is ErrSize, or the writer's.
func (f *Figure) SVG(w io.Writer) error {
	s, err := f.sheet()
	if err != nil {
		return err
	}
	c := newSVG(s)
	s.draw(c)
	c.out.WriteString("</svg>\n")
	_, err = w.Write(c.out.Bytes())
	return err
}

// PNG writes the figure as PNG, with two pixels for each px of its width and height. The
// error is ErrSize, or the writer's.
func (f *Figure) PNG(w io.Writer) error {
	s, err := f.sheet()
	if err != nil {
		return err
	}
	c := newRaster(s)
	s.draw(c)
	return c.encode(w)
}

// The sizes of a figure, px.
const (
	usualWidth  = 900
	usualPanel  = 260
	leastWidth  = 320
	leastPanel  = 130
	mostAcross  = 20000
	mostArea    = 16e6 // a PNG of four times as many pixels takes 256 MB to draw
	outerMargin = 20.0
)

func (f *Figure) sheet() (*sheet, error) {
	width := f.Width
	if width == 0 {
		width = usualWidth
	}
	if width < leastWidth || width > mostAcross {
		return nil, fmt.Errorf("%w: %d px wide, want %d to %d", ErrSize, width, leastWidth, mostAcross)
	}
	text, err := newType()
	if err != nil {
		return nil, err
	}
	s := &sheet{typeset: text, width: width, title: tidy(f.Title), describe: f.describe()}
	room := float64(width) - 2*outerMargin
	s.titleLines = text.wrap(s.title, titleFont, room, 2)
	s.noteLines = text.wrap(tidy(f.Note), noteFont, room, 3)
	panels := max(1, len(f.Panels))
	s.height = f.Height
	if s.height == 0 {
		s.height = int(s.head()+s.foot()) + usualPanel*panels
	}
	panel := (float64(s.height) - s.head() - s.foot()) / float64(panels)
	if panel < leastPanel || s.height > mostAcross || float64(width)*float64(s.height) > mostArea {
		return nil, fmt.Errorf("%w: %d x %d px for %d panels, want %d px of height for each and at most %g px² in all", ErrSize, width, s.height, panels, leastPanel, mostArea)
	}
	s.panels = f.Panels
	if len(f.Panels) == 0 {
		s.panels = []Panel{{}}
	}
	s.panel = panel
	return s, nil
}
