package pdf

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"
)

// tagger marks what is drawn as content of structure elements, and writes the structure
// tree behind the finished file, as an incremental update (ISO 32000-1, 14.7 and 14.8).
// The PDF library knows no structure of its own.
type tagger struct {
	pdf     *fpdf.Fpdf
	root    element
	at      *element
	onPage  map[int]int // marked contents by page
	holders []holder    // by page and number, in the order in which they were marked
}

// element is a structure element.
type element struct {
	tag, alt string
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
	if t.at == nil {
		t.root.tag, t.at, t.onPage = "Document", &t.root, map[int]int{}
	}
	e := &element{tag: tag, alt: alt, parent: t.at}
	t.at.kids = append(t.at.kids, e)
	t.at = e
	draw()
	t.at = e.parent
}

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

// artifact marks what draw draws as no content: rules, heads and feet of pages.
func (t *tagger) artifact(draw func()) {
	t.pdf.RawWriteStr("/Artifact BMC\n")
	draw()
	t.pdf.RawWriteStr("EMC\n")
}

var (
	pageObject = regexp.MustCompile(`(?s)\n(\d+) 0 obj\n<</Type /Page\n(.*?)>>\nendobj`)
	catalogRef = regexp.MustCompile(`/Root (\d+) 0 R`)
	infoRef    = regexp.MustCompile(`/Info (\d+) 0 R`)
	sizeOf     = regexp.MustCompile(`/Size (\d+)`)
	startXref  = regexp.MustCompile(`startxref\n(\d+)\n`)
)

// update is an incremental update being written.
type update struct {
	out     bytes.Buffer
	base    int
	offsets map[int]int
	order   []int
	next    int
}

func (u *update) add(number int, body string) {
	u.offsets[number] = u.base + u.out.Len()
	u.order = append(u.order, number)
	fmt.Fprintf(&u.out, "%d 0 obj\n%s\nendobj\n", number, body)
}

// apply adds the structure tree to a finished file.
func (t *tagger) apply(file []byte, language string) ([]byte, error) {
	trailer := file[bytes.LastIndex(file, []byte("trailer")):]
	root, size := catalogRef.FindSubmatch(trailer), sizeOf.FindSubmatch(trailer)
	info, start := infoRef.FindSubmatch(trailer), startXref.FindSubmatch(trailer)
	if root == nil || size == nil || info == nil || start == nil {
		return nil, fmt.Errorf("pdf: the trailer of the file is not as the library writes it")
	}
	pages := pageObject.FindAllSubmatch(file, -1)
	u := &update{base: len(file), offsets: map[int]int{}, next: number(size[1])}
	tree := u.take()
	parents := u.take()
	t.number(u, &t.root)
	pageNumbers := make([]int, len(pages)+1)
	for i, p := range pages {
		pageNumbers[i+1] = number(p[1])
		u.add(number(p[1]), fmt.Sprintf("<</Type /Page\n%s/StructParents %d\n/Tabs /S\n>>", p[2], i))
	}
	t.write(u, &t.root, tree, pageNumbers)
	t.writeParents(u, parents, len(pages))
	u.add(tree, fmt.Sprintf("<</Type /StructTreeRoot /K %d 0 R /ParentTree %d 0 R /ParentTreeNextKey %d>>",
		t.root.object, parents, len(pages)))
	catalog, err := object(file, number(root[1]))
	if err != nil {
		return nil, err
	}
	extra := fmt.Sprintf("/MarkInfo <</Marked true>>\n/StructTreeRoot %d 0 R\n/ViewerPreferences <</DisplayDocTitle true>>\n", tree)
	if !strings.Contains(catalog, "/Lang") {
		extra += "/Lang " + pdfText(language) + "\n"
	}
	u.add(number(root[1]), strings.TrimSuffix(strings.TrimSpace(catalog), ">>")+extra+">>")
	return u.finish(file, string(root[1]), string(info[1]), string(start[1])), nil
}

func number(b []byte) int {
	n, _ := strconv.Atoi(string(b)) // the expressions let digits through only
	return n
}

func (u *update) take() int {
	u.next++
	return u.next - 1
}

// number gives every element its object.
func (t *tagger) number(u *update, e *element) {
	e.object = u.take()
	for _, k := range e.kids {
		if kid, ok := k.(*element); ok {
			t.number(u, kid)
		}
	}
}

func (t *tagger) write(u *update, e *element, parent int, pages []int) {
	var kids []string
	for _, k := range e.kids {
		switch x := k.(type) {
		case *element:
			kids = append(kids, fmt.Sprintf("%d 0 R", x.object))
		case content:
			kids = append(kids, fmt.Sprintf("<</Type /MCR /Pg %d 0 R /MCID %d>>", pages[x.page], x.number))
		}
	}
	more := ""
	if e.alt != "" {
		more += " /Alt " + pdfText(e.alt)
	}
	if e.tag == "TH" {
		more += " /A <</O /Table /Scope " + e.scope() + ">>"
	}
	u.add(e.object, fmt.Sprintf("<</Type /StructElem /S /%s /P %d 0 R /K [%s]%s>>", e.tag, parent,
		strings.Join(kids, " "), more))
	for _, k := range e.kids {
		if kid, ok := k.(*element); ok {
			t.write(u, kid, e.object, pages)
		}
	}
}

// scope is that of a head: of its column in a row of heads, of its row else.
func (e *element) scope() string {
	for _, k := range e.parent.kids {
		if cell, ok := k.(*element); ok && cell.tag == "TD" {
			return "/Row"
		}
	}
	return "/Column"
}

// writeParents lists, for each page, the element of each marked content.
func (t *tagger) writeParents(u *update, object, pages int) {
	byPage := make([][]string, pages)
	for _, h := range t.holders { // numbers of a page rise in this order
		byPage[h.page-1] = append(byPage[h.page-1], fmt.Sprintf("%d 0 R", h.in.object))
	}
	var nums []string
	for i, list := range byPage {
		nums = append(nums, fmt.Sprintf("%d [%s]", i, strings.Join(list, " ")))
	}
	u.add(object, "<</Nums ["+strings.Join(nums, "\n")+"]>>")
}

// object reads the body of an object of the file.
func object(file []byte, n int) (string, error) {
	head := fmt.Appendf(nil, "\n%d 0 obj\n", n)
	from := bytes.LastIndex(file, head)
	if from < 0 {
		return "", fmt.Errorf("pdf: object %d is not in the file", n)
	}
	from += len(head)
	to := bytes.Index(file[from:], []byte("\nendobj"))
	if to < 0 {
		return "", fmt.Errorf("pdf: object %d has no end", n)
	}
	return string(file[from : from+to]), nil
}

// finish joins the file, the update, its cross references and the trailer.
func (u *update) finish(file []byte, root, info, before string) []byte {
	xref := u.base + u.out.Len()
	u.out.WriteString("xref\n")
	for _, n := range u.order {
		fmt.Fprintf(&u.out, "%d 1\n%010d 00000 n \n", n, u.offsets[n])
	}
	fmt.Fprintf(&u.out, "trailer\n<<\n/Size %d\n/Root %s 0 R\n/Info %s 0 R\n/Prev %s\n>>\nstartxref\n%d\n%%%%EOF\n",
		u.next, root, info, before, xref)
	return append(file, u.out.Bytes()...)
}

// pdfText writes a text as a string of the file: UTF-16 with its mark, in hexadecimal.
func pdfText(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteString(">")
	return b.String()
}
