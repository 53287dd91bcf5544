package xlsx

import (
	"fmt"
	"strconv"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// value is what the cells of a number hold: a format that shows its digits as printed,
// and what stands after the number, which is its unit as a rule.
type value struct{ format, after string }

// read takes a numeric cell apart. A text that does not begin with a number stands after
// it as a whole, so that no text is lost.
func read(c document.Cell) value {
	text := strings.TrimSpace(wording.Clean(c.Text))
	number, after := leading(text)
	v := value{format: "General", after: strings.TrimSpace(after)}
	if number != "" {
		v.format = digits(number)
	}
	if text == "" {
		v.after = wording.Clean(c.Unit)
	}
	if sign := strings.TrimSpace(wording.Marked("", c.Tone)); sign != "" {
		v.format = `"` + sign + ` "` + v.format
	}
	return v
}

// leading cuts a text after the number that it begins with.
func leading(text string) (number, after string) {
	plain := strings.ReplaceAll(text, "−", "-")
	end := strings.IndexFunc(plain, func(r rune) bool { return !strings.ContainsRune("+-.0123456789eE", r) })
	if end < 0 {
		end = len(plain)
	}
	for ; end > 0; end-- {
		if _, err := strconv.ParseFloat(plain[:end], 64); err == nil {
			return plain[:end], plain[end:]
		}
	}
	return "", text
}

// digits is the number format that shows as many digits as the text.
func digits(number string) string {
	mantissa, exponent, powers := strings.Cut(strings.ToLower(number), "e")
	format := "0"
	if _, decimals, some := strings.Cut(mantissa, "."); some && decimals != "" {
		format += "." + strings.Repeat("0", min(len(decimals), 15))
	}
	if powers {
		format += "E+" + strings.Repeat("0", max(1, min(3, len(strings.TrimLeft(exponent, "+-")))))
	}
	return format
}

// formula puts addresses in place of the names of cells.
func (s *sheet) formula(f string, column int) (string, error) {
	var b strings.Builder
	for rest := f; rest != ""; {
		before, from, found := strings.Cut(rest, "{")
		b.WriteString(before)
		if !found {
			break
		}
		name, after, closed := strings.Cut(from, "}")
		if !closed {
			return "", fmt.Errorf("formula %q has a brace that is not closed", f)
		}
		address := s.find(name, column)
		if address == "" {
			return "", fmt.Errorf("formula %q names {%s}: no row of a table is called so, or it has no cell for a number", f, name)
		}
		b.WriteString(address)
		rest = after
	}
	return b.String(), nil
}

// find is the address of {row} in the same column, of {table.row}, or of {table.row:2}, the
// second number of a row; "" for none.
func (s *sheet) find(name string, column int) string {
	for i, r := range s.table.Rows {
		if r.ID == name && name != "" {
			return at(s.column(column), s.top+i)
		}
	}
	for _, t := range s.tables {
		row, here := strings.CutPrefix(name, t.table.ID+".")
		if !here || t.table.ID == "" {
			continue
		}
		row, nth := place(row)
		for i, r := range t.table.Rows {
			if r.ID != row || row == "" {
				continue
			}
			if k := numberCell(r, nth); k >= 0 {
				return quoted(t.name) + "!$" + strings.TrimSuffix(at(t.column(k), 1), "1") + fmt.Sprintf("$%d", t.top+i)
			}
		}
	}
	return ""
}

// place cuts the count of a number off the name of a row.
func place(name string) (row string, nth int) {
	row, count, counted := strings.Cut(name, ":")
	if n, err := strconv.Atoi(count); counted && err == nil {
		return row, n
	}
	return name, 1
}

// numberCell is the nth cell of a row that has a number, or else the first to be filled in
// with one.
func numberCell(r document.Row, nth int) int {
	blank := -1
	for i, c := range r.Cells {
		if c.Numeric {
			if nth--; nth == 0 {
				return i
			}
		}
		if c.Blank && blank < 0 {
			blank = i
		}
	}
	return blank
}
