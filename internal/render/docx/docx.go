// Package docx writes a document as a Word file (ISO/IEC 29500-1), with real styles,
// numbering, headings and fields, so that whoever edits it can go on from there.
package docx

import (
	"archive/zip"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

const (
	xmlHead    = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	office     = "http://schemas.openxmlformats.org/officeDocument/2006/"
	pack       = "http://schemas.openxmlformats.org/package/2006/"
	wordType   = "application/vnd.openxmlformats-officedocument.wordprocessingml."
	namespaces = `xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"` +
		` xmlns:r="` + office + `relationships"` +
		` xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing"` +
		` xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"` +
		` xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"`

	twipsPerMM = 1440 / 25.4
	emuPerTwip = 635
	marginMM   = 19
)

// part is a file in the package.
type part struct {
	name string
	data []byte
}

// relation is a link from one part to another.
type relation struct{ id, kind, target string }

// writer holds what is put together while the blocks are written.
type writer struct {
	d         *document.Document
	width     int // of the text, twips
	out       strings.Builder
	media     []part
	relations []relation // of the document's main part
	numbers   numbering
	headings  []heading
	headingAt int
	pictures  int // and codes
	figures   int
	next      document.Block // that follows the one being written; nil after the last
	broken    bool           // the next block begins a page
}

// Write writes the document. The same document gives the same bytes. It fails on what a
// Word file cannot hold, before anything is written.
func Write(w io.Writer, d *document.Document) error {
	if err := wording.Check(d); err != nil {
		return err
	}
	widthMM, _ := d.Paper.SizeMM()
	x := &writer{d: d, width: int(math.Round((widthMM - 2*marginMM) * twipsPerMM)), headings: headings(d)}
	for _, r := range []relation{
		{kind: "styles", target: "styles.xml"},
		{kind: "numbering", target: "numbering.xml"},
		{kind: "settings", target: "settings.xml"},
		{kind: "header", target: "header1.xml"},
		{kind: "header", target: "header2.xml"},
		{kind: "footer", target: "footer1.xml"},
	} {
		x.relate(r.kind, r.target)
	}
	x.title()
	if err := x.blocks(); err != nil {
		return err
	}
	first, firstRelations := x.header(true)
	rest, restRelations := x.header(false)
	parts := []part{
		{"word/document.xml", []byte(xmlHead + `<w:document ` + namespaces + `><w:body>` +
			x.out.String() + x.section() + `</w:body></w:document>`)},
		{"word/_rels/document.xml.rels", relationships(x.relations)},
		{"word/styles.xml", []byte(styles(d, x.numbers.tied))},
		{"word/numbering.xml", []byte(x.numbers.xml())},
		{"word/settings.xml", []byte(settingsXML)},
		{"word/header1.xml", []byte(first)},
		{"word/header2.xml", []byte(rest)},
		{"word/footer1.xml", []byte(x.footer())},
		{"docProps/core.xml", []byte(core(d))},
		{"docProps/app.xml", []byte(app(d))},
		{"docProps/custom.xml", []byte(custom(d))},
	}
	if firstRelations != nil {
		parts = append(parts, part{"word/_rels/header1.xml.rels", relationships(firstRelations)},
			part{"word/_rels/header2.xml.rels", relationships(restRelations)})
	}
	return write(w, append(parts, x.media...))
}

// blocks writes all blocks but the breaks at the end: no page begins where nothing follows.
func (x *writer) blocks() error {
	all := x.d.Blocks
	for len(all) > 0 && isBreak(all[len(all)-1]) {
		all = all[:len(all)-1]
	}
	for i, b := range all {
		x.next = nil
		if i+1 < len(all) {
			x.next = all[i+1]
		}
		if err := x.block(b); err != nil {
			return err
		}
	}
	return nil
}

func isBreak(b document.Block) bool {
	_, is := b.(document.Break)
	return is
}

// relate links the main part to another and returns the name of the link.
func (x *writer) relate(kind, target string) string {
	id := fmt.Sprintf("rId%d", len(x.relations)+1)
	x.relations = append(x.relations, relation{id, kind, target})
	return id
}

func relationships(all []relation) []byte {
	var b strings.Builder
	b.WriteString(xmlHead + `<Relationships xmlns="` + pack + `relationships">`)
	for _, r := range all {
		fmt.Fprintf(&b, `<Relationship Id="%s" Type="%srelationships/%s" Target="%s"/>`, r.id, office, r.kind, r.target)
	}
	b.WriteString(`</Relationships>`)
	return []byte(b.String())
}

// contentTypes says what each part is.
func contentTypes() string {
	var b strings.Builder
	b.WriteString(xmlHead + `<Types xmlns="` + pack + `content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/><Default Extension="png" ContentType="image/png"/>` +
		`<Default Extension="jpeg" ContentType="image/jpeg"/><Default Extension="svg" ContentType="image/svg+xml"/>`)
	for _, o := range [][2]string{
		{"word/document.xml", wordType + "document.main+xml"},
		{"word/styles.xml", wordType + "styles+xml"},
		{"word/numbering.xml", wordType + "numbering+xml"},
		{"word/settings.xml", wordType + "settings+xml"},
		{"word/header1.xml", wordType + "header+xml"},
		{"word/header2.xml", wordType + "header+xml"},
		{"word/footer1.xml", wordType + "footer+xml"},
		{"docProps/core.xml", "application/vnd.openxmlformats-package.core-properties+xml"},
		{"docProps/app.xml", "application/vnd.openxmlformats-officedocument.extended-properties+xml"},
		{"docProps/custom.xml", "application/vnd.openxmlformats-officedocument.custom-properties+xml"},
	} {
		fmt.Fprintf(&b, `<Override PartName="/%s" ContentType="%s"/>`, o[0], o[1])
	}
	b.WriteString(`</Types>`)
	return b.String()
}

// packageRelations link the package to its main part and properties.
const packageRelations = xmlHead + `<Relationships xmlns="` + pack + `relationships">` +
	`<Relationship Id="rId1" Type="` + office + `relationships/officeDocument" Target="word/document.xml"/>` +
	`<Relationship Id="rId2" Type="` + pack + `relationships/metadata/core-properties" Target="docProps/core.xml"/>` +
	`<Relationship Id="rId3" Type="` + office + `relationships/extended-properties" Target="docProps/app.xml"/>` +
	`<Relationship Id="rId4" Type="` + office + `relationships/custom-properties" Target="docProps/custom.xml"/>` +
	`</Relationships>`

// write packs the parts, with one fixed time, so that the same parts give the same bytes.
func write(w io.Writer, parts []part) error {
	z := zip.NewWriter(w)
	parts = append([]part{{"[Content_Types].xml", []byte(contentTypes())}, {"_rels/.rels", []byte(packageRelations)}},
		parts...)
	for _, p := range parts {
		f, err := z.CreateHeader(&zip.FileHeader{
			Name: p.name, Method: zip.Deflate,
			Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC),
		})
		if err != nil {
			return err
		}
		if _, err := f.Write(p.data); err != nil {
			return err
		}
	}
	return z.Close()
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\n", "&#10;", "\t", "&#9;")

// escape makes any text fit for an XML text or attribute.
func escape(s string) string { return escaper.Replace(wording.Clean(s)) }
