package xlsx

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"time"
)

// archive is the zip file of a book. Its times are fixed, so that the same parts give the
// same bytes. The library marks the kept result of each formula as a text; formulas here
// give numbers only, and the mark is taken out on the way.
type archive struct {
	*zip.Writer
	sheet *bytes.Buffer // the worksheet being written; nil for other parts
	to    io.Writer
}

func newArchive(w io.Writer) *archive { return &archive{Writer: zip.NewWriter(w)} }

// Create begins a part, after it ends the one before.
func (a *archive) Create(name string) (io.Writer, error) {
	if err := a.end(); err != nil {
		return nil, err
	}
	to, err := a.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil || !strings.HasPrefix(name, "xl/worksheets/sheet") {
		return to, err
	}
	a.to, a.sheet = to, &bytes.Buffer{}
	return a.sheet, nil
}

// end writes the worksheet that was kept back.
func (a *archive) end() error {
	if a.sheet == nil {
		return nil
	}
	// The sign > never stands in a text of XML, so this meets cells only.
	_, err := a.to.Write(bytes.ReplaceAll(a.sheet.Bytes(), []byte(` t="str"><f>`), []byte(`><f>`)))
	a.sheet = nil
	return err
}

// Close ends the file.
func (a *archive) Close() error {
	if err := a.end(); err != nil {
		return err
	}
	return a.Writer.Close()
}
