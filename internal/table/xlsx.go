package table

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"seatward/diag"
)

// workbook is an opened XLSX file. It is read here part by part as a stream, because
// the spreadsheet library builds every blank cell up to the last one in memory: one cell
// in the far corner, a few bytes in the file, would take gigabytes.
type workbook struct {
	r       *reader
	parts   map[string]*zip.File // by lower-case name
	read    map[string]bool      // sheets that were read
	strings []string
	dates   []bool // by style: a number of this style is a date
	from04  bool   // dates count from 1904
}

// The parts of a workbook, as far as they matter here.
type (
	bookXML struct {
		Props struct {
			Date1904 string `xml:"date1904,attr"`
		} `xml:"workbookPr"`
		Sheets []sheetXML `xml:"sheets>sheet"`
	}
	sheetXML struct {
		Name  string `xml:"name,attr"`
		State string `xml:"state,attr"`
		// The attribute of the sheet's own number is called sheetId.
		Relation string `xml:"id,attr"`
	}
	relationsXML struct {
		All []relationXML `xml:"Relationship"`
	}
	relationXML struct {
		ID     string `xml:"Id,attr"`
		Type   string `xml:"Type,attr"`
		Target string `xml:"Target,attr"`
	}
)

// Hostile files have millions of entries where real ones have dozens.
const (
	maxList   = 8 << 20 // bytes of a part that is read as a whole
	maxSheets = 1000
)

var errNoPart = errors.New("the part is not in the file")

// xlsx reads the visible sheets of a workbook.
func (r *reader) xlsx(data []byte) []Sheet {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		r.damaged("the file is not a whole zip file", err)
		return nil
	}
	if !r.unpackable(archive) {
		return nil
	}
	w := &workbook{r: r, parts: map[string]*zip.File{}, read: map[string]bool{}}
	for _, part := range archive.File {
		w.parts[key(part.Name)] = part
	}
	name, err := w.target("", "officeDocument")
	if err != nil || w.parts[key(name)] == nil || !strings.HasSuffix(name, ".xml") {
		r.fault(diag.Message{
			ID: "xlsx-none", Text: "the zip file holds no .xlsx workbook", Expected: "an .xlsx or CSV file",
			Mend: "open it in a spreadsheet program and save it as .xlsx",
		})
		return nil
	}
	return w.sheets(name)
}

// damaged tells a fault of the file itself that no cell can be named for.
func (r *reader) damaged(text string, err error) {
	r.fault(diag.Message{
		ID: "xlsx-damaged", Text: text, Found: err.Error(),
		Expected: "an .xlsx workbook", Mend: "open it in a spreadsheet program and save it again as .xlsx",
	})
}

// unpackable adds up the sizes in the zip directory before anything is unpacked. The
// zip reader holds each part to the size that it declares.
func (r *reader) unpackable(archive *zip.Reader) bool {
	var sum uint64
	whole, most := uint64(maxUnpacked), uint64(maxPart)
	if r.options.Long {
		whole, most = longPart, longPart
	}
	for _, part := range archive.File {
		size := part.UncompressedSize64
		if sum += min(size, whole+1); size > most || sum > whole {
			r.fault(diag.Message{
				ID: "file-too-large-unpacked", Text: "the workbook is too large when unpacked",
				Expected: fmt.Sprintf("at most %d MB, and %d MB for one sheet", whole>>20, most>>20),
				Mend:     "split the table into several files",
			})
			return false
		}
	}
	return true
}

// key finds a part whatever the case and the slashes of its name.
func key(name string) string {
	return strings.TrimPrefix(path.Clean(strings.ToLower(strings.ReplaceAll(name, `\`, "/"))), "/")
}

// decode reads one XML part into v.
func (w *workbook) decode(name string, v any) error {
	in, err := w.open(name)
	if err != nil {
		return err
	}
	defer func() { _ = in.Close() }() // nothing is written
	if w.parts[key(name)].UncompressedSize64 > maxList {
		return fmt.Errorf("%s has more than %d MB", name, maxList>>20)
	}
	return newParser(in).Decode(v)
}

func (w *workbook) open(name string) (io.ReadCloser, error) {
	part := w.parts[key(name)]
	if part == nil {
		return nil, fmt.Errorf("%s: %w", name, errNoPart)
	}
	return part.Open()
}

// relations lists what a part refers to, with the targets as names of parts.
func (w *workbook) relations(of string) ([]relationXML, error) {
	dir, base := path.Split(of)
	var x relationsXML
	if err := w.decode(path.Join(dir, "_rels", base+".rels"), &x); err != nil {
		return nil, err
	}
	for i, rel := range x.All {
		if !strings.HasPrefix(rel.Target, "/") {
			x.All[i].Target = path.Join(dir, rel.Target)
		}
	}
	return x.All, nil
}

// target gives the one part of a kind that another refers to; empty when there is none.
func (w *workbook) target(of, kind string) (string, error) {
	all, err := w.relations(of)
	for _, rel := range all {
		if strings.HasSuffix(rel.Type, "/"+kind) {
			return rel.Target, nil
		}
	}
	return "", err
}

// sheets reads the workbook part and then each visible sheet.
func (w *workbook) sheets(name string) []Sheet {
	var book bookXML
	relations, err := w.relations(name)
	if err = errors.Join(err, w.decode(name, &book)); err != nil {
		w.r.damaged("the list of sheets cannot be read", err)
		return nil
	}
	if len(book.Sheets) > maxSheets {
		w.r.damaged("the workbook has too many sheets", fmt.Errorf("more than %d", maxSheets))
		return nil
	}
	w.from04 = isTrue(book.Props.Date1904)
	if err := errors.Join(w.loadStrings(name), w.loadStyles(name)); err != nil {
		w.r.damaged("the texts or formats of the workbook cannot be read", err)
		return nil
	}
	var sheets []Sheet
	for _, s := range book.Sheets {
		if s.State != "" && s.State != "visible" {
			w.skip(s, "sheet-hidden", "the sheet is hidden: it is not read",
				"unhide the sheet if it belongs to the table")
			continue
		}
		var rel relationXML
		for _, candidate := range relations {
			if candidate.ID == s.Relation {
				rel = candidate
			}
		}
		if rel.Target != "" && !strings.HasSuffix(rel.Type, "/worksheet") {
			w.skip(s, "sheet-no-table", "the sheet holds no cells: it is not read", "remove the sheet, or leave it")
			continue
		}
		sheets = append(sheets, w.sheet(s.Name, rel.Target))
	}
	if len(sheets) == 0 {
		w.r.fault(diag.Message{
			ID: "sheets-none", Text: "the workbook has no visible sheet with cells",
			Expected: "one sheet at least", Mend: "unhide the sheet that holds the table",
		})
	}
	return sheets
}

func (w *workbook) skip(s sheetXML, id, text, mend string) {
	w.r.fault(diag.Message{ID: id, Severity: diag.Warning, Path: s.Name, Text: text, Mend: mend})
}

func isTrue(attribute string) bool { return attribute == "1" || attribute == "true" }
