package pdf

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// leftward is true for a text with letters that run from right to left.
func leftward(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r >= 0x590 && unicode.In(r, unicode.Hebrew, unicode.Arabic) }) >= 0
}

// inOrder puts a line that stands alone into the order in which it is drawn, from the left.
func (p *writer) inOrder(s string) string { return p.ordered(s, []string{s})[0] }

// ordered puts the lines of a text into the order in which they are drawn, from the left, by
// the bidirectional algorithm of Unicode (UAX 9); the text says which way its lines run.
func (p *writer) ordered(text string, lines []string) []string {
	if !leftward(text) {
		return lines
	}
	way := bidi.LeftToRight
	if at := strings.IndexFunc(text, unicode.IsLetter); at >= 0 && leftward(firstRune(text[at:])) {
		way = bidi.RightToLeft
	}
	for i, l := range lines {
		lines[i] = visual(l, way)
	}
	return lines
}

func firstRune(s string) string {
	for _, r := range s {
		return string(r)
	}
	return ""
}

// run is a part of a line that runs one way.
type run struct {
	text string
	left bool // from right to left
}

// visual reorders one line.
func visual(line string, way bidi.Direction) string {
	var paragraph bidi.Paragraph
	if _, err := paragraph.SetString(line, bidi.DefaultDirection(way)); err != nil {
		return line
	}
	order, err := paragraph.Order()
	if err != nil {
		return line
	}
	var runs []run
	for i := range order.NumRuns() {
		r := order.Run(i)
		runs = append(runs, run{r.String(), r.Direction() == bidi.RightToLeft})
	}
	if way == bidi.RightToLeft {
		return backward(runs)
	}
	var out strings.Builder
	for i := 0; i < len(runs); {
		to := i + 1
		if runs[i].left { // numbers between words that run leftward go with them
			for to+1 < len(runs) && numbersOnly(runs[to].text) && runs[to+1].left {
				to += 2
			}
		}
		out.WriteString(backward(runs[i:to]))
		i = to
	}
	return out.String()
}

// backward draws runs from the last to the first.
func backward(runs []run) string {
	var out strings.Builder
	for i := len(runs) - 1; i >= 0; i-- {
		if runs[i].left {
			out.WriteString(bidi.ReverseString(runs[i].text))
			continue
		}
		out.WriteString(runs[i].text)
	}
	return out.String()
}

func numbersOnly(s string) bool {
	return strings.IndexFunc(s, unicode.IsLetter) < 0 && strings.IndexFunc(s, unicode.IsDigit) >= 0
}

// The forms of an Arabic letter, in the order of Unicode's block of them.
const (
	alone = iota
	final
	initial
	medial
)

// letter has the forms of an Arabic letter; 0 where it has none.
type letter struct{ forms [4]rune }

// arabic lists, by letter or pair of letters, the forms that join: the presentation forms of
// Unicode, each of which names the letters that it stands for and how it joins.
var arabic = sync.OnceValue(func() map[string]*letter {
	out := map[string]*letter{}
	for _, block := range [][2]rune{{0xFE80, 0xFEFC}, {0xFB50, 0xFBB1}, {0xFBD3, 0xFBE9}, {0xFBFC, 0xFBFF}} {
		place, last := alone, ""
		for r := block[0]; r <= block[1]; r++ {
			base := norm.NFKC.String(string(r))
			if base == string(r) {
				continue
			}
			if base != last {
				place, last = alone, base
				if out[base] == nil {
					out[base] = &letter{}
				}
			}
			if place <= medial {
				out[base].forms[place] = r
			}
			place++
		}
	}
	return out
})

// joins is true for a letter that joins the one behind it.
func (l *letter) joins() bool { return l != nil && l.forms[initial] != 0 }

const (
	lam      = '\u0644'
	tatweel  = '\u0640'
)

// shaped puts the forms of Arabic letters that join in place of the letters.
func shaped(s string) string {
	if strings.IndexFunc(s, func(r rune) bool { return unicode.Is(unicode.Arabic, r) }) < 0 {
		return s
	}
	forms := arabic()
	in := []rune(s)
	var out []rune
	before := false // the letter before joins this one
	for i := 0; i < len(in); i++ {
		if unicode.Is(unicode.Mn, in[i]) { // a mark on a letter joins nothing
			out = append(out, in[i])
			continue
		}
		if in[i] == tatweel {
			out, before = append(out, in[i]), true
			continue
		}
		one := forms[string(in[i])]
		if in[i] == lam && i+1 < len(in) && forms[string(in[i:i+2])] != nil {
			one = forms[string(in[i:i+2])]
			i++
		}
		if one == nil {
			out, before = append(out, in[i]), false
			continue
		}
		form := one.form(before, behind(forms, in[i+1:]))
		out, before = append(out, form), one.joins()
	}
	return string(out)
}

// behind is true where the next letter joins the one before it.
func behind(forms map[string]*letter, rest []rune) bool {
	for _, r := range rest {
		if unicode.Is(unicode.Mn, r) {
			continue
		}
		l := forms[string(r)]
		return r == tatweel || l != nil && l.forms[final] != 0
	}
	return false
}

// form is the one of a letter between others.
func (l *letter) form(before, after bool) rune {
	place := alone
	switch {
	case before && after && l.forms[medial] != 0:
		place = medial
	case before && l.forms[final] != 0:
		place = final
	case after && l.forms[initial] != 0:
		place = initial
	}
	return l.forms[place]
}
