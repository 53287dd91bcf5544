package clause

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"seatward/diag"
)

// raw is a paragraph before its number is made whole.
type raw struct {
	label string // as printed: "2.01", "A.", "PART 2"; "" where there is none
	text  string
	row   bool // a row of a table, its cells apart by tabs
	place diag.Place
}

var (
	sectionLine = regexp.MustCompile(`^SECTION\s+[0-9][0-9 .-]*`)
	partLine    = regexp.MustCompile(`^(?:PART|Part)\s+[0-9]+\b`)
	endLine     = regexp.MustCompile(`(?i)^end of section\b`)
	decimal     = regexp.MustCompile(`^[0-9]+(?:\.[0-9]+)+\.?$`)
	single      = regexp.MustCompile(`^\(?(?:[A-Z]|[a-z]|[ivx]{1,4}|[0-9]{1,3})[.)]$`)
	cells       = regexp.MustCompile(`\t+|\s*\|\s*|\s{3,}`)
	ruler       = regexp.MustCompile(`^[\s|+:=_-]+$`)
)

// lines takes a text apart. A paragraph begins behind a blank line, at a number and at a
// row of a table; what follows belongs to it.
func lines(name, text string) []raw {
	var out []raw
	begin := true
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\f", "\n\n").Replace(text)
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.Trim(line, " \n\u00a0")
		trimmed := strings.TrimSpace(line)
		if trimmed == "" || ruler.MatchString(trimmed) || endLine.MatchString(trimmed) {
			begin = true
			continue
		}
		at := diag.Place{File: name, Line: n, Col: 1}
		label, rest := labeled(strings.TrimLeft(trimmed, "| \t"))
		row := strings.Trim(rest, "| \t")
		if cells.MatchString(row) {
			out = append(out, raw{label: label, text: cells.ReplaceAllString(row, "\t"), row: true, place: at})
			begin = true
			continue
		}
		if label != "" || begin || len(out) == 0 {
			out = append(out, raw{label: label, text: rest, place: at})
		} else {
			out[len(out)-1].text += " " + rest
		}
		begin = false
	}
	return out
}

// labeled cuts a number such as 2.03, A., 1) or PART 2 from the start of a line.
func labeled(line string) (label, rest string) {
	for _, whole := range []*regexp.Regexp{sectionLine, partLine} {
		if m := whole.FindString(line); m != "" {
			return strings.TrimRight(strings.Join(strings.Fields(m), " "), " .-"),
				strings.TrimLeft(line[len(m):], " \t-–—:.")
		}
	}
	at := strings.IndexFunc(line, unicode.IsSpace)
	if at < 0 {
		return "", line
	}
	head, tail := line[:at], strings.TrimSpace(line[at:])
	switch {
	case single.MatchString(head):
		return head, tail
	case decimal.MatchString(head) && !measured(tail):
		return head, tail
	}
	return "", line
}

// measured is true where a line goes on with a unit: then its first word is a number.
func measured(tail string) bool {
	word, _, _ := strings.Cut(tail, " ")
	return unitWord.MatchString(strings.Trim(word, ",;."))
}

// form is the kind of a label, by which the depth of paragraphs is known.
func form(label string) string {
	switch core := strings.Trim(label, "().") + string(label[len(label)-1]); {
	case core[0] >= '0' && core[0] <= '9':
		return "1" + core[len(core)-1:]
	case core[0] >= 'A' && core[0] <= 'Z':
		return "A" + core[len(core)-1:]
	default:
		return "a" + core[len(core)-1:]
	}
}

// assemble gives paragraphs their whole numbers and tells headings from what asks.
func assemble(raws []raw) []Paragraph {
	var out []Paragraph
	var stack []string // labels from the article down
	under, above := "", ""
	for _, r := range raws {
		text := strings.Join(strings.Fields(r.text), " ")
		if r.row {
			text = rowText(r.text)
		}
		if endLine.MatchString(text) || text == "" && r.label == "" {
			continue
		}
		p := Paragraph{Text: text, Under: under, Place: r.place}
		switch {
		case r.label == "":
			p.Number = fmt.Sprintf("¶ %d", len(out)+1)
		case strings.HasPrefix(strings.ToUpper(r.label), "SECTION"):
			p.Number, stack, p.Heading = r.label, nil, true
			above = r.label
		case strings.HasPrefix(strings.ToUpper(r.label), "PART"):
			p.Number, stack, p.Heading = r.label, nil, true
		default:
			stack = deeper(stack, r.label)
			p.Number = reference(stack)
		}
		p.Heading = p.Heading || isHeading(r, text)
		if p.Heading {
			if under = text; above != "" && r.label != above && r.label != "" {
				p.Under = above
			}
		}
		if len(out) == mostParagraphs {
			break
		}
		out = append(out, p)
	}
	return out
}

// deeper is the stack with a label in its place: that of its own form, or one further down.
func deeper(stack []string, label string) []string {
	if decimal.MatchString(label) {
		return []string{label}
	}
	want := form(label)
	for i, l := range stack {
		if !decimal.MatchString(l) && form(l) == want {
			return append(stack[:i:i], label)
		}
	}
	return append(stack[:len(stack):len(stack)], label)
}

// reference is the whole number: 2.01 A 1.
func reference(stack []string) string {
	var out []string
	for _, l := range stack {
		out = append(out, strings.Trim(l, "()."))
	}
	return strings.Join(out, " ")
}

// rowText writes a row of a table as "name: value; value".
func rowText(row string) string {
	var out []string
	for c := range strings.SplitSeq(row, "\t") {
		if c = strings.Join(strings.Fields(c), " "); c != "" {
			out = append(out, c)
		}
	}
	if len(out) < 2 {
		return strings.Join(out, "")
	}
	return strings.TrimSuffix(out[0], ":") + ": " + strings.Join(out[1:], "; ")
}

// isHeading is true for a few words that name what follows: in capitals, or numbered as an
// article and without a verb or a number.
func isHeading(r raw, text string) bool {
	if r.row || len(text) > 90 || strings.ContainsAny(text, "0123456789:;") || strings.HasSuffix(text, ".") {
		return false
	}
	letters := strings.IndexFunc(text, unicode.IsLetter) >= 0
	if letters && strings.ToUpper(text) == text && len(text) > 3 {
		return true
	}
	return decimal.MatchString(r.label) && len(strings.Fields(text)) <= 5 && !asks.MatchString(text)
}
