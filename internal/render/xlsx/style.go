package xlsx

import (
	"strings"
	"unicode/utf8"

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
	document.Source: grey, document.Warning: rust, document.Advice: water, document.Good: water, document.Bad: rust,
	document.Open: amber,
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
	font := &excelize.Font{Family: letters, Size: l.points(), Color: ink, Bold: l.bold || l.head || l.group}
	if l.fixed {
		font.Family = "Courier New"
	}
	if c, colored := toneColors[l.tone]; colored {
		font.Color = c
	}
	if l.link {
		font.Color, font.Underline = water, "single"
	}
	st := &excelize.Style{
		Font:      font,
		Alignment: &excelize.Alignment{Vertical: "top", WrapText: l.wrap, Indent: l.indent},
	}
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

// letters is the font. Every office program has it or one as wide.
const letters = "Arial"

// usualSize is that of letters, points.
const usualSize = 10

// Heights of a row, points.
const (
	usualHigh = 18
	mostHigh  = 409 // that a row can have
)

// points is the size of the letters.
func (l look) points() float64 {
	if l.size > 0 {
		return l.size
	}
	return usualSize
}

// room is how many characters stand beside each other in a cell, which may be merged
// with one for a unit.
func (s *sheet) room(column int) float64 {
	if s.table != nil {
		for i, u := range s.units {
			if u && s.column(i) == column {
				return s.wide[column-1] + s.wide[column]
			}
		}
	}
	return s.wide[column-1]
}

// wrapped is how many lines a text takes, at the width of a usual letter.
func wrapped(text string, room float64, l look) int {
	room *= 1.1 * usualSize / l.points() // a column's width is given in digits, and letters are narrower
	if l.bold || l.head || l.group {
		room *= 0.92
	}
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		n++
		used := 0.0
		for word := range strings.FieldsSeq(line) {
			wide := float64(utf8.RuneCountInString(word)) + 1
			if used > 0 && used+wide > room+1 {
				n, used = n+1, 0
			}
			used += wide
			for used > room+1 {
				n, used = n+1, used-room
			}
		}
	}
	return n
}
