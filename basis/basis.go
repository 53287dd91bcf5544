// Package basis makes every number answer for itself. A Value is a number with
// its unit kind, its range, and the record of where it came from: a place in the
// user's file, an assumption with its reason, a catalog, or a formula with its
// inputs, each of which carries its own record. Explain prints the tree, which is
// the calculation sheet.
package basis

import (
	"math"

	"seatward/quantity"
)

// Origin says where a value came from.
type Origin uint8

// The origins.
const (
	Given     Origin = iota // written by the user; Place says where
	Assumed                 // filled in by Seatward; Reason and range say why and how far
	Catalog                 // product data; Source says which
	Computed                // by a Formula from Inputs
	Simulated               // read off a run of a solver; Reason says which run
)

// String names the origin in one word.
func (o Origin) String() string {
	return [...]string{"given", "assumed", "catalog", "computed", "simulated"}[o]
}

// Record is what stands behind a value.
type Record struct {
	Origin  Origin
	Place   string   // file:line:column, for given values
	Reason  string   // why this value was assumed, or which run gave it
	Source  string   // bibliography key or catalog name
	Formula *Formula // for computed values
	Inputs  []Value
}

// Value is one number of a study with its record. Low and High bound it where a
// range is known; else both equal SI.
type Value struct {
	Name          string // in plain words: "inner diameter of the main"
	Kind          quantity.Kind
	SI, Low, High float64
	Elevation     bool // a height above some datum, which may be below zero as a length may not
	Record
}

// WhatIf is the place of a given value that nobody wrote: one that is tried.
const WhatIf = "what if"

// NewGiven makes a value that the user wrote at the place.
func NewGiven(name string, kind quantity.Kind, si float64, place string) Value {
	return Value{Name: name, Kind: kind, SI: si, Low: si, High: si, Record: Record{Origin: Given, Place: place}}
}

// NewAssumed makes a default with its range and reason. The source is a
// bibliography key, or CommonPractice where there is none.
func NewAssumed(name string, kind quantity.Kind, best, low, high float64, reason, source string) Value {
	return Value{
		Name: name, Kind: kind, SI: best, Low: low, High: high,
		Record: Record{Origin: Assumed, Reason: reason, Source: source},
	}
}

// NewCatalog makes a value of product data.
func NewCatalog(name string, kind quantity.Kind, si float64, source string) Value {
	return Value{Name: name, Kind: kind, SI: si, Low: si, High: si, Record: Record{Origin: Catalog, Source: source}}
}

// NewSimulated makes a value read off a solver's run, described by reason, from the inputs.
func NewSimulated(name string, kind quantity.Kind, si float64, reason string, in ...Value) Value {
	return Value{
		Name: name, Kind: kind, SI: si, Low: si, High: si,
		Record: Record{Origin: Simulated, Reason: reason, Inputs: in},
	}
}

// WithRange gives the value the bounds, which must include it.
func (v Value) WithRange(low, high float64) Value {
	v.Low, v.High = math.Min(low, v.SI), math.Max(high, v.SI)
	return v
}

// AsElevation marks a length as a height above a datum.
func (v Value) AsElevation() Value {
	v.Elevation = v.Known()
	return v
}

// Signed is true for a value that may be below zero.
func (v Value) Signed() bool {
	switch v.Kind {
	case quantity.Head, quantity.Pressure, quantity.Angle:
		return true
	}
	return v.Elevation
}

// Known is true when the value was set at all: a zero Value is unknown.
func (v Value) Known() bool { return v.Name != "" }

// Ranged is true when the value has a range.
func (v Value) Ranged() bool { return v.Low != v.High }

// Same is what tells one value from another in a list: what it is called and its numbers. It
// is equality, not identity, on purpose: a value is copied into every place that rests on it,
// and the copies are one assumption to the reader. The name alone would not do, since every
// pump has an "inertia of motor", and two that differ are two facts.
type Same struct {
	name          string
	kind          quantity.Kind
	si, low, high float64
}

// Same is the value's own.
func (v Value) Same() Same { return Same{v.Name, v.Kind, v.SI, v.Low, v.High} }

// Unique are the known values of a list, each once, in the order in which they are met.
func Unique(in []Value) []Value {
	var out []Value
	seen := met{}
	for _, v := range in {
		if v.Known() && seen.first(v) {
			out = append(out, v)
		}
	}
	return out
}

// met are values that have been met.
type met map[Same]bool

// first is true the first time that it is asked of a value.
func (m met) first(v Value) bool {
	again := m[v.Same()]
	m[v.Same()] = true
	return !again
}

// Format prints the value with its unit, and its range if it has one.
func (v Value) Format(sys quantity.System) string {
	if !v.Known() {
		return "unknown"
	}
	s := sys.Format(v.Kind, v.SI)
	if v.Ranged() {
		s += " (" + v.FormatRange(sys) + ")"
	}
	return s
}

// FormatRange prints "low to high unit".
func (v Value) FormatRange(sys quantity.System) string {
	if v.Kind == quantity.Time { // its unit depends on its size
		return sys.Format(v.Kind, v.Low) + " to " + sys.Format(v.Kind, v.High)
	}
	return sys.Number(v.Kind, v.Low) + " to " + sys.Format(v.Kind, v.High)
}

// Walk visits the value and everything it rests on, depth first, each distinct
// path once. It stops descending where visit returns false.
func (v Value) Walk(visit func(depth int, v Value) bool) { walk(0, v, visit) }

func walk(depth int, v Value, visit func(int, Value) bool) {
	if !visit(depth, v) {
		return
	}
	for _, in := range v.Inputs {
		walk(depth+1, in, visit)
	}
}
