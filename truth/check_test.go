package truth

import (
	"fmt"
	"strings"
	"testing"
)

func TestCheckFaults(t *testing.T) {
	evaluators["test table"] = &Evaluator{Name: "test table", Where: "pipe.Lookup"}
	evaluators["test formula"] = &Evaluator{Name: "test formula", Where: "pipe.FittingOf, pipe.Run.Loss"}
	t.Cleanup(func() { delete(evaluators, "test table"); delete(evaluators, "test formula") })
	for _, tt := range []struct {
		name, formula, tolerance, status, note string
		check                                  Check
		want                                   string // part of the fault; empty for none
	}{
		{"sharp", "test formula", "0.05", "seen", "", Outside, ""},
		{"too wide", "test formula", "0.06", "seen", "", Outside, "tighten it"},
		{"absolute too wide", "test formula", "abs 0.2", "seen", "", Exact, "tighten it"},
		{"absolute of a scale", "test formula", "abs 0.2 of 10", "seen", "", Exact, ""},
		{"wide range", "test formula", "range 1..3", "computed", "", Independent, "tighten it"},
		{"wide from memory", "test formula", "0.5", "from memory", "", FromMemory, "tighten it"},
		{"wide, told as such", "test formula", "0.5", "seen", "", Order, ""},
		{"from memory is no check", "test formula", "0.01", "from memory", "", Exact, "from memory"},
		{"known needs both", "test formula", "known", "seen", "", Outside, "has both"},
		{"known has both", "test formula", "known", "seen", "misprint", Disagrees, ""},
		{"table read back", "test table", "0.01", "seen", "", Outside, "typed into the code"},
		{"table read back from memory", "test table", "0.01", "from memory", "", FromMemory, "typed into the code"},
		{"table pinned", "test table", "0.01", "seen", "", Pinned, ""},
		{"table against a second source", "test table", "0.01", "seen", beyondEntry + "a second table", Outside, ""},
		{"own answer", "station stop", "0.01", "computed", "", Independent, "our own answers"},
		{"own answer pinned", "station stop", "abs 1", "computed", "", Pinned, ""},
		{"older own answer", "station stop", "known", "computed", "moved", Disagrees, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tol, err := parseTolerance(tt.tolerance)
			if err != nil {
				t.Fatal(err)
			}
			c := Case{
				Formula: tt.formula, Expected: 2, Tolerance: tol, Status: tt.status, Note: tt.note,
				Check: tt.check,
			}
			got := fmt.Sprint(c.checkFaults())
			if (tt.want == "") != (got == "[]") || !strings.Contains(got, tt.want) {
				t.Errorf("faults %s, want one with %q", got, tt.want)
			}
		})
	}
}

// Every table reader is the place of some evaluator: a name that no longer
// exists would let rows pass as checks.
func TestTableReadersAreInUse(t *testing.T) {
	for _, name := range tableReaders {
		found := false
		for _, e := range evaluators {
			found = found || strings.Contains(e.Where, name)
		}
		if !found {
			t.Errorf("%q is the place of no evaluator: mend the list of table readers", name)
		}
	}
}

// No row may have a tolerance that lets any answer pass: a number of the
// wrong sign or of twice the size must miss.
func TestTolerancesCanFail(t *testing.T) {
	for _, o := range allOutcomes(t) {
		if w := o.Tolerance.width(o.Expected); w >= 1 {
			t.Errorf("%s: %s: a tolerance of %.2g times the number cannot fail", o.Place(), o.ID, w)
		}
	}
}
