package truth

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"

	"github.com/google/go-cmp/cmp"
)

// root is the repository, seen from this package's folder.
const root = ".."

func allOutcomes(t *testing.T) []Outcome {
	t.Helper()
	cases, err := readCases(caseFiles)
	if err != nil {
		t.Fatalf("truth/cases cannot be read:\n%v", err)
	}
	if len(cases) == 0 {
		t.Fatal("truth/cases holds no row: the code is checked against nothing")
	}
	outcomes := make([]Outcome, len(cases))
	for i, c := range cases {
		outcomes[i] = run(c)
	}
	return outcomes
}

// TestCases holds the code against every number from outside. One topic alone:
// go test ./truth -run TestCases/friction
func TestCases(t *testing.T) {
	byTopic := map[string][]Outcome{}
	for _, o := range allOutcomes(t) {
		byTopic[o.Topic()] = append(byTopic[o.Topic()], o)
	}
	for topic, outcomes := range byTopic {
		t.Run(topic, func(t *testing.T) {
			misses := slices.DeleteFunc(slices.Clone(outcomes), func(o Outcome) bool { return o.Miss == "" })
			if len(misses) > 0 {
				t.Errorf("%d of %d numbers miss. Find out why before touching a tolerance.\n%s", len(misses),
					len(outcomes), table(misses))
			}
		})
	}
}

// table prints the misses under each other.
func table(misses []Outcome) string {
	var b bytes.Buffer
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "place\tid\tformula\tinputs\texpected\tgot\tunit\twhat is wrong")
	for _, o := range misses {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%.10g\t%.10g\t%s\t%s\n", o.Place(), o.ID, o.Formula, o.Inputs, o.Expected,
			o.Got, o.Unit, o.Miss)
	}
	w.Flush()
	return b.String()
}

func TestEvaluators(t *testing.T) {
	for _, fault := range evaluatorFaults {
		t.Error(fault)
	}
	used := map[string]bool{}
	for _, o := range allOutcomes(t) {
		used[o.Formula] = true
	}
	for name, e := range evaluators {
		if !used[name] {
			t.Errorf("evaluator %q (%s) has no row in truth/cases: add one, or remove the evaluator", name, e.Where)
		}
	}
}

// TestValidation keeps VALIDATION.md true to what the rows gave.
func TestValidation(t *testing.T) {
	outcomes := allOutcomes(t)
	formulas, faults, err := declaredFormulas(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range faults {
		t.Error(fault)
	}
	if slices.ContainsFunc(outcomes, func(o Outcome) bool { return o.Miss != "" }) {
		t.Fatal("some rows miss (see TestCases): VALIDATION.md is compared and written only when none does")
	}
	want := validation(outcomes, formulas)
	path := filepath.Join(root, "VALIDATION.md")
	if os.Getenv("SEATWARD_UPDATE") == "1" {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; write it with SEATWARD_UPDATE=1 go test ./truth", err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("VALIDATION.md is stale; renew it with SEATWARD_UPDATE=1 go test ./truth (-now +file):\n%s", diff)
	}
}

func TestReadFileFaults(t *testing.T) {
	const good = "a,f,closed form,x=1,2,m,0.01,rounded,Author (1900),seen,checked,"
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", "the first line must be"},
		{
			"header out of order", strings.Replace(Header, "id,formula", "formula,id", 1) + "\n",
			"the first line must be",
		},
		{"column added", Header + ",extra\n", "the first line must be"},
		{"file without the check column", strings.Replace(Header, ",check", "", 1) + "\n", "the first line must be"},
		{"row without a check", Header + "\n" + strings.Replace(good, ",checked,", ",,", 1), `check ""`},
		{"check unknown", Header + "\n" + strings.Replace(good, ",checked,", ",sure,", 1), `check "sure"`},
		{"field lost", Header + "\na,f,closed form\n", "3 fields where 12"},
		{"no source", Header + "\n" + strings.Replace(good, "Author (1900)", "", 1), "source is empty"},
		{"no reason", Header + "\n" + strings.Replace(good, "rounded", "", 1), "why is empty"},
		{"no tolerance", Header + "\n" + strings.Replace(good, "0.01", "", 1), "tolerance"},
		{"no status", Header + "\n" + strings.Replace(good, "seen", "", 1), "status is empty"},
		{"status of no known word", Header + "\n" + strings.Replace(good, "seen", "sure", 1), `status "sure"`},
		{"kind unknown", Header + "\n" + strings.Replace(good, "closed form", "guess", 1), `kind "guess"`},
		{"expected is no number", Header + "\n" + strings.Replace(good, ",2,", ",two,", 1), "not a plain number"},
		{"expected is not finite", Header + "\n" + strings.Replace(good, ",2,", ",NaN,", 1), "not a plain number"},
		{"relative to nothing", Header + "\n" + strings.Replace(good, ",2,", ",0,", 1), "write abs"},
		{
			"known without note", Header + "\n" + strings.NewReplacer("0.01", "known", "checked", "known").Replace(good),
			"needs a note",
		},
		{"open quote", Header + "\n" + `"a,f` + "\n", "quote"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			cases, errs := readFile("x.csv", strings.NewReader(tt.text))
			if len(errs) == 0 || !strings.Contains(fmt.Sprint(errs), tt.want) {
				t.Errorf("errors %v, want one with %q", errs, tt.want)
			}
			if len(cases) != 0 {
				t.Errorf("a faulty row was taken: %v", cases)
			}
		})
	}
	cases, errs := readFile("x.csv", strings.NewReader(Header+"\n"+good+"\n"))
	if len(cases) != 1 || len(errs) != 0 {
		t.Fatalf("good row: %v, %v", cases, errs)
	}
	if got := cases[0].Place(); got != "truth/cases/x.csv:2" {
		t.Errorf("place %s", got)
	}
}

func TestDuplicateID(t *testing.T) {
	row := "a,f,closed form,x=1,2,m,0.01,rounded,Author (1900),seen,checked,\n"
	cases, err := readCases(mapFS("one.csv", Header+"\n"+row, "two.csv", Header+"\n"+row))
	if err == nil || !strings.Contains(err.Error(), "truth/cases/one.csv:2") {
		t.Errorf("error %v, want it to name the first place", err)
	}
	if len(cases) != 1 {
		t.Errorf("%d rows taken, want the first alone", len(cases))
	}
}

func TestTolerance(t *testing.T) {
	for _, tt := range []struct {
		tolerance string
		want, got float64
		off       float64
		miss      string // part of the message; empty for agreement
	}{
		{"0.01", 200, 201, 0.005, ""},
		{"0.01", -200, -203, 0.015, "off by 0.015 of it"},
		{"abs 0.5", 0, 0.25, 0.25, ""},
		{"abs 0.5", 0, -1, 1, "off by 1, allowed 0.5"},
		{"abs 0.5 of 10", 0, 0.25, 0.25, ""},
		{"range 1..2", 1.5, 2, 0, ""},
		{"range 1..2", 1.5, 2.25, 0.25, "outside 1 to 2"},
		{"known", 100, 110, 0.1, ""},
		{"known", 100, 100, 0, "promote it"},
		{"known 0.2", 100, 110, 0.1, "promote it"},
	} {
		t.Run(fmt.Sprintf("%s/%g/%g", tt.tolerance, tt.want, tt.got), func(t *testing.T) {
			tol, err := parseTolerance(tt.tolerance)
			if err != nil {
				t.Fatal(err)
			}
			off, miss := tol.compare(tt.got, tt.want)
			if off != tt.off || (tt.miss == "") != (miss == "") || !strings.Contains(miss, tt.miss) {
				t.Errorf("off %g, miss %q; want %g, %q", off, miss, tt.off, tt.miss)
			}
		})
	}
	for _, bad := range []string{"", "1 %", "-0.1", "NaN", "abs", "abs -1", "abs Inf", "abs 1 of", "abs 1 of 0", "abs 1 of x", "range", "range 1", "range 2..1", "range a..b", "known x", "about 3"} {
		if tol, err := parseTolerance(bad); err == nil {
			t.Errorf("tolerance %q was read as %+v", bad, tol)
		}
	}
	tol, err := parseTolerance("range 1..2")
	if err != nil {
		t.Fatal(err)
	}
	if middle, err := tol.expected(""); middle != 1.5 || err != nil {
		t.Errorf("a range alone stands for %g, %v; want its middle", middle, err)
	}
	if _, err := tol.expected("3"); err == nil {
		t.Error("an expected number outside its own range was taken")
	}
}

func TestInputs(t *testing.T) {
	for _, bad := range []string{"x", "x=", "=1", "x=1; x=2", "x=1;"} {
		if _, err := parseInputs(bad); err == nil {
			t.Errorf("inputs %q were read", bad)
		}
	}
	in, err := parseInputs(" Re = 1e5 ; eps/D=1e-4; size=1 1/2 in; left=3; dn=DN150")
	if err != nil {
		t.Fatal(err)
	}
	if in.F("Re") != 1e5 || in.F("eps/D") != 1e-4 || in.S("size") != "1 1/2 in" || !in.Has("left") || in.Has("right") {
		t.Error("inputs are not read as written")
	}
	in.F("dn")
	in.S("gone")
	want := []string{"input dn=DN150 is not a plain number", `input "gone" is missing`, `input "left" is never read by the evaluator`}
	if diff := cmp.Diff(want, in.complaints()); diff != "" {
		t.Error(diff)
	}
}

func TestRunMisses(t *testing.T) {
	tol := Tolerance{Size: 0.01}
	for _, tt := range []struct {
		name string
		eval func(Inputs) (float64, error)
		c    Case
		want string
	}{
		{"no evaluator", nil, Case{Formula: "nobody"}, "no evaluator"},
		{"bad inputs", func(Inputs) (float64, error) { return 1, nil }, Case{Inputs: "x"}, "not name=value"},
		{"input not read", func(Inputs) (float64, error) { return 1, nil }, Case{Inputs: "x=1"}, "never read"},
		{"input missing", func(in Inputs) (float64, error) { return in.F("y"), nil }, Case{}, "missing"},
		{"error", func(Inputs) (float64, error) { return 0, fmt.Errorf("out of range") }, Case{}, "out of range"},
		{"panic", func(Inputs) (float64, error) { var p *Case; return p.Expected, nil }, Case{}, "panic in test.place"},
		{"not finite", func(Inputs) (float64, error) { return 0 * negativeInf(), nil }, Case{}, "answers NaN"},
		{"off", func(Inputs) (float64, error) { return 1.1, nil }, Case{Expected: 1}, "off by 0.1"},
		{"agrees", func(in Inputs) (float64, error) { return in.F("x"), nil }, Case{Inputs: "x=1", Expected: 1}, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.c.Tolerance = tol
			if tt.eval != nil {
				tt.c.Formula = "test " + tt.name
				evaluators[tt.c.Formula] = &Evaluator{Name: tt.c.Formula, Where: "test.place", Eval: tt.eval}
				t.Cleanup(func() { delete(evaluators, tt.c.Formula) })
			}
			miss := run(tt.c).Miss
			if (miss == "") != (tt.want == "") || !strings.Contains(miss, tt.want) {
				t.Errorf("miss %q, want %q", miss, tt.want)
			}
		})
	}
}
