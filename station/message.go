package station

import (
	"fmt"

	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// error records a fault at the place.
func (r *resolver) error(at yamlfile.At, id, text, expected, mend string) {
	r.message(diag.Message{ID: id, Severity: diag.Error, Text: text, Expected: expected, Mend: mend}, at)
}

// warn records something odd that is used all the same.
func (r *resolver) warn(at yamlfile.At, id, text, expected, mend string) {
	r.message(diag.Message{ID: id, Severity: diag.Warning, Text: text, Expected: expected, Mend: mend}, at)
}

// message records a message at the place of a key; a key that was not written stands
// where the file begins.
func (r *resolver) message(m diag.Message, at yamlfile.At) {
	m.Place, m.Path = at.Place, at.Path
	if m.Place.Line == 0 {
		m.Place = diag.Place{File: r.name, Line: 1, Col: 1}
	}
	r.list.Add(m)
}

// show prints a value in the station's units.
func (r *resolver) show(kind quantity.Kind, si float64) string { return r.st.Units.Format(kind, si) }

// word gives the text written, or the default with a warning that says what was
// taken and why.
func (r *resolver) word(w yamlfile.Word, at yamlfile.At, otherwise, why string) string {
	if w.Set {
		return w.Text
	}
	r.warn(at, "word-assumed", fmt.Sprintf("not said: %s is assumed, %s", otherwise, why), "", "say it in the file")
	return otherwise
}

// unwritten is the place of a key that was not written.
func unwritten(path string) yamlfile.At { return yamlfile.At{Path: path} }
