package xlsx

import (
	"fmt"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// pageLine is how many UTF-16 units the head or the foot of a page may have.
const pageLine = 255

// page sets how the sheet is printed: one page wide, with heads and feet.
func (s *sheet) page(columns int) {
	paper, across := 1, "portrait"
	if s.d.Paper == document.A4 {
		paper = 9
	}
	sum := 0.0
	for _, w := range s.wide {
		sum += w
	}
	if sum > portrait {
		across = "landscape"
	}
	yes, wide, high := true, 1, 0
	s.keep(s.file.SetPageLayout(s.name,
		&excelize.PageLayoutOptions{Size: &paper, Orientation: &across, FitToWidth: &wide, FitToHeight: &high}))
	s.keep(s.file.SetSheetProps(s.name, &excelize.SheetPropsOptions{FitToPage: &yes}))
	side, above := 0.6, 0.8
	s.keep(s.file.SetPageMargins(s.name,
		&excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &above, Bottom: &above}))
	s.define("_xlnm.Print_Area", fmt.Sprintf("%s!$A$1:$%s$%d", quoted(s.name), strings.TrimSuffix(at(columns, 1), "1"),
		max(1, s.row-1)))
	no := false
	s.keep(s.file.SetSheetView(s.name, 0, &excelize.ViewOptions{ShowGridLines: &no}))
	d := s.d
	foot := wording.Foot(d)
	s.keep(s.file.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{
		ScaleWithDoc: &no,
		OddHeader:    pageText(d.Company, d.Title),
		OddFooter: pageText(joined(" · ", d.Mark, foot, d.Hash), "") + "&R&8 " + document.Fill(short(d.Words.Page),
			"n", "&P", "total", "&N"),
	}))
}

// pageText sets a text at the left of a page's head or foot and another at the right.
// Signs that begin a code are doubled, and what is too long is cut.
func pageText(left, right string) string {
	all := ""
	for _, part := range [][2]string{{"&L", left}, {"&R", right}} {
		if text := short(part[1]); text != "" {
			all += part[0] + "&8 " + text // small
		}
	}
	return all
}

// short is a text on one line, which takes no more than half of what the head holds.
func short(text string) string {
	r := []rune(strings.Join(strings.Fields(wording.Clean(text)), " "))
	for end := len(r); ; end-- {
		out := string(r[:end])
		if end < len(r) {
			out += "…"
		}
		out = strings.ReplaceAll(out, "&", "&&")
		if len(utf16.Encode([]rune(out))) <= pageLine/2-12 {
			return out
		}
	}
}

// define names a range of the sheet.
func (s *sheet) define(name, cells string) {
	s.keep(s.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: cells, Scope: s.name}))
}

// freeze keeps the first columns and rows in view.
func (s *sheet) freeze(columns, rows int) {
	pane := "bottomLeft"
	if columns > 0 {
		pane = "bottomRight"
	}
	s.keep(s.file.SetPanes(s.name, &excelize.Panes{
		Freeze: true, XSplit: columns, YSplit: rows,
		TopLeftCell: at(columns+1, rows+1), ActivePane: pane,
	}))
}

// joined joins the texts that say something.
func joined(between string, texts ...string) string {
	var some []string
	for _, t := range texts {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, between)
}
