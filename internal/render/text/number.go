package text

import (
	"fmt"
	"math"
	"strings"

	"seatward/basis"
	"seatward/quantity"
)

// none stands in a table where there is no number.
const none = "-"

// roughFigures is as many figures as a loss coefficient bears.
const roughFigures = 2

// number prints a value in the chosen units without the unit: shares to two figures,
// the rest as its kind has it everywhere.
func (p *page) number(kind quantity.Kind, si float64) string {
	v := p.opt.Units.In(kind, si)
	if math.IsNaN(v) {
		return none
	}
	if kind == quantity.Fraction {
		return quantity.Figures(v, 2)
	}
	return p.opt.Units.Number(kind, si)
}

// num prints a value as a table does; a dash where it is not known.
func (p *page) num(v basis.Value) string {
	if !v.Known() {
		return none
	}
	return p.number(v.Kind, v.SI)
}

// val prints a value with its unit.
func (p *page) val(v basis.Value) string {
	if !v.Known() {
		return "unknown"
	}
	if v.Kind == quantity.Time { // its unit depends on its size
		return p.opt.Units.Format(v.Kind, v.SI)
	}
	return p.withUnit(v.Kind, p.num(v))
}

// withUnit puts the unit of the kind behind a number.
func (p *page) withUnit(kind quantity.Kind, number string) string {
	unit := p.opt.Units.Unit(kind)
	switch {
	case kind == quantity.AnnualCost:
		return number + " per year"
	case unit == "" || kind == quantity.Cost:
		return number
	case unit == "%" || unit == "°":
		return number + unit
	}
	return number + " " + unit
}

// band prints the range of a value without the unit: "0.69 to 1.31".
func (p *page) band(v basis.Value) string {
	switch {
	case !v.Known():
		return none
	case !v.Ranged():
		return p.num(v)
	}
	low, high := p.number(v.Kind, v.Low), p.number(v.Kind, v.High)
	if v.Kind == quantity.Time { // its unit depends on its size
		return v.FormatRange(p.opt.Units)
	}
	if low == high {
		return low
	}
	return low + " to " + high
}

// bandUnit prints the range of a value with the unit.
func (p *page) bandUnit(v basis.Value) string {
	if !v.Known() {
		return "unknown"
	}
	return p.withUnit(v.Kind, p.band(v))
}

// head makes the head of a column: a word and, below it, the unit of the kind.
func (p *page) head(word string, kind quantity.Kind) string {
	return word + "\n" + p.opt.Units.Unit(kind)
}

// headIn is head for a column that has the unit in words.
func headIn(word, unit string) string { return word + "\n" + unit }

// plural counts things: "1 pump", "2 pumps".
func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// times counts how often: "once", "3 times".
func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

// sentence starts with a capital and ends with a stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return s
	}
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	for i, r := range s { // the first letter, whatever its length
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// distinct keeps the first of equal texts.
func distinct(texts []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range texts {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}
