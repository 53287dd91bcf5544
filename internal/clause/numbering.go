package clause

import (
	"encoding/xml"
	"strconv"
	"strings"
)

// mostLevels is how many levels a list of Word has.
const mostLevels = 9

// The parts of a Word file that number its paragraphs, as far as they matter here.
type (
	numberingXML struct {
		Abstract []abstractXML `xml:"abstractNum"`
		Nums     []numXML      `xml:"num"`
	}
	abstractXML struct {
		ID     string     `xml:"abstractNumId,attr"`
		Levels []levelXML `xml:"lvl"`
	}
	levelXML struct {
		Level  string `xml:"ilvl,attr"`
		Start  valXML `xml:"start"`
		Format valXML `xml:"numFmt"`
		Text   valXML `xml:"lvlText"`
		Style  valXML `xml:"pStyle"`
	}
	numXML struct {
		ID       string        `xml:"numId,attr"`
		Abstract valXML        `xml:"abstractNumId"`
		Over     []overrideXML `xml:"lvlOverride"`
	}
	overrideXML struct {
		Level string    `xml:"ilvl,attr"`
		Start valXML    `xml:"startOverride"`
		Whole *levelXML `xml:"lvl"`
	}
	valXML struct {
		Val string `xml:"val,attr"`
	}
	stylesXML struct {
		Styles []styleXML `xml:"style"`
	}
	styleXML struct {
		ID    string `xml:"styleId,attr"`
		Based valXML `xml:"basedOn"`
		Num   valXML `xml:"pPr>numPr>numId"`
		Level valXML `xml:"pPr>numPr>ilvl"`
	}
)

// numbering counts the paragraphs of a Word file as Word does.
type numbering struct {
	lists  map[string]*list // by the number of the list
	styles map[string]styleXML
}

// list counts one list. Lists of one definition go on counting together.
type list struct {
	levels [mostLevels]level
	counts *[mostLevels]int // 0 where a level has not begun
	begins [mostLevels]int  // where this list begins anew; 0 for nowhere
}

type level struct {
	start        int
	format, text string
	style        string
}

// newNumbering reads the definitions. What cannot be read numbers nothing: the paragraphs
// stand without their numbers then, and none is lost.
func newNumbering(numbers, styles []byte) *numbering {
	n := &numbering{lists: map[string]*list{}, styles: map[string]styleXML{}}
	var s stylesXML
	if xml.Unmarshal(styles, &s) == nil {
		for _, x := range s.Styles {
			n.styles[x.ID] = x
		}
	}
	var all numberingXML
	if xml.Unmarshal(numbers, &all) != nil {
		return n
	}
	counts := map[string]*[mostLevels]int{}
	for _, num := range all.Nums {
		for _, a := range all.Abstract {
			if a.ID != num.Abstract.Val {
				continue
			}
			if counts[a.ID] == nil {
				counts[a.ID] = new([mostLevels]int)
			}
			l := &list{counts: counts[a.ID]}
			for _, x := range a.Levels {
				l.set(x)
			}
			for _, o := range num.Over {
				if o.Whole != nil {
					l.set(*o.Whole)
				}
				if i := index(o.Level); i >= 0 {
					l.begins[i] = count(o.Start.Val)
				}
			}
			n.lists[num.ID] = l
		}
	}
	return n
}

func (l *list) set(x levelXML) {
	if i := index(x.Level); i >= 0 {
		l.levels[i] = level{max(1, count(x.Start.Val)), x.Format.Val, x.Text.Val, x.Style.Val}
	}
}

// index reads a level; −1 for none that there is.
func index(s string) int {
	if i, err := strconv.Atoi(s); err == nil && i >= 0 && i < mostLevels {
		return i
	}
	return -1
}

// count reads where a count begins; 0 for none.
func count(s string) int {
	if i, err := strconv.Atoi(s); err == nil && i > 0 && i < 10000 {
		return i
	}
	return 0
}

// next is the number that Word shows before a paragraph; "" for none.
func (n *numbering) next(p *para) string {
	num, at := p.num, p.ilvl
	style := p.style
	for range 20 { // styles may be based on each other in a ring
		if num != "" || style == "" {
			break
		}
		s := n.styles[style]
		if num = s.Num.Val; num != "" && at == "" {
			if at = s.Level.Val; at == "" {
				at = n.levelOf(num, style)
			}
		}
		style = s.Based.Val
	}
	l := n.lists[num]
	if l == nil {
		return ""
	}
	i := max(0, index(at))
	for k := range i {
		if l.counts[k] == 0 {
			l.counts[k] = max(1, l.levels[k].start)
		}
	}
	switch {
	case l.begins[i] > 0:
		l.counts[i], l.begins[i] = l.begins[i], 0
	case l.counts[i] == 0:
		l.counts[i] = max(1, l.levels[i].start)
	default:
		l.counts[i]++
	}
	for k := i + 1; k < mostLevels; k++ {
		l.counts[k] = 0
	}
	return l.print(i)
}

// levelOf is the level of a list that a style is tied to.
func (n *numbering) levelOf(num, style string) string {
	if l := n.lists[num]; l != nil {
		for i := range l.levels {
			if l.levels[i].style == style {
				return strconv.Itoa(i)
			}
		}
	}
	return "0"
}

func (l *list) print(i int) string {
	f := l.levels[i]
	if f.format == "bullet" || f.format == "none" {
		return ""
	}
	text := f.text
	for k := range i + 1 {
		text = strings.ReplaceAll(text, "%"+strconv.Itoa(k+1), numeral(l.levels[k].format, l.counts[k]))
	}
	return strings.TrimSpace(text)
}

// numeral writes a count in the format of a level.
func numeral(format string, n int) string {
	switch {
	case format == "decimalZero" && n < 10:
		return "0" + strconv.Itoa(n)
	case format == "upperLetter", format == "lowerLetter":
		s := strings.Repeat(string(rune('A'+(n-1)%26)), min(9, (n-1)/26+1))
		if format == "lowerLetter" {
			return strings.ToLower(s)
		}
		return s
	case format == "upperRoman", format == "lowerRoman":
		if s := roman(n); format == "lowerRoman" {
			return strings.ToLower(s)
		} else {
			return s
		}
	}
	return strconv.Itoa(n)
}

func roman(n int) string {
	var out strings.Builder
	for _, d := range []struct {
		value int
		sign  string
	}{
		{1000, "M"},
		{900, "CM"},
		{500, "D"},
		{400, "CD"},
		{100, "C"},
		{90, "XC"},
		{50, "L"},
		{40, "XL"},
		{10, "X"},
		{9, "IX"},
		{5, "V"},
		{4, "IV"},
		{1, "I"},
	} {
		for ; n >= d.value; n -= d.value {
			out.WriteString(d.sign)
		}
	}
	return out.String()
}
