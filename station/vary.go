package station

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
)

// origin is what a station was resolved from.
type origin struct {
	filename string
	file     *File
	data     []byte // the file itself, from which With makes another
	// By name: one value may stand at several paths, and the resolution makes it in one place.
	// Vary holds that no other value has the name.
	fixed map[string]basis.Value
}

// Vary makes another station in which the value at the path (as Walk gives it) is si,
// in SI and without a range: what if it were so? The file is resolved anew with that
// value in place of what was written, assumed or computed, so that all that follows
// from it follows: a wave speed from a diameter, an inertia from a power. Also the
// assumptions inside a computed value can be varied ("main.runs[0].wave_speed <
// Young's modulus of the main").
//
// What is read off a curve, and assumptions of other packages, cannot be varied. The
// error says so, or which path was meant, or is the diag.List of what becomes
// impossible in the varied station.
func (st *Station) Vary(path string, si float64) (*Station, error) {
	if st.origin == nil {
		return nil, errors.New("the station was not resolved from a file")
	}
	v, err := st.find(path)
	if err != nil {
		return nil, err
	}
	if math.IsNaN(si) || math.IsInf(si, 0) || si < 0 && !v.Signed() {
		return nil, fmt.Errorf("%s cannot be %g %s", v.Name, si, v.Kind.Symbol())
	}
	if st.shared(v) {
		return nil, diag.List{sharedName(st.origin.filename, v.Name)}
	}
	what := basis.NewGiven(v.Name, v.Kind, si, basis.WhatIf)
	what.Elevation = v.Elevation
	fixed := map[string]basis.Value{v.Name: what}
	for name, before := range st.origin.fixed {
		if _, again := fixed[name]; !again {
			fixed[name] = before
		}
	}
	out, list := resolve(st.origin.filename, st.origin.file, nil, fixed)
	if out == nil {
		return nil, list
	}
	out.origin.data = st.origin.data
	return out, nil
}

// With is the station as it is with the changes written into its file: what a remedy would make
// of it. What Vary has replaced stays so.
func (st *Station) With(changes []Change) (*Station, error) {
	if st.origin == nil || st.origin.data == nil {
		return nil, errors.New("the station was not resolved from a file")
	}
	data, list := Edit(st.origin.filename, st.origin.data, changes)
	if list.Err() != nil {
		return nil, list
	}
	f, faults := Parse(st.origin.filename, data)
	out, list := resolve(st.origin.filename, f, faults, st.origin.fixed)
	if out == nil {
		return nil, list
	}
	out.Units, out.origin.data = st.Units, data
	return out, nil
}

// find looks a value up by its path.
func (st *Station) find(path string) (basis.Value, error) {
	found := map[string]basis.Value{}
	walkFields(reflect.ValueOf(*st), "", func(p string, v basis.Value) {
		found[p] = v
		for _, a := range basis.Assumptions(v) {
			found[Within(p, a)] = a
		}
	})
	if v, ok := found[path]; ok {
		return v, nil
	}
	if outer, name, inside := strings.Cut(path, " < "); inside && found[outer].Known() && st.origin != nil {
		if v, ok := st.origin.fixed[name]; ok { // no assumption any more
			return v, nil
		}
	}
	if meant := diag.DidYouMean(path, slices.Sorted(maps.Keys(found))); meant != "" {
		return basis.Value{}, fmt.Errorf("the station has no value %q; did you mean %q?", path, meant)
	}
	return basis.Value{}, fmt.Errorf("the station has no value %q", path)
}

// shared is true where another value has the same name: a pump may be called "motor", and its
// inertia then as the part of another pump's that is assumed. Both would be replaced.
func (st *Station) shared(v basis.Value) bool {
	shared := false
	Walk(st, func(_ string, other basis.Value) {
		shared = shared || other.Name == v.Name && other.Same() != v.Same()
	})
	return shared
}

// sharedName tells a value that has the name of another.
func sharedName(filename, name string) diag.Message {
	return diag.Message{
		ID: "not-varied", Place: diag.Place{File: filename, Line: 1, Col: 1},
		Text:     "the " + name + " cannot be varied: another value of the station has the same name",
		Expected: "a name for each", Mend: "give pumps and devices names of their own",
	}
}

// notVaried tells a value that was to be replaced, and is not asked for by its name.
func notVaried(filename, name string) diag.Message {
	return diag.Message{
		ID: "not-varied", Place: diag.Place{File: filename, Line: 1, Col: 1},
		Text:     "the " + name + " cannot be varied by itself: it is read off a curve, or estimated as part of another value",
		Expected: "a value that the file can state", Mend: "vary what it follows from",
	}
}
