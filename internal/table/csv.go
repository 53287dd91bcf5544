package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"seatward/diag"
)

const (
	// delimiters stand in order of preference: commas also stand in decimal numbers,
	// tabs almost nowhere else.
	delimiters = "\t;,"
	looked     = 50        // lines that are looked at to find the delimiter
	evenEnough = 2.0 / 3.0 // of the lines must agree before a given delimiter is called wrong
)

// csv reads one CSV file; it gives no sheet when nothing in it can be read.
func (r *reader) csv(data []byte) []Sheet {
	text, ok := r.decode(data)
	if !ok {
		return nil
	}
	delimiter, ok := r.delimiter(text)
	if !ok {
		return nil
	}
	g := r.grid("")
	records := csv.NewReader(strings.NewReader(text))
	records.Comma, records.FieldsPerRecord, records.ReuseRecord = delimiter, -1, true
	for row := 1; ; row++ {
		start := records.InputOffset()
		record, err := records.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.quotes(err)
			break
		}
		row += blankLines(text[start:])
		if !g.record(row, record) {
			break
		}
	}
	return []Sheet{g.done(sheetName(r.file))}
}

func (g *grid) record(row int, record []string) bool {
	for i, field := range record {
		if !g.set(row, i+1, field) {
			return false
		}
	}
	return true
}

// blankLines counts the blank lines before a record. The CSV library skips them, but
// they are rows of the spreadsheet.
func blankLines(text string) int { return len(text) - len(strings.TrimLeft(text, "\n")) }

func (r *reader) quotes(err error) {
	m := diag.Message{
		ID: "csv-quotes", Text: err.Error(), Expected: `a cell with quotes written as "3"" pipe"`,
		Mend: "put the whole cell in quotes and write each quote in it twice",
	}
	var p *csv.ParseError
	if errors.As(err, &p) {
		m.Place = diag.Place{Line: p.Line, Col: p.Column}
		m.Text = "a quote stands inside a cell that is not in quotes"
		if errors.Is(p.Err, csv.ErrQuote) {
			m.Text = fmt.Sprintf("the quotes of a cell do not close, or text follows them; the row begins in line %d",
				p.StartLine)
		}
	}
	r.fault(m)
}

// delimiter gives the delimiter to use; it reports false when the given one is wrong,
// and has told so.
func (r *reader) delimiter(text string) (rune, bool) {
	given := r.options.Delimiter
	best, share := rune(','), 0.0
	for _, d := range delimiters {
		if s := evenness(text, d); s > share {
			best, share = d, s
		}
	}
	switch {
	case given == 0:
		return best, true
	case strings.ContainsRune("\"\r\n\uFFFD", given) || !utf8.ValidRune(given):
		r.fault(diag.Message{
			ID: "delimiter-unusable", Text: "this character cannot be a delimiter", Found: fmt.Sprintf("%q", given),
			Expected: "a comma, a semicolon or a tab", Mend: "give another delimiter, or none",
		})
		return 0, false
	case best != given && share >= evenEnough && evenness(text, given) == 0:
		r.fault(diag.Message{
			ID: "delimiter-wrong", Place: diag.Place{Line: 1, Col: 1},
			Text: "the delimiter leaves a single column", Found: "delimiter " + delimiterName(given),
			Expected: "delimiter " + delimiterName(best),
			Mend:     "give " + delimiterName(best) + " as the delimiter, or none to have it found",
		})
		return 0, false
	}
	return given, true
}

func delimiterName(d rune) string {
	switch d {
	case '\t':
		return "tab"
	case ',':
		return "comma"
	case ';':
		return "semicolon"
	}
	return fmt.Sprintf("%q", d)
}

// evenness is the share of the first lines that a delimiter cuts into the same number
// of cells, two at least. Quotes are respected where a cell could begin with one,
// whichever delimiter is meant.
func evenness(text string, d rune) float64 {
	lines, shares := 0, map[int]int{}
	cells, blank, quoted, begins := 1, true, false, true
	end := func() {
		if !blank {
			lines++
			shares[cells]++
		}
		cells, blank, begins = 1, true, true
	}
	for _, c := range text {
		switch {
		case quoted:
			quoted = c != '"'
			begins = true // a second quote opens again: together they are one in the cell
			continue
		case c == '\n':
			end()
			if lines == looked {
				return evenest(shares, lines)
			}
			continue
		case c == '"' && begins:
			quoted = true
		case c == d:
			cells++
		}
		blank = false
		begins = c == d || strings.ContainsRune(delimiters, c)
	}
	end()
	return evenest(shares, lines)
}

func evenest(shares map[int]int, lines int) float64 {
	most := 0
	for cells, n := range shares {
		if cells > 1 {
			most = max(most, n)
		}
	}
	return float64(most) / float64(max(lines, 1))
}
