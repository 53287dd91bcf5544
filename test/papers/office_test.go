package papers

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const python = "/usr/bin/python3"

// office has LibreOffice make other files of the given ones, and gives their folder.
func office(t *testing.T, to string, from ...string) string {
	t.Helper()
	out := t.TempDir()
	reads(t, "soffice", append([]string{
		"-env:UserInstallation=file://" + t.TempDir(), "--headless", "--convert-to", to,
		"--outdir", out,
	}, from...)...)
	made, err := filepath.Glob(filepath.Join(out, "*"))
	if err != nil || len(made) != len(from) {
		t.Fatalf("LibreOffice opened %d of %d files, %v", len(made), len(from), err)
	}
	return out
}

// word is what the second reader finds in a Word file.
type word struct {
	Title, Author string
	Headings      [][2]string
	Text          []string
	Tables        [][][]string
	Contents      bool
	Pictures      int
}

// TestWord: LibreOffice lays every Word file out, and another reader finds the headings as
// headings, the contents, the tables and the figures.
func TestWord(t *testing.T) {
	for _, paper := range []string{"letter", "A4"} {
		all := files(t, paper, "docx")
		laid := office(t, "pdf", all...)
		var found map[string]word
		if err := json.Unmarshal([]byte(reads(t, python, append([]string{"word.py"}, all...)...)), &found); err != nil {
			t.Fatal(err)
		}
		for _, f := range all {
			w, name := found[f], filepath.Base(f)
			pages := filepath.Join(laid, strings.TrimSuffix(name, ".docx")+".pdf")
			text := strings.Join(strings.Fields(reads(t, "pdftotext", "-layout", pages, "-")), " ")
			for _, h := range w.Headings {
				if first := strings.Fields(h[1]); len(first) > 0 && !strings.Contains(text, strings.Join(first, " ")) &&
					len(h[1]) < 40 {
					t.Errorf("%s: the heading %q is not on the pages that LibreOffice lays out", name, h[1])
				}
			}
			if !strings.HasPrefix(w.Title, strings.SplitN(w.Title, ",", 2)[0]) || w.Title == "" ||
				!strings.Contains(w.Author, "Application desk") {
				t.Errorf("%s: title %q, author %q", name, w.Title, w.Author)
			}
			kind := strings.SplitN(name, "-", 2)[0]
			if long := slices.Contains([]string{"submittal", "calculation", "specification"}, kind); long &&
				(len(w.Headings) < 2 || !w.Contents) {
				t.Errorf("%s: %d headings, contents %v", name, len(w.Headings), w.Contents)
			}
			if charts := kind != "datasheet"; slices.Contains([]string{"submittal", "calculation", "datasheet"}, kind) &&
				(len(w.Tables) < 4 || charts && w.Pictures == 0) {
				t.Errorf("%s: %d tables, %d pictures", name, len(w.Tables), w.Pictures)
			}
			if number(t, reads(t, "pdfinfo", pages), `Pages:\s+(\d+)`) < 1 ||
				!regexp.MustCompile(`Page 1 of \d`).MatchString(text) {
				t.Errorf("%s: no page number", name)
			}
		}
	}
}

// sheet is what the second reader finds on a sheet: value, formula and format of cells.
type sheet struct {
	Title string
	Area  bool
	Cells map[string][3]any
}

func books(t *testing.T, all ...string) map[string][]sheet {
	t.Helper()
	var out map[string][]sheet
	if err := json.Unmarshal([]byte(reads(t, python, append([]string{"book.py"}, all...)...)), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestWorkbooks: another reader finds numbers as numbers and a print area on every sheet,
// and what LibreOffice computes from the formulas alone is what the file says.
func TestWorkbooks(t *testing.T) {
	all := files(t, "letter", "xlsx")
	found, formulas := computes(t, all)
	for _, f := range all {
		for _, s := range found[f] {
			if !s.Area {
				t.Errorf("%s: sheet %q has no print area", filepath.Base(f), s.Title)
			}
			numbers := 0
			for _, c := range s.Cells {
				if _, isNumber := c[0].(float64); isNumber {
					numbers++
				}
			}
			if numbers == 0 && (s.Title == "At the duty points" || s.Title == "Cost") {
				t.Errorf("%s: sheet %q has no number", filepath.Base(f), s.Title)
			}
		}
	}
	if formulas < 60 {
		t.Errorf("%d live formulas in all workbooks", formulas)
	}
}

// computes has LibreOffice compute workbooks from their formulas alone, and holds what it
// finds against what they say. It gives the sheets as they are, and counts the formulas.
func computes(t *testing.T, all []string) (found map[string][]sheet, formulas int) {
	t.Helper()
	found = books(t, all...)
	reads(t, python, append([]string{"book.py", "bare"}, all...)...)
	var bare, computed []string
	for _, f := range all {
		bare = append(bare, strings.TrimSuffix(f, ".xlsx")+".bare.xlsx")
	}
	out := office(t, "xlsx", bare...)
	for _, f := range bare {
		computed = append(computed, filepath.Join(out, filepath.Base(f)))
		if err := os.Remove(f); err != nil {
			t.Error(err)
		}
	}
	again := books(t, computed...)
	for i, f := range all {
		for k, s := range found[f] {
			for at, c := range s.Cells {
				if formula, isText := c[1].(string); isText && strings.HasPrefix(formula, "=") {
					formulas++
					same(t, filepath.Base(f)+" "+s.Title+" "+at+" "+formula, c[0], again[computed[i]][k].Cells[at][0])
				}
			}
		}
	}
	return found, formulas
}

func same(t *testing.T, where string, said, computed any) {
	t.Helper()
	a, isA := said.(float64)
	b, isB := computed.(float64)
	if !isA || !isB || math.Abs(a-b) > 1e-9*math.Max(math.Abs(a), math.Abs(b)) {
		t.Errorf("%s: the file says %v, LibreOffice computes %v", where, said, computed)
	}
}
