package table

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// formatText is the number format of cells that hold what is typed, as typed. Without it
// a spreadsheet makes a date of 3/4 and a number of 007 as soon as someone edits.
const formatText = 49

// stamp stands in every file that WriteXLSX writes, so that the same sheets give the
// same bytes whenever they are written.
const stamp = "2000-01-01T00:00:00Z"

// WriteXLSX writes the sheets as a workbook of text cells; nothing in it is a formula or
// a number. The place of a cell is its place in Rows. The same sheets give the same
// bytes. It fails without a sheet, on a name that spreadsheets do not take or that
// stands twice, on a text that is not UTF-8 or holds control characters, and beyond the
// limits of Read.
func WriteXLSX(sheets []Sheet) ([]byte, error) {
	if len(sheets) == 0 {
		return nil, errors.New("a workbook needs at least one sheet")
	}
	f := excelize.NewFile()
	defer func() { _ = f.Close() }() // it only removes temporary files, and there are none
	if err := describe(f); err != nil {
		return nil, err
	}
	style, err := f.NewStyle(&excelize.Style{NumFmt: formatText})
	if err != nil {
		return nil, err
	}
	names := map[string]bool{}
	for i, s := range sheets {
		key := strings.ToLower(s.Name)
		if names[key] {
			return nil, fmt.Errorf("two sheets are named %q", s.Name)
		}
		names[key] = true
		if i == 0 {
			err = f.SetSheetName(f.GetSheetName(0), s.Name)
		} else {
			_, err = f.NewSheet(s.Name)
		}
		if err != nil {
			return nil, fmt.Errorf("sheet %q: %w", s.Name, err)
		}
		if err := fill(f, s, style); err != nil {
			return nil, fmt.Errorf("sheet %q: %w", s.Name, err)
		}
	}
	out, err := f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func describe(f *excelize.File) error {
	return errors.Join(
		f.SetDocProps(&excelize.DocProperties{
			Creator: "seatward", LastModifiedBy: "seatward", Created: stamp,
			Modified: stamp,
		}),
		f.SetAppProps(&excelize.AppProperties{Application: "seatward"}),
	)
}

func fill(f *excelize.File, s Sheet, style int) error {
	width := 0
	for _, row := range s.Rows {
		width = max(width, len(row))
	}
	if width > 0 && width <= MaxColumns {
		last, err := excelize.ColumnNumberToName(width)
		if err != nil {
			return err
		}
		if err := f.SetColStyle(s.Name, "A:"+last, style); err != nil {
			return err
		}
	}
	for i, row := range s.Rows {
		for j, cell := range row {
			if cell.Text == "" {
				continue
			}
			text, at := breaks(cell.Text), Cell{Row: i + 1, Col: j + 1}
			if m := (&reader{}).overLimit(at.Row, at.Col, text); m.ID != "" {
				return fmt.Errorf("row %d, column %d: %w", at.Row, at.Col, m)
			}
			if !utf8.ValidString(text) || strings.IndexFunc(text, isControl) >= 0 {
				return fmt.Errorf("cell %s: the text is not UTF-8, or holds control characters", at.Ref())
			}
			if err := store(f, s.Name, at.Ref(), text); err != nil {
				return err
			}
		}
	}
	return nil
}

// store writes one cell. A text that looks like the escape of a character, such as
// _x0041_, is cut into runs inside of the escape, because the library writes it as it
// is and a spreadsheet would read it as the letter A.
func store(f *excelize.File, sheet, ref, text string) error {
	if !escape.MatchString(text) {
		return f.SetCellStr(sheet, ref, text)
	}
	var runs []excelize.RichTextRun
	for _, part := range strings.SplitAfter(text, "_x") {
		runs = append(runs, excelize.RichTextRun{Text: part})
	}
	return f.SetCellRichText(sheet, ref, runs)
}

// WriteCSV writes a sheet as CSV in UTF-8 with commas. The place of a cell is its place
// in Rows. Every text is written as it is, also one that a spreadsheet takes for a
// formula, because what is written must read back the same. Text beyond ASCII gets a
// byte-order mark: without it spreadsheets read accented letters wrong.
func WriteCSV(s Sheet) []byte {
	var out bytes.Buffer
	ascii := true
	for _, row := range s.Rows {
		for i, cell := range row {
			if i > 0 {
				out.WriteByte(',')
			}
			text := breaks(cell.Text)
			ascii = ascii && strings.IndexFunc(text, func(c rune) bool { return c >= utf8.RuneSelf }) < 0
			if strings.ContainsAny(text, delimiters+"\"\n") {
				// Every delimiter is put in quotes, so that a reader that looks for the
				// delimiter finds the comma alone.
				text = `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
			}
			out.WriteString(text)
		}
		out.WriteByte('\n')
	}
	if ascii {
		return out.Bytes()
	}
	return append([]byte(markUTF8), out.Bytes()...)
}
