package levels

import (
	"errors"
	"fmt"
	"math"

	"seatward/basis"
	"seatward/leakback"
	"seatward/quantity"
)

// most that a wet well, a reading and a head may be: beyond, a unit is wrong.
const (
	mostWellM2 = 1e5
	mostStepM  = 1.0
	mostHeadM  = 1000.0
)

// FieldError says what is wrong with one of the things that were written.
type FieldError struct {
	Field string // area, diameter, step, head, shut, open, drop or record
	At    int    // which of the rises
	Err   error
}

// Error is what is wrong, without the name of the field.
func (e *FieldError) Error() string { return e.Err.Error() }

// Unwrap gives what is wrong.
func (e *FieldError) Unwrap() error { return e.Err }

// Well is the size of a wet well as people write it: its area, or the diameter of a round one.
type Well struct{ Area, Diameter string }

// How says how texts are read, and how the record calls the place where they stand.
type How struct {
	Reading quantity.Reading
	Place   string
}

// positive reads a value that lies above zero and up to a limit.
func (h How) positive(field, said string, kind quantity.Kind, most float64) (quantity.Range, error) {
	r, err := h.Reading.ParseRange(kind, said)
	if err == nil && !(r.Low.SI > 0 && r.High.SI <= most) {
		err = fmt.Errorf("%q: %s above zero, at most %s, is expected", said, kind.One(), quantity.SI.Format(kind, most))
	}
	if err != nil {
		return r, &FieldError{Field: field, Err: err}
	}
	return r, nil
}

// Read is the area; unknown where nothing is written.
func (w Well) Read(h How) (basis.Value, error) {
	const name = "area of the wet well"
	switch {
	case w.Area != "" && w.Diameter != "":
		return basis.Value{}, &FieldError{Field: "area", Err: errors.New("area and diameter are both given; leave one out")}
	case w.Area != "":
		r, err := h.positive("area", w.Area, quantity.Area, mostWellM2)
		return basis.NewGiven(name, quantity.Area, r.Best.SI, h.Place).WithRange(r.Low.SI, r.High.SI), err
	case w.Diameter != "":
		r, err := h.positive("diameter", w.Diameter, quantity.Length, math.Sqrt(mostWellM2))
		circle := func(d float64) float64 { return math.Pi / 4 * d * d }
		return basis.NewGiven(name, quantity.Area, circle(r.Best.SI), h.Place).
			WithRange(circle(r.Low.SI), circle(r.High.SI)), err
	}
	return basis.Value{}, nil
}

// Told is what was measured at a wet well, as people write it.
type Told struct {
	Well
	How
	Step, Head       string   // head: across the closed valve; that of the station without it
	Shut, Open, Drop []string // rises and drops, such as "4.5 in in 10 min"
	File             string   // of a record, in place of rises and drops
	Record           []byte   // nil where there is none
}

// Test fills in what was measured. The readings are those of the record, nil where there is none.
// The error is a *FieldError, or a diag.List of the faults of the record.
func (t *Told) Test(test *leakback.Test) ([]leakback.Reading, error) {
	if err := t.well(test); err != nil {
		return nil, err
	}
	if t.Record != nil {
		return t.record(test)
	}
	return nil, t.rises(test)
}

// well reads what the well and the reading are like.
func (t *Told) well(test *leakback.Test) error {
	test.Place = t.Place
	var err error
	if test.Area, err = t.Well.Read(t.How); err != nil {
		return err
	}
	if !test.Area.Known() {
		return &FieldError{
			Field: "area", Err: errors.New("the area of the wet well is missing; write it, or the diameter of a round one"),
		}
	}
	if t.Head != "" {
		r, err := t.positive("head", t.Head, quantity.Head, mostHeadM)
		if err != nil {
			return err
		}
		test.Site.Head = basis.NewGiven("head across the closed valve", quantity.Head, r.Best.SI, t.Place).
			WithRange(r.Low.SI, r.High.SI)
	}
	if t.Step == "" {
		return nil
	}
	r, err := t.positive("step", t.Step, quantity.Length, mostStepM)
	test.Step = basis.NewGiven("step of the level reading", quantity.Length, r.Best.SI, t.Place)
	return err
}

// rises reads fills and drops, in the order shut, open, shut.
func (t *Told) rises(test *leakback.Test) error {
	wrong := func(field, text string) error { return &FieldError{Field: field, Err: errors.New(text)} }
	switch {
	case len(t.Open)+len(t.Shut)+len(t.Drop) == 0:
		return wrong("shut", "nothing was measured; write the rise with the isolating valve shut and with it open, or give a record")
	case !test.Step.Known():
		return wrong("step", "the step of the level reading is missing; write it, such as 0.1 in")
	case len(t.Open) > 1:
		return wrong("open", "one rise is read; put more into a record")
	case len(t.Shut) > 2:
		return wrong("shut", "at most two rises are read, one before and one after; put more into a record")
	case len(t.Drop) > 1:
		return wrong("drop", "one drop is read; put more into a record")
	case len(t.Open)+len(t.Shut) == 0:
		return wrong("shut", "the inflow is missing; write the rise of the level while no pump runs")
	}
	first := min(1, len(t.Shut))
	at := 0.0
	for _, part := range []struct {
		field string
		said  []string
		from  int
	}{{"shut", t.Shut[:first], 0}, {"open", t.Open, 0}, {"shut", t.Shut[first:], first}, {"drop", t.Drop, 0}} {
		for i, said := range part.said {
			rise, lasts, err := ParseRise(said, t.Reading)
			if err != nil {
				return &FieldError{Field: part.field, At: part.from + i, Err: err}
			}
			f := leakback.Measured(part.field != "shut", rise, lasts, test.Step.SI)
			f.FromS = at
			at += lasts
			if part.field == "drop" {
				f.RiseM = -f.RiseM
				test.Drops = append(test.Drops, f)
			} else {
				test.Fills = append(test.Fills, f)
			}
		}
	}
	return nil
}

// record reads fills and drops off a record.
func (t *Told) record(test *leakback.Test) ([]leakback.Reading, error) {
	wrong := func(text string) error { return &FieldError{Field: "record", Err: errors.New(text)} }
	if len(t.Open)+len(t.Shut)+len(t.Drop) > 0 {
		return nil, wrong("a record stands in place of rises and drops; leave out the one or the other")
	}
	record, list := Read(t.File, t.Record, t.Reading)
	if list.Err() != nil {
		return nil, list
	}
	test.Place = t.File
	if !test.Step.Known() {
		step := leakback.Step(record)
		if step == 0 {
			return nil, wrong(t.File + ": the level never changes; a record of a well that fills is expected")
		}
		test.Step = basis.NewAssumed("step of the level reading", quantity.Length, step, step, step,
			"the smallest change between two levels of the record", basis.OwnChoice)
	}
	test.Fills, test.Drops = leakback.Fills(record, test.Step.SI), leakback.Drawdowns(record, test.Step.SI)
	if len(test.Fills) == 0 {
		return nil, wrong(t.File + ": there is no spell of three readings in which no pump ran; read the level every half minute or so")
	}
	return record, nil
}
