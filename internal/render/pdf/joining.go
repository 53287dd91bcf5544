package pdf

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

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
	lam     = '\u0644'
	tatweel = '\u0640'
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

// letterMap says which letters the characters of a file stand for (ISO 32000-1, 9.10.3): the
// plain ones for the forms in which they join, so that who copies, searches or listens has the
// word as it is written.
func letterMap() string {
	var out strings.Builder
	out.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100 // lines of one list
	var ranges, letters []string
	for high := 0; high <= 0xFF; high++ {
		if high < firstForm>>8 || high > lastForm>>8 {
			ranges = append(ranges, fmt.Sprintf("<%02X00> <%02XFF> <%02X00>\n", high, high, high))
			continue
		}
		for low := 0; low <= 0xFF; low++ {
			r := rune(high<<8 | low)
			letters = append(letters, fmt.Sprintf("<%04X> <%s>\n", r, utf16Hex(plainLetters(string(r)))))
		}
	}
	for list := range slices.Chunk(ranges, most) {
		fmt.Fprintf(&out, "%d beginbfrange\n%sendbfrange\n", len(list), strings.Join(list, ""))
	}
	for list := range slices.Chunk(letters, most) {
		fmt.Fprintf(&out, "%d beginbfchar\n%sendbfchar\n", len(list), strings.Join(list, ""))
	}
	out.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend")
	return out.String()
}

// The first and the last of the forms in which letters join.
const (
	firstForm = 0xFB50
	lastForm  = 0xFEFC
)

// plainLetters puts letters in place of the forms in which they join.
func plainLetters(s string) string {
	var out strings.Builder
	for _, r := range s {
		if r >= firstForm && r <= lastForm {
			out.WriteString(norm.NFKC.String(string(r)))
			continue
		}
		out.WriteRune(r)
	}
	return out.String()
}
