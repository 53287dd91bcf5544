// Package yamlfile reads the YAML files that people write (stations, catalogs,
// rules) into Go structs, keeps the place of every value, and collects every fault
// as a message with file, line, column and a way to mend it. Struct tags carry the
// meaning of a key, so that the reader, the JSON Schema and the documentation are
// made from the same declaration:
//
//	yaml:"flow"          the key
//	kind:"flow"          a quantity of that kind, for Q and, comma-separated, for Tuple
//	min:"0"              least value in SI, for Q and Num; ">0" excludes the limit
//	max:"1"              greatest value in SI
//	whole:"true"         a count, for Num
//	one:"none|some"      the words allowed, for Word
//	said:"liquid"        the list of internal/trade by which other words are read, for Word
//	unit:"h"             the unit of a bare number, in place of the system's
//	bare:"true"          the Word names the system whose units bare numbers of the file take
//	need:"true"          must be written when its parent is
//	doc:"Duty flow"      one sentence for editors and the schema
package yamlfile

import (
	"seatward/diag"
	"seatward/quantity"
)

// Q is a quantity as written. A Q that was not written has Set false.
type Q struct {
	quantity.Range
	At
}

// Num is a plain number as written. Low and High equal Value where no range was
// written.
type Num struct {
	Value, Low, High float64
	At
}

// Word is a text as written.
type Word struct {
	Text  string
	Inset int // columns from its place to its first letter: 1 for one in quotes
	At
}

// Size is a nominal size as written.
type Size struct {
	quantity.Size
	At
}

// Tuple is a short list of quantities in fixed order, such as [450 gpm, 62 ft].
type Tuple struct {
	Items []Q
	At
}

// Pair is one key and its text in a mapping whose keys are free, such as
// "90 elbow: 2".
type Pair struct {
	Key, Value Word
}

// At is the place of a value in its file.
type At struct {
	Set   bool
	Place diag.Place
	Path  string
}

// SI is the best value in SI units, 0 where not written.
func (q Q) SI() float64 { return q.Best.SI }

// Yes is true for a Word that says yes.
func (w Word) Yes() bool { return w.Text == "yes" }
