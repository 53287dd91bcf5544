package pdf

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// leftward is true for a text with letters that run from right to left.
func leftward(s string) bool {
	const first = 0x590 // of the letters that run so
	return strings.IndexFunc(s, func(r rune) bool {
		return r >= first && unicode.In(r, unicode.Hebrew, unicode.Arabic)
	}) >= 0
}

// inOrder puts a line that stands alone into the order in which it is drawn, from the left.
func (p *writer) inOrder(s string) string { return p.ordered(s, []string{s})[0] }

// ordered puts the lines of a text into the order in which they are drawn, from the left, by
// the bidirectional algorithm of Unicode (UAX 9); the text says which way its lines run.
func (p *writer) ordered(text string, lines []string) []string {
	if !leftward(text) {
		return lines
	}
	base := 0
	if at := strings.IndexFunc(text, unicode.IsLetter); at >= 0 && leftward(firstRune(text[at:])) {
		base = 1
	}
	for i, l := range lines {
		lines[i] = visual([]rune(l), base)
		p.turned = true
	}
	return lines
}

func firstRune(s string) string {
	for _, r := range s {
		return string(r)
	}
	return ""
}

// visual reorders one line whose letters have no controls of direction among them: by classes
// to levels, and by levels to places (rules L1 to L4).
func visual(line []rune, base int) string {
	level := levels(line, base)
	for i := len(line) - 1; i >= 0 && unicode.IsSpace(line[i]); i-- {
		level[i] = base
	}
	most := 0
	for i, l := range level {
		most = max(most, l)
		if other, found := mirrored[line[i]]; found && l%2 == 1 {
			line[i] = other
		}
	}
	at := make([]int, len(line))
	for i := range at {
		at[i] = i
	}
	for l := most; l > 0; l-- {
		for from := 0; from < len(at); from++ {
			to := from
			for to < len(at) && level[at[to]] >= l {
				to++
			}
			slices.Reverse(at[from:to])
			from = to
		}
	}
	var out, marks []rune
	for _, i := range at {
		switch {
		case unicode.Is(unicode.Mn, line[i]) && level[i]%2 == 1: // it stays behind its letter
			marks = append(marks, line[i])
		default:
			out = append(append(out, line[i]), marks...)
			marks = nil
		}
	}
	return string(append(out, marks...))
}

// mirrored are the signs that look the other way in a text that runs leftward.
var mirrored = map[rune]rune{
	'(': ')', ')': '(', '[': ']', ']': '[', '{': '}', '}': '{', '<': '>', '>': '<', '«': '»', '»': '«',
	'‹': '›', '›': '‹', '≤': '≥', '≥': '≤',
}

// levels are the embedding levels of a line (rules W1 to W7, N1, N2, I1 and I2; pairs of
// brackets, N0, go by what stands beside them).
func levels(line []rune, base int) []int {
	strong := bidi.L
	if base == 1 {
		strong = bidi.R
	}
	class := make([]bidi.Class, len(line))
	for i, r := range line {
		properties, _ := bidi.LookupRune(r)
		class[i] = properties.Class()
	}
	weak(class, strong)
	neutral(class, strong)
	out := make([]int, len(line))
	for i, c := range class {
		switch {
		case c == bidi.R:
			out[i] = 1
		case c == bidi.L:
			out[i] = 2 * base
		default: // a number
			out[i] = 2
		}
	}
	return out
}

// weak resolves marks, numbers and what stands in numbers.
func weak(class []bidi.Class, start bidi.Class) {
	before, letters := start, start
	for i, c := range class { // W1, W2, W3
		switch {
		case c == bidi.NSM:
			class[i] = before
		case c == bidi.EN && letters == bidi.AL:
			class[i] = bidi.AN
		case c == bidi.L || c == bidi.R || c == bidi.AL:
			letters = c
		}
		before = class[i]
	}
	for i, c := range class {
		if c == bidi.AL {
			class[i] = bidi.R
		}
	}
	for i := 1; i+1 < len(class); i++ { // W4
		a, c, b := class[i-1], class[i], class[i+1]
		if a == b && (a == bidi.EN && (c == bidi.ES || c == bidi.CS) || a == bidi.AN && c == bidi.CS) {
			class[i] = a
		}
	}
	for from := 0; from < len(class); from++ { // W5
		to := from
		for to < len(class) && class[to] == bidi.ET {
			to++
		}
		if to > from && (from > 0 && class[from-1] == bidi.EN || to < len(class) && class[to] == bidi.EN) {
			for k := from; k < to; k++ {
				class[k] = bidi.EN
			}
		}
		from = max(from, to-1)
	}
	letters = start
	for i, c := range class { // W6, W7
		switch c {
		case bidi.ES, bidi.ET, bidi.CS:
			class[i] = bidi.ON
		case bidi.L, bidi.R:
			letters = c
		case bidi.EN:
			if letters == bidi.L {
				class[i] = bidi.L
			}
		}
	}
}

// neutral gives what has no direction that of its neighbors where they agree, and that of the
// text else.
func neutral(class []bidi.Class, start bidi.Class) {
	side := func(i int) bidi.Class {
		switch {
		case i < 0 || i >= len(class):
			return start
		case class[i] == bidi.EN || class[i] == bidi.AN:
			return bidi.R
		}
		return class[i]
	}
	directed := func(c bidi.Class) bool { return c == bidi.L || c == bidi.R || c == bidi.EN || c == bidi.AN }
	for from := 0; from < len(class); from++ {
		to := from
		for to < len(class) && !directed(class[to]) {
			to++
		}
		c := start
		if side(from-1) == side(to) {
			c = side(to)
		}
		for k := from; k < to; k++ {
			class[k] = c
		}
		from = max(from, to-1)
	}
}
