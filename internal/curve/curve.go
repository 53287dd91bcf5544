// Package curve reads a pump curve as it comes out of a spreadsheet: rows parted by tabs,
// semicolons, commas or blanks, with or without a heading and units, with decimal points or
// decimal commas. Rows that cannot be read are reported with their line, never left out in
// silence.
package curve

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"seatward/diag"
	"seatward/internal/table"
	"seatward/quantity"
)

// MostBytes is the longest table that is read.
const MostBytes = 100_000

// Column is one column of the table: what it measures and in which unit.
type Column struct {
	Name  string // its heading; "" where it has none
	Kind  quantity.Kind
	Unit  string
	Given bool // the unit stands in the heading or in the cells
	at    int  // index in the rows of the table
}

// Row is one point, in SI, with the texts of its cells in the units of the columns.
type Row struct {
	Line   int
	SI     []float64 // by column
	Values []float64 // in the unit of the column
}

// Bad is a row that is no point.
type Bad struct {
	Line    int
	Text    string
	Why     string
	Choices []string // what a number of it may mean
}

// Curve is a table that was read. Rows rise with the flow.
type Curve struct {
	Columns []Column
	Rows    []Row
	Bad     []Bad
	Notes   []string // what was taken for granted
}

// heads are the words of headings, by kind; the first column of a kind counts.
var heads = []struct {
	kind quantity.Kind
	re   *regexp.Regexp
}{
	{quantity.Flow, regexp.MustCompile(`(?i)\b(?:flow(?: ?rate)?|capacity|discharge|q|gpm|l/s|m3/h|m³/h|mgd|volumenstrom|förderstrom)\b`)},
	{quantity.Fraction, regexp.MustCompile(`(?i)\b(?:eff(?:iciency)?\.?|eta|η)|%|η`)},
	{quantity.Power, regexp.MustCompile(`(?i)\b(?:power|bhp|hp|kw|p2|shaft)\b`)},
	{quantity.Number, regexp.MustCompile(`(?i)\b(?:npsh[ar]?|speed|rpm|no\.?|point|#)\b`)}, // of no use here
	{quantity.Head, regexp.MustCompile(`(?i)\b(?:head|tdh|h|ft|feet|m|förderhöhe)\b`)},
}

// Read reads a table. Bare numbers are in the units of the reading's system; a comma that may
// mean two things is settled by the other numbers of the table, by reading.Comma, or asked.
func Read(text string, reading quantity.Reading) (*Curve, diag.List) {
	if len(text) > MostBytes {
		return nil, fault("table-too-long", "the table is too long", fmt.Sprintf("at most %d characters", MostBytes),
			"paste the points of the curve only")
	}
	sheets, list := table.Read("pasted table", []byte(aligned(text)), table.Options{})
	if list.Err() != nil {
		return nil, list
	}
	if len(sheets) == 0 || len(sheets[0].Rows) == 0 {
		return nil, fault("table-empty", "there is no table", "rows of a flow and a head", "paste the points of the curve")
	}
	c := &Curve{}
	rows := sheets[0].Rows
	first := c.columns(rows, reading)
	if !slices.ContainsFunc(c.Columns, func(k Column) bool { return k.Kind == quantity.Flow }) || len(c.Columns) < 2 {
		return nil, fault("table-columns", "no column of flow with one of head, efficiency or power beside it",
			"two columns or more, such as flow and head", "paste both columns of the curve")
	}
	if reading.Comma == quantity.CommaUnsaid {
		reading.Comma = c.comma(rows[first:])
	}
	for i := first; i < len(rows); i++ {
		c.row(i+1, rows[i], reading)
	}
	c.order()
	return c, nil
}

func fault(id, text, expected, mend string) diag.List {
	return diag.List{{ID: id, Place: diag.Place{File: "pasted table", Line: 1, Col: 1}, Text: text, Expected: expected, Mend: mend}}
}

var (
	blanks     = regexp.MustCompile(`[ \x{a0}]{2,}|[ \x{a0}]*\|[ \x{a0}]*`)
	apart      = regexp.MustCompile(`^\s*([\d.,]+)\s+([\d.,]+(?:\s+[\d.,]+)*)\s*$`)
	quotedCell = regexp.MustCompile(`(?m)(?:^|[\t;,])"`)
	oneCell    = regexp.MustCompile(`[\t;|]| {2,}`)
)

// aligned makes the cells of a table that came out of a mail or a document parted by tabs;
// one that has tabs or semicolons is left alone.
func aligned(text string) string {
	if !quotedCell.MatchString(text) {
		text = strings.ReplaceAll(text, `"`, "″") // an inch mark, which opens no cell
	}
	if strings.ContainsAny(text, "\t;") {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		t := strings.Trim(strings.TrimSpace(l), "|")
		switch {
		case oneCell.MatchString(t):
			lines[i] = blanks.ReplaceAllString(strings.TrimSpace(t), "\t")
		case apart.MatchString(t):
			lines[i] = strings.Join(strings.Fields(t), "\t")
		case strings.Contains(t, ", "):
			lines[i] = strings.ReplaceAll(t, ", ", "\t")
		}
	}
	return strings.Join(lines, "\n")
}

// columns finds what the columns are, and gives the first row of numbers.
func (c *Curve) columns(rows [][]table.Cell, reading quantity.Reading) int {
	first := 0
	for first < len(rows) && !numeric(rows[first]) {
		first++
	}
	width := 0
	for _, r := range rows[first:] {
		width = max(width, len(r))
	}
	taken := map[quantity.Kind]bool{}
	for at := range width {
		name := heading(rows[:first], at)
		kind, unit, ok := kindOf(name, rows[first:], at)
		switch {
		case ok:
			ok = kind != quantity.Number && !taken[kind]
		case name == "" && len(c.Columns) < 2:
			kind, ok = nextKind(taken), true
		}
		if !ok {
			if name != "" {
				c.Notes = append(c.Notes, fmt.Sprintf("the column %q is not read", name))
			}
			continue
		}
		taken[kind] = true
		col := Column{Name: name, Kind: kind, Unit: unit, Given: unit != "", at: at}
		if col.Unit == "" {
			col.Unit = reading.System.Unit(kind)
			if kind != quantity.Fraction {
				c.Notes = append(c.Notes, fmt.Sprintf("the column of %s has no unit; it is taken in %s", kind, col.Unit))
			}
		}
		c.Columns = append(c.Columns, col)
	}
	sort.SliceStable(c.Columns, func(i, j int) bool {
		return c.Columns[i].Kind == quantity.Flow && c.Columns[j].Kind != quantity.Flow
	})
	return first
}

func nextKind(taken map[quantity.Kind]bool) quantity.Kind {
	if !taken[quantity.Flow] {
		return quantity.Flow
	}
	return quantity.Head
}

var startsNumber = regexp.MustCompile(`^[+-]?[\d.,½¼¾]`)

// numeric is true for a row of which two cells begin with a number.
func numeric(row []table.Cell) bool {
	n := 0
	for _, cell := range row {
		if startsNumber.MatchString(strings.TrimSpace(cell.Text)) {
			n++
		}
	}
	return n >= 2
}

// heading joins the cells above a column.
func heading(rows [][]table.Cell, at int) string {
	var parts []string
	for _, r := range rows {
		if at < len(r) {
			if t := strings.Join(strings.Fields(r[at].Text), " "); t != "" {
				parts = append(parts, t)
			}
		}
	}
	return strings.Join(parts, " ")
}

var inBrackets = regexp.MustCompile(`[\[(]([^\])]*)[\])]|[,/:] *([^,]+)$|^(\S+)$| in (\S+)$|(\S+)$`)

// kindOf is what a column measures, by its heading or by the units in its cells.
func kindOf(name string, rows [][]table.Cell, at int) (quantity.Kind, string, bool) {
	for _, h := range heads {
		if name == "" || !h.re.MatchString(name) {
			continue
		}
		if h.kind == quantity.Number {
			return h.kind, "", true
		}
		for _, m := range inBrackets.FindAllStringSubmatch(name, -1) {
			for _, unit := range m[1:] {
				if unit = strings.TrimSpace(unit); unit != "" && knows(h.kind, unit) {
					return h.kind, unit, true
				}
			}
		}
		return h.kind, cellUnit(h.kind, rows, at), true
	}
	for _, kind := range []quantity.Kind{quantity.Flow, quantity.Head, quantity.Power} {
		if unit := cellUnit(kind, rows, at); unit != "" {
			return kind, unit, true
		}
	}
	return 0, "", false
}

func knows(kind quantity.Kind, unit string) bool {
	_, err := quantity.Parse(kind, "1 "+unit)
	return err == nil
}

// cellUnit is the unit in the first cell of a column that carries one of the kind.
func cellUnit(kind quantity.Kind, rows [][]table.Cell, at int) string {
	for _, r := range rows {
		if at >= len(r) {
			continue
		}
		text := strings.TrimSpace(r[at].Text)
		if q, err := (quantity.Reading{Comma: quantity.CommaDecimal}).Parse(kind, text); err == nil && q.Unit != "" {
			return q.Unit
		}
	}
	return ""
}

var (
	surelyDecimal   = regexp.MustCompile(`^\d+,(?:\d{1,2}|\d{4,})$|^0,\d+$`)
	surelyThousands = regexp.MustCompile(`^\d{1,3}(?:,\d{3})+\.\d+$|^\d{1,3}(?:,\d{3}){2,}$`)
	leading         = regexp.MustCompile(`^[\d.,]+`)
)

// comma is what commas mean in the whole table: one writer wrote it.
func (c *Curve) comma(rows [][]table.Cell) quantity.Comma {
	decimal, thousands := false, false
	for _, r := range rows {
		for _, col := range c.Columns {
			if col.at >= len(r) {
				continue
			}
			number := leading.FindString(strings.TrimSpace(r[col.at].Text))
			decimal = decimal || surelyDecimal.MatchString(number)
			thousands = thousands || surelyThousands.MatchString(number) ||
				strings.Contains(number, ".") && !strings.Contains(number, ",")
		}
	}
	switch {
	case decimal && !thousands:
		return quantity.CommaDecimal
	case thousands && !decimal:
		return quantity.CommaThousands
	}
	return quantity.CommaUnsaid
}

// row reads one row.
func (c *Curve) row(line int, cells []table.Cell, reading quantity.Reading) {
	var text []string
	for _, cell := range cells {
		text = append(text, strings.TrimSpace(cell.Text))
	}
	if strings.Join(text, "") == "" {
		return
	}
	whole := strings.Join(text, "  ")
	if len(whole) > 80 {
		whole = strings.ToValidUTF8(whole[:80], "") + "..."
	}
	out := Row{Line: line}
	for _, col := range c.Columns {
		if col.at >= len(text) || text[col.at] == "" {
			c.Bad = append(c.Bad, Bad{Line: line, Text: whole, Why: "no " + col.Kind.String() + " in it"})
			return
		}
		r := reading
		r.Bare, r.Unit = true, col.Unit
		cell := text[col.at]
		if col.Kind == quantity.Fraction && !strings.HasSuffix(cell, "%") && col.Unit == "%" && !c.share(col, cell, r) {
			cell += " %"
		}
		q, err := r.Parse(col.Kind, cell)
		var p *quantity.ParseError
		switch {
		case errors.As(err, &p):
			c.Bad = append(c.Bad, Bad{line, whole, fmt.Sprintf("%q is not %s: %s", p.Text, p.Kind.One(), p.Found), p.Choices})
			return
		case q.SI < 0:
			c.Bad = append(c.Bad, Bad{Line: line, Text: whole, Why: "a " + col.Kind.String() + " below zero"})
			return
		}
		out.SI, out.Values = append(out.SI, q.SI), append(out.Values, inUnit(col, q.SI))
	}
	c.Rows = append(c.Rows, out)
}

// share is true for an efficiency written as a part of one.
func (c *Curve) share(col Column, cell string, r quantity.Reading) bool {
	q, err := r.Parse(quantity.Number, cell)
	return err == nil && q.SI <= 1 && !strings.Contains(col.Name, "%")
}

// inUnit is a value in the unit of its column.
func inUnit(col Column, si float64) float64 {
	zero, err0 := quantity.Parse(col.Kind, "0 "+col.Unit)
	one, err1 := quantity.Parse(col.Kind, "1 "+col.Unit)
	if err0 != nil || err1 != nil || one.SI == zero.SI {
		return si
	}
	return (si - zero.SI) / (one.SI - zero.SI)
}

// order has the flow rise, and takes points of one flow out.
func (c *Curve) order() {
	if !sort.SliceIsSorted(c.Rows, func(i, j int) bool { return c.Rows[i].SI[0] < c.Rows[j].SI[0] }) {
		sort.SliceStable(c.Rows, func(i, j int) bool { return c.Rows[i].SI[0] < c.Rows[j].SI[0] })
		c.Notes = append(c.Notes, "the rows are put in the order of the flow")
	}
	var out []Row
	for _, r := range c.Rows {
		if n := len(out); n > 0 && r.SI[0] == out[n-1].SI[0] {
			c.Bad = append(c.Bad, Bad{
				Line: r.Line, Text: fmt.Sprintf("flow %g %s", r.Values[0], c.Columns[0].Unit),
				Why: fmt.Sprintf("the flow of line %d again", out[n-1].Line),
			})
			continue
		}
		out = append(out, r)
	}
	c.Rows = out
	sort.SliceStable(c.Bad, func(i, j int) bool { return c.Bad[i].Line < c.Bad[j].Line })
}

// Points are the points of a kind beside the flow, as a station file takes them; "" where the
// table has no such column or fewer than two points.
func (c *Curve) Points(kind quantity.Kind) string {
	at := slices.IndexFunc(c.Columns, func(k Column) bool { return k.Kind == kind })
	if at < 1 || len(c.Rows) < 2 {
		return ""
	}
	var points []string
	for _, r := range c.Rows {
		points = append(points, fmt.Sprintf("[%s, %s]",
			written(r.Values[0], c.Columns[0].Unit), written(r.Values[at], c.Columns[at].Unit)))
	}
	return "[" + strings.Join(points, ", ") + "]"
}

func written(v float64, unit string) string {
	number := quantity.Figures(v, 9)
	if strings.Contains(number, ".") && !strings.Contains(number, "e") {
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + unit
}
