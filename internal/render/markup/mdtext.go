package markup

import (
	"strings"
	"unicode"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// signs have a meaning anywhere in a line.
const signs = "\\`*_[]<>|~&#$"

// escaped is a line in which no sign has a meaning. Spaces at its ends, which would have
// one, go.
func escaped(line string) string {
	line = strings.TrimFunc(line, unicode.IsSpace)
	var b strings.Builder
	digits := true // so far the line may begin a numbered list
	for i, r := range line {
		switch {
		case strings.ContainsRune(signs, r), i == 0 && strings.ContainsRune("+-=:", r), digits && i > 0 &&
			(r == '.' || r == ')') && (i+1 == len(line) || line[i+1] == ' '):
			b.WriteByte('\\')
		}
		digits = digits && r >= '0' && r <= '9'
		b.WriteRune(r)
	}
	return b.String()
}

// lines are those of a text that say something.
func lines(s string) []string {
	var all []string
	for line := range strings.SplitSeq(wording.Clean(s), "\n") {
		if line = escaped(line); line != "" {
			all = append(all, line)
		}
	}
	return all
}

// plain is a text on one line.
func plain(s string) string { return escaped(strings.Join(strings.Fields(wording.Clean(s)), " ")) }

// text is a text whose lines after the first begin with the indent.
func text(s, indent string) string { return strings.Join(lines(s), "\\\n"+indent) }

// cell is a text in a table, where a line end ends the row.
func cell(s string) string { return strings.Join(lines(s), "<br>") }

// table writes a table. Every one has heads; those of a form are empty.
func (m *md) table(t document.Table) {
	if len(t.Columns) == 0 {
		return
	}
	rule := "|"
	for i, c := range t.Columns {
		head := ""
		if !t.Form {
			head = cell(c.Title)
			if c.Unit != "" {
				head = strings.TrimSpace(head + " (" + cell(c.Unit) + ")")
			}
		}
		m.put("| %s ", head)
		rule += " --- |"
		if side(t, i) != "" {
			rule = strings.TrimSuffix(rule, " |") + ": |"
		}
	}
	m.put("|\n%s\n", rule)
	if len(t.Rows) == 0 {
		m.put("| %s %s|\n", wording.Empty, strings.Repeat("| ", len(t.Columns)-1))
	}
	for _, r := range t.Rows {
		for i := range t.Columns {
			s := ""
			if i < len(r.Cells) {
				c := r.Cells[i]
				s = cell(wording.Cell(c))
				switch {
				case c.Blank && s == "":
					s = `\_\_\_\_`
				case (c.Bold || r.Group) && s != "" && !strings.Contains(s, "<br>"):
					s = "**" + s + "**"
				}
			}
			m.put("| %s ", s)
		}
		m.put("|\n")
	}
	m.put("\n")
}
