package xlsx

import (
	"archive/zip"
	"bytes"
	"io"
	"regexp"
	"slices"
	"strings"
	"time"
)

// archive is the zip file of a book. Its times are fixed and what the library puts in any
// order is sorted, so that the same document gives the same bytes.
type archive struct {
	*zip.Writer
	name string
	part *bytes.Buffer // being written; nil before the first
}

func newArchive(w io.Writer) *archive { return &archive{Writer: zip.NewWriter(w)} }

// Create begins a part, after it ends the one before.
func (a *archive) Create(name string) (io.Writer, error) {
	if err := a.end(); err != nil {
		return nil, err
	}
	a.name, a.part = name, &bytes.Buffer{}
	return a.part, nil
}

// end writes the part that was kept back.
func (a *archive) end() error {
	if a.part == nil {
		return nil
	}
	data := a.part.Bytes()
	switch {
	case a.name == "[Content_Types].xml":
		data = sorted(data)
	case strings.HasPrefix(a.name, "xl/worksheets/sheet"):
		// The library marks the kept result of each formula as a text; formulas here give
		// numbers only. The sign > never stands in a text of XML, so this meets cells only.
		data = bytes.ReplaceAll(data, []byte(` t="str"><f>`), []byte(`><f>`))
	}
	to, err := a.CreateHeader(&zip.FileHeader{
		Name: a.name, Method: zip.Deflate,
		Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC),
	})
	if err == nil {
		_, err = to.Write(data)
	}
	a.part = nil
	return err
}

var contentType = regexp.MustCompile(`<(Default|Override) [^>]*>(</(Default|Override)>)?`)

// sorted puts the entries of the list of content types in order.
func sorted(list []byte) []byte {
	all := contentType.FindAllString(string(list), -1)
	slices.Sort(all)
	i := -1
	return contentType.ReplaceAllFunc(list, func([]byte) []byte {
		i++
		return []byte(all[i])
	})
}

// Close ends the file.
func (a *archive) Close() error {
	if err := a.end(); err != nil {
		return err
	}
	return a.Writer.Close()
}
