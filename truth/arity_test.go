package truth

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// arity is what the source says about formulas and their kernels, by package and name.
type arity struct {
	symbols map[string]int // symbols of a formula
	numbers map[string]int // arguments of a function that takes numbers only
	place   map[string]token.Position
	passed  map[string]int // functions that evaluate a formula that they are handed, with as many inputs
	calls   []evaluation
	handed  []evaluation // to functions
}

// evaluation is a formula that is evaluated, or handed to a function.
type evaluation struct {
	formula, by string
	inputs      int
	at          token.Position
}

// TestFormulasFitTheirKernels: a formula has as many symbols as its kernel has arguments and as
// its evaluations have inputs. That kernel and inputs agree, the compiler holds (basis.Eval1
// and its like).
func TestFormulasFitTheirKernels(t *testing.T) {
	a := readArity(t, "..")
	if len(a.symbols) < 50 || len(a.calls) < 30 {
		t.Fatalf("only %d formulas and %d evaluations are found: what is read?", len(a.symbols), len(a.calls))
	}
	for _, fault := range a.faults() {
		t.Error(fault)
	}
}

// faults are the places where symbols, arguments and inputs differ.
func (a *arity) faults() []string {
	var out []string
	tied := 0
	for formula, symbols := range a.symbols {
		kernel := strings.TrimSuffix(formula, "Formula")
		if n, ok := a.numbers[kernel]; ok && kernel != formula {
			if tied++; n != symbols {
				out = append(out, fmt.Sprintf("%v: %s has %d symbols, its kernel %s takes %d numbers: name each argument, in its order", a.place[formula], formula, symbols, kernel, n))
			}
		}
	}
	if tied == 0 {
		out = append(out, "no formula is found with its kernel")
	}
	check := func(e evaluation, inputs int) {
		if symbols, ok := a.symbols[e.formula]; ok && symbols != inputs {
			out = append(out, fmt.Sprintf("%v: %s has %d symbols and is evaluated with %d inputs", e.at, e.formula,
				symbols, inputs))
		}
	}
	for _, c := range a.calls {
		check(c, c.inputs)
		if _, ok := a.symbols[c.formula]; !ok && a.passed[c.by] == 0 {
			out = append(out, fmt.Sprintf("%v: no formula %s is declared as a variable: its symbols cannot be counted",
				c.at, c.formula))
		}
	}
	for _, h := range a.handed {
		if n := a.passed[h.by]; n > 0 {
			check(h, n)
		}
	}
	return out
}

// TestArityIsSeen: a slip of each kind is found.
func TestArityIsSeen(t *testing.T) {
	const source = `package p
var AFormula = basis.Formula{ID: "a", Symbols: []string{"x"}}
var b = basis.Formula{ID: "b", Symbols: []string{"x", "y"}}
func A(x, y float64) float64 { return x }
func use() { b.Eval1("", nil, v); c.Eval1("", nil, v); laws(&b) }
func laws(f *basis.Formula) { f.Eval3("", nil, v, v, v) }`
	a := newArity()
	a.read(t, "p.go", source)
	found := strings.Join(a.faults(), "\n")
	for _, want := range []string{
		"its kernel p.A takes 2", "p.b has 2 symbols and is evaluated with 1",
		"no formula p.c", "p.b has 2 symbols and is evaluated with 3",
	} {
		if !strings.Contains(found, want) {
			t.Errorf("not found: %s\n%s", want, found)
		}
	}
}

func newArity() *arity {
	return &arity{
		symbols: map[string]int{}, numbers: map[string]int{}, place: map[string]token.Position{},
		passed: map[string]int{},
	}
}

// readArity reads the source of the program below root.
func readArity(t *testing.T, root string) *arity {
	t.Helper()
	a := newArity()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root &&
			(strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "tools" ||
				d.Name() == "node_modules"):
			return filepath.SkipDir
		case !d.IsDir() && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go"):
			a.read(t, path, nil)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// read takes in a file.
func (a *arity) read(t *testing.T, path string, source any) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, path, source, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	pkg := file.Name.Name
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.GenDecl:
			for _, s := range d.Specs {
				if v, ok := s.(*ast.ValueSpec); ok {
					a.variables(fset, file, v)
				}
			}
		case *ast.FuncDecl:
			if n, ok := numbersOnly(d.Type); ok && d.Recv == nil {
				a.numbers[pkg+"."+d.Name.Name] = n
			}
			a.function(fset, pkg, d)
		}
	}
}

// variables takes in the formulas among variables.
func (a *arity) variables(fset *token.FileSet, file *ast.File, v *ast.ValueSpec) {
	for i, value := range v.Values {
		lit, ok := value.(*ast.CompositeLit)
		if !ok || !isFormulaType(file, lit.Type) {
			continue
		}
		for _, e := range lit.Elts {
			pair, ok := e.(*ast.KeyValueExpr)
			if !ok || pair.Key.(*ast.Ident).Name != "Symbols" {
				continue
			}
			name := file.Name.Name + "." + v.Names[i].Name
			a.symbols[name] = len(pair.Value.(*ast.CompositeLit).Elts)
			a.place[name] = fset.Position(lit.Pos())
		}
	}
}

// function takes in the evaluations of a function, and the formulas that it hands on.
func (a *arity) function(fset *token.FileSet, pkg string, d *ast.FuncDecl) {
	if d.Body == nil {
		return
	}
	params := map[string]bool{}
	for _, p := range d.Type.Params.List {
		for _, n := range p.Names {
			params[n.Name] = true
		}
	}
	ast.Inspect(d.Body, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		name := ""
		switch f := call.Fun.(type) {
		case *ast.Ident:
			name = f.Name
		case *ast.SelectorExpr:
			name = f.Sel.Name
			if digits, ok := strings.CutPrefix(name, "Eval"); ok {
				if inputs, err := strconv.Atoi(digits); err == nil {
					a.calls = append(a.calls, evaluation{
						named(pkg, f.X), d.Name.Name, inputs,
						fset.Position(call.Pos()),
					})
					if x, ok := f.X.(*ast.Ident); ok && params[x.Name] {
						a.passed[d.Name.Name] = inputs
					}
				}
			}
		}
		for _, arg := range call.Args {
			if u, ok := arg.(*ast.UnaryExpr); ok && u.Op == token.AND {
				a.handed = append(a.handed, evaluation{
					formula: named(pkg, u.X), by: name,
					at: fset.Position(call.Pos()),
				})
			}
		}
		return true
	})
}

// named is a variable with its package.
func named(pkg string, x ast.Expr) string {
	switch x := x.(type) {
	case *ast.Ident:
		return pkg + "." + x.Name
	case *ast.SelectorExpr:
		if p, ok := x.X.(*ast.Ident); ok {
			return p.Name + "." + x.Sel.Name
		}
	}
	return ""
}

// numbersOnly counts the arguments of a function that takes nothing but numbers.
func numbersOnly(f *ast.FuncType) (int, bool) {
	n := 0
	for _, p := range f.Params.List {
		if t, ok := p.Type.(*ast.Ident); !ok || t.Name != "float64" {
			return 0, false
		}
		n += max(1, len(p.Names))
	}
	return n, true
}
