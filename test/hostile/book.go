//go:build linux

package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"

	"seatward/internal/table"
)

// workbook makes an XLSX file of sheets and changes it: its cells, the XML of its parts, the
// bytes of the file, or a part that swells when it is unpacked.
func (m mutator) workbook(sheets []table.Sheet) ([]byte, error) {
	if m.IntN(12) == 0 {
		return m.swelling()
	}
	for range m.IntN(3) {
		m.cells(sheets)
	}
	data, err := table.WriteXLSX(shortened(sheets))
	if err != nil {
		return nil, err
	}
	if data, err = rewritten(data, func(_ int, text []byte) []byte {
		return bytes.ReplaceAll(text, []byte(stands), []byte(tooLong))
	}); err != nil {
		return nil, err
	}
	switch m.IntN(4) {
	case 0:
		return m.bytes(data), nil
	case 1, 2:
		return m.parts(data)
	}
	return data, nil
}

// tooLong is more than a cell may hold. No library writes it, so it gets into the file of a workbook
// behind the library's back, where another text stands for it.
var tooLong = strings.Repeat("x", 40_000)

const stands = "text-of-40000-bytes"

func shortened(sheets []table.Sheet) []table.Sheet {
	for _, s := range sheets {
		for _, row := range s.Rows {
			for c := range row {
				if row[c].Text == tooLong {
					row[c].Text = stands
				}
			}
		}
	}
	return sheets
}

// cells changes the cells of one sheet: one strange, a row gone, twice or many times.
func (m mutator) cells(sheets []table.Sheet) {
	s := &sheets[m.IntN(len(sheets))]
	if len(s.Rows) == 0 {
		return
	}
	i := m.IntN(len(s.Rows))
	row := append([]table.Cell(nil), s.Rows[i]...)
	switch m.IntN(6) {
	case 0:
		s.Rows = append(s.Rows[:i:i], s.Rows[i+1:]...)
	case 1:
		s.Rows = append(s.Rows, row)
	case 2:
		for range []int{50, 2000, 15_000}[m.IntN(3)] {
			s.Rows = append(s.Rows, row)
		}
	case 3:
		s.Name = m.oneOf([]string{"Sizes", "family", "catalog", "x"}) + fmt.Sprint(m.IntN(1000))
	default:
		if len(row) > 0 {
			row[m.IntN(len(row))].Text = m.oneOf(append([]string{tooLong}, strange...))
		}
		s.Rows[i] = row
	}
	for r := range s.Rows { // the writer goes by the numbers of the cells
		for c := range s.Rows[r] {
			s.Rows[r][c].Row, s.Rows[r][c].Col = r+1, c+1
		}
	}
}

// parts changes the XML of one part.
func (m mutator) parts(data []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	which := m.IntN(len(in.File))
	return rewritten(data, func(i int, text []byte) []byte {
		if i == which {
			return m.xml(text)
		}
		return text
	})
}

// rewritten is a workbook with the text of each part put through change.
func rewritten(data []byte, change func(part int, text []byte) []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i, f := range in.File {
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		w, err := z.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(change(i, text)); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func (m mutator) xml(text []byte) []byte {
	s := string(text)
	switch m.IntN(8) {
	case 0:
		s = strings.ReplaceAll(s, `r="`, `r="ZZZ`)
	case 1:
		s = strings.ReplaceAll(s, `t="s"`, m.oneOf([]string{`t="e"`, `t="d"`, `t="b"`, `t="n"`, `t="inlineStr"`}))
	case 2:
		s = strings.ReplaceAll(s, "</v>", m.oneOf([]string{"99999999</v>", "e999</v>", "NaN</v>", "-1</v>"}))
	case 3:
		s = strings.Replace(s, "?>", `?><!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>`, 1)
	case 4:
		s = strings.ReplaceAll(s, "<row", `<row hidden="1"`)
	case 5:
		s = strings.Replace(s, "</sheetData>",
			`</sheetData><mergeCells>`+strings.Repeat(`<mergeCell ref="A1:XFD1048576"/>`,
				1<<m.IntN(14))+`</mergeCells>`, 1)
	default:
		return m.bytes(text)
	}
	return []byte(s)
}

// swelling is a workbook of which a part is some hundred times its size in the file.
func (m mutator) swelling() ([]byte, error) {
	const relation = `<Relationship Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/`
	const cell = `<worksheet><sheetData><row><c t="inlineStr"`
	unit := []struct{ before, piece string }{
		{cell, ` a=""`},
		{cell + `><is>`, `<r><t>x</t></r>`},
		{cell + `><is><t>`, `x`},
		{cell + `>`, `<a>`},
		{`<worksheet>`, `<a>`},
		{`<worksheet><sheetData>`, `<row/>`},
		{`<worksheet><sheetData>`, `<row><c><v>1</v></c></row>`},
		{`<worksheet><sheetData><row>`, `<c><v>1</v></c>`},
		{`<worksheet>`, `<mergeCell ref="A1:B2"/>`},
		{`<worksheet><!--`, `x`},
		{`<worksheet><sheetData><row><c r="`, `Z`},
		{`<worksheet><`, `x`},
	}[m.IntN(12)]
	size := []int{1 << 20, 10 << 20, 45 << 20, 120 << 20}[m.IntN(4)]
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	parts := []struct{ name, text string }{
		{"_rels/.rels", `<Relationships>` + relation + `officeDocument" Id="a" Target="/b/m.xml"/></Relationships>`},
		{"b/_rels/m.xml.rels", `<Relationships>` + relation + `worksheet" Id="b" Target="one.xml"/></Relationships>`},
		{"b/m.xml", `<workbook><sheets><sheet name="catalog" id="b"/></sheets></workbook>`},
		{"b/one.xml", unit.before},
	}
	for _, p := range parts {
		w, err := z.Create(p.name)
		if err != nil {
			return nil, err
		}
		if _, err := io.WriteString(w, p.text); err != nil {
			return nil, err
		}
		if p.name != "b/one.xml" {
			continue
		}
		chunk := strings.Repeat(unit.piece, 1<<20/len(unit.piece))
		for range size >> 20 {
			if _, err := io.WriteString(w, chunk); err != nil {
				return nil, fmt.Errorf("swelling: %w", err)
			}
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
