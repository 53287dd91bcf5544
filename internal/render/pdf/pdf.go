// Package pdf writes a document as PDF: text that can be selected and searched, embedded
// fonts, vector charts, bookmarks, page x of y, document properties, and a structure tree
// for screen readers. The same document gives the same bytes.
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// The page, mm.
const (
	marginX = 19.0
	top     = 27.0 // of the text, below the head
	bottom  = 21.0 // room for the foot
)

// ink is a color.
type ink struct{ r, g, b int }

// The colors: ink, a water blue-green, amber and rust; never the only difference.
var (
	black = ink{0x1b, 0x25, 0x30}
	grey  = ink{0x5b, 0x66, 0x70}
	faint = ink{0xd3, 0xd8, 0xdc}
	pale  = ink{0xf0, 0xf3, 0xf5}
	water = ink{0x14, 0x6b, 0x72}
	amber = ink{0x8f, 0x5c, 0x10}
	rust  = ink{0xa8, 0x43, 0x2a}
)

// writer is a PDF being written.
type writer struct {
	pdf           *fpdf.Fpdf
	d             *document.Document
	width, height float64 // of the page, mm
	y             float64 // where the next thing goes
	tags          tagger
	fonts         *glyphs
	headings      []heading
	contents      []contentsPage
	listed        int // the level of heading down to which they go
	figures       int
	size          float64   // of body text, pt
	when          time.Time // that the file names as its date
	air           float64   // share of the usual room between things
	under         []int     // levels of the headings that the next one may stand under
	turned        bool      // some text runs leftward
	items         []int     // levels of the clauses whose items are open
}

type heading struct {
	text  string
	level int
	page  int
	y     float64
}

// Write writes the document, and says which of its characters the fonts cannot draw: a box
// stands for each, and a line at the end names them. The error is that of the writer, or of
// a picture that cannot be set.
func Write(w io.Writer, d *document.Document) ([]rune, error) {
	p, err := best(d)
	if err != nil {
		return nil, err
	}
	p.finishContents()
	p.headsAndFeet()
	var buf bytes.Buffer
	if err := p.pdf.Output(&buf); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	out, err := p.tags.apply(nameFonts(buf.Bytes()), p.about())
	if err != nil {
		return nil, err
	}
	_, err = w.Write(out)
	return p.fonts.undrawn(), err
}

// densities are how close a document may be set, from the usual on: the share of the usual
// room between things, and how much smaller letters are, pt.
var densities = [...]struct{ air, smaller float64 }{{1, 0}, {0.75, 0.15}, {0.55, 0.35}}

// fewLines is the share of the last page below which the document is set closer to save it.
const fewLines = 0.7

// fewPages is up to how many pages a document is set closer to save one.
const fewPages = 6

// best sets the document as usual; where a few lines of a short one go over to a page of their
// own, closer, if that saves the page.
func best(d *document.Document) (*writer, error) {
	usual, err := set(d, 0)
	if err != nil {
		return nil, err
	}
	pages := usual.pdf.PageCount()
	if pages == 1 || pages > fewPages || usual.filled() > fewLines {
		return usual, nil
	}
	for density := 1; density < len(densities); density++ {
		closer, err := set(d, density)
		if err != nil {
			return nil, err
		}
		if closer.pdf.PageCount() < pages {
			return closer, nil
		}
	}
	return usual, nil
}

// filled is the share of the page at hand that is filled.
func (p *writer) filled() float64 { return (p.y - top) / (p.height - top - bottom) }

// set lays the document out.
func set(d *document.Document, density int) (*writer, error) {
	p := newWriter(d, density)
	p.titleBlock()
	for i, b := range d.Blocks {
		p.block(b, i)
		if err := p.pdf.Error(); err != nil {
			return nil, fmt.Errorf("pdf: %w", err)
		}
	}
	p.endItems(nil)
	p.tellUndrawn()
	return p, nil
}

// epoch stands for the clock where the document has no date: the same input gives the
// same bytes.
var epoch = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func newWriter(d *document.Document, density int) *writer {
	wide, high := d.Paper.SizeMM()
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: wide, Ht: high}})
	p := &writer{pdf: pdf, d: d, width: wide, height: high, fonts: loadGlyphs()}
	p.air, p.size = densities[density].air, 9-densities[density].smaller
	if d.Large {
		p.size = 15.5
	}
	p.when = epoch
	if t, err := time.Parse(time.DateOnly, d.Date); err == nil {
		p.when = t
	}
	pdf.SetCreationDate(p.when)
	pdf.SetModificationDate(p.when)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(property(joined(d.Title, d.Subject)), false)
	pdf.SetSubject(property(d.Subject), false)
	pdf.SetAuthor(property(joined(d.Author, d.Company)), false)
	pdf.SetKeywords(property("hash "+d.Hash), false)
	pdf.SetCreator(property(d.Program), false)
	pdf.SetProducer(property(d.Program), false)
	pdf.SetLang(d.Language)
	pdf.SetDisplayMode("fullwidth", "default")
	pdf.SetAutoPageBreak(false, 0)
	// The library writes into the bytes of a font while it cuts it (fpdf 0.12.0,
	// getMetrics), so each document has its own copy: else the next would differ.
	for _, f := range faces {
		pdf.AddUTF8FontFromBytes(f.family(), "", bytes.Clone(f.data))
	}
	pdf.SetLineCapStyle("butt")
	p.tags.pdf = pdf
	p.newPage()
	return p
}

// property makes a text one of the file's properties: UTF-16 with its mark, which holds
// every character (ISO 32000-1:2008, 7.9.2.2).
func property(s string) string {
	out := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(strings.ToValidUTF8(s, string(box)))) {
		out = append(out, byte(u>>8), byte(u))
	}
	return string(out)
}

func joined(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	}
	return a + ", " + b
}

// newPage begins a page.
func (p *writer) newPage() {
	p.pdf.AddPage()
	p.y = top
}

// room makes sure that so many mm are left on the page, with a new one where they are not.
func (p *writer) room(mm float64) {
	if p.y+mm > p.height-bottom && p.y > top {
		p.newPage()
	}
}

// left is how many mm are left on the page.
func (p *writer) left() float64 { return p.height - bottom - p.y }

func (p *writer) color(c ink) { p.pdf.SetTextColor(c.r, c.g, c.b) }
func (p *writer) pen(c ink, mm float64) {
	p.pdf.SetDrawColor(c.r, c.g, c.b)
	p.pdf.SetLineWidth(mm)
}
func (p *writer) brush(c ink) { p.pdf.SetFillColor(c.r, c.g, c.b) }

// font sets the font; bold is "B" or "".
func (p *writer) font(family, style string, size float64) {
	p.pdf.SetFont(faces[family+style].family(), "", size)
}

// lead is the height of a line of the size, mm.
func lead(size float64) float64 { return size * 0.3528 * 1.36 }

// textAt sets a line of text with its base line.
func (p *writer) textAt(x, baseline float64, s string) {
	if s != "" {
		p.pdf.Text(x, baseline, s)
	}
}

// titleBlock is the head of the first page.
func (p *writer) titleBlock() {
	const size, step = 19.0, 9.0
	p.tags.within("H1", "", func() {
		p.font(sans, "B", size)
		p.color(black)
		for _, l := range p.wrap(p.clean(p.d.Title), p.width-2*marginX) {
			p.tags.marked(func() { p.textAt(marginX, p.y+5, l) })
			p.y += step
		}
	})
	p.font(sans, "", 11)
	p.color(grey)
	p.paragraphLines(p.clean(p.d.Subject), marginX, p.width-2*marginX, "P")
	p.y += 1
	p.pen(water, 0.5)
	p.tags.artifact(func() { p.pdf.Line(marginX, p.y, p.width-marginX, p.y) })
	p.y += 5 * p.air
}

// headsAndFeet writes what stands on every page, now that their number is known.
func (p *writer) headsAndFeet() {
	pages := p.pdf.PageCount()
	for n := 1; n <= pages; n++ {
		p.pdf.SetPage(n)
		p.tags.pagination(func() { p.headAndFoot(n, pages) })
	}
	p.pdf.SetPage(pages)
}

const logoHeight = 10.0

func (p *writer) headAndFoot(n, pages int) {
	x := marginX
	if l := p.d.Logo; l != nil {
		name := "logo"
		p.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: l.Format}, bytes.NewReader(l.Data))
		wide := logoHeight * float64(l.Width) / float64(l.Height)
		high := logoHeight
		if most := 60.0; wide > most {
			wide, high = most, most*float64(l.Height)/float64(l.Width)
		}
		p.pdf.ImageOptions(name, x, 9+(logoHeight-high)/2, wide, high, false, fpdf.ImageOptions{ImageType: l.Format}, 0,
			"")
		x += wide + 4
	}
	p.font(sans, "B", 8.5)
	p.color(black)
	half := (p.width - 2*marginX) / 2
	p.textAt(x, 15, p.fit(p.clean(p.d.Company), half-(x-marginX)))
	p.font(sans, "", 8.5)
	p.color(grey)
	right := p.fit(p.clean(p.d.Title), half)
	p.textAt(p.width-marginX-p.pdf.GetStringWidth(right), 15, right)
	p.pen(faint, 0.2)
	p.pdf.Line(marginX, 20, p.width-marginX, 20)
	y := p.height - 10
	p.pdf.Line(marginX, y-5, p.width-marginX, y-5)
	p.font(sans, "", 7.5)
	page := p.clean(document.Fill(p.d.Words.Page, "n", fmt.Sprint(n), "total", fmt.Sprint(pages)))
	p.textAt(p.width-marginX-p.pdf.GetStringWidth(page), y, page)
	p.textAt(marginX, y, p.fit(p.clean(fmt.Sprintf("%s  ·  %s  ·  %s  ·  %s", p.d.Mark, wording.Foot(p.d), p.d.Program,
		p.d.Hash)), p.width-2*marginX-25))
}

// fit cuts a text that is too wide, with an ellipsis, and puts it in the order of reading.
func (p *writer) fit(s string, mm float64) string {
	if p.pdf.GetStringWidth(s) <= mm {
		return p.inOrder(s)
	}
	r := []rune(s)
	for len(r) > 0 && p.pdf.GetStringWidth(string(r)+"…") > mm {
		r = r[:len(r)-1]
	}
	return p.inOrder(string(r) + "…")
}
