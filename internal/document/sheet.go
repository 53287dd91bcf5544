package document

import (
	"strconv"
	"strings"

	"seatward/basis"
	"seatward/internal/figure"
	"seatward/quantity"
)

// sheet is a document being written. Every number of the study goes through one of its
// methods, so that it is printed in one way and recorded as a quote.
type sheet struct {
	*Dossier
	d *Document
}

func (w *sheet) put(b ...Block) { w.d.Blocks = append(w.d.Blocks, b...) }

// say gives a phrase in the user's wording.
func (w *sheet) say(phrase string, pairs ...string) string { return w.Wording.say(phrase, pairs...) }

func (w *sheet) heading(level int, phrase string) { w.put(Heading{level, w.say(phrase)}) }

// text puts a phrase of the document as a paragraph.
func (w *sheet) text(tone Tone, phrase string, pairs ...string) {
	w.put(Paragraph{Text: w.say(phrase, pairs...), Tone: tone})
}

// number prints a value without its range, and records it.
func (w *sheet) number(path string, v basis.Value) string {
	if !v.Known() {
		return w.say("not given")
	}
	return w.quote(path, v.Kind, v.SI)
}

// quote prints a number of the study, and records it.
func (w *sheet) quote(path string, kind quantity.Kind, si float64) string {
	text := w.units().Format(kind, si)
	w.d.Quotes = append(w.d.Quotes, Quote{path, kind, si, text})
	return text
}

// both prints a value in both systems, the document's first.
func (w *sheet) both(path string, v basis.Value) string {
	if !v.Known() {
		return w.say("not given")
	}
	other := quantity.US
	if w.units() == quantity.US {
		other = quantity.SI
	}
	first, second := w.number(path, v), other.Format(v.Kind, v.SI)
	if first == second {
		return first
	}
	return first + "  ·  " + second
}

// cell is a value with its unit.
func (w *sheet) cell(path string, v basis.Value) Cell {
	c := Cell{Text: w.number(path, v)}
	if !v.Known() {
		c.Tone = Open
		return c
	}
	return w.full(c, v.Kind, v.SI)
}

// full gives a printed number its whole value, in the unit in which it is printed, so
// that formulas do not add up rounded numbers.
func (w *sheet) full(c Cell, kind quantity.Kind, si float64) Cell {
	c = numeric(c)
	if c.Numeric && c.Unit == w.units().Unit(kind) {
		c.Number = w.units().In(kind, si)
	}
	return c
}

// bare is a value without its unit, for a column that has it.
func (w *sheet) bare(path string, kind quantity.Kind, si float64) Cell {
	c := w.full(Cell{Text: w.quote(path, kind, si)}, kind, si)
	if unit := w.units().Unit(kind); unit != "" && c.Unit == unit {
		c.Text = strings.TrimRight(strings.TrimSuffix(c.Text, unit), " ")
	}
	return c
}

// of is bare for a value that may be unknown.
func (w *sheet) of(path string, v basis.Value) Cell {
	if !v.Known() {
		return Cell{Text: "–", Tone: Open}
	}
	return w.bare(path, v.Kind, v.SI)
}

// seconds prints a time to a hundredth of a second, without the unit.
func (w *sheet) seconds(path string, s float64) Cell {
	text := strconv.FormatFloat(s, 'f', 2, 64)
	w.d.Quotes = append(w.d.Quotes, Quote{path, quantity.Time, s, text + " s"})
	return numeric(Cell{Text: text})
}

// numeric gives a cell its number, as far as it is shown.
func numeric(c Cell) Cell {
	number, unit, _ := strings.Cut(c.Text, " ")
	if cut, percent := strings.CutSuffix(number, "%"); percent {
		number, unit = cut, "%"
	}
	if cut, degrees := strings.CutSuffix(number, "°"); degrees {
		number, unit = cut, "°"
	}
	if x, err := strconv.ParseFloat(strings.ReplaceAll(number, "−", "-"), 64); err == nil {
		c.Number, c.Unit, c.Numeric = x, unit, true
	}
	return c
}

// field is what the profile says, or a blank that is listed as missing.
func (w *sheet) field(name, text string) Cell {
	if text != "" {
		return Cell{Text: text}
	}
	w.missing(name)
	return Cell{Blank: true}
}

func (w *sheet) missing(name string) {
	name = w.say(name)
	for _, m := range w.d.Missing {
		if m == name {
			return
		}
	}
	w.d.Missing = append(w.d.Missing, name)
}

// form is a table of names and what they tell.
type form struct {
	w *sheet
	t Table
}

func (w *sheet) form(id, caption string) *form {
	t := Table{ID: id, Form: true, Columns: []Column{{Width: 0.32}, {Width: 0.68}}}
	if caption != "" {
		t.Caption = w.say(caption)
	}
	return &form{w, t}
}

// add puts a row with an ID, by which formulas find it.
func (f *form) add(id, label string, c Cell) *form {
	f.t.Rows = append(f.t.Rows, Row{ID: id, Cells: []Cell{{Text: f.w.say(label)}, c}})
	return f
}

// words puts a row of words; one without words is left out.
func (f *form) words(label, text string) *form {
	if text == "" {
		return f
	}
	return f.add("", label, Cell{Text: text})
}

// value puts a row with a value and its unit.
func (f *form) value(label, path string, v basis.Value) *form {
	return f.add("", label, f.w.cell(path, v))
}

func (f *form) put() {
	if len(f.t.Rows) > 0 {
		f.w.put(f.t)
	}
}

// column makes a column's head; a number column has the unit of its kind.
func (w *sheet) column(title string, width float64) Column {
	return Column{Title: w.say(title), Width: width}
}

func (w *sheet) numbers(title string, kind quantity.Kind) Column {
	return Column{Title: w.say(title), Unit: w.units().Unit(kind), Right: true}
}

// figure puts a chart.
func (w *sheet) figure(f *figure.Figure, caption, text string) {
	w.put(Figure{Figure: f, Caption: w.say(caption), Text: w.say(text)})
}

// cautions puts the cautions of the study that have one of the IDs; all where none is named.
func (w *sheet) cautions(ids ...string) {
	w.heading(2, "Cautions")
	for _, c := range w.Study.Cautions {
		if c.ID == "moving-parts" && !w.moves().Lever {
			continue // nothing moves outside
		}
		for _, id := range ids {
			if c.ID == id {
				w.put(Paragraph{Text: c.Text, Tone: Warning})
			}
		}
		if len(ids) == 0 {
			w.put(Paragraph{Text: c.Text, Tone: Warning})
		}
	}
}

// sentence begins with a capital and ends with a stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return s
	}
	r := []rune(unmarked(s))
	s = raised(s)
	if !strings.ContainsRune(".?!:", r[len(r)-1]) {
		s += "."
	}
	return s
}

// decimal is a count in digits.
func decimal(n int) string { return strconv.Itoa(n) }
