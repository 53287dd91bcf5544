package truth

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
)

//go:embed cases
var caseFiles embed.FS

// Header is the first line of every file in cases, exactly.
const Header = "id,formula,kind,inputs,expected,unit,tolerance,why,source,status,check,note"

// Kinds lists where an outside number may come from.
var Kinds = []string{
	"closed form", "standard's table", "worked example", "other implementation", "measurement",
	"relation",
}

// statuses are the ways a number came to us; a row's status starts with, or
// says after a semicolon, one of them.
var statuses = []string{"seen", "from memory", "computed", "derived"}

// Case is one outside number: one row of a file in cases.
type Case struct {
	ID, Formula, Kind, Inputs string
	Expected                  float64
	Unit                      string
	Tolerance                 Tolerance
	Why, Source, Status, Note string
	Check                     Check // what its agreement is worth
	File                      string
	Line                      int
}

// Place says where the row is written.
func (c Case) Place() string { return fmt.Sprintf("truth/cases/%s:%d", c.File, c.Line) }

// Topic is the file's name without its ending.
func (c Case) Topic() string { return strings.TrimSuffix(c.File, ".csv") }

// readCases reads every cases/*.csv of fsys. The error joins all faults found.
func readCases(fsys fs.FS) ([]Case, error) {
	names, err := fs.Glob(fsys, "cases/*.csv")
	if err != nil {
		return nil, err
	}
	var (
		cases  []Case
		faults []error
		seen   = map[string]Case{}
	)
	for _, name := range names {
		f, err := fsys.Open(name)
		if err != nil {
			return nil, err
		}
		rows, errs := readFile(path.Base(name), f)
		if err := f.Close(); err != nil {
			return nil, err
		}
		faults = append(faults, errs...)
		for _, c := range rows {
			if first, twice := seen[c.ID]; twice {
				faults = append(faults, fmt.Errorf("%s: id %q is used at %s already: give the row its own", c.Place(),
					c.ID, first.Place()))
				continue
			}
			seen[c.ID] = c
			cases = append(cases, c)
		}
	}
	return cases, errors.Join(faults...)
}

// readFile reads one file of cases; name is its base name.
func readFile(name string, r io.Reader) ([]Case, []error) {
	reader := csv.NewReader(r)
	reader.FieldsPerRecord = -1
	columns := strings.Split(Header, ",")
	header, err := reader.Read()
	if err != nil {
		return nil, []error{fmt.Errorf("truth/cases/%s:1: %w; the first line must be %s", name, err, Header)}
	}
	if !slices.Equal(header, columns) {
		return nil, []error{fmt.Errorf("truth/cases/%s:1: the first line must be %s", name, Header)}
	}
	var (
		cases  []Case
		faults []error
	)
	for {
		row, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return cases, faults
		}
		if err != nil {
			return cases, append(faults, fmt.Errorf("truth/cases/%s: %w", name, err))
		}
		line, _ := reader.FieldPos(0)
		if len(row) != len(columns) {
			faults = append(faults, fmt.Errorf("truth/cases/%s:%d: %d fields where %d are wanted: quote a text that has a comma in it", name, line, len(row), len(columns)))
			continue
		}
		c, errs := readRow(row)
		c.File, c.Line = name, line
		for _, err := range errs {
			faults = append(faults, fmt.Errorf("%s: row %q: %w", c.Place(), c.ID, err))
		}
		if len(errs) == 0 {
			cases = append(cases, c)
		}
	}
}

// readRow reads the fields of one row in the order of Header.
func readRow(row []string) (Case, []error) {
	for i := range row {
		row[i] = strings.TrimSpace(row[i])
	}
	c := Case{
		ID: row[0], Formula: row[1], Kind: row[2], Inputs: row[3],
		Unit: row[5], Why: row[7], Source: row[8], Status: row[9], Check: Check(row[10]), Note: row[11],
	}
	var faults []error
	fault := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	for _, must := range []struct{ name, text, help string }{
		{"id", c.ID, "a name that no other row has"},
		{"formula", c.Formula, "the name of an evaluator"},
		{"unit", c.Unit, `the unit of the expected number, or "-"`},
		{"why", c.Why, "the reason for this tolerance"},
		{"source", c.Source, "who published the number, in what edition, and where in it"},
		{"status", c.Status, "one of " + strings.Join(statuses, ", ")},
	} {
		if must.text == "" {
			fault("%s is empty: write %s", must.name, must.help)
		}
	}
	if !slices.Contains(Kinds, c.Kind) {
		fault("kind %q: write one of %s", c.Kind, strings.Join(Kinds, ", "))
	}
	if c.Status != "" && c.StatusWord() == "" {
		fault("status %q: write one of %s", c.Status, strings.Join(statuses, ", "))
	}
	var err error
	if c.Tolerance, err = parseTolerance(row[6]); err != nil {
		faults = append(faults, err)
		return c, faults
	}
	if c.Expected, err = c.Tolerance.expected(row[4]); err != nil {
		faults = append(faults, err)
	}
	if c.Tolerance.Form == Known && c.Note == "" {
		fault("a known disagreement needs a note with its reason and size")
	}
	return c, append(faults, c.checkFaults()...)
}

// StatusWord is the row's status reduced to how the number came to us: seen,
// from memory, computed or derived; empty when it says none of them.
func (c Case) StatusWord() string {
	best, at := "", math.MaxInt
	for _, word := range statuses {
		if i := strings.Index(c.Status, word); i >= 0 && i < at {
			best, at = word, i
		}
	}
	return best
}

// Form is how a row says how near is near enough.
type Form uint8

// The forms of a tolerance.
const (
	Relative Form = iota // 0.001: difference over the expected number
	Absolute             // abs 0.003: difference in the row's unit; abs 0.003 of 1: of that full scale
	Range                // range 0.2..0.4: published as a range
	Known                // known: recorded disagreement, must still disagree
)

// knownBar is the least relative difference that is a disagreement in
// a row marked "known" without a number of its own.
const knownBar = 0.001

// Tolerance says how near is near enough.
type Tolerance struct {
	Form      Form
	Size      float64 // of Relative and Absolute; of Known the bar it misses
	Scale     float64 // of Absolute: the full scale that Size belongs to; 0 is the number itself
	Low, High float64 // of Range
	Text      string  // as written
}

// parseTolerance reads "0.001", "abs 0.003", "abs 0.003 of 1", "range 0.2..0.4",
// "known" or "known 0.02" (a disagreement of more than 2 %).
func parseTolerance(text string) (Tolerance, error) {
	bad := fmt.Errorf(`tolerance %q: write 0.001, abs 0.003, abs 0.003 of 1, range 0.2..0.4, known or known 0.02`, text)
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	t := Tolerance{Text: text}
	size := func(s string) (float64, error) {
		v, err := finite(s)
		if err != nil || v < 0 {
			return 0, bad
		}
		return v, nil
	}
	var err error
	switch word {
	case "abs":
		t.Form = Absolute
		number, scale, scaled := strings.Cut(rest, " of ")
		t.Size, err = size(number)
		if scaled && err == nil {
			if t.Scale, err = size(scale); t.Scale == 0 {
				err = bad
			}
		}
	case "range":
		t.Form = Range
		low, high, found := strings.Cut(rest, "..")
		var errLow, errHigh error
		t.Low, errLow = finite(low)
		t.High, errHigh = finite(high)
		if !found || errLow != nil || errHigh != nil || t.Low > t.High {
			err = bad
		}
	case "known":
		t.Form, t.Size = Known, knownBar
		if rest != "" {
			t.Size, err = size(rest)
		}
	default:
		t.Size, err = size(text)
	}
	return t, err
}

// expected reads the expected number of a row with tolerance t. A range needs
// none: its middle stands for it.
func (t Tolerance) expected(text string) (float64, error) {
	if t.Form == Range && text == "" {
		return (t.Low + t.High) / 2, nil
	}
	v, err := finite(text)
	switch {
	case err != nil:
		return 0, fmt.Errorf("expected %q is not a plain number", text)
	case t.Form == Range && (v < t.Low || v > t.High):
		return 0, fmt.Errorf("expected %s lies outside its own %s", text, t.Text)
	case t.Form == Relative && v == 0:
		return 0, errors.New("expected 0 cannot have a relative tolerance: write abs and a number")
	}
	return v, nil
}

// compare returns how far got is from want in the terms of t and, when that
// is too far, what is wrong.
func (t Tolerance) compare(got, want float64) (off float64, miss string) {
	diff := math.Abs(got - want)
	switch t.Form {
	case Absolute:
		if diff > t.Size {
			miss = fmt.Sprintf("off by %.3g, allowed %.3g", diff, t.Size)
		}
		return diff, miss
	case Range:
		off = max(t.Low-got, got-t.High, 0)
		if off > 0 {
			miss = fmt.Sprintf("outside %g to %g by %.3g", t.Low, t.High, off)
		}
		return off, miss
	case Known:
		off = relative(diff, want)
		if off <= t.Size {
			miss = fmt.Sprintf("recorded as a known disagreement, but agrees within %.3g: promote it, give it a tolerance", t.Size)
		}
		return off, miss
	default:
		off = relative(diff, want)
		if off > t.Size {
			miss = fmt.Sprintf("off by %.3g of it, allowed %.3g", off, t.Size)
		}
		return off, miss
	}
}

// relative is diff over the size of want; over 1 when want is nothing.
func relative(diff, want float64) float64 {
	if want == 0 {
		return diff
	}
	return diff / math.Abs(want)
}

func finite(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = strconv.ErrRange
	}
	return v, err
}
