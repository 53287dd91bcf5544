package basis

import (
	"fmt"
	"strings"

	"seatward/quantity"
)

// Explain prints the calculation tree of a value down to what was given, assumed
// or taken from a catalog: one line for each value, indented by its depth, with
// the formula and its source below computed ones. A value that stands more than
// once is printed in full only the first time.
func Explain(v Value, sys quantity.System) string {
	var b strings.Builder
	seen := map[string]bool{}
	v.Walk(func(depth int, v Value) bool {
		indent := strings.Repeat("  ", depth)
		fmt.Fprintf(&b, "%s%s = %s [%s]\n", indent, v.Name, v.Format(sys), v.Origin)
		key := v.Name + v.Format(sys)
		if seen[key] && len(v.Inputs) > 0 {
			fmt.Fprintf(&b, "%s  (shown above)\n", indent)
			return false
		}
		seen[key] = true
		for _, line := range v.grounds() {
			fmt.Fprintf(&b, "%s  %s\n", indent, line)
		}
		return true
	})
	return b.String()
}

// grounds are the lines that say why a value is what it is.
func (v Value) grounds() []string {
	var out []string
	if f := v.Formula; f != nil {
		out = append(out, f.Title+": "+f.Expr)
		if f.Range != "" {
			out = append(out, "valid: "+f.Range)
		}
	}
	if v.Place != "" {
		out = append(out, "at "+v.Place)
	}
	if v.Reason != "" {
		out = append(out, "because "+v.Reason)
	}
	if v.Source != "" {
		out = append(out, "source: "+Cite(v.Source))
	}
	return out
}

// References lists the sources that a set of values rests on, each once, in the
// order in which they are met.
func References(values ...Value) []string {
	var out []string
	met, seen := map[string]bool{"": true}, map[string]bool{} // as written, and as cited
	walked := map[*Value]bool{}                               // lists of inputs: many values share theirs
	for _, v := range values {
		v.Walk(func(_ int, v Value) bool {
			if v.Origin != Catalog && !met[v.Source] {
				met[v.Source] = true
				if c := Cite(v.Source); !seen[c] {
					seen[c] = true
					out = append(out, c)
				}
			}
			if len(v.Inputs) == 0 || walked[&v.Inputs[0]] {
				return false
			}
			walked[&v.Inputs[0]] = true
			return true
		})
	}
	return out
}

// Assumptions lists the assumed values that a set of values rests on, each once.
func Assumptions(values ...Value) []Value {
	var out []Value
	seen := met{}
	for _, v := range values {
		v.Walk(func(_ int, v Value) bool {
			if v.Origin == Assumed && seen.first(v) {
				out = append(out, v)
			}
			return true
		})
	}
	return out
}
