package pdf

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/internal/render/sample"
	"seatward/quantity"
)

// structureOf sets a document and gives its structure tree.
func structureOf(t *testing.T, d *document.Document) *writer {
	t.Helper()
	p, err := best(d)
	if err != nil {
		t.Fatal(err)
	}
	p.finishContents()
	p.headsAndFeet()
	if p.tags.at != &p.tags.root {
		t.Errorf("%s: an element is left open: %s", d.Kind, p.tags.at.tag)
	}
	return p
}

// TestStructure: what ISO 14289-1 (PDF/UA-1) asks of the structure of every kind of paper:
// headings skip no level, lists have items with a body, tables are even and their heads have
// a scope, figures have a text and a place, links say where they lead.
func TestStructure(t *testing.T) {
	papers := []*document.Document{sample.Full()}
	dossier := sample.Dossier(t, "study", quantity.US)
	for _, k := range document.Kinds() {
		if k.Compares {
			continue
		}
		papers = append(papers, dossier.Make(k))
	}
	seen := map[string]int{}
	for _, d := range papers {
		p := structureOf(t, d)
		deepest := 0
		each := func(e *element) {
			seen[e.tag]++
			if err := proper(e); err != nil {
				t.Errorf("%s: %s: %v", d.Kind, e.tag, err)
			}
			if len(e.tag) == 2 && e.tag[0] == 'H' {
				level := int(e.tag[1] - '0')
				if level > deepest+1 {
					t.Errorf("%s: H%d stands below H%d", d.Kind, level, deepest)
				}
				deepest = level
			}
		}
		walk(&p.tags.root, each)
	}
	for _, tag := range []string{
		"H1", "H2", "H3", "P", "L", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "Figure", "Caption", "TOC", "TOCI",
		"Link",
	} {
		if seen[tag] == 0 {
			t.Errorf("no paper has a %s", tag)
		}
	}
}

func walk(e *element, visit func(*element)) {
	visit(e)
	for _, k := range e.kids {
		if kid, ok := k.(*element); ok {
			walk(kid, visit)
		}
	}
}

// within lists what an element may hold; those that are not here hold anything.
var within = map[string]string{
	"L": "LI", "LI": "Lbl LBody", "Table": "TR", "TR": "TH TD", "TOC": "TOCI", "TOCI": "Link",
}

func proper(e *element) error {
	links := 0
	for _, k := range e.kids {
		switch x := k.(type) {
		case *element:
			if allowed, bound := within[e.tag]; bound && !strings.Contains(" "+allowed+" ", " "+x.tag+" ") {
				return fmt.Errorf("it holds a %s", x.tag)
			}
		case content:
			if within[e.tag] != "" {
				return errors.New("it holds text that is in no part of it")
			}
		case *link:
			links++
			if x.text == "" || x.toPage < 1 || x.frame[2] <= x.frame[0] {
				return fmt.Errorf("its link leads to %q on page %d", x.text, x.toPage)
			}
		}
	}
	switch {
	case e.tag == "Link" && links != 1:
		return fmt.Errorf("%d links", links)
	case e.tag == "LI" && len(e.kids) != 2:
		return fmt.Errorf("%d parts, want a label and a body", len(e.kids))
	case e.tag == "Figure" && (strings.Trim(e.alt, ". ") == "" || e.frame[2] <= e.frame[0] || e.frame[3] <= e.frame[1]):
		return fmt.Errorf("text %q, place %v", e.alt, e.frame)
	case e.tag == "TH" && !strings.Contains(e.attributes(), "/Scope"):
		return errors.New("no scope")
	case e.tag == "Table":
		return even(e)
	}
	return nil
}

// even: the rows of a table have as many columns.
func even(table *element) error {
	columns := 0
	for i, k := range table.kids {
		n := 0
		for _, cell := range k.(*element).kids {
			n += max(1, cell.(*element).span)
		}
		if i > 0 && n != columns {
			return fmt.Errorf("row %d has %d columns, the one before %d", i+1, n, columns)
		}
		columns = n
	}
	return nil
}

// TestClausesAreLists: the clauses of a specification are items, those below within those above.
func TestClausesAreLists(t *testing.T) {
	p := structureOf(t, &document.Document{Title: "x", Blocks: []document.Block{
		document.Clause{Level: 0, Number: "PART 1", Text: "GENERAL"},
		document.Clause{Level: 1, Number: "1.1", Text: "SUMMARY"},
		document.Clause{Level: 2, Number: "A.", Text: "first"},
		document.Clause{Level: 3, Number: "1.", Text: "below"},
		document.Clause{Level: 3, Number: "2.", Text: "below"},
		document.Paragraph{Text: "a note", Tone: document.Advice},
		document.Clause{Level: 2, Number: "B.", Text: "second"},
		document.Clause{Level: 1, Number: "1.2", Text: "OTHER"},
	}})
	if got, want := outline(&p.tags.root), "Document(H1() P() H2() H3() L(LI(Lbl() LBody(P() "+
		"L(LI(Lbl() LBody(P())) LI(Lbl() LBody(P() P()))))) LI(Lbl() LBody(P()))) H3())"; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

func outline(e *element) string {
	var kids []string
	for _, k := range e.kids {
		if kid, ok := k.(*element); ok {
			kids = append(kids, outline(kid))
		}
	}
	return e.tag + "(" + strings.Join(kids, " ") + ")"
}

// TestAboutTheFile: version, names of fonts, language and description are those that readers
// and checkers look for.
func TestAboutTheFile(t *testing.T) {
	d := sample.Full()
	d.Title = `Valve <6> & "more"`
	var out bytes.Buffer
	if _, err := Write(&out, d); err != nil {
		t.Fatal(err)
	}
	file := out.String()
	for _, want := range []string{
		"/BaseFont /SEATWA+DejaVuSansCondensed\n", "/FontName /SEATWB+DejaVuSansCondensed-Bold\n",
		"/BaseFont /SEATWC+DejaVuSansMono\n", "/MarkInfo <</Marked true>>", "/DisplayDocTitle true", "/Lang (en-US)",
		"<dc:language><rdf:Bag><rdf:li>en-US</rdf:li>", "Valve &lt;6&gt; &amp; &#34;more&#34;", "/ListNumbering /Decimal",
		"/Subtype /Link", "/OBJR",
	} {
		if !strings.Contains(file, want) {
			t.Errorf("%q is not in the file", want)
		}
	}
	if !strings.HasPrefix(file, "%PDF-1.7\n") || strings.Contains(file, "/utf8") ||
		strings.Contains(file, "pdfuaid") {
		t.Errorf("version %.8q, fonts with the names of the library, or a claim of PDF/UA", file)
	}
	packet := regexp.MustCompile(`(?s)<x:xmpmeta.*</x:xmpmeta>`).FindString(file)
	for r := xml.NewDecoder(strings.NewReader(packet)); ; {
		if _, err := r.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("the description cannot be read: %v", err)
		}
	}
}
