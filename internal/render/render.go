// Package render lists the formats in which a document can be written.
package render

import (
	"fmt"
	"io"
	"strings"

	"seatward/diag"
	"seatward/internal/document"
	"seatward/internal/render/docx"
	"seatward/internal/render/markup"
	"seatward/internal/render/pdf"
	"seatward/internal/render/xlsx"
)

// Format is a file format.
type Format struct {
	Name  string // "pdf", the ending of its files
	MIME  string
	write func(w io.Writer, d *document.Document, name string) ([]Beside, error)
}

// Beside is a file that goes beside the document, such as a picture.
type Beside struct {
	Name string
	Data []byte
}

// Write writes the document. Name is that of its file without the ending, by which files
// beside it are called; formats that hold everything in one file have none.
func (f Format) Write(w io.Writer, d *document.Document, name string) ([]Beside, error) {
	return f.write(w, d, name)
}

// Formats lists every format. A new one is a package and one line here.
func Formats() []Format {
	return []Format{
		{"pdf", "application/pdf", whole(pdf.Write)},
		{"docx", "application/vnd.openxmlformats-officedocument.wordprocessingml.document", whole(docx.Write)},
		{"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", whole(xlsx.Write)},
		{"html", "text/html", whole(markup.HTML)},
		{"md", "text/markdown", markdown},
	}
}

// whole is a format that holds everything in one file.
func whole(write func(io.Writer, *document.Document) error) func(io.Writer, *document.Document, string) ([]Beside, error) {
	return func(w io.Writer, d *document.Document, _ string) ([]Beside, error) { return nil, write(w, d) }
}

// markdown has its pictures beside it.
func markdown(w io.Writer, d *document.Document, name string) ([]Beside, error) {
	files, err := markup.Markdown(w, d, name)
	var beside []Beside
	for _, f := range files {
		beside = append(beside, Beside(f))
	}
	return beside, err
}

// Named finds a format.
func Named(name string) (Format, error) {
	var all []string
	for _, f := range Formats() {
		if f.Name == strings.ToLower(name) {
			return f, nil
		}
		all = append(all, f.Name)
	}
	return Format{}, fmt.Errorf("no format is called %q; %s", name, diag.Meant(name, all))
}
