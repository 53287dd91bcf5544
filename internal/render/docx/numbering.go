package docx

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"seatward/internal/document"
)

// clauseLevels is how many levels the clauses of a specification have.
const clauseLevels = 5

var clauseStyles = [clauseLevels]string{"ClausePart", "ClauseArticle", "ClauseParagraph", "ClauseItem", "ClauseSubitem"}

// clauseForms are the numbers of each level as the numbering writes them.
var clauseForms = [clauseLevels]struct{ format, text string }{
	{"decimal", "PART %1"},
	{"decimal", "%1.%2"},
	{"upperLetter", "%3."},
	{"decimal", "%4."},
	{"lowerLetter", "%5."},
}

// numbering puts the numbers of lists and clauses together. Clauses count by themselves,
// so that they stay right when someone takes one out; where the author's number is not
// the next one, a new count begins there.
type numbering struct {
	abstract []string // definitions, by their id
	counting int      // id of the count that clauses are in; 0 for none
	begun    int      // level of its first clause: programs differ in how they count those above it, so that it never does
	tied     int      // id of the count that the styles of clauses are tied to; 0 for none
	starts   [clauseLevels]int
	counts   [clauseLevels]int // 0 where a level has not begun
}

// add adds a definition and returns the number under which paragraphs name it.
func (n *numbering) add(levels string) int {
	n.abstract = append(n.abstract, `<w:multiLevelType w:val="multilevel"/>`+levels)
	return len(n.abstract)
}

func (n *numbering) list(l document.List) int {
	format, text, font := "bullet", "•", ""
	switch {
	case l.Numbered && l.Boxes:
		format, text = "decimal", "☐ %1."
	case l.Numbered:
		format, text = "decimal", "%1."
	case l.Boxes:
		text = "☐"
	}
	if l.Boxes {
		font = `<w:rPr><w:rFonts w:ascii="Segoe UI Symbol" w:hAnsi="Segoe UI Symbol" w:eastAsia="Segoe UI Symbol" w:cs="Segoe UI Symbol"/></w:rPr>`
	}
	indent := 360
	if l.Numbered && l.Boxes {
		indent = 720
	}
	return n.add(fmt.Sprintf(`<w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="%s"/><w:lvlText w:val="%s"/><w:lvlJc w:val="left"/><w:pPr><w:ind w:left="%d" w:hanging="%d"/></w:pPr>%s</w:lvl>`, format, text, indent, indent, font))
}

// next moves the count of a level on and returns its number as the numbering will show it.
func (n *numbering) next(level int) string {
	for i := range level {
		if n.counts[i] == 0 {
			n.counts[i] = n.starts[i]
		}
	}
	if n.counts[level] == 0 {
		n.counts[level] = n.starts[level]
	} else {
		n.counts[level]++
	}
	for i := level + 1; i < clauseLevels; i++ {
		n.counts[i] = 0
	}
	text := clauseForms[level].text
	for i := range level + 1 {
		text = strings.ReplaceAll(text, fmt.Sprintf("%%%d", i+1), numeral(clauseForms[i].format, n.counts[i]))
	}
	return text
}

// numeral writes a count. Letters go A to Z, then AA, BB and so on.
func numeral(format string, n int) string {
	if format == "decimal" || n < 1 {
		return strconv.Itoa(n)
	}
	s := strings.Repeat(string(rune('A'+(n-1)%26)), (n-1)/26+1)
	if format == "lowerLetter" {
		s = strings.ToLower(s)
	}
	return s
}

var (
	partNumber    = regexp.MustCompile(`^PART ([1-9]\d{0,3})$`)
	articleNumber = regexp.MustCompile(`^([1-9]\d{0,3})\.([1-9]\d{0,3})$`)
	itemNumber    = regexp.MustCompile(`^([1-9]\d{0,3})\.$`)
	upperNumber   = regexp.MustCompile(`^([A-Z]+)\.$`)
	lowerNumber   = regexp.MustCompile(`^([a-z]+)\.$`)
)

// clause returns the count whose next number at a level is the wanted one, and 0 for a
// number that no count gives.
func (n *numbering) clause(level int, want string) int {
	if n.counting > 0 && level >= n.begun {
		saved := n.counts
		if n.next(level) == want {
			return n.counting
		}
		n.counts = saved
	}
	starts, ok := n.startsFor(level, want)
	if !ok {
		return 0
	}
	n.starts, n.counts = starts, [clauseLevels]int{}
	if n.next(level) != want {
		panic("docx: a count that begins at " + want + " does not give it")
	}
	tie := n.tied == 0 && level == 0
	n.counting, n.begun = n.add(clauseDefinition(starts, level, tie)), level
	if tie {
		n.tied = n.counting
	}
	return n.counting
}

// startsFor reads a number and tells where a new count must begin to give it.
func (n *numbering) startsFor(level int, want string) (starts [clauseLevels]int, ok bool) {
	for i := range starts {
		starts[i] = 1
		if i < level && n.counts[i] > 0 {
			starts[i] = n.counts[i]
		}
	}
	forms := [clauseLevels]*regexp.Regexp{partNumber, articleNumber, upperNumber, itemNumber, lowerNumber}
	m := forms[level].FindStringSubmatch(want)
	if m == nil {
		return starts, false
	}
	switch level {
	case 0, 3:
		starts[level], _ = strconv.Atoi(m[1]) // the pattern holds digits alone
	case 1:
		starts[0], _ = strconv.Atoi(m[1])
		starts[1], _ = strconv.Atoi(m[2])
	default:
		starts[level] = ofLetters(m[1])
	}
	return starts, starts[level] > 0
}

// ofLetters is the count that letters stand for, and 0 where they are not all the same.
func ofLetters(s string) int {
	s = strings.ToUpper(s)
	if len(s) > 30 || strings.Trim(s, s[:1]) != "" {
		return 0
	}
	return int(s[0]-'A') + 1 + 26*(len(s)-1)
}

// clauseDefinition is the levels of one count of clauses that begins at a level. Below
// a part that it does not count, the number of the part is text. One that is tied gives its
// levels to the styles, so that a paragraph which is given a style is numbered by it.
func clauseDefinition(starts [clauseLevels]int, begun int, tied bool) string {
	indents := [clauseLevels][2]int{{1080, 1080}, {720, 720}, {1080, 360}, {1440, 360}, {1800, 360}} // left, hanging
	var b strings.Builder
	for i, f := range clauseForms {
		if begun > 0 && i > 0 {
			f.text = strings.ReplaceAll(f.text, "%1", strconv.Itoa(starts[0]))
		}
		style := ""
		if tied {
			style = `<w:pStyle w:val="` + clauseStyles[i] + `"/>`
		}
		fmt.Fprintf(&b, `<w:lvl w:ilvl="%d"><w:start w:val="%d"/><w:numFmt w:val="%s"/>%s<w:lvlText w:val="%s"/><w:lvlJc w:val="left"/><w:pPr><w:ind w:left="%d" w:hanging="%d"/></w:pPr></w:lvl>`,
			i, starts[i], f.format, style, f.text, indents[i][0], indents[i][1])
	}
	return b.String()
}

func (n *numbering) xml() string {
	var b strings.Builder
	b.WriteString(xmlHead + `<w:numbering ` + namespaces + `>`)
	for i, levels := range n.abstract {
		fmt.Fprintf(&b, `<w:abstractNum w:abstractNumId="%d">%s</w:abstractNum>`, i+1, levels)
	}
	for i := range n.abstract {
		fmt.Fprintf(&b, `<w:num w:numId="%d"><w:abstractNumId w:val="%d"/></w:num>`, i+1, i+1)
	}
	b.WriteString(`</w:numbering>`)
	return b.String()
}
