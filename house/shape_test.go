package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"slices"
	"strings"
	"testing"
)

// The sizes that keep a file one room and a function one thought. Lines of
// package-level tables are data and do not count, nor do generated files.
const (
	fileMedian    = 200
	fileCeiling   = 450
	funcCeiling   = 100
	paramCeiling  = 4 // of what strangers call
	paramsOwnCall = 6 // of a step inside a package
)

// manyParameters are the functions that may take more, with the reason.
var manyParameters = map[string]string{
	"moc.Interior":       "four arrays of one pipe, in the hot loop",
	"basis.NewAssumed":   "an assumption is not complete without every one of them, so none can be left out",
	"basis.NewSimulated": "the inputs at the end are any number of values",
	"basis.Eval3":        inputsOfKernel,
	"basis.Eval4":        inputsOfKernel,
	"basis.Eval5":        inputsOfKernel,
	"basis.Eval6":        inputsOfKernel,
}

// inputsOfKernel is why a formula is evaluated with many values.
const inputsOfKernel = "one input for each number of the kernel, so that leaving one out does not compile"

// TestFileSizes holds every file under the ceiling and the usual file well under it.
func TestFileSizes(t *testing.T) {
	var lengths []int
	for _, s := range sources(t) {
		if ast.IsGenerated(s.file) {
			continue
		}
		n := s.lines - tableLines(s)
		if n > fileCeiling {
			t.Errorf("%s has %d lines, ceiling %d: find the second subject in it and give that its own file", s.name, n,
				fileCeiling)
		}
		if !s.test {
			lengths = append(lengths, n)
		}
	}
	slices.Sort(lengths)
	if median := lengths[len(lengths)/2]; median > fileMedian {
		t.Errorf("the median file has %d lines, at most %d wanted: split the longest files by subject", median,
			fileMedian)
	}
}

// tableLines counts the inner lines of package-level composite literals.
func tableLines(s source) int {
	n := 0
	for _, decl := range s.file.Decls {
		d, ok := decl.(*ast.GenDecl)
		if !ok || d.Tok != token.VAR {
			continue
		}
		for _, spec := range d.Specs {
			for _, value := range spec.(*ast.ValueSpec).Values {
				if lit, ok := value.(*ast.CompositeLit); ok && !holdsFunction(lit) {
					n += max(0, s.line(lit.Rbrace)-s.line(lit.Lbrace)-1)
				}
			}
		}
	}
	return n
}

// holdsFunction reports whether code stands inside n: then it is no mere table.
func holdsFunction(n ast.Node) bool {
	found := false
	ast.Inspect(n, func(n ast.Node) bool {
		_, isFunc := n.(*ast.FuncLit)
		found = found || isFunc
		return !found
	})
	return found
}

// TestFunctionSizes holds every function under the ceiling.
func TestFunctionSizes(t *testing.T) {
	for _, s := range sources(t) {
		if ast.IsGenerated(s.file) {
			continue
		}
		for _, decl := range s.file.Decls {
			f, ok := decl.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if n := functionLines(s, f); n > funcCeiling {
				t.Errorf("%s:%d: %s has %d lines, ceiling %d: name its steps and make them functions", s.name,
					s.line(f.Pos()), f.Name.Name, n, funcCeiling)
			}
			if fault := tooManyParameters(s, f); fault != "" {
				t.Error(fault)
			}
		}
	}
}

// functionLines counts a function's lines. In a test the rows of a table,
// a slice or map of cases, do not count.
func functionLines(s source, f *ast.FuncDecl) int {
	n := s.line(f.End()) - s.line(f.Pos()) + 1
	if !s.test {
		return n
	}
	ast.Inspect(f, func(node ast.Node) bool {
		lit, ok := node.(*ast.CompositeLit)
		if !ok {
			return true
		}
		switch lit.Type.(type) {
		case *ast.ArrayType, *ast.MapType:
			n -= max(0, s.line(lit.Rbrace)-s.line(lit.Lbrace)-1)
			return false
		}
		return true
	})
	return n
}

// tooManyParameters says that f takes more than can be kept apart at a call;
// empty when it does not.
func tooManyParameters(s source, f *ast.FuncDecl) string {
	n, limit := f.Type.Params.NumFields(), paramsOwnCall
	if f.Name.IsExported() {
		limit = paramCeiling
	}
	if n <= limit || s.test || isKernel(f) || manyParameters[s.file.Name.Name+"."+f.Name.Name] != "" {
		return ""
	}
	return fmt.Sprintf("%s:%d: %s takes %d parameters, at most %d wanted: put them in a struct (a formula's kernel on float64 alone may take its symbols)",
		s.name, s.line(f.Pos()), f.Name.Name, n, limit)
}

// isKernel reports whether every parameter of f is a float64.
func isKernel(f *ast.FuncDecl) bool {
	return !slices.ContainsFunc(f.Type.Params.List, func(field *ast.Field) bool {
		t, ok := field.Type.(*ast.Ident)
		return !ok || t.Name != "float64"
	})
}

// TestOnePackageComment wants the map of a package in one known place.
func TestOnePackageComment(t *testing.T) {
	type key struct{ dir, name string }
	comments := map[key][]string{}
	for _, s := range sources(t) {
		if strings.HasSuffix(s.file.Name.Name, "_test") {
			continue // an outside test belongs to the package that it tests
		}
		k := key{s.dir, s.file.Name.Name}
		if comments[k] == nil {
			comments[k] = []string{}
		}
		if s.file.Doc != nil {
			comments[k] = append(comments[k], s.name)
		}
	}
	for k, files := range comments {
		switch len(files) {
		case 0:
			t.Errorf("package %s in %s has no package comment: say in one file what it is for, above its package line",
				k.name, k.dir)
		case 1:
		default:
			t.Errorf("package %s has %d package comments (%v): keep one", k.name, len(files), files)
		}
	}
}

// TestNoInit wants nothing to happen at a distance. What is embedded does nothing: files, and the list of
// time zones.
func TestNoInit(t *testing.T) {
	for _, s := range sources(t) {
		for _, decl := range s.file.Decls {
			if f, ok := decl.(*ast.FuncDecl); ok && f.Recv == nil && f.Name.Name == "init" {
				t.Errorf("%s:%d: init runs unseen: use a package-level variable, or a function that the caller calls",
					s.name, s.line(f.Pos()))
			}
		}
		for _, spec := range s.file.Imports {
			embeds := spec.Path.Value == `"embed"` || spec.Path.Value == `"time/tzdata"`
			if spec.Name != nil && spec.Name.Name == "_" && !embeds {
				t.Errorf("%s:%d: the blank import of %s makes something happen unseen: call what is needed by name",
					s.name, s.line(spec.Pos()), spec.Path.Value)
			}
		}
	}
}

// TestExportedIsDocumented wants a comment on everything that the calculating
// packages offer.
func TestExportedIsDocumented(t *testing.T) {
	for _, s := range sources(t) {
		if !s.calculates() {
			continue
		}
		for _, name := range undocumented(s) {
			t.Errorf("%s: write what it means above it, with units, range and errors where it has them", name)
		}
	}
}

// undocumented lists the exported identifiers of s that no comment stands by.
// A method counts only on an exported type; a comment on a group covers its members.
func undocumented(s source) []string {
	var found []string
	add := func(name *ast.Ident, docs ...*ast.CommentGroup) {
		if name.IsExported() && !slices.ContainsFunc(docs, func(d *ast.CommentGroup) bool { return d != nil }) {
			found = append(found, fmt.Sprintf("%s:%d: %s", s.name, s.line(name.Pos()), name.Name))
		}
	}
	for _, decl := range s.file.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if d.Recv != nil && !ast.IsExported(receiver(d)) {
				continue
			}
			add(d.Name, d.Doc)
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					add(spec.Name, d.Doc, spec.Doc, spec.Comment)
				case *ast.ValueSpec:
					for _, name := range spec.Names {
						add(name, d.Doc, spec.Doc, spec.Comment)
					}
				}
			}
		}
	}
	return found
}

// receiver names the type that a method stands on.
func receiver(f *ast.FuncDecl) string {
	t := f.Recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	switch v := t.(type) {
	case *ast.IndexExpr:
		t = v.X
	case *ast.IndexListExpr:
		t = v.X
	}
	if name, ok := t.(*ast.Ident); ok {
		return name.Name
	}
	return ""
}

// TestShapeCatches shows that the rules on size and comments find what they are for.
func TestShapeCatches(t *testing.T) {
	s := parse(t, "pipe/x.go", `package pipe

// Table is data.
var Table = []int{
	1,
	2,
}

var Calls = []func(){
	func() {},
}

func Bare(a, b, c, d, e float64) float64 { return a }

func Wide(a, b, c, d float64, e int) {}

func step(a, b, c, d float64, e, f int) {}

type hidden struct{}

func (hidden) Method() {}
`)
	if n := tableLines(s); n != 2 {
		t.Errorf("%d table lines, want 2", n)
	}
	want := []string{"pipe/x.go:9: Calls", "pipe/x.go:13: Bare", "pipe/x.go:15: Wide"}
	if got := undocumented(s); !slices.Equal(got, want) {
		t.Errorf("undocumented %v, want %v", got, want)
	}
	var wide []string
	for _, decl := range s.file.Decls {
		if f, ok := decl.(*ast.FuncDecl); ok && tooManyParameters(s, f) != "" {
			wide = append(wide, f.Name.Name)
		}
	}
	if !slices.Equal(wide, []string{"Wide"}) {
		t.Errorf("too many parameters in %v, want Wide alone", wide)
	}
	long := parse(t, "pipe/x_test.go", "package pipe\n\nfunc f() {\n\tx := []int{\n\t\t1,\n\t\t2,\n\t}\n\t_ = x\n}\n")
	if n := functionLines(long, long.file.Decls[0].(*ast.FuncDecl)); n != 5 {
		t.Errorf("%d function lines, want 5 without the rows of the table", n)
	}
}
