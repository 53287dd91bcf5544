// Package house holds the rules that this repository is built by, as tests
// that read its source: who may import whom, how long a file may grow, what
// the calculating packages must not touch, which words stay out. A rule that
// fails says what to do.
package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// root is the repository, seen from this package's folder.
const root = ".."

// module is the path that our own imports begin with.
const module = "seatward"

// leftOut are the folders that hold no source of the main module.
var leftOut = []string{".git", "bin", "artifacts", "dist", "node_modules"}

// walk calls visit with every file of the repository, its path written from
// the root with forward slashes.
func walk(t *testing.T, visit func(name string)) {
	t.Helper()
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && slices.Contains(leftOut, d.Name()):
			return filepath.SkipDir
		case !d.Type().IsRegular():
			return nil
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		visit(filepath.ToSlash(rel))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// source is one Go file of the main module.
type source struct {
	name  string // path from the root
	dir   string // folder from the root, "." for the root itself
	test  bool
	lines int
	fset  *token.FileSet
	file  *ast.File
}

// line returns the line of a position in s.
func (s source) line(p token.Pos) int { return s.fset.Position(p).Line }

// imports lists the paths that s imports.
func (s source) imports() []string {
	paths := make([]string, len(s.file.Imports))
	for i, spec := range s.file.Imports {
		paths[i] = strings.Trim(spec.Path.Value, `"`)
	}
	return paths
}

// sources reads every Go file of the main module, in the order of their paths.
// Folders with a go.mod of their own and testdata are not part of it.
func sources(t *testing.T) []source {
	t.Helper()
	var names, apart []string
	walk(t, func(name string) {
		switch {
		case path.Base(name) == "go.mod" && name != "go.mod":
			apart = append(apart, path.Dir(name)+"/")
		case strings.HasSuffix(name, ".go") && !strings.Contains("/"+name, "/testdata/"):
			names = append(names, name)
		}
	})
	var found []source
	for _, name := range names {
		if slices.ContainsFunc(apart, func(dir string) bool { return strings.HasPrefix(name, dir) }) {
			continue
		}
		found = append(found, read(t, name))
	}
	if len(found) == 0 {
		t.Fatal("no Go file was found: the rules would hold nothing")
	}
	return found
}

func read(t *testing.T, name string) source {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, name, string(text))
}

func parse(t *testing.T, name, text string) source {
	t.Helper()
	s := source{
		name: name, dir: path.Dir(name), test: strings.HasSuffix(name, "_test.go"),
		lines: strings.Count(text, "\n"), fset: token.NewFileSet(),
	}
	var err error
	s.file, err = parser.ParseFile(s.fset, name, text, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// calculates reports whether s is shipped code of layers 0 to 7, where an
// answer may depend on the input alone.
func (s source) calculates() bool {
	p, listed := plan[s.dir]
	return listed && !s.test && p.layer <= lastCalculating
}
