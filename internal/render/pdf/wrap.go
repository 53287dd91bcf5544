package pdf

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"seatward/quantity"
)

// wrap breaks a text into lines no wider than mm in the font that is set. A number stays with
// its unit where both fit on a line. A word that is wider than a line is broken, at a mark
// and outside of numbers where it can be.
func (p *writer) wrap(s string, mm float64) []string {
	var out []string
	line, wide := "", 0.0
	space := p.pdf.GetStringWidth(" ")
	flush := func() {
		if line != "" {
			out = append(out, line)
		}
		line, wide = "", 0
	}
	for _, word := range p.fitting(s, mm) {
		w := p.pdf.GetStringWidth(word)
		if line != "" && wide+space+w > mm {
			flush()
		}
		for w > mm && utf8.RuneCountInString(word) > 1 { // a word wider than the line
			n := p.cut(word, mm)
			out = append(out, word[:n])
			word = word[n:]
			w = p.pdf.GetStringWidth(word)
		}
		if line == "" {
			line, wide = word, w
		} else {
			line, wide = line+" "+word, wide+space+w
		}
	}
	flush()
	return p.ordered(s, out)
}

// fitting are the words of a text; what stays together and is wider than a line comes apart
// at its spaces.
func (p *writer) fitting(s string, mm float64) []string {
	var out []string
	for _, w := range words(s) {
		if strings.Contains(w, " ") && p.pdf.GetStringWidth(w) > mm {
			out = append(out, strings.Fields(w)...)
			continue
		}
		out = append(out, w)
	}
	return out
}

// units are the names of units, which stay with the number before them.
var units = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{"%": true, "×": true}
	for _, k := range quantity.Kinds() {
		for _, u := range k.Units() {
			out[u] = true
		}
	}
	for _, sys := range []quantity.System{quantity.US, quantity.SI} {
		for _, k := range quantity.Kinds() {
			out[sys.Unit(k)] = true
		}
	}
	return out
})

// words cuts a text at its spaces. A number and its unit are one word, and so are a sign of
// comparison and the number behind it.
func words(s string) []string {
	all := strings.Fields(s)
	var out []string
	for i, w := range all {
		if i > 0 && (isUnit(w) && endsInNumber(all[i-1]) || isNumber(w) && compares(all[i-1])) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func isUnit(w string) bool { return units()[strings.TrimRight(w, ".,;:)")] }

func compares(w string) bool {
	switch w {
	case "≤", "≥", "<", ">", "±", "≈", "=", "~":
		return true
	}
	return false
}

func isNumber(w string) bool {
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(w, "−-+(["))
	return unicode.IsDigit(r)
}

// endsInNumber is true for a number, alone or behind a mark as in "(12".
func endsInNumber(w string) bool {
	last, _ := utf8.DecodeLastRuneInString(w)
	return unicode.IsDigit(last) && isNumber(w)
}

// marks are what a word that is too long may be broken behind.
const marks = "/-_=,;:·–"

// breaks lists after how many bytes a word may be broken at a mark: never in a number.
func breaks(word string) []int {
	var out []int
	before := ' '
	for i, r := range word {
		end := i + utf8.RuneLen(r)
		if strings.ContainsRune(marks, r) && end < len(word) {
			after, _ := utf8.DecodeRuneInString(word[end:])
			if !(unicode.IsDigit(before) && unicode.IsDigit(after)) && before != ' ' {
				out = append(out, end)
			}
		}
		before = r
	}
	return out
}

// pieces are the parts into which a word comes apart at its marks.
func pieces(word string) []string {
	var out []string
	from := 0
	for _, at := range breaks(word) {
		out = append(out, word[from:at])
		from = at
	}
	return append(out, word[from:])
}

// cut is after how many bytes a word must be broken: at the last mark that fits, or else
// where it fits, before a number rather than in it.
func (p *writer) cut(word string, mm float64) int {
	last := 0
	for i, r := range word {
		end := i + utf8.RuneLen(r)
		if p.pdf.GetStringWidth(word[:end]) > mm {
			break
		}
		last = end
	}
	mark := 0
	for _, at := range breaks(word) {
		if at <= last {
			mark = at
		}
	}
	switch {
	case mark > 0:
		return mark
	case last == 0: // not even one character goes in: it stands over the edge
		_, n := utf8.DecodeRuneInString(word)
		return n
	}
	if at := strings.LastIndexFunc(word[:last], func(r rune) bool { return !numeral(r) }); at >= 0 {
		_, n := utf8.DecodeRuneInString(word[at:])
		if next, _ := utf8.DecodeRuneInString(word[last:]); numeral(next) && at+n < last {
			return at + n
		}
	}
	return last
}

// numeral is true for what numbers are written with.
func numeral(r rune) bool { return unicode.IsDigit(r) || r == '.' || r == ',' || r == '−' }
