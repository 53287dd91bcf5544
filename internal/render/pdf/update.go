package pdf

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"
)

// version begins the file: the one whose structure ISO 14289-1 (PDF/UA-1) builds on.
const version = "%PDF-1.7"

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

// apply adds the structure tree, the links and the description of the document to a finished
// file, and gives it the version that they need.
func (t *tagger) apply(file []byte, about about) ([]byte, error) {
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
	}
	annotations := t.writeLinks(u, pageNumbers, len(pages))
	for i, p := range pages {
		more := ""
		if list := annotations[i+1]; len(list) > 0 {
			more = "/Annots [" + strings.Join(list, " ") + "]\n"
		}
		u.add(number(p[1]), fmt.Sprintf("<</Type /Page\n%s%s/StructParents %d\n/Tabs /S\n>>", p[2], more, i))
	}
	t.write(u, &t.root, tree, pageNumbers)
	t.writeParents(u, parents, len(pages))
	u.add(tree, fmt.Sprintf("<</Type /StructTreeRoot /K %d 0 R /ParentTree %d 0 R /ParentTreeNextKey %d>>",
		t.root.object, parents, len(pages)+len(t.links)))
	if about.turned {
		u.writeLetterMaps(file)
	}
	metadata := u.take()
	packet := about.packet()
	u.add(metadata, fmt.Sprintf("<</Type /Metadata /Subtype /XML /Length %d>>\nstream\n%s\nendstream", len(packet),
		packet))
	catalog, err := object(file, number(root[1]))
	if err != nil {
		return nil, err
	}
	extra := fmt.Sprintf("/MarkInfo <</Marked true>>\n/StructTreeRoot %d 0 R\n/Metadata %d 0 R\n"+
		"/ViewerPreferences <</DisplayDocTitle true>>\n", tree, metadata)
	if !strings.Contains(catalog, "/Lang") {
		extra += "/Lang " + pdfText(about.language) + "\n"
	}
	u.add(number(root[1]), strings.TrimSuffix(strings.TrimSpace(catalog), ">>")+extra+">>")
	copy(file, version)
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
		case *link:
			kids = append(kids, fmt.Sprintf("<</Type /OBJR /Pg %d 0 R /Obj %d 0 R>>", pages[x.page], x.object))
		}
	}
	more := ""
	if e.alt != "" {
		more += " /Alt " + pdfText(e.alt)
	}
	more += e.attributes()
	u.add(e.object, fmt.Sprintf("<</Type /StructElem /S /%s /P %d 0 R /K [%s]%s>>", e.tag, parent,
		strings.Join(kids, " "), more))
	for _, k := range e.kids {
		if kid, ok := k.(*element); ok {
			t.write(u, kid, e.object, pages)
		}
	}
}

// attributes are those that a reader needs beside the tag.
func (e *element) attributes() string {
	switch {
	case e.tag == "TH" && e.span > 1:
		return fmt.Sprintf(" /A <</O /Table /Scope %s /ColSpan %d>>", e.scope(), e.span)
	case e.tag == "TH":
		return " /A <</O /Table /Scope " + e.scope() + ">>"
	case e.tag == "TD" && e.span > 1:
		return fmt.Sprintf(" /A <</O /Table /ColSpan %d>>", e.span)
	case e.tag == "L" && e.list != "":
		return " /A <</O /List /ListNumbering /" + e.list + ">>"
	case e.tag == "Figure":
		return fmt.Sprintf(" /A <</O /Layout /Placement /Block /BBox [%.2f %.2f %.2f %.2f]>>", e.frame[0], e.frame[1],
			e.frame[2], e.frame[3])
	}
	return ""
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
	for i, l := range t.links {
		nums = append(nums, fmt.Sprintf("%d %d 0 R", pages+i, l.in.object))
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
	return "<FEFF" + utf16Hex(s) + ">"
}

func utf16Hex(s string) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String()
}

// letterMaps finds those that the library writes.
var letterMaps = regexp.MustCompile(`\n(\d+) 0 obj\n<</Length \d+>>\nstream\n/CIDInit`)

// writeLetterMaps puts the map of letters in place of the library's, which takes each
// character for itself.
func (u *update) writeLetterMaps(file []byte) {
	text := letterMap()
	for _, m := range letterMaps.FindAllSubmatch(file, -1) {
		u.add(number(m[1]), fmt.Sprintf("<</Length %d>>\nstream\n%s\nendstream", len(text), text))
	}
}

// writeLinks writes the links, and lists them by page.
func (t *tagger) writeLinks(u *update, pages []int, parents int) map[int][]string {
	out := map[int][]string{}
	for i, l := range t.links {
		l.object = u.take()
		u.add(l.object, fmt.Sprintf("<</Type /Annot /Subtype /Link /Rect [%.2f %.2f %.2f %.2f] /Border [0 0 0] /F 4 "+
			"/Contents %s /Dest [%d 0 R /XYZ 0 %.2f null] /StructParent %d>>", l.frame[0], l.frame[1], l.frame[2],
			l.frame[3], pdfText(l.text), pages[l.toPage], l.toY, parents+i))
		out[l.page] = append(out[l.page], fmt.Sprintf("%d 0 R", l.object))
	}
	return out
}
