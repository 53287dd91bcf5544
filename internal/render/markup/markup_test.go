package markup

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"seatward/internal/document"
	"seatward/internal/render/sample"
	"seatward/internal/render/wording"
)

func full() *document.Document {
	d := sample.Full()
	d.Words = document.Words{Contents: "Contents", Page: "Page {n} of {total}", Figure: "{caption}"}
	return d
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if os.Getenv("SEATWARD_UPDATE") != "" {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("what is written is not %s; look at the difference, then renew it with SEATWARD_UPDATE=1", file)
	}
}

func TestGolden(t *testing.T) {
	var page, text bytes.Buffer
	if err := HTML(&page, full()); err != nil {
		t.Fatal(err)
	}
	golden(t, "full.html", page.String())
	files, err := Markdown(&text, full(), "full")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "full.md", text.String())
	if len(files) != 2 || files[0].Name != "full-figure-1.svg" || files[1].Name != "full-code-1.svg" {
		t.Errorf("%d pictures stand beside, want a chart and a square code", len(files))
	}
}

// bare is a text without spaces, which HTML and Markdown join and cut.
func bare(s string) string { return strings.Join(strings.Fields(wording.Clean(s)), "") }

// texts are those of a block, in the order of reading.
func texts(b document.Block) []string {
	switch x := b.(type) {
	case document.Heading:
		return []string{x.Text}
	case document.Paragraph:
		return []string{wording.Label(x), wording.Body(x)}
	case document.List:
		return x.Items
	case document.Clause:
		return []string{x.Number, x.Text}
	case document.Listing:
		return x.Lines
	case document.Code:
		return []string{x.Caption, x.Text}
	case document.Figure:
		return []string{x.Caption, x.Text}
	case document.Space:
		return append([]string{x.Title}, x.Lines...)
	case document.Table:
		all := []string{x.Caption}
		for _, c := range x.Columns {
			if !x.Form {
				all = append(all, c.Title, c.Unit)
			}
		}
		for _, r := range x.Rows {
			for _, c := range r.Cells {
				all = append(all, wording.Cell(c))
			}
		}
		return all
	}
	return nil
}

// holds fails where a text of the document is missing in what is read, or out of order.
func holds(t *rapid.T, d *document.Document, read string) {
	all := []string{d.Title, d.Subject, d.Number, d.Revision, d.Date, d.Company, d.Author}
	for _, b := range d.Blocks {
		all = append(all, texts(b)...)
	}
	all = append(all, d.Mark, d.Program, d.Hash)
	for _, s := range all {
		i := strings.Index(read, bare(s))
		if i < 0 {
			t.Fatalf("%q is lost or stands too early; left: %.200q", s, read)
		}
		read = read[i+len(bare(s)):]
	}
}

// known are the elements that a page is made of; everything else came out of a text.
var known = strings.Fields("html head meta title style body main header img h1 h2 h3 h4 p dl div dt dd strong ul ol li table caption colgroup col thead tbody tr th td span br pre figure figcaption svg desc rect path text polyline polygon nav a footer")

// TestAnyHTML: whatever a document holds, the page reads again with every text in order,
// no text became an element or a script, and a second writing gives the same bytes.
func TestAnyHTML(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sample.Random(t)
		var first, second bytes.Buffer
		for _, out := range []io.Writer{&first, &second} {
			if err := HTML(out, d); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatal("the same document gave other bytes")
		}
		root, err := html.Parse(&first)
		if err != nil {
			t.Fatal(err)
		}
		var body strings.Builder
		ids := map[string]bool{}
		for n := range root.Descendants() {
			if n.Type == html.TextNode && !within(n, "style") && !within(n, "head") {
				body.WriteString(n.Data)
			}
			if n.Type == html.CommentNode || n.Type == html.ElementNode && !slices.Contains(known, n.Data) {
				t.Fatalf("the page has a %q", n.Data)
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "src" && !strings.HasPrefix(a.Val, "data:image/") ||
					a.Key == "href" && !strings.HasPrefix(a.Val, "#s") {
					t.Fatalf("the page has the attribute %s=%q", a.Key, a.Val)
				}
				if a.Key == "id" && ids[a.Val] {
					t.Fatalf("the id %q stands twice", a.Val)
				}
				ids[a.Val] = ids[a.Val] || a.Key == "id"
			}
		}
		holds(t, d, bare(body.String()))
	})
}

func within(n *html.Node, name string) bool {
	for a := range n.Ancestors() {
		if a.Data == name {
			return true
		}
	}
	return false
}

var (
	escapes = regexp.MustCompile(`\\([[:punct:]\n])`)
	quote   = regexp.MustCompile(`(?m)^>`)
	strong  = regexp.MustCompile(`(^|[^\\])\*\*`)
)

// TestAnyMarkdown: whatever a document holds, every text is there in order when escapes
// are taken out, every row of a table has as many cells as its heads, and a second writing
// gives the same bytes.
func TestAnyMarkdown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sample.Random(t)
		var first, second bytes.Buffer
		for _, out := range []io.Writer{&first, &second} {
			if _, err := Markdown(out, d, "x"); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatal("the same document gave other bytes")
		}
		read, prose := decoded(first.String())
		bars := 0
		for line := range strings.SplitSeq(prose, "\n") {
			if !strings.HasPrefix(line, "|") {
				bars = 0
				continue
			}
			n := strings.Count(escapes.ReplaceAllString(line, ""), "|")
			if bars != 0 && n != bars {
				t.Fatalf("a row of %d bars stands in a table of %d: %q", n, bars, line)
			}
			bars = n
		}
		holds(t, d, bare(read))
	})
}

// decoded takes the escapes out of all that is not fenced, and returns the rest beside.
func decoded(file string) (read, prose string) {
	var out, rest strings.Builder
	plain := func(s string) string {
		s = strong.ReplaceAllString(strings.ReplaceAll(s, "<br>", "\n"), "$1")
		return escapes.ReplaceAllString(quote.ReplaceAllString(s, ""), "$1")
	}
	for {
		before, after, found := strings.Cut(file, "\n```")
		out.WriteString(plain(before))
		rest.WriteString(before + "\n")
		if !found {
			return out.String(), rest.String()
		}
		head, body, _ := strings.Cut("```"+after, "text\n")
		fenced, next, _ := strings.Cut(body, "\n"+head+"\n")
		out.WriteString("\n" + fenced + "\n")
		file = next
	}
}

// TestEscaped: no sign in a text has a meaning.
func TestEscaped(t *testing.T) {
	for in, want := range map[string]string{
		"| pipe * star _ under ` tick # hash [x](y)": "\\| pipe \\* star \\_ under \\` tick \\# hash \\[x\\](y)",
		"1. no list": `1\. no list`, "12) no list": `12\) no list`, "2.5 ft": "2.5 ft", "1.": `1\.`,
		"- none": `\- none`, "+3": `\+3`, "===": `\===`, "<b>&amp;": `\<b\>\&amp;`, "    code": "code", "a-b": "a-b",
		"": "",
	} {
		if got := escaped(in); got != want {
			t.Errorf("%q is written %q, want %q", in, got, want)
		}
	}
	if got, want := text("a\n\n# b", "> "), "a\\\n> \\# b"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := cell("a|b\nc"), `a\|b<br>c`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestRefuses: what cannot be written is reported, and nothing is written.
func TestRefuses(t *testing.T) {
	for _, b := range []document.Block{
		document.Code{Text: strings.Repeat("x", 5000)},
		document.Figure{},
		document.Heading{Level: 4},
	} {
		d := &document.Document{Blocks: []document.Block{b}}
		var out bytes.Buffer
		if err := HTML(&out, d); err == nil || out.Len() > 0 {
			t.Errorf("%T: error %v, %d bytes of HTML", b, err, out.Len())
		}
		if files, err := Markdown(&out, d, "x"); err == nil || out.Len() > 0 || files != nil {
			t.Errorf("%T: error %v, %d bytes of Markdown", b, err, out.Len())
		}
	}
}
