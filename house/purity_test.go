package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"slices"
	"strings"
	"testing"
)

// forbiddenImports are standard packages that a calculating package must not
// use, with the reason.
var forbiddenImports = map[string]string{
	"C":           "the program is built without cgo",
	"crypto/rand": "an answer must come out the same twice; take a seeded math/rand/v2 source from the caller",
	"flag":        "options are read in cmd/seatward",
	"log":         "return an error, a message or a finding; the caller decides what is shown",
	"log/slog":    "return an error, a message or a finding; the caller decides what is shown",
	"math/rand":   "an answer must come out the same twice; take a seeded math/rand/v2 source from the caller",
	"os/exec":     "a calculation starts no other program",
	"plugin":      "what is linked in must not depend on files elsewhere",
	"unsafe":      "a calculation needs no such speed",
	"net":         "a calculation needs no network",
}

// forbiddenCalls are functions of otherwise welcome packages.
var forbiddenCalls = map[string]struct {
	names  []string
	reason string
}{
	"time": {
		[]string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Sleep"},
		"a calculation does not look at the clock; take the time from the caller",
	},
	"fmt": {
		[]string{"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
		"a calculation returns its result; writing is the caller's job",
	},
	"math/rand/v2": {
		[]string{
			"ExpFloat64", "Float32", "Float64", "Int", "Int32", "Int32N", "Int64", "Int64N", "IntN", "N", "NormFloat64",
			"Perm", "Shuffle", "Uint", "Uint32", "Uint32N", "Uint64", "Uint64N", "UintN",
		},
		"an answer must come out the same twice; use a source seeded by the caller",
	},
}

// stateful are types whose package-level variables are shared state.
var stateful = []string{"sync.Mutex", "sync.RWMutex", "sync.Map", "sync.Once", "sync.Pool", "sync.WaitGroup", "atomic."}

// TestCalculatingPackagesArePure holds layers 0 to 7 to: no clock, no network,
// no randomness that is not seeded, no shared state; files only where a
// package's job is to read one.
func TestCalculatingPackagesArePure(t *testing.T) {
	globals := map[string]map[string]bool{}
	all := sources(t)
	for _, s := range all {
		if s.calculates() {
			if globals[s.dir] == nil {
				globals[s.dir] = map[string]bool{}
			}
			for _, name := range packageVariables(s) {
				globals[s.dir][name] = true
			}
		}
	}
	for _, s := range all {
		if s.calculates() {
			for _, fault := range impurities(s, plan[s.dir].files, globals[s.dir]) {
				t.Error(fault)
			}
		}
	}
}

// impurities lists what s does that a calculation must not; globals are the
// package-level variables of its package.
func impurities(s source, mayReadFiles bool, globals map[string]bool) []string {
	var faults []string
	fault := func(p token.Pos, format string, args ...any) {
		faults = append(faults, fmt.Sprintf("%s:%d: %s", s.name, s.line(p), fmt.Sprintf(format, args...)))
	}
	local := map[string]string{} // the name a package goes by in this file
	for _, spec := range s.file.Imports {
		imported := strings.Trim(spec.Path.Value, `"`)
		name := imported[strings.LastIndex(imported, "/")+1:]
		if imported == "math/rand/v2" {
			name = "rand"
		}
		if spec.Name != nil {
			name = spec.Name.Name
		}
		local[name] = imported
		if reason, bad := forbiddenImports[imported]; bad {
			fault(spec.Pos(), "imports %s: %s", imported, reason)
		}
		if strings.HasPrefix(imported, "net/") {
			fault(spec.Pos(), "imports %s: %s", imported, forbiddenImports["net"])
		}
		if !mayReadFiles && (imported == "os" || imported == "syscall") {
			fault(spec.Pos(), "imports %s: take bytes, an io.Reader or an fs.FS from the caller; only packages whose job is to read a file may open one (files in the plan)", imported)
		}
	}
	ast.Inspect(s.file, func(n ast.Node) bool {
		if call, ok := n.(*ast.SelectorExpr); ok {
			if pkg, ok := call.X.(*ast.Ident); ok {
				rule := forbiddenCalls[local[pkg.Name]]
				if slices.Contains(rule.names, call.Sel.Name) {
					fault(call.Pos(), "uses %s.%s: %s", pkg.Name, call.Sel.Name, rule.reason)
				}
			}
		}
		return true
	})
	for _, decl := range s.file.Decls {
		switch d := decl.(type) {
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				if v, ok := spec.(*ast.ValueSpec); ok && d.Tok == token.VAR && isStateful(v) {
					fault(v.Pos(), "%s is shared state: keep it in a value that the caller owns", v.Names[0].Name)
				}
			}
		case *ast.FuncDecl:
			for _, w := range writes(d, globals) {
				fault(w.Pos(), "%s changes the package-level variable %s: keep what changes in a value that the caller owns", d.Name.Name, w.Name)
			}
		}
	}
	return faults
}

func isStateful(v *ast.ValueSpec) bool {
	t := v.Type
	if t == nil && len(v.Values) == 1 {
		if lit, ok := v.Values[0].(*ast.CompositeLit); ok {
			t = lit.Type
		}
	}
	sel, ok := t.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	pkg, ok := sel.X.(*ast.Ident)
	return ok && slices.ContainsFunc(stateful, func(s string) bool {
		return pkg.Name+"."+sel.Sel.Name == s || strings.HasSuffix(s, ".") && pkg.Name+"." == s
	})
}

// packageVariables names the package-level variables of s.
func packageVariables(s source) []string {
	var names []string
	for _, decl := range s.file.Decls {
		if d, ok := decl.(*ast.GenDecl); ok && d.Tok == token.VAR {
			for _, spec := range d.Specs {
				for _, name := range spec.(*ast.ValueSpec).Names {
					names = append(names, name.Name)
				}
			}
		}
	}
	return names
}

// writes returns the uses of globals that f assigns to. A name that f also
// declares for itself anywhere is taken for its own.
func writes(f *ast.FuncDecl, globals map[string]bool) []*ast.Ident {
	if f.Body == nil {
		return nil
	}
	own := map[string]bool{}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Field:
			for _, name := range n.Names {
				own[name.Name] = true
			}
		case *ast.ValueSpec:
			for _, name := range n.Names {
				own[name.Name] = true
			}
		case *ast.AssignStmt:
			if n.Tok == token.DEFINE {
				declareAll(own, n.Lhs...)
			}
		case *ast.RangeStmt:
			if n.Tok == token.DEFINE {
				declareAll(own, n.Key, n.Value)
			}
		}
		return true
	})
	var found []*ast.Ident
	check := func(targets ...ast.Expr) {
		for _, target := range targets {
			if name := base(target); name != nil && globals[name.Name] && !own[name.Name] {
				found = append(found, name)
			}
		}
	}
	ast.Inspect(f.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			if n.Tok != token.DEFINE {
				check(n.Lhs...)
			}
		case *ast.IncDecStmt:
			check(n.X)
		case *ast.RangeStmt:
			if n.Tok == token.ASSIGN {
				check(n.Key, n.Value)
			}
		case *ast.CallExpr:
			if name, ok := n.Fun.(*ast.Ident); ok && (name.Name == "delete" || name.Name == "clear") &&
				len(n.Args) > 0 {
				check(n.Args[0])
			}
		}
		return true
	})
	return found
}

func declareAll(own map[string]bool, names ...ast.Expr) {
	for _, e := range names {
		if name, ok := e.(*ast.Ident); ok {
			own[name.Name] = true
		}
	}
}

// base returns x for x, x.y, x[i], *x and their mixtures.
func base(e ast.Expr) *ast.Ident {
	for {
		switch v := e.(type) {
		case *ast.Ident:
			return v
		case *ast.SelectorExpr:
			e = v.X
		case *ast.IndexExpr:
			e = v.X
		case *ast.StarExpr:
			e = v.X
		case *ast.ParenExpr:
			e = v.X
		default:
			return nil
		}
	}
}

// TestPurityCatches shows that the rule finds what it is for.
func TestPurityCatches(t *testing.T) {
	globals := map[string]bool{"table": true, "count": true}
	for _, tt := range []struct{ name, text, want string }{
		{"clock", `import "time"; var t0 = time.Now()`, "clock"},
		{"clock renamed", `import clock "time"; func f() { clock.Sleep(1) }`, "clock"},
		{"duration", `import "time"; func f(d time.Duration) float64 { return d.Seconds() }`, ""},
		{"network", `import "net/http"; var c http.Client`, "network"},
		{"file", `import "os"; func f() { os.ReadFile("x") }`, "take bytes"},
		{"printing", `import "fmt"; func f() { fmt.Println() }`, "returns its result"},
		{"old random", `import "math/rand"; func f() { rand.Int() }`, "seeded"},
		{"global random", `import "math/rand/v2"; func f() { rand.IntN(3) }`, "seeded"},
		{"seeded random", `import "math/rand/v2"; func f() { rand.New(rand.NewPCG(1, 2)) }`, ""},
		{"mutex", `import "sync"; var mu sync.Mutex`, "shared state"},
		{"atomic", `import "sync/atomic"; var n atomic.Int64`, "shared state"},
		{"assignment", `func f() { count = 1 }`, "changes the package-level variable count"},
		{"increment", `func f() { count++ }`, "changes the package-level variable count"},
		{"element", `func f() { table[1].x = 2 }`, "changes the package-level variable table"},
		{"delete", `func f() { delete(table, 1) }`, "changes the package-level variable table"},
		{"own variable", `func f() { count := 0; count++ }`, ""},
		{"own parameter", `func f(table []int) { table[0] = 1 }`, ""},
		{"reading", `func f() int { return table[count] }`, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			faults := impurities(parse(t, "pipe/x.go", "package pipe\n"+tt.text+"\n"), false, globals)
			if (len(faults) == 0) != (tt.want == "") || !strings.Contains(strings.Join(faults, "\n"), tt.want) {
				t.Errorf("faults %q, want one with %q", faults, tt.want)
			}
		})
	}
}
