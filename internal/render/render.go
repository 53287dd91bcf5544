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
	write func(w io.Writer, d *document.Document, name string) (Written, error)
}

// Beside is a file that goes beside the document, such as a picture.
type Beside struct {
	Name string
	Data []byte
}

// Written is what there is to say of a document that was written.
type Written struct {
	Beside  []Beside
	Undrawn []rune // characters that the format's fonts cannot draw; a box stands for each
}

// Write writes the document. Name is that of its file without the ending, by which files
// beside it are called; formats that hold everything in one file have none.
func (f Format) Write(w io.Writer, d *document.Document, name string) (Written, error) {
	return f.write(w, inItsUnits(d), name)
}

// Formats lists every format. A new one is a package and one line here.
func Formats() []Format {
	return []Format{
		{"pdf", "application/pdf", portable},
		{"docx", "application/vnd.openxmlformats-officedocument.wordprocessingml.document", whole(docx.Write)},
		{"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", whole(xlsx.Write)},
		{"html", "text/html", whole(markup.HTML)},
		{"md", "text/markdown", markdown},
	}
}

// whole is a format that holds everything in one file.
func whole(write func(io.Writer, *document.Document) error) func(io.Writer, *document.Document, string) (Written,
	error) {
	return func(w io.Writer, d *document.Document, _ string) (Written, error) { return Written{}, write(w, d) }
}

// portable has its fonts with it, which do not have every character.
func portable(w io.Writer, d *document.Document, _ string) (Written, error) {
	undrawn, err := pdf.Write(w, d)
	return Written{Undrawn: undrawn}, err
}

// markdown has its pictures beside it.
func markdown(w io.Writer, d *document.Document, name string) (Written, error) {
	files, err := markup.Markdown(w, d, name)
	var beside []Beside
	for _, f := range files {
		beside = append(beside, Beside(f))
	}
	return Written{Beside: beside}, err
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
