package truth

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// declared is one basis.Formula as the source declares it.
type declared struct {
	ID, Title, Ref string
	Kernel         string // "pipe.FrictionFactor" for var FrictionFactorFormula in package pipe
	Place          string // file:line, from the root of the repository
}

// declaredFormulas reads every basis.Formula literal below root, sorted by ID.
// The second result lists literals whose ID cannot be read or is used twice.
func declaredFormulas(root string) ([]declared, []string, error) {
	var (
		found  []declared
		faults []string
		fset   = token.NewFileSet()
	)
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if path != root && (strings.HasPrefix(name, ".") ||
				slices.Contains([]string{"testdata", "tools", "truth", "bin", "node_modules"}, name)) {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(fset, filepath.ToSlash(rel), source, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, f := range formulasIn(fset, file) {
			if f.ID == "" {
				faults = append(faults, f.Place+": a Formula needs its ID written as a plain string, so that VALIDATION.md can name it")
				continue
			}
			found = append(found, f)
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	slices.SortFunc(found, func(a, b declared) int { return strings.Compare(a.ID, b.ID) })
	for i := 1; i < len(found); i++ {
		if found[i].ID == found[i-1].ID {
			faults = append(faults, fmt.Sprintf("%s and %s both declare the formula %q: give each its own ID",
				found[i-1].Place, found[i].Place, found[i].ID))
		}
	}
	return found, faults, nil
}

// formulasIn returns the Formula literals of one file.
func formulasIn(fset *token.FileSet, file *ast.File) []declared {
	var found []declared
	kernels := map[*ast.CompositeLit]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ValueSpec:
			for i, value := range n.Values {
				if unary, ok := value.(*ast.UnaryExpr); ok {
					value = unary.X
				}
				kernel, isFormula := strings.CutSuffix(n.Names[i].Name, "Formula")
				if lit, ok := value.(*ast.CompositeLit); ok && isFormula {
					kernels[lit] = file.Name.Name + "." + kernel
				}
			}
		case *ast.CompositeLit:
			for _, lit := range formulaLiterals(file, n) {
				f := readFormula(lit)
				f.Kernel = kernels[lit]
				at := fset.Position(lit.Pos())
				f.Place = fmt.Sprintf("%s:%d", at.Filename, at.Line)
				found = append(found, f)
			}
		}
		return true
	})
	return found
}

// formulaLiterals returns lit when it is a Formula, or those of its elements
// that are Formulas with their type left out, as in []basis.Formula{{...}}.
func formulaLiterals(file *ast.File, lit *ast.CompositeLit) []*ast.CompositeLit {
	if isFormulaType(file, lit.Type) {
		// The zero value, as a search returns it when it finds nothing, declares none.
		if len(lit.Elts) == 0 {
			return nil
		}
		return []*ast.CompositeLit{lit}
	}
	var element ast.Expr
	switch t := lit.Type.(type) {
	case *ast.ArrayType:
		element = t.Elt
	case *ast.MapType:
		element = t.Value
	}
	if star, ok := element.(*ast.StarExpr); ok {
		element = star.X
	}
	if !isFormulaType(file, element) {
		return nil
	}
	var found []*ast.CompositeLit
	for _, e := range lit.Elts {
		if pair, ok := e.(*ast.KeyValueExpr); ok {
			e = pair.Value
		}
		if inner, ok := e.(*ast.CompositeLit); ok && inner.Type == nil {
			found = append(found, inner)
		}
	}
	return found
}

func isFormulaType(file *ast.File, t ast.Expr) bool {
	switch t := t.(type) {
	case *ast.SelectorExpr:
		pkg, ok := t.X.(*ast.Ident)
		return ok && pkg.Name == "basis" && t.Sel.Name == "Formula"
	case *ast.Ident:
		return file.Name.Name == "basis" && t.Name == "Formula"
	}
	return false
}

// readFormula reads the plain string fields of a keyed Formula literal.
func readFormula(lit *ast.CompositeLit) declared {
	var f declared
	for _, e := range lit.Elts {
		pair, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		key, ok := pair.Key.(*ast.Ident)
		if !ok {
			continue
		}
		value, ok := pair.Value.(*ast.BasicLit)
		if !ok || value.Kind != token.STRING {
			continue
		}
		text, err := strconv.Unquote(value.Value)
		if err != nil {
			continue
		}
		switch key.Name {
		case "ID":
			f.ID = text
		case "Title":
			f.Title = text
		case "Ref":
			f.Ref = text
		}
	}
	return f
}
