package document

import (
	"regexp"
	"strconv"
	"strings"

	"seatward/quantity"
)

// figures is to how many figures a calculation prints what it works with: more than a result
// deserves, so that a reader with a pocket calculator comes to the same last figure. A number
// with fewer is exact.
const figures = 5

// printed is a number of a calculation. One that is exact with a figure more, such as
// 9.80665, has it.
func printed(v float64) string {
	for n := figures; n <= figures+1; n++ {
		text := quantity.Figures(v, n)
		if x, err := strconv.ParseFloat(text, 64); err != nil || !nearly(x, v) || strings.ContainsAny(text, "eE") {
			continue
		}
		if strings.Contains(text, ".") {
			text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
		}
		return strings.Replace(text, "-", "−", 1)
	}
	return strings.ReplaceAll(quantity.Figures(v, figures), "-", "−")
}

// nearly is true for a number that differs by round-off alone, as from a change of units.
func nearly(x, v float64) bool {
	d := x - v
	if v < 0 {
		d, v = -d, -v
	}
	return d <= 1e-9*v && d >= -1e-9*v
}

// operand is a number that equations are made with: its symbol, how it is printed, and the
// cell in which a workbook finds it.
type operand struct{ symbol, text, cell string }

// equations writes the numbered equations of a calculation, each with its symbols, with the
// numbers put in, and with its result; a workbook computes each from the cells that it names.
type equations struct {
	*sheet
	known map[string]operand
	n     int // the last equation's number
	t     *Table
	under []string // remarks that stand under the table
}

func (w *sheet) equations() *equations { return &equations{sheet: w, known: map[string]operand{}} }

// begin starts a table of equations.
func (e *equations) begin(id, caption string) {
	e.t = &Table{ID: id, Caption: e.say(caption), Columns: []Column{
		e.column("No.", 0.07), e.column("Quantity, equation, numbers put in", 0.63),
		{Title: e.say("Result"), Width: 0.16, Right: true},
		e.column("Unit", 0.14),
	}}
}

// end puts the table.
func (e *equations) end() {
	if len(e.t.Rows) > 0 {
		e.put(*e.t)
	}
	for _, t := range e.under {
		e.text(Source, t)
	}
	e.under = nil
}

// group is a heading over equations.
func (e *equations) group(title string) {
	e.t.Rows = append(e.t.Rows, Row{Group: true, Cells: []Cell{{Text: e.say(title), Bold: true}}})
}

// equation is one step. A formula is written as spreadsheets write it, with the names of
// operands in braces; Shown stands for it in print where it says more. A step without a
// formula is a number that is put in, and Note says from where.
type equation struct {
	id, name, symbol string
	formula, shown   string
	note             string
	value            float64
	unit             string
}

// add writes a step.
func (e *equations) add(x equation) {
	e.n++
	number := "(" + strconv.Itoa(e.n) + ")"
	text := e.say(x.name) + ": " + x.symbol
	if x.formula != "" {
		shown := x.formula
		if x.shown != "" {
			shown = x.shown
		}
		text += " = " + e.fill(shown, func(o operand) string { return o.symbol }, " ")
		if put := e.fill(shown, func(o operand) string { return o.text }, " × "); strings.Contains(shown, "{") {
			text += " = " + put
		}
	}
	if x.note != "" {
		text = joined("; ", text, e.say(x.note))
	}
	c := Cell{Text: printed(x.value), Number: x.value, Numeric: true, Formula: e.live(x.formula)}
	e.t.Rows = append(e.t.Rows, Row{ID: x.id, Cells: []Cell{{Text: number}, {Text: text}, c, {Text: x.unit}}})
	e.known[x.id] = operand{x.symbol, bracketed(c.Text), e.t.ID + "." + x.id}
}

// input is a cell of a table of inputs, which equations may name by the alias. At counts the
// numbers of its row.
func (e *equations) input(alias, symbol, table, row string, at int, v float64) Cell {
	cell := table + "." + row
	if at > 1 {
		cell += ":" + strconv.Itoa(at)
	}
	e.known[alias] = operand{symbol, bracketed(printed(v)), cell}
	return Cell{Text: printed(v), Number: v, Numeric: true}
}

// bracketed sets a number below zero in brackets.
func bracketed(s string) string {
	if strings.HasPrefix(s, "−") {
		return "(" + s + ")"
	}
	return s
}

var (
	braces = regexp.MustCompile(`\{([^}]*)\}`)
	digits = regexp.MustCompile(`\d+\.\d{6,}|\d{7,}\.\d+`)
	single = regexp.MustCompile(`√\(([^() ]+)\)`)
	powers = strings.NewReplacer("^2", "²", "^3", "³", "^4", "⁴")
	signs  = strings.NewReplacer(" - ", " − ", "(-", "(−", "PI()", "π", "SQRT(", "√(", "LOG10(", "log₁₀(")
)

// fill writes a formula as people do, with what is to stand for its operands.
func (e *equations) fill(formula string, of func(operand) string, times string) string {
	s := digits.ReplaceAllStringFunc(formula, func(long string) string {
		x, err := strconv.ParseFloat(long, 64)
		if err != nil {
			return long
		}
		return strings.TrimRight(strings.TrimRight(quantity.Figures(x, 6), "0"), ".")
	})
	s = signs.Replace(powers.Replace(s))
	s = strings.ReplaceAll(s, " * ", times)
	if strings.HasPrefix(s, "-") {
		s = "−" + s[1:]
	}
	s = braces.ReplaceAllStringFunc(s, func(name string) string {
		return of(e.known[name[1:len(name)-1]])
	})
	return single.ReplaceAllString(s, "√$1")
}

// live is the formula with the cells of its operands.
func (e *equations) live(formula string) string {
	return braces.ReplaceAllStringFunc(formula, func(name string) string {
		return "{" + e.known[name[1:len(name)-1]].cell + "}"
	})
}

// literal writes a constant of a formula with all its figures.
func literal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
