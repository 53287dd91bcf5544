package pdf

import (
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// tagger marks what is drawn as content of structure elements. The structure tree is written
// behind the finished file (update.go): the PDF library knows no structure of its own.
type tagger struct {
	pdf     *fpdf.Fpdf
	root    element
	at      *element
	onPage  map[int]int // marked contents by page
	holders []holder    // by page and number, in the order in which they were marked
	links   []*link
}

// element is a structure element.
type element struct {
	tag, alt string
	span     int        // columns that a cell of a table takes, where not one
	list     string     // what stands before the items of a list
	frame    [4]float64 // where a figure stands on its page, pt: left, bottom, right, top
	parent   *element
	kids     []any // *element or content
	object   int
}

// content is marked content of a page.
type content struct{ page, number int }

type holder struct {
	content
	in *element
}

// within makes what draw draws the content of a new element.
func (t *tagger) within(tag, alt string, draw func()) {
	t.open(tag)
	t.at.alt = alt
	draw()
	t.close()
}

// open makes what follows the content of a new element, until it is closed.
func (t *tagger) open(tag string) {
	if t.at == nil {
		t.root.tag, t.at, t.onPage = "Document", &t.root, map[int]int{}
	}
	e := &element{tag: tag, parent: t.at}
	t.at.kids = append(t.at.kids, e)
	t.at = e
}

func (t *tagger) close() { t.at = t.at.parent }

// marked marks what draw draws on the page at hand as content of the element at hand.
func (t *tagger) marked(draw func()) {
	page := t.pdf.PageNo()
	n := t.onPage[page]
	t.onPage[page]++
	c := content{page, n}
	t.at.kids = append(t.at.kids, c)
	t.holders = append(t.holders, holder{c, t.at})
	t.pdf.RawWriteStr(fmt.Sprintf("/%s <</MCID %d>> BDC\n", t.at.tag, n))
	draw()
	t.pdf.RawWriteStr("EMC\n")
}

// artifact marks what draw draws as no content: rules, frames, and heads that are repeated.
func (t *tagger) artifact(draw func()) {
	t.pdf.RawWriteStr("/Artifact BMC\n")
	draw()
	t.pdf.RawWriteStr("EMC\n")
}

// pagination marks the head and the foot of a page.
func (t *tagger) pagination(draw func()) {
	t.pdf.RawWriteStr("/Artifact <</Type /Pagination>> BDC\n")
	draw()
	t.pdf.RawWriteStr("EMC\n")
}

// link is a place on a page that leads to another.
type link struct {
	page   int
	frame  [4]float64 // pt: left, bottom, right, top
	text   string     // what it leads to
	toPage int
	toY    float64 // pt, from the foot of the page
	in     *element
	object int
}

// leads makes the element at hand one that leads to a place.
func (t *tagger) leads(l *link) {
	l.page, l.in = t.pdf.PageNo(), t.at
	t.at.kids = append(t.at.kids, l)
	t.links = append(t.links, l)
}
