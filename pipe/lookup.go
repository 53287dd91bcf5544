package pipe

import (
	"fmt"
	"strings"

	"seatward/diag"
)

// Span is a number with the range in which it is known to lie.
type Span struct{ Best, Low, High float64 }

// Known is false for a number that the sources do not give.
func (s Span) Known() bool { return s.Best != 0 || s.High != 0 }

// scaled multiplies all three by a positive factor.
func (s Span) scaled(by float64) Span { return Span{s.Best * by, s.Low * by, s.High * by} }

// LookupError says that a table has no such name or size, and what it has.
type LookupError struct {
	What  string   // "material", "class", "size", "surface" or "fitting"
	Given string   // what was asked for
	Of    string   // in what it was looked for: "ductile iron PC350"; may be empty
	Known []string // what there is, in the order of the table
	Near  string   // the nearest of them, or empty
}

// Error gives what was asked for, the nearest match and what there is.
func (e *LookupError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "no %s %q", e.What, e.Given)
	if e.Of != "" {
		fmt.Fprintf(&b, " of %s", e.Of)
	}
	if e.Near != "" {
		fmt.Fprintf(&b, "; did you mean %s?", e.Near)
	}
	fmt.Fprintf(&b, "; there are: %s", strings.Join(e.Known, ", "))
	return b.String()
}

var plainly = strings.NewReplacer("-", " ", "_", " ", ",", " ", "°", " ", "½", " 1/2", "¼", " 1/4")

// spell makes the spellings of a name comparable: small letters, without
// degrees, hyphens, commas and doubled blanks.
func spell(name string) string {
	name = strings.ToLower(name)
	name = plainly.Replace(name)
	words := strings.Fields(name)
	kept := words[:0]
	for _, w := range words {
		if w != "deg" && w != "degree" && w != "degrees" {
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, " ")
}

// named finds the entry with a name or alias by its spelling, also in the
// plural. names(i) lists those of entry i, the proper one first.
func named(what, given string, count int, names func(i int) []string) (int, error) {
	want := spell(given)
	single := strings.TrimSuffix(want, "s")
	var proper, all []string
	owner := map[string]string{}
	for i := range count {
		list := names(i)
		proper = append(proper, list[0])
		for _, n := range list {
			s := spell(n)
			if s == want || s == single {
				return i, nil
			}
			all = append(all, s)
			owner[s] = list[0]
		}
	}
	near := owner[diag.DidYouMean(want, all)]
	return 0, &LookupError{What: what, Given: given, Known: distinct(proper), Near: near}
}

// distinct drops repeated names and keeps the order.
func distinct(names []string) []string {
	seen := map[string]bool{}
	kept := make([]string, 0, len(names))
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			kept = append(kept, n)
		}
	}
	return kept
}
