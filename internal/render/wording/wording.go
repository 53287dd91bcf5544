// Package wording is what the formats of a document have in common: the words that stand
// for a tone, texts made fit for XML, choices in brackets, and what no format can write.
package wording

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"seatward/internal/document"
)

// Empty stands in a table that has columns and no rows.
const Empty = "none"

// Clean makes a text fit for XML: line ends become \n, control characters go, and what is
// not UTF-8 becomes the replacement character.
func Clean(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.ToValidUTF8(s, "\uFFFD"))
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n':
			return r
		case r < ' ' || r >= 0x7F && r <= 0x9F || r == 0xFFFE || r == 0xFFFF:
			return -1
		}
		return r
	}, s)
}

// Label is the word before a paragraph: the author's own, or the one of its tone, so
// that no tone is shown by color alone.
func Label(p document.Paragraph) string {
	if p.Label != "" {
		return p.Label
	}
	switch p.Tone {
	case document.Warning:
		return "Warning"
	case document.Advice:
		return "Note to the specifier"
	}
	return ""
}

// Marked puts the sign of a tone before a text, unless it begins with it already.
func Marked(text string, tone document.Tone) string {
	sign := ""
	switch tone {
	case document.Good:
		sign = "✓"
	case document.Bad:
		sign = "✗"
	case document.Open:
		sign = "?"
	case document.Warning:
		sign = "!"
	}
	if sign == "" || strings.HasPrefix(text, sign) {
		return text
	}
	return strings.TrimRight(sign+" "+text, " ")
}

// Cell is the text of a cell as read, with the sign of its tone.
func Cell(c document.Cell) string {
	if c.Blank && c.Text == "" {
		return ""
	}
	return Marked(c.Text, c.Tone)
}

// Span is a piece of a clause.
type Span struct {
	Text   string
	Choice bool // with its brackets
}

// Choices cuts a text at its outermost brackets. A bracket without its other half is text.
func Choices(text string) []Span {
	var spans []Span
	add := func(s string, choice bool) {
		if s != "" {
			spans = append(spans, Span{s, choice})
		}
	}
	for {
		from := strings.IndexByte(text, '[')
		if from < 0 {
			break
		}
		depth, to := 0, -1
		for i := from; i < len(text) && to < 0; i++ {
			switch text[i] {
			case '[':
				depth++
			case ']':
				if depth--; depth == 0 {
					to = i + 1
				}
			}
		}
		if to < 0 {
			break
		}
		add(text[:from], false)
		add(text[from:to], true)
		text = text[to:]
	}
	add(text, false)
	return spans
}

// Needs are, for each column, the characters of its longest line and of its longest word.
func Needs(t *document.Table) (lines, words []int) {
	lines, words = make([]int, len(t.Columns)), make([]int, len(t.Columns))
	take := func(i int, text string) {
		for line := range strings.SplitSeq(text, "\n") {
			lines[i] = max(lines[i], utf8.RuneCountInString(line))
			for word := range strings.FieldsSeq(line) {
				words[i] = max(words[i], utf8.RuneCountInString(word))
			}
		}
	}
	for i, c := range t.Columns {
		if !t.Form {
			take(i, c.Title)
			take(i, c.Unit)
		}
		for _, r := range t.Rows {
			if !r.Group && i < len(r.Cells) {
				take(i, Cell(r.Cells[i]))
			}
		}
	}
	return lines, words
}

// Check tells what no format can write, so that nothing is lost in silence.
func Check(d *document.Document) error {
	for i, b := range d.Blocks {
		if err := check(b); err != nil {
			return fmt.Errorf("block %d of %q: %w", i+1, d.Title, err)
		}
	}
	return nil
}

func check(b document.Block) error {
	switch b := b.(type) {
	case document.Heading:
		if b.Level < 1 || b.Level > 3 {
			return fmt.Errorf("heading %q has level %d: 1, 2 or 3 expected", b.Text, b.Level)
		}
	case document.Clause:
		if b.Level < 0 || b.Level > 4 {
			return fmt.Errorf("clause %q has level %d: 0 to 4 expected", b.Number, b.Level)
		}
	case document.Space:
		if !(b.HeightMM > 0 && b.HeightMM <= 250) {
			return fmt.Errorf("the frame %q is %g mm high: above 0 and at most 250 mm expected", b.Title, b.HeightMM)
		}
	case document.Figure:
		if b.Figure == nil {
			return fmt.Errorf("figure %q has no drawing", b.Caption)
		}
	case document.Table:
		return checkTable(&b)
	case document.Paragraph, document.List, document.Listing, document.Code, document.Contents, document.Break:
	default:
		return fmt.Errorf("a block of kind %T, which no format knows", b)
	}
	return nil
}

func checkTable(t *document.Table) error {
	for _, c := range t.Columns {
		if !(c.Width >= 0 && c.Width <= math.MaxInt32) {
			return fmt.Errorf("table %q: column %q has width %g: 0 or a share expected", t.Caption, c.Title, c.Width)
		}
	}
	for i, r := range t.Rows {
		if len(r.Cells) > len(t.Columns) {
			return fmt.Errorf("table %q: row %d has %d cells and the table %d columns", t.Caption, i+1, len(r.Cells),
				len(t.Columns))
		}
		if r.Group && len(r.Cells) > 1 {
			return fmt.Errorf("table %q: row %d is a heading over rows and has %d cells: one expected", t.Caption, i+1,
				len(r.Cells))
		}
		for _, c := range r.Cells {
			if c.Numeric && (math.IsNaN(c.Number) || math.IsInf(c.Number, 0)) {
				return fmt.Errorf("table %q: row %d: %q stands for %g, which is no number", t.Caption, i+1, c.Text,
					c.Number)
			}
		}
	}
	return nil
}
