package text

import (
	"strings"
	"unicode"

	eastasian "golang.org/x/text/width"
)

// width counts the columns that a text takes: two for the wide characters of East
// Asia, none for marks that stand on the letter before them.
func width(s string) int {
	n := 0
	for _, r := range s {
		n += columns(r)
	}
	return n
}

func columns(r rune) int {
	switch {
	case r < 0x20 || unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case r < 0x300:
		return 1
	}
	switch eastasian.LookupRune(r).Kind() {
	case eastasian.EastAsianWide, eastasian.EastAsianFullwidth:
		return 2
	}
	return 1
}

// Clean makes a text of a user's file safe to print: control characters become
// blanks, invisible ones and bytes that are no text go.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || unicode.IsControl(r):
			return ' '
		case r == unicode.ReplacementChar || unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, s)
}

// Wrap breaks a text into lines of at most n columns, at blanks; a longer word is
// broken behind a slash, a dash or an underscore, or where it must be.
func Wrap(text string, n int) []string {
	n = max(n, 2)
	var lines []string
	line := ""
	next := func() {
		if line != "" {
			lines = append(lines, line)
			line = ""
		}
	}
	for _, word := range strings.Fields(Clean(text)) {
		if line != "" && width(line)+1+width(word) > n {
			next()
		}
		for width(word) > n {
			head, tail := breakWord(word, n)
			lines = append(lines, head)
			word = tail
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	next()
	if len(lines) == 0 {
		return []string{""}
	}
	return lines
}

// breakWord cuts a word of more than n columns so that the head fits.
func breakWord(word string, n int) (head, tail string) {
	used, cut, soft := 0, 0, 0
	for i, r := range word {
		if used+columns(r) > n {
			break
		}
		used += columns(r)
		cut = i + len(string(r))
		if strings.ContainsRune("/-_.", r) && used > n/2 {
			soft = cut
		}
	}
	if soft > 0 {
		cut = soft
	}
	return word[:cut], word[cut:]
}

// pad fills a text with blanks to n columns.
func pad(s string, n int) string { return s + strings.Repeat(" ", max(n-width(s), 0)) }

// padLeft fills a text with blanks before it.
func padLeft(s string, n int) string { return strings.Repeat(" ", max(n-width(s), 0)) + s }
