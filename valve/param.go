package valve

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/diag"
	"seatward/quantity"
)

// Param describes one number that a type's mechanics needs. Product data give it
// as text; what they leave out is filled in by Default and listed as assumed.
type Param struct {
	Key      string        // as product data write it: "disc_mass"
	Title    string        // in plain words: "mass of the disc with its arm"
	Kind     quantity.Kind // unit kind
	Doc      string        // what it is and how it is measured
	Required bool
	Tried    bool    // worth a what-if: what a maker changes to have the valve close otherwise
	Positive bool    // must be greater than 0
	Least    float64 // smallest and largest value that makes sense, SI;
	Most     float64 // both 0 where there is no limit
	Default  *Default
	After    bool // bears on what follows the first blow on the seat, not on that blow
}

// Default is what stands in for a number that is not given.
type Default struct {
	// Of gives the default with its range from the numbers that stand before it; not a
	// number where these leave no need of it.
	Of             func(v *Reader) (best, low, high float64)
	Reason, Source string
}

// Values are the numbers of one valve by key, in SI. Optional ones that have no
// default and were not given are absent. A type reads them through a Reader.
type Values map[string]float64

// Params are the numbers of one valve by key, with their records and ranges.
type Params map[string]basis.Value

// ParamError says which number is wrong, what was found and what would be right.
type ParamError struct {
	Type, Key             string
	Found, Expected, Mend string
}

// Error gives the parts in one line.
func (e *ParamError) Error() string {
	return fmt.Sprintf("valve type %s, %s: found %s; expected %s; %s", e.Type, e.Key, e.Found, e.Expected, e.Mend)
}

// fixed is a default that depends on nothing.
func fixed(best, low, high float64, reason, source string) *Default {
	return &Default{
		Of:     func(*Reader) (float64, float64, float64) { return best, low, high },
		Reason: reason, Source: source,
	}
}

// scaled is a default that is a multiple of another number.
func scaled(key string, best, low, high float64, reason, source string) *Default {
	return &Default{
		Of: func(v *Reader) (float64, float64, float64) {
			return best * v.SI(key), low * v.SI(key), high * v.SI(key)
		},
		Reason: reason, Source: source,
	}
}

// Read reads the number from text, which may carry a range ("1.3 (1.0..2.0)"), and
// records the source. The error is a *quantity.ParseError.
func (p *Param) Read(text, source string) (basis.Value, error) {
	r, err := quantity.ParseRange(p.Kind, text)
	if err != nil {
		return basis.Value{}, err
	}
	return basis.NewCatalog(p.Title, p.Kind, r.Best.SI, source).WithRange(r.Low.SI, r.High.SI), nil
}

// check says what is wrong with the value; nil when nothing is.
func (p *Param) check(typeKey string, v basis.Value) error {
	fault := func(found, expected, mend string) error {
		return &ParamError{Type: typeKey, Key: p.Key, Found: found, Expected: expected, Mend: mend}
	}
	show := func(x float64) string { return quantity.SI.Format(p.Kind, x) }
	if v.Kind != p.Kind {
		return fault("a "+v.Kind.String(), "a "+p.Kind.String(), "give it in a unit of "+p.Kind.String())
	}
	for _, x := range []float64{v.SI, v.Low, v.High} {
		switch {
		case math.IsNaN(x) || math.IsInf(x, 0):
			return fault("no finite number", "a finite number", "mend the number")
		case p.Positive && !(x > 0):
			return fault(show(x), "more than 0", "give the "+p.Title+" as a positive number")
		case p.Least != p.Most && (x < p.Least || x > p.Most):
			return fault(show(x), show(p.Least)+" to "+show(p.Most), "check the "+p.Title)
		}
	}
	return nil
}

// Complete fills in what is not given and checks all. The result holds every
// number that the type knows a value for; assumed ones carry reason and range.
// The error joins one *ParamError for each number that is wrong.
func (t *Type) Complete(p Params) (Params, error) { return t.complete(p, nil) }

// complete is Complete; what defaults read is written down in read where it is not nil.
func (t *Type) complete(p Params, read map[string]bool) (Params, error) {
	var faults []error
	for key := range p {
		if t.Param(key) == nil {
			faults = append(faults, t.unknown(key, "leave it out"))
		}
	}
	full, known := make(Params, len(t.Params)), make(Values, len(t.Params))
	for i := range t.Params {
		spec := &t.Params[i]
		v, given := p[spec.Key]
		switch {
		case given && v.Known():
		case spec.Required:
			faults = append(faults, &ParamError{
				Type: t.Key, Key: spec.Key, Found: "nothing",
				Expected: "the " + spec.Title, Mend: "add it to the product data",
			})
			continue
		case spec.Default == nil:
			continue
		default:
			from := Reader{typ: t, known: known, upTo: i, read: read}
			best, low, high := spec.Default.Of(&from)
			if err := from.err(); err != nil {
				faults = append(faults, err)
				continue
			}
			if math.IsNaN(best) {
				continue
			}
			v = basis.NewAssumed(spec.Title, spec.Kind, best, low, high, spec.Default.Reason, spec.Default.Source)
		}
		if err := spec.check(t.Key, v); err != nil {
			faults = append(faults, err)
			continue
		}
		full[spec.Key], known[spec.Key] = v, v.SI
	}
	slices.SortFunc(faults, func(a, b error) int {
		if a.Error() < b.Error() {
			return -1
		}
		return 1
	})
	return full, errors.Join(faults...)
}

// unknown says that the type has no such number, and how to mend that where none is near it.
func (t *Type) unknown(key, otherwise string) error {
	return &ParamError{
		Type: t.Key, Key: key, Found: "a number this type does not know", Expected: "one of its own",
		Mend: t.meant(key, otherwise),
	}
}

// meant is how to mend a name that is none of the type's.
func (t *Type) meant(key, otherwise string) string {
	if near := diag.DidYouMean(key, t.keys()); near != "" {
		return "did you mean " + near + "?"
	}
	return otherwise
}

// keys lists the parameters.
func (t *Type) keys() []string {
	out := make([]string, len(t.Params))
	for i := range t.Params {
		out[i] = t.Params[i].Key
	}
	return out
}

// values are the best values alone.
func (p Params) values() Values {
	v := make(Values, len(p))
	for key, value := range p {
		v[key] = value.SI
	}
	return v
}
