// Package truth holds numbers that come from outside this program (published
// tables, standards, worked examples, other implementations, measurements,
// exact solutions) and compares the code with them.
//
// A number is one row of cases/<topic>.csv. How the code computes it is an
// evaluator in <topic>.go. The test in this package runs every row and fails
// on any miss; VALIDATION.md at the root of the repository is written from
// the same rows, so it cannot say more than the test has seen.
package truth

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// Evaluator computes one kind of number from a row's inputs.
type Evaluator struct {
	Name  string // what the "formula" column says: a formula's ID, or ID/variant
	Where string // the function that is being checked, such as "pipe.FrictionFactor"
	Eval  func(in Inputs) (float64, error)
}

var (
	evaluators      = map[string]*Evaluator{}
	evaluatorFaults []string
)

// evaluator registers how the rows named name are computed. It is called from
// package-level variables of this package only:
//
//	var _ = evaluator("colebrook", "pipe.FrictionFactor", func(in Inputs) (float64, error) {
//		return pipe.FrictionFactor(in.F("Re"), in.F("eps/D"))
//	})
//
// name is the ID of the basis.Formula under check, or ID/variant where one
// formula is checked in several ways.
func evaluator(name, where string, eval func(in Inputs) (float64, error)) *Evaluator {
	e := &Evaluator{Name: name, Where: where, Eval: eval}
	switch {
	case name == "" || where == "" || eval == nil:
		evaluatorFaults = append(evaluatorFaults,
			fmt.Sprintf("evaluator %q at %q: give it a name, a place in the code and a function", name, where))
	case evaluators[name] != nil:
		evaluatorFaults = append(evaluatorFaults,
			fmt.Sprintf("evaluator %q is registered twice (%s and %s): rename one", name, evaluators[name].Where,
				where))
	default:
		evaluators[name] = e
	}
	return e
}

// Inputs are the named inputs of one row. What an evaluator asks for and does
// not find, and what the row gives and no evaluator reads, fails the row.
type Inputs struct{ r *reading }

type reading struct {
	values map[string]string
	read   map[string]bool
	faults []string
}

// parseInputs reads "Re=1e5; eps/D=1e-4". An empty text is no inputs.
func parseInputs(text string) (Inputs, error) {
	r := &reading{values: map[string]string{}, read: map[string]bool{}}
	if strings.TrimSpace(text) == "" {
		return Inputs{r}, nil
	}
	for part := range strings.SplitSeq(text, ";") {
		name, value, found := strings.Cut(part, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !found || name == "" || value == "" {
			return Inputs{}, fmt.Errorf("inputs: %q is not name=value", strings.TrimSpace(part))
		}
		if _, twice := r.values[name]; twice {
			return Inputs{}, fmt.Errorf("inputs: %q is given twice", name)
		}
		r.values[name] = value
	}
	return Inputs{r}, nil
}

// F returns the input name as a plain number in SI units.
func (in Inputs) F(name string) float64 {
	text := in.S(name)
	if text == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		in.r.faults = append(in.r.faults, fmt.Sprintf("input %s=%s is not a plain number", name, text))
		return math.NaN()
	}
	return v
}

// S returns the input name as it is written.
func (in Inputs) S(name string) string {
	in.r.read[name] = true
	text, found := in.r.values[name]
	if !found {
		in.r.faults = append(in.r.faults, fmt.Sprintf("input %q is missing", name))
	}
	return text
}

// Has reports whether the row gives the input name; it is not a reading of it.
func (in Inputs) Has(name string) bool {
	_, found := in.r.values[name]
	return found
}

// complaints lists what was asked for in vain or badly written, and what was
// given and never read.
func (in Inputs) complaints() []string {
	out := slices.Clone(in.r.faults)
	var unread []string
	for name := range in.r.values {
		if !in.r.read[name] {
			unread = append(unread, name)
		}
	}
	sort.Strings(unread)
	for _, name := range unread {
		out = append(out, fmt.Sprintf("input %q is never read by the evaluator", name))
	}
	return out
}

// Outcome is what one row gave.
type Outcome struct {
	Case
	Got   float64
	Error float64 // distance from the expected number, in the row's tolerance's terms
	Miss  string  // empty when the row agrees; else what is wrong and what to do
}

// run computes one row and compares it with its expected number.
func run(c Case) Outcome {
	out := Outcome{Case: c, Got: math.NaN()}
	e := evaluators[c.Formula]
	if e == nil {
		out.Miss = fmt.Sprintf("no evaluator is named %q: add one in truth/<topic>.go or mend the name", c.Formula)
		return out
	}
	in, err := parseInputs(c.Inputs)
	if err != nil {
		out.Miss = err.Error()
		return out
	}
	got, err := call(e, in)
	if complaints := in.complaints(); len(complaints) > 0 {
		out.Miss = strings.Join(complaints, "; ")
		return out
	}
	if err != nil {
		out.Miss = "the code answers with an error: " + err.Error()
		return out
	}
	if math.IsNaN(got) || math.IsInf(got, 0) {
		out.Miss = fmt.Sprintf("the code answers %g", got)
		return out
	}
	out.Got = got
	out.Error, out.Miss = c.Tolerance.compare(got, c.Expected)
	return out
}

// call runs an evaluator; a panic in it is a miss of its row and does not hide
// the other rows.
func call(e *Evaluator, in Inputs) (got float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("panic in %s: %v", e.Where, r)
		}
	}()
	return e.Eval(in)
}
