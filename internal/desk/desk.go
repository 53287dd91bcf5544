// Package desk answers what the workbench asks of a station file: what stands in it, what
// an edit makes of it, which valve, and what a pump stop does. It keeps nothing of a user
// but a few answers, by the text that they are for; a request carries the whole file. All
// that people read is worded here, in the units of the station.
package desk

import (
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync/atomic"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/levels"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
	"seatward/valve"
)

// Desk answers with one set of catalogs and rules. It may be used from many goroutines.
type Desk struct {
	catalogs []*catalog.Catalog
	rules    *rules.Book
	courses  cache[[sha256.Size]byte, *course]
	studies  atomic.Int64 // run so far
}

// mostCourses is how many texts are kept with their answers.
const mostCourses = 32

// New makes a desk.
func New(catalogs []*catalog.Catalog, book *rules.Book) *Desk {
	d := &Desk{catalogs: catalogs, rules: book}
	d.courses.most = mostCourses
	return d
}

// Error is why a request has no answer.
type Error struct {
	ID       string    `json:"id"`
	Text     string    `json:"text"`
	Mend     string    `json:"mend,omitempty"`
	Messages []Message `json:"messages,omitempty"`
}

// Error is the text with the way to mend it.
func (e *Error) Error() string {
	if e.Mend == "" {
		return e.Text
	}
	return e.Text + ". To mend: " + e.Mend
}

// Message is one fault of a file.
type Message struct {
	ID       string `json:"id"`
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Path     string `json:"path"`
	Text     string `json:"text"`
	Found    string `json:"found"`
	Expected string `json:"expected"`
	Mend     string `json:"mend"`

	Choices []string `json:"choices,omitempty"` // what may be meant, each as it would be read without doubt
}

// mostMessages is how many faults of a file are listed.
const mostMessages = 100

// fileError is the error of a file that cannot be read as it is: its only fault, or how many there are.
func fileError(list diag.List) *Error {
	e := &Error{ID: "file"}
	file := ""
	for _, m := range list {
		if m.Severity != diag.Error {
			continue
		}
		if e.Text == "" {
			e.ID, e.Text, e.Mend, file = m.ID, m.Text, m.Mend, m.Place.File
		}
		if len(e.Messages) < mostMessages {
			e.Messages = append(e.Messages, Message{
				m.ID, m.Place.Line, m.Place.Col, m.Path, m.Text, m.Found,
				m.Expected, m.Mend, choices(m.Choices),
			})
		}
	}
	if n := len(e.Messages); n > 1 {
		e.ID, e.Text, e.Mend = "file", fmt.Sprintf("the %s has %d faults", cmp.Or(file, fileName),
			n), "mend each where it stands"
	}
	return e
}

// choices takes the choices of a message apart; nil where it has none.
func choices(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, "|")
}

// Told is an error of the layers below as the one who asked reads it: the one mapping of
// errors to replies. It is nil for one that these layers do not mean for a reader: that of a
// context, or a fault of the program.
func Told(err error) *Error {
	var own *Error
	var list diag.List
	var value *quantity.ParseError
	var unknown *catalog.NotFoundError
	var pack *rules.NoPackError
	var event *plant.NoEventError
	var number *valve.ParamError
	var field *levels.FieldError
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &field):
		return fieldFault(field)
	case errors.As(err, &list):
		return fileError(list)
	case errors.As(err, &value):
		m := Message{
			ID: "value", Text: fmt.Sprintf("%q is not %s", value.Text, value.Kind.One()), Found: value.Found,
			Expected: value.Expected, Mend: value.Mend,
			Choices: value.Choices,
		}
		return &Error{ID: m.ID, Text: value.Error(), Mend: m.Mend, Messages: []Message{m}}
	case errors.As(err, &unknown):
		return &Error{ID: "valve-unknown", Text: err.Error(), Mend: "take one of the rows"}
	case errors.As(err, &pack):
		return &Error{ID: "rule-pack-unknown", Text: err.Error(), Mend: "mend rule_packs"}
	case errors.As(err, &event):
		return &Error{ID: "event-unknown", Text: err.Error(), Mend: "take one of the events listed"}
	case errors.Is(err, study.ErrNoFlow):
		return &Error{ID: "no-flow", Text: err.Error(), Mend: "look at the pump curve and the levels"}
	case errors.Is(err, study.ErrValve):
		return &Error{ID: "valve-unusable", Text: err.Error(), Mend: "take another valve"}
	case errors.As(err, &number):
		return &Error{
			ID: "not-varied",
			Text: fmt.Sprintf("the %s of the valve type %s cannot be varied so: found %s, expected %s", number.Key,
				number.Type, number.Found, number.Expected), Mend: number.Mend,
		}
	}
	return nil
}

// NoAnswer does as Told for work on good input, where an error of which nothing else is known
// says that there is no answer. Errors of the context stay as they are.
func NoAnswer(err error) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	if e := Told(err); e != nil {
		return e
	}
	return &Error{ID: "no-answer", Text: err.Error(), Mend: "look for a number that is far off"}
}

// fileName is how messages call the file that a request carries.
const fileName = "station file"

// load reads the station of a request, which answers in the units named; those of the file
// where none are.
func load(text, units string) (*station.Station, error) {
	st, list := station.Load(fileName, []byte(text))
	if st == nil {
		return nil, fileError(list)
	}
	sys, err := quantity.SystemNamed(units, st.Units)
	if err != nil {
		return nil, &Error{
			ID: "units-unknown", Text: err.Error(),
			Mend: "write one of them, or leave it out for the units of the file",
		}
	}
	out := *st
	out.Units = sys
	return &out, nil
}

// finite is a number for JSON, nil where there is none.
func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}
