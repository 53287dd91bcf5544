package valve

import (
	"math"
	"slices"
)

// Reader hands a type the numbers of one valve, each by a name that the type declares. What
// is read by another name is a fault of the type and not 0: Build then refuses the valve.
//
// A law that reads while it runs meets the same numbers, but its faults are heard only while
// the valve is built, so read before the law is made.
type Reader struct {
	typ   *Type
	known Values
	upTo  int             // number of parameters that may be read: those before a default's own
	read  map[string]bool // what was read; nil where nobody asks
	fault *ParamError     // the first read that cannot be
	done  bool            // the valve is built: nothing is written down any more
}

// reader reads values of the type, which Complete has filled in.
func (t *Type) reader(known Values) *Reader {
	return &Reader{typ: t, known: known, upTo: len(t.Params)}
}

// SI is the number in SI units. It is not a number, and a fault, where the type declares no
// number of that name, or has none for this valve: ask Has first for one that may be left out.
// For a default it is no fault that a number before it is missing: the user learns of that.
func (r *Reader) SI(key string) float64 {
	if x, known := r.note(key); known {
		return x
	}
	r.declared(key)
	if r.upTo == len(r.typ.Params) {
		r.refuse(key, "a read of a number that may be left out and is not there", "a number that is known",
			"ask Has before it is read, or give it a default")
	}
	return math.NaN()
}

// Has is true when the number, which the type must declare, is known.
func (r *Reader) Has(key string) bool {
	_, known := r.note(key)
	if !known {
		r.declared(key)
	}
	return known
}

// note looks a number up and writes down that it was asked for.
func (r *Reader) note(key string) (float64, bool) {
	if r.read != nil && !r.done {
		r.read[key] = true
	}
	x, known := r.known[key]
	return x, known
}

// ofAny is a number that some types have and others do not; false where it is not known.
func (r *Reader) ofAny(key string) (float64, bool) {
	x, known := r.note(key)
	if !known && !registry.declares(key) {
		r.refuse(key, "a read of a number that no type declares", "a number of some type", "mend the name")
	}
	return x, known
}

// declared refuses a name that the type does not declare, or not before the number whose
// default reads it.
func (r *Reader) declared(key string) {
	at := slices.IndexFunc(r.typ.Params, func(p Param) bool { return p.Key == key })
	switch {
	case at < 0:
		r.refuse(key, "a read of a number that the type does not declare", "one of its own",
			r.typ.meant(key, "declare it in the type's Params, or mend the name"))
	case at >= r.upTo:
		r.refuse(key, "a read of it for the default of "+r.typ.Params[r.upTo].Key+", which stands before it",
			"a number that stands before", "exchange the two in the type's Params")
	}
}

// refuse notes the first fault.
func (r *Reader) refuse(key, found, expected, mend string) {
	if r.fault == nil && !r.done {
		r.fault = &ParamError{Type: r.typ.Key, Key: key, Found: found, Expected: expected, Mend: mend}
	}
}

// err is the first fault of reading; nil when there is none. Nothing is noted after it.
func (r *Reader) err() error {
	r.done = true
	if r.fault == nil {
		return nil
	}
	return r.fault
}
