package document_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/quantity"
)

// workings are words of the program's own workings, which no paper for a customer has.
var workings = regexp.MustCompile(`(?i)\.yaml|\.go\b|:\d+:\d+|from memory|not re-read|not seen|\(seen\)|the function|documentation|VALIDATION\.md|examples/`)

// TestCalculationIsForReaders: the calculation names no file, place in a file or function, and
// what was not read again in the current edition stands in one list alone.
func TestCalculationIsForReaders(t *testing.T) {
	k, err := document.KindNamed("calculation")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range examples {
		text := outline(dossier(t, request(t, c.name, quantity.US, true), c.valve).Make(k))
		for _, l := range strings.Split(text, "\n") {
			if workings.MatchString(l) {
				t.Errorf("%s %s: %s", c.name, c.valve, l)
			}
		}
	}
}

// TestCalculationParts: the calculation has what a checker looks for.
func TestCalculationParts(t *testing.T) {
	k, err := document.KindNamed("calculation")
	if err != nil {
		t.Fatal(err)
	}
	d := dossier(t, request(t, "study", quantity.US, true), "flap/6in").Make(k)
	tables := map[string]int{}
	var empty []string
	for _, b := range d.Blocks {
		switch x := b.(type) {
		case document.Table:
			tables[x.ID] += len(x.Rows)
		case document.Space:
			empty = append(empty, x.Title)
		}
	}
	for id, least := range map[string]int{
		"liquid": 6, "levels": 5, "pump1": 4, "curve1": 5, "eta1": 4, "pipes": 2, "fittings": 6, "elastic": 2,
		"profile": 5,
		"valve":   8, "operation": 3, "assumed": 5, "formulas": 10, "point": 45, "stop": 30, "steps": 12,
		"envelope": 12,
		"ratings":  4, "shares": 5, "checked": 2,
	} {
		if tables[id] < least {
			t.Errorf("the table %q has %d rows, want %d and more", id, tables[id], least)
		}
	}
	if !slices.Contains(empty, "Seal and signature of the licensed engineer") {
		t.Errorf("no empty seal: %q", empty)
	}
}

// numbered is the number of an equation, and cited one of a source.
var (
	numbered = regexp.MustCompile(`^\((\d+)\)$`)
	tone     = regexp.MustCompile(`(?m)^\[\d\] `)
	cited    = regexp.MustCompile(`\[(\d+)\]`)
)

// TestCalculationNumbers: equations are numbered through, each live formula names cells that
// are there, and every source that is cited stands in the list.
func TestCalculationNumbers(t *testing.T) {
	k, err := document.KindNamed("calculation")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range examples {
		d := dossier(t, request(t, c.name, quantity.SI, true), c.valve).Make(k)
		cells, n, formulas := map[string]int{}, 0, 0
		for _, b := range d.Blocks {
			if x, ok := b.(document.Table); ok {
				for _, r := range x.Rows {
					for _, c := range r.Cells {
						if c.Numeric {
							cells[x.ID+"."+r.ID]++
						}
					}
				}
			}
		}
		for _, b := range d.Blocks {
			x, ok := b.(document.Table)
			if !ok {
				continue
			}
			for _, r := range x.Rows {
				if m := numbered.FindStringSubmatch(r.Cells[0].Text); m != nil {
					if n++; m[0] != "("+strconv.Itoa(n)+")" {
						t.Errorf("%s: equation %s follows (%d)", c.name, m[0], n-1)
					}
				}
				for _, cell := range r.Cells {
					formulas += known(t, c.name, cell.Formula, cells)
				}
			}
		}
		if formulas < 30 {
			t.Errorf("%s: %d live formulas", c.name, formulas)
		}
		text := tone.ReplaceAllString(outline(d), "") // of paragraphs
		for _, m := range cited.FindAllStringSubmatch(text, -1) {
			if !strings.Contains(text, "* ["+m[1]+"] ") {
				t.Errorf("%s: source %s is cited and not listed", c.name, m[0])
			}
		}
	}
}

// reference is a cell that a formula names: table, row and which number of it.
var reference = regexp.MustCompile(`\{([a-z0-9-]+\.[^}:]*)(?::(\d))?\}`)

// known holds a formula to the cells that there are; it gives 1 where there is a formula.
func known(t *testing.T, where, formula string, cells map[string]int) int {
	t.Helper()
	if formula == "" {
		return 0
	}
	if strings.Count(formula, "{") != len(reference.FindAllString(formula, -1)) {
		t.Errorf("%s: a cell of %s has no name", where, formula)
	}
	for _, m := range reference.FindAllStringSubmatch(formula, -1) {
		if nth := max(1, int((m[2] + "1")[0]-'0')); cells[m[1]] < nth {
			t.Errorf("%s: %s names %s, which has %d numbers", where, formula, m[0], cells[m[1]])
		}
	}
	return 1
}
