// Package document holds what a paper says, whatever the format that writes it: a data
// sheet, a submittal, a specification section and the others. A document is a list of
// blocks, made from a study; a format writes each kind of block in its own way.
package document

import (
	"seatward/internal/figure"
	"seatward/quantity"
)

// Document is one paper.
type Document struct {
	Kind     string // "datasheet"
	Title    string
	Subject  string // what it is about, in a line
	Language string // BCP 47
	Units    quantity.System
	Paper    Paper
	Large    bool // large type, for one page in the field

	Number, Revision, Date string // "" where not given: a blank to fill in
	Company, Author        string
	Logo                   *Picture // nil where there is none

	Program string // name and version that made it
	Hash    string // names all that it was made from; the same hash gives the same document
	Mark    string // stands in the foot of every page: "Preliminary calculation for review"

	Words Words // of what formats add by themselves

	Blocks  []Block
	Missing []string // fields that nobody gave, which stand as blanks
	Quotes  []Quote  // every number of the study that it shows
}

// Words are what formats write by themselves, in the wording of the document. Names in
// braces stand for numbers and texts.
type Words struct {
	Contents string // head of a table of contents
	Page     string // "Page {n} of {total}"
	Figure   string // "Figure {n}. {caption}"
	Foot     string // "no. {number}  ·  revision {revision}  ·  {date}"
	Undrawn  string // "{box} stands for characters that cannot be printed here: {characters}"

	Labels map[string]string // names of number, revision and the like, by the program's own
}

// Named is a name that a format writes by itself, in the wording of the document.
func (d *Document) Named(label string) string {
	if own, found := d.Words.Labels[label]; found {
		return own
	}
	return label
}

// Paper is a sheet size.
type Paper uint8

// The papers.
const (
	Letter Paper = iota
	A4
)

// SizeMM is width and height of the upright sheet in mm.
func (p Paper) SizeMM() (width, height float64) {
	if p == A4 {
		return 210, 297
	}
	return 215.9, 279.4
}

// String names the paper as profiles write it.
func (p Paper) String() string {
	if p == A4 {
		return "A4"
	}
	return "letter"
}

// Picture is an image file as it was given: PNG or JPEG.
type Picture struct {
	Format        string // "png" or "jpeg"
	Data          []byte
	Width, Height int // px
}

// Quote is a number of the study as the document shows it.
type Quote struct {
	Path string // by which the study finds it: "flap/6in loss"
	Kind quantity.Kind
	SI   float64
	Text string // as printed, with its unit
}

// Block is a part of a document.
type Block interface{ block() }

// Heading begins a part. Level 1 is a chapter: it stands in the table of contents and
// the bookmarks, as does level 2.
type Heading struct {
	Level int // 1 to 3
	Text  string
}

// Tone is how a text is meant. It is never told by color alone.
type Tone uint8

// The tones.
const (
	Plain   Tone = iota
	Lead         // the sentence that answers
	Source       // where something comes from; small
	Warning      // what can hurt: framed, with its word before it
	Advice       // a note to whoever edits the paper, to be taken out
	Good         // complies, passes
	Bad          // deviates, fails
	Open         // not known, to be seen to
)

// Paragraph is a text; Label stands before it in bold.
type Paragraph struct {
	Label, Text string
	Tone        Tone
}

// List is a list of texts; Boxes puts a box to tick before each.
type List struct {
	Items           []string
	Numbered, Boxes bool
}

// Cell is a cell of a table. A blank one is a line to be filled in by hand.
type Cell struct {
	Text    string // as printed; with its unit where the column has none
	Number  float64
	Unit    string // that Number is in
	Numeric bool   // Number and Unit are set: spreadsheets write the number
	// Formula is a live formula for spreadsheets, which shows Number. A name in braces is
	// a cell: {row} of the same column, or {table.row} the first number of a row of
	// another table.
	Formula string
	Blank   bool
	Bold    bool
	Tone    Tone
}

// Column is a column of a table.
type Column struct {
	Title string
	Unit  string  // below the title; "" where cells have their own or none
	Width float64 // share of the width; 0 for as wide as its texts need
	Right bool    // numbers
}

// Row is a row of a table.
type Row struct {
	ID    string // by which formulas find it
	Cells []Cell
	Group bool // its first cell is a heading over the rows below
}

// Table is a table. A form has no heads: its first column names what the others tell.
type Table struct {
	ID      string // by which formulas find it
	Caption string
	Columns []Column
	Rows    []Row
	Form    bool
}

// Figure is a chart with its caption; Text tells in words what it shows.
type Figure struct {
	Figure        *figure.Figure
	Caption, Text string
}

// Clause is a numbered part of a specification section. Level 0 is a part ("PART 1"),
// 1 an article ("1.1"), 2 a paragraph ("A."), 3 and 4 what stands below it ("1.", "a.").
// Choices stand in brackets.
type Clause struct {
	Level  int
	Number string // as printed: "PART 1", "1.1", "A."
	Text   string
}

// Listing is lines in which indents count, such as a calculation tree.
type Listing struct{ Lines []string }

// Code is a text as a square code that cameras read.
type Code struct{ Text, Caption string }

// Space is an empty frame to be signed, sealed or drawn in.
type Space struct {
	Title    string
	Lines    []string // small print in it
	HeightMM float64
}

// Contents is a table of contents of the headings of levels 1 and 2.
type Contents struct{}

// Break begins a new page.
type Break struct{}

func (Heading) block()   {}
func (Paragraph) block() {}
func (List) block()      {}
func (Table) block()     {}
func (Figure) block()    {}
func (Clause) block()    {}
func (Listing) block()   {}
func (Code) block()      {}
func (Space) block()     {}
func (Contents) block()  {}
func (Break) block()     {}
