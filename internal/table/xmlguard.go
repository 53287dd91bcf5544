package table

import (
	"encoding/xml"
	"fmt"
	"io"
)

// What one piece of a workbook's XML may be. A few hundred kilobytes of a zip file swell to
// a hundred megabytes of attributes or of tags within tags, and the XML library keeps a tag
// whole, and every open element, in memory.
const (
	maxTag     = 64 << 10  // bytes of one tag with its attributes
	maxRun     = 512 << 10 // bytes of text between two tags; a cell of 32,767 characters, escaped, has less
	maxXMLDeep = 64        // elements within one another
	maxElement = 1 << 20   // bytes of an element that is read as a whole, such as a cell
)

// guard hands XML on to the library, and stops it where a tag, a text or the nesting is
// larger than in any spreadsheet.
type guard struct {
	in       io.Reader
	read     int64 // bytes so far
	end      int64 // where the element at hand must have ended; 0 for anywhere
	length   int   // bytes of the tag or the text at hand
	depth    int
	inTag    bool
	kind     byte // the first byte of the tag
	last     byte // the byte before
	quote    byte // that is open in a tag; 0 without one
	breaking error
}

// parser reads a part through a guard.
type parser struct {
	*xml.Decoder
	guard *guard
}

func newParser(in io.Reader) *parser {
	g := &guard{in: in}
	return &parser{xml.NewDecoder(g), g}
}

// element decodes one element that is read as a whole.
func (p *parser) element(into any, start *xml.StartElement) error {
	p.guard.end = p.guard.read + maxElement
	defer func() { p.guard.end = 0 }()
	return p.DecodeElement(into, start)
}

// Read is that of an io.Reader.
func (g *guard) Read(out []byte) (int, error) {
	if g.breaking != nil {
		return 0, g.breaking
	}
	n, err := g.in.Read(out)
	for _, b := range out[:n] {
		g.byte(b)
		if g.breaking != nil {
			return 0, g.breaking
		}
	}
	return n, err
}

// byte follows the XML by one byte.
func (g *guard) byte(b byte) {
	g.read++
	g.length++
	switch {
	case g.end > 0 && g.read > g.end:
		g.breaking = fmt.Errorf("a cell has more than %d KB", maxElement>>10)
	case g.inTag:
		g.tag(b)
	case b == '<':
		g.inTag, g.kind, g.quote, g.length = true, 0, 0, 0
	case g.length > maxRun:
		g.breaking = fmt.Errorf("a text has more than %d KB", maxRun>>10)
	}
	g.last = b
}

// tag follows a tag by one byte.
func (g *guard) tag(b byte) {
	if g.kind == 0 {
		g.kind = b
	}
	markup := g.kind == '!' || g.kind == '?' // comments and the like, where quotes mean nothing
	switch {
	case g.length > maxTag:
		g.breaking = fmt.Errorf("a tag has more than %d KB", maxTag>>10)
	case g.quote != 0:
		if b == g.quote {
			g.quote = 0
		}
	case !markup && (b == '"' || b == '\''):
		g.quote = b
	case b == '>':
		g.inTag, g.length = false, 0
		switch {
		case g.kind == '/':
			g.depth--
		case !markup && g.last != '/':
			g.depth++
		}
		if g.depth > maxXMLDeep {
			g.breaking = fmt.Errorf("more than %d elements stand within one another", maxXMLDeep)
		}
	}
}
