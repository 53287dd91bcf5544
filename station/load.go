package station

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// Parse reads a station file. The list holds every fault of the reading; what was
// readable stands in the File all the same.
func Parse(filename string, data []byte) (*File, diag.List) {
	f := &File{}
	return f, yamlfile.Decode(filename, data, f)
}

// Load reads and resolves a station file. The station is nil if and only if the list
// holds an error. Everything that can be seen to be wrong is reported in one go: faults
// of the reading and, of the parts that could be read, contradictions and missing
// facts. Warnings come with a station only, because they rest on what is assumed.
func Load(filename string, data []byte) (*Station, diag.List) {
	f, faults := Parse(filename, data)
	st, list := resolve(filename, f, faults, nil)
	if st != nil {
		st.origin.data = data
	}
	return st, list
}

// resolve is one resolution, with the faults of the reading, and with the values by
// name that replace what the file or the defaults say.
func resolve(filename string, f *File, faults diag.List, fixed map[string]basis.Value) (*Station, diag.List) {
	r := &resolver{name: filename, f: f, fixed: fixed, met: map[string]bool{}, failed: map[string]bool{}}
	r.st = &Station{Name: f.Station.Text, Place: f.Place.Text, Units: Units(f)}
	for _, n := range f.Notes {
		r.st.Notes = append(r.st.Notes, n.Text)
	}
	for _, p := range f.RulePacks {
		if !slices.Contains(r.st.RulePacks, p.Text) {
			r.st.RulePacks = append(r.st.RulePacks, p.Text)
		}
	}
	for _, m := range faults {
		r.unread = append(r.unread, unreadable(m))
	}
	r.run(r.steps())
	list := append(faults, r.list...)
	list.Sort()
	if list.Err() != nil {
		return nil, errorsOf(list)
	}
	for name := range fixed {
		if !r.met[name] {
			return nil, diag.List{notVaried(filename, name)}
		}
	}
	r.st.Warnings = list
	r.st.Hash = hash(r.st)
	r.st.origin = &origin{filename: filename, file: f, fixed: fixed}
	return r.st, list
}

// errorsOf leaves the warnings out.
func errorsOf(list diag.List) diag.List {
	var out diag.List
	for _, m := range list {
		if m.Severity == diag.Error {
			out.Add(m)
		}
	}
	return out
}

// unreadable is the path of the file that a fault of the reading leaves unknown. An
// unknown key may be any of its neighbors misspelt.
func unreadable(m diag.Message) string {
	if m.ID != "key-unknown" || m.Path == "" {
		return m.Path
	}
	return m.Path[:max(strings.LastIndexByte(m.Path, '.'), 0)]
}

// resolver holds one resolution.
type resolver struct {
	name   string
	f      *File
	st     *Station
	list   diag.List
	unread []string               // paths of the file that could not be read
	failed map[string]bool        // steps that told an error or were left out
	fixed  map[string]basis.Value // by name: what replaces file and defaults
	met    map[string]bool        // names of fixed that were asked for
}

// step is one part of a resolution. It runs when the parts of the file that it reads
// were readable and the steps that it rests on went well, so that each fault is reported
// once, and none that only follows from another.
type step struct {
	name  string
	reads []string // keys of the file
	needs []string // steps
	run   func()
}

func (r *resolver) run(steps []step) {
	for _, s := range steps {
		before := r.errors()
		if !r.blocked(s) {
			s.run()
		} else {
			r.failed[s.name] = true
		}
		if r.errors() > before {
			r.failed[s.name] = true
		}
	}
}

func (r *resolver) blocked(s step) bool {
	for _, name := range s.needs {
		if r.failed[name] {
			return true
		}
	}
	for _, path := range s.reads {
		if !r.readable(path) {
			return true
		}
	}
	return false
}

// readable is true when neither the key, nor one inside it, nor one around it, had
// an error.
func (r *resolver) readable(path string) bool {
	for _, u := range r.unread {
		if u == "" || u == path || inside(u, path) || inside(path, u) {
			return false
		}
	}
	return true
}

func inside(path, outer string) bool {
	rest, ok := strings.CutPrefix(path, outer)
	return ok && (rest[0] == '.' || rest[0] == '[')
}

func (r *resolver) errors() int { return len(errorsOf(r.list)) }

// Units is the unit system of the answer: the one named, else that of most quantities in
// the file.
func Units(f *File) quantity.System {
	switch f.Units.Text {
	case "US":
		return quantity.US
	case "SI":
		return quantity.SI
	}
	us, si := 0, 0
	eachQ(reflect.ValueOf(f).Elem(), func(q yamlfile.Q) {
		switch q.Best.Unit {
		case "gpm", "ft", "in", "psi", "MGD", "mgd", "°F", "degF", "hp", "HP", "ft/s", "'", "\"", "lb ft2", "lb ft²",
			"cfs", "F":
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

// fix gives the value that replaces this one, if there is one by its name.
func (r *resolver) fix(v basis.Value) basis.Value {
	if other, ok := r.fixed[v.Name]; ok {
		r.met[v.Name] = true
		return other
	}
	return v
}

// given makes a value of what was written; unknown where nothing was.
func (r *resolver) given(name string, q yamlfile.Q) basis.Value {
	v := basis.Value{Name: name}
	if q.Set {
		v = basis.NewGiven(name, q.Best.Kind, q.SI(), q.Place.String()).WithRange(q.Low.SI, q.High.SI)
	}
	return r.known(v, q.Set)
}

// givenNumber is given for plain numbers.
func (r *resolver) givenNumber(name string, n yamlfile.Num) basis.Value {
	return r.known(basis.NewGiven(name, quantity.Number, n.Value, n.Place.String()).WithRange(n.Low, n.High), n.Set)
}

// known gives a value that was written, or that replaces it; else the unknown one.
func (r *resolver) known(v basis.Value, set bool) basis.Value {
	if _, replaced := r.fixed[v.Name]; !set && !replaced {
		return basis.Value{}
	}
	return r.fix(v)
}

// or gives the first value, or the second where the first is not known.
func or(v, otherwise basis.Value) basis.Value {
	if v.Known() {
		return v
	}
	return otherwise
}

// finite tells values that could not be computed: a fact far outside what the
// formulas hold for.
func (r *resolver) finite() {
	Walk(r.st, func(path string, v basis.Value) {
		for _, x := range []float64{v.SI, v.Low, v.High} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				r.error(r.f.Station.At, "not-computable",
					"the "+v.Name+" ("+path+") cannot be computed from these facts", "facts that the formulas hold for", "look for a number that is far off")
				return
			}
		}
	})
}
