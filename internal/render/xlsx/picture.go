package xlsx

import (
	"bytes"
	"fmt"
	"image/png"
	"math"

	"github.com/xuri/excelize/v2"

	"seatward/internal/document"
	"seatward/internal/render/code"
	"seatward/internal/render/wording"
)

// Sizes on the screen, in px; a row of usual height has rowPx.
const (
	rowPx     = 20
	pointsPx  = 0.75
	codePx    = 130
	logoPx    = 56
	chartPx   = 640 // the width of a chart, for an upright page
	chartWide = 80  // of the column below charts, characters
)

// picture puts an image file at the current row, so many px high.
func (s *sheet) picture(data []byte, ending, text string, scale float64) {
	s.keep(s.file.AddPictureFromBytes(s.name, at(1, s.row), &excelize.Picture{
		Extension: ending, File: data,
		Format: &excelize.GraphicOptions{
			AltText: wording.Clean(text), ScaleX: scale, ScaleY: scale, OffsetX: 2,
			OffsetY: 2, LockAspectRatio: true, Positioning: "oneCell",
		},
	}))
}

// figure draws a chart on the sheet of charts and leads there.
func (s *sheet) figure(x document.Figure) {
	s.count++
	if s.charts == nil {
		s.book.charts = s.add("Charts", "Charts")
		s.charts.wide = []float64{chartWide}
		s.charts.setWidths()
	}
	caption := wording.Caption(s.d, s.count, x.Caption)
	s.link(2, orName(caption, s.charts.name), s.charts.name)
	s.next()
	c := s.charts
	if c.row > 1 { // a chart to a page
		c.keep(c.file.InsertPageBreak(c.name, at(1, c.row)))
	}
	c.line(caption, look{bold: true, size: 11, wrap: true})
	if x.Text != "" {
		c.line(x.Text, look{wrap: true, tone: document.Source})
	}
	var out bytes.Buffer
	if err := x.Figure.PNG(&out); err != nil {
		s.keep(fmt.Errorf("chart %q: %w", x.Caption, err))
		return
	}
	size, err := png.DecodeConfig(bytes.NewReader(out.Bytes()))
	if err != nil {
		s.keep(fmt.Errorf("chart %q: %w", x.Caption, err))
		return
	}
	wide, high := x.Figure.Size()
	text := x.Text
	if text == "" {
		text = caption
	}
	c.picture(out.Bytes(), ".png", text, chartPx/float64(size.Width))
	c.row += int(math.Ceil(float64(high)*chartPx/float64(wide)/rowPx)) + 2
}

// code draws a square code, with its text beside it.
func (s *sheet) code(x document.Code) {
	square, err := code.New(x.Text)
	if err != nil {
		s.keep(fmt.Errorf("%s: %w", x.Caption, err))
		return
	}
	const px = 8
	data, err := square.PNG(px)
	if err != nil {
		s.keep(fmt.Errorf("%s: %w", x.Caption, err))
		return
	}
	_, side := square.Path()
	s.picture(data, ".png", "Square code: "+x.Text, codePx/float64(side*px))
	s.text(2, x.Caption+"\n"+x.Text, look{wrap: true})
	s.keep(s.file.SetRowHeight(s.name, s.row, (codePx+6)*pointsPx))
	s.row++
}

// logo stands over the title.
func (s *sheet) logo() {
	l := s.d.Logo
	if l == nil || l.Height <= 0 {
		return
	}
	s.picture(l.Data, "."+l.Format, s.d.Company, logoPx/float64(l.Height))
	s.keep(s.file.SetRowHeight(s.name, s.row, (logoPx+8)*pointsPx))
	s.row++
}
