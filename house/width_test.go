package house

import (
	"go/ast"
	"go/scanner"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// lineWidth is the greatest width of a line of code, a tab is four columns.
const lineWidth = 120

// TestLineWidth holds every line of code under its width. What people read is not cut: a string,
// a tag and a comment behind code stay in one piece, so that they can be searched for.
func TestLineWidth(t *testing.T) {
	for _, s := range sources(t) {
		if ast.IsGenerated(s.file) {
			continue
		}
		text, err := os.ReadFile(filepath.Join("..", s.name))
		if err != nil {
			t.Fatal(err)
		}
		read := proseWidths(text)
		for i, line := range strings.Split(string(text), "\n") {
			if n := columns(line) - read[i+1]; n > lineWidth {
				t.Errorf("%s:%d: %d columns of code, at most %d: break the line after a comma or an operator",
					s.name, i+1, n, lineWidth)
			}
		}
	}
}

// columns is the width of a line.
func columns(line string) int { return utf8.RuneCountInString(line) + 3*strings.Count(line, "\t") }

// proseWidths gives, for each line, the columns taken by what stands inside strings and in
// comments behind code. Lines inside a raw string are all prose.
func proseWidths(text []byte) map[int]int {
	var s scanner.Scanner
	set := token.NewFileSet()
	file := set.AddFile("", set.Base(), len(text))
	s.Init(file, text, nil, scanner.ScanComments)
	out, last := map[int]int{}, 0
	for {
		pos, tok, lit := s.Scan()
		if tok == token.EOF {
			return out
		}
		first := file.Line(pos)
		switch {
		case tok == token.STRING, tok == token.COMMENT && first == last:
			for i, part := range strings.Split(lit, "\n") {
				out[first+i] += columns(part)
			}
			first += strings.Count(lit, "\n")
		}
		last = first
	}
}
