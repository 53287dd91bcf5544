package station

import (
	"fmt"
	"reflect"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// Parse reads a station file. The list holds every fault of the reading.
func Parse(filename string, data []byte) (*File, diag.List) {
	f := &File{}
	return f, yamlfile.Decode(filename, data, f)
}

// Load reads and resolves a station file. The station is nil if and only if the list
// holds an error; warnings go with the station too. Reading faults are told together
// with what can be seen to be wrong in the rest.
func Load(filename string, data []byte) (*Station, diag.List) {
	f, list := Parse(filename, data)
	if list.Err() != nil {
		// Facts that were not readable would look missing: tell only of what is there.
		r := newResolver(filename, f)
		r.contradictions()
		list = append(list, r.list...)
		list.Sort()
		return nil, list
	}
	st, more := Resolve(filename, f)
	list = append(list, more...)
	list.Sort()
	return st, list
}

// Resolve makes a station of a file: every missing fact is estimated or computed,
// every contradiction told.
func Resolve(filename string, f *File) (*Station, diag.List) {
	r := newResolver(filename, f)
	r.contradictions()
	if r.list.Err() == nil {
		for _, step := range []func(){r.fluid, r.site, r.valve, r.levels, r.pumps, r.lines, r.surge, r.operation, r.depth, r.consistent} {
			step()
			if r.list.Err() != nil {
				break // what follows rests on what is wrong
			}
		}
	}
	r.list.Sort()
	if r.list.Err() != nil {
		return nil, r.list
	}
	r.st.Warnings = r.list
	r.st.Hash = hash(r.st)
	return r.st, r.list
}

// resolver holds one resolution.
type resolver struct {
	name string
	f    *File
	st   *Station
	list diag.List
}

func newResolver(filename string, f *File) *resolver {
	units := system(f)
	st := &Station{Name: f.Station.Text, Place: f.Place.Text, Units: units}
	for _, n := range f.Notes {
		st.Notes = append(st.Notes, n.Text)
	}
	return &resolver{name: filename, f: f, st: st}
}

// system is the unit system of the answer: the one named, else that of most
// quantities in the file.
func system(f *File) quantity.System {
	switch f.Units.Text {
	case "US":
		return quantity.US
	case "SI":
		return quantity.SI
	}
	us, si := 0, 0
	eachQ(reflect.ValueOf(f).Elem(), func(q yamlfile.Q) {
		switch q.Best.Unit {
		case "gpm", "ft", "in", "psi", "MGD", "mgd", "°F", "degF", "hp", "HP", "ft/s", "'", "\"", "lb ft2", "lb ft²", "cfs", "F":
			us++
		case "", "%", "rpm":
		default:
			si++
		}
	})
	if us > si {
		return quantity.US
	}
	return quantity.SI
}

// eachQ visits every quantity that was written.
func eachQ(v reflect.Value, visit func(yamlfile.Q)) {
	if q, ok := v.Interface().(yamlfile.Q); ok {
		if q.Set {
			visit(q)
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			eachQ(v.Field(i), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			eachQ(v.Index(i), visit)
		}
	}
}

// given makes a value of what was written; unknown where nothing was.
func given(name string, q yamlfile.Q) basis.Value {
	if !q.Set {
		return basis.Value{}
	}
	return basis.NewGiven(name, q.Best.Kind, q.SI(), q.Place.String()).WithRange(q.Low.SI, q.High.SI)
}

// givenNumber is given for plain numbers.
func givenNumber(name string, n yamlfile.Num) basis.Value {
	if !n.Set {
		return basis.Value{}
	}
	return basis.NewGiven(name, quantity.Number, n.Value, n.Place.String())
}

// or gives the first value, or the second where the first is not known.
func or(v, otherwise basis.Value) basis.Value {
	if v.Known() {
		return v
	}
	return otherwise
}

// error records a fault at the place.
func (r *resolver) error(at yamlfile.At, id, text, expected, mend string) {
	r.message(diag.Error, at, id, text, expected, mend)
}

// warn records something odd that is used all the same.
func (r *resolver) warn(at yamlfile.At, id, text, expected, mend string) {
	r.message(diag.Warning, at, id, text, expected, mend)
}

func (r *resolver) message(severity diag.Severity, at yamlfile.At, id, text, expected, mend string) {
	if at.Place.Line == 0 {
		at.Place = diag.Place{File: r.name, Line: 1, Col: 1}
	}
	r.list.Add(diag.Message{ID: id, Severity: severity, Place: at.Place, Path: at.Path, Text: text, Expected: expected, Mend: mend})
}

// show prints a value in the station's units.
func (r *resolver) show(kind quantity.Kind, si float64) string { return r.st.Units.Format(kind, si) }

// word gives the text written, or the default with a warning that says what was
// taken and why.
func (r *resolver) word(w yamlfile.Word, path, otherwise, why string) string {
	if w.Set {
		return w.Text
	}
	r.warn(yamlfile.At{Path: path}, "word-assumed", fmt.Sprintf("not said: %s is assumed, %s", otherwise, why), "", "say it in the file")
	return otherwise
}
