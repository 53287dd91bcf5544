package xlsx

import (
	"github.com/xuri/excelize/v2"

	"seatward/internal/document"
)

// look is how a cell looks.
type look struct {
	format       string // of numbers; "@" for texts that look like formulas
	size         float64
	tone         document.Tone
	bold, wrap   bool
	head, group  bool
	blank, link  bool
	right, fixed bool // fixed is for listings, in which every letter is as wide
	ruled        bool // a line below
	indent       int
}

// The colors are those of the other formats; a sign tells the same.
const (
	ink   = "1B2530"
	grey  = "5B6670"
	pale  = "F0F3F5"
	faint = "D3D8DC"
	water = "146B72"
	amber = "8F5C10"
	rust  = "A8432A"
	empty = "FFF9E6" // a cell to fill in
)

var toneColors = map[document.Tone]string{
	document.Source: grey, document.Warning: rust, document.Advice: water, document.Good: water, document.Bad: rust, document.Open: amber,
}

// style gives a cell of the current row its look.
func (s *sheet) style(column int, l look) {
	id, known := s.styles[l]
	if !known {
		var err error
		id, err = s.file.NewStyle(l.style())
		s.keep(err)
		s.styles[l] = id
	}
	cell := at(column, s.row)
	s.keep(s.file.SetCellStyle(s.name, cell, cell, id))
}

func (l look) style() *excelize.Style {
	font := &excelize.Font{Family: "Calibri", Size: 10, Color: ink, Bold: l.bold || l.head || l.group}
	if l.size > 0 {
		font.Size = l.size
	}
	if l.fixed {
		font.Family = "Consolas"
	}
	if c, colored := toneColors[l.tone]; colored {
		font.Color = c
	}
	if l.link {
		font.Color, font.Underline = water, "single"
	}
	st := &excelize.Style{Font: font, Alignment: &excelize.Alignment{Vertical: "top", WrapText: l.wrap, Indent: l.indent}}
	if l.right {
		st.Alignment.Horizontal = "right"
	} else if l.format == "" || l.format == "@" {
		st.Alignment.Horizontal = "left"
	}
	if l.format != "" {
		st.CustomNumFmt = &l.format
	}
	switch {
	case l.blank:
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{empty}}
	case l.head, l.group:
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{pale}}
	}
	if l.ruled || l.blank {
		st.Border = []excelize.Border{{Type: "bottom", Color: faint, Style: 1}}
	}
	if l.head {
		st.Alignment.Vertical = "bottom"
	}
	return st
}
