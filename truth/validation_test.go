package truth

import (
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// mapFS makes a file system of files below cases; it takes name, text pairs.
func mapFS(pairs ...string) fs.FS {
	files := fstest.MapFS{}
	for i := 0; i < len(pairs); i += 2 {
		files["cases/"+pairs[i]] = &fstest.MapFile{Data: []byte(pairs[i+1])}
	}
	return files
}

func negativeInf() float64 { return math.Inf(-1) }

func TestFormulasIn(t *testing.T) {
	const source = `package pipe
import "seatward/basis"
var FrictionFactorFormula = basis.Formula{ID: "friction", Title: "friction factor", Ref: "colebrook1939"}
var LossFormula = &basis.Formula{ID: "loss"}
var list = []basis.Formula{{ID: "one"}, {ID: "two"}}
var named = map[string]*basis.Formula{"x": {ID: "three"}}
var bad = basis.Formula{ID: "a" + "b"}
var other = Formula{ID: "not ours"}
var none = basis.Formula{}
`
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "pipe/pipe.go", source, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	want := []declared{
		{
			ID: "friction", Title: "friction factor", Ref: "colebrook1939", Kernel: "pipe.FrictionFactor",
			Place: "pipe/pipe.go:3",
		},
		{ID: "loss", Kernel: "pipe.Loss", Place: "pipe/pipe.go:4"},
		{ID: "one", Place: "pipe/pipe.go:5"},
		{ID: "two", Place: "pipe/pipe.go:5"},
		{ID: "three", Place: "pipe/pipe.go:6"},
		{ID: "", Place: "pipe/pipe.go:7"},
	}
	if diff := cmp.Diff(want, formulasIn(fset, file)); diff != "" {
		t.Error(diff)
	}
}

func TestValidationText(t *testing.T) {
	e := &Evaluator{Name: "test validation/grid", Where: "pipe.FrictionFactor"}
	evaluators[e.Name] = e
	t.Cleanup(func() { delete(evaluators, e.Name) })
	row := func(id string, check Check, tol Tolerance, off float64) Outcome {
		return Outcome{
			Case: Case{
				ID: id, Formula: e.Name, Kind: "closed form", Expected: 2, Unit: "m", Tolerance: tol, Check: check,
				Source: "Author (1900)", Status: "seen; checked", Note: "units unclear", File: "friction.csv",
			},
			Got: 2 + off, Error: off,
		}
	}
	text := validation(
		[]Outcome{
			row("a", Outside, Tolerance{Form: Relative, Size: 0.01}, 0.005),
			row("b", Exact, Tolerance{Form: Absolute, Size: 1, Scale: 100}, 1e-15),
			row("d", Order, Tolerance{Form: Range, Low: 1, High: 3}, 0),
			row("c", Disagrees, Tolerance{Form: Known, Size: knownBar}, 0.25),
			row("e", Disagrees, Tolerance{Form: Known, Size: knownBar}, 0.002),
			row("p", Pinned, Tolerance{Form: Relative, Size: 1e-9}, 0),
		},
		[]declared{
			{ID: "colebrook", Title: "friction factor", Kernel: "pipe.FrictionFactor", Place: "pipe/a.go:1"},
			{ID: "lonely", Title: "left | alone", Place: "pipe/b.go:2"},
		},
	)
	for _, want := range []string{
		"**2 checks, all within tolerance.** 4 more numbers are no checks.",
		"| **checked** | 1 |",
		"| pinned | 1 |",
		"0 within 0.1 %, 2 within 1 %, 0 within 5 %",
		"The code declares 2 formulas; 1 has at least one check, 1 none.",
		"### friction\n",
		"| test validation/grid | `pipe.FrictionFactor` | 1 checked, 1 exact | 2 known, 1 order of magnitude, 1 pinned | 0.5 % of 1 % allowed (a) |",
		"1 of 2. The small ones",
		"- **c** (test validation/grid): the source has 2, the code 2.25 m, 25 % apart. Reason: units unclear. Source: Author (1900).",
		`| lonely | left \| alone | ` + "`pipe/b.go` | none |",
		"**test validation/grid**, friction factor\n\n- Author (1900) (2 numbers: seen, known)",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
}

func TestWorst(t *testing.T) {
	c := Case{ID: "a", Expected: 200, Unit: "-"}
	for _, tt := range []struct {
		tolerance Tolerance
		off       float64
		want      string
	}{
		{Tolerance{Form: Relative, Size: 1e-9}, 5e-10, "5e-08 % of 1e-07 % allowed (a)"},
		{Tolerance{Form: Relative, Size: 1e-9}, 5e-14, "rounding only (a)"},
		{Tolerance{Form: Absolute, Size: 0.5}, 0.25, "0.25 of 0.5 allowed (a)"},
		{Tolerance{Form: Absolute, Size: 0}, 0, "rounding only (a)"},
		{Tolerance{Form: Range, Low: 100, High: 300}, 0, "inside the published range (a)"},
	} {
		c.Tolerance = tt.tolerance
		if got := worst([]Outcome{{Case: c, Got: 200, Error: tt.off}}); got != tt.want {
			t.Errorf("%+v off by %g: %q, want %q", tt.tolerance, tt.off, got, tt.want)
		}
	}
	if got := figures(0.0221665, 0.00041); got != "0.0221665" {
		t.Errorf("figures %s, want enough of them to show the difference", got)
	}
}
