// Package table reads and writes spreadsheet tables, CSV and XLSX, as plain sheets of
// text cells. It knows nothing of what the cells mean. What a table cannot say in plain
// text (formulas, merged cells, error values) it refuses with a message that names the
// cell, because a guess would change data without notice.
package table

import (
	"bytes"
	"fmt"
	"path"
	"strings"

	"github.com/xuri/excelize/v2"

	"seatward/diag"
)

// The limits of one file. They keep a broken or hostile file from filling the memory.
const (
	// DefaultMaxBytes is the size of a file that Read takes when Options do not say.
	DefaultMaxBytes = 20 << 20
	// MaxRows is the number of rows that a sheet may have.
	MaxRows = 20_000
	// MaxColumns is the number of columns that a sheet may have.
	MaxColumns = 500
	// MaxCellBytes is the length of one cell in UTF-8. Spreadsheets hold no more.
	MaxCellBytes = 32_767

	maxCells     = 500_000   // of a whole file, blank ones between others counted
	longRows     = 1_048_576 // rows of a Long table: those of a spreadsheet
	longCells    = 6_000_000
	longPart     = 400 << 20
	maxListed    = 5 // faults of one kind told for one sheet; the rest is a count
	maxUnpacked  = 100 << 20
	maxPart      = 50 << 20
	magicZip     = "PK\x03\x04"
	magicZipNone = "PK\x05\x06" // a zip file without parts
	magicOLE     = "\xd0\xcf\x11\xe0"
)

// Cell is one cell as text. Row and Col count from 1, as spreadsheets do.
type Cell struct {
	Text     string
	Row, Col int
}

// Ref names the cell as spreadsheets do, such as B7; it is empty for a place that no
// spreadsheet has.
func (c Cell) Ref() string {
	name, err := excelize.CoordinatesToCellName(c.Col, c.Row)
	if err != nil {
		return ""
	}
	return name
}

// Sheet is one table of cells. Rows[i] is row i+1 and Rows[i][j] its column j+1, so a
// blank row between others is an empty slice. Rows may be of different length: blank
// cells at the end of a row and blank rows at the end of a sheet are not there.
type Sheet struct {
	Name string
	Rows [][]Cell
}

// Options say what a file does not say itself. The zero value finds all by itself.
type Options struct {
	Delimiter rune   // between the cells of a CSV; 0: comma, semicolon or tab, whichever fits
	Encoding  string // of a CSV: "utf-8", "latin-1", or "" for found by itself
	MaxBytes  int64  // of the file; 0: DefaultMaxBytes
	// Long is for records of loggers: as many rows as a spreadsheet has, and times with their
	// fractions of a second.
	Long bool
}

// Read reads a file by its content: every visible sheet of an XLSX file, else one CSV
// sheet named after the file. Line breaks in a cell come as "\n". The messages are of
// Severity Error where cells are wrong or missing: then the sheets serve only to look
// for further faults.
func Read(filename string, data []byte, o Options) ([]Sheet, diag.List) {
	r := &reader{file: filename, options: o}
	r.cellsLeft = r.mostCells()
	limit := o.MaxBytes
	if limit <= 0 {
		limit = DefaultMaxBytes
	}
	var sheets []Sheet
	switch {
	case int64(len(data)) > limit:
		r.fault(diag.Message{
			ID: "file-too-large", Text: fmt.Sprintf("the file has %d bytes", len(data)),
			Expected: fmt.Sprintf("at most %d bytes", limit), Mend: "split the table into several files",
		})
	case hasPrefix(data, magicOLE):
		r.old(data)
	case hasPrefix(data, magicZip), hasPrefix(data, magicZipNone):
		sheets = r.xlsx(data)
	default:
		sheets = r.csv(data)
	}
	return sheets, r.list
}

func hasPrefix(data []byte, magic string) bool { return bytes.HasPrefix(data, []byte(magic)) }

// reader collects the messages of one file and counts its cells.
type reader struct {
	file      string
	options   Options
	list      diag.List
	cellsLeft int
}

func (r *reader) fault(m diag.Message) {
	m.Place.File = r.file
	r.list.Add(m)
}

// old tells that a file is of the container that both encrypted workbooks and those
// of the old binary format use.
func (r *reader) old(data []byte) {
	m := diag.Message{
		ID: "file-old", Text: "the file is a workbook of the old binary format (.xls)",
		Expected: "an .xlsx or CSV file", Mend: "open it in a spreadsheet program and save it as .xlsx",
	}
	if bytes.Contains(data, []byte("E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00")) {
		m.ID, m.Text = "file-encrypted", "the file is protected by a password"
		m.Expected, m.Mend = "an .xlsx file without a password", "remove the password and save the file again"
	}
	r.fault(m)
}

// sheetName is the name of the file without folder and extension.
func sheetName(filename string) string {
	base := path.Base(strings.ReplaceAll(filename, `\`, "/"))
	if base == "." || base == "/" {
		return ""
	}
	if name := strings.TrimSuffix(base, path.Ext(base)); name != "" {
		return name
	}
	return base
}

// breaks makes every line break a plain newline.
func breaks(text string) string {
	if !strings.Contains(text, "\r") {
		return text
	}
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
}
