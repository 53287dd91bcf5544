// Package papers reads the documents back with programs that did not write them: poppler
// and qpdf, LibreOffice, and the readers of Word and workbook files of Python. make papers
// installs what is missing and runs it; it is a module of its own, so that make test needs
// none of these programs.
package papers

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// folder holds what the program wrote; it stays, to be looked at.
const folder = "../../artifacts/papers"

// set is every kind for one station. The HTML is written too, to hold the others against.
type set struct {
	name, station, paper, units string
	profile                     bool
	formats                     []string
}

// sets are what is looked at: the two papers, both systems, stations of several depths, and
// stations that the papers were not made with.
var sets = []set{
	{"letter", "examples/study.station.yaml", "letter", "US", true, []string{"pdf", "docx", "xlsx", "md"}},
	{"A4", "examples/study.station.yaml", "A4", "SI", true, []string{"pdf", "docx"}},
	{"layout-US", "examples/layout.station.yaml", "letter", "US", false, []string{"pdf"}},
	{"booster-SI", "examples/booster.station.yaml", "A4", "SI", true, []string{"pdf"}},
	{"riser-SI", "internal/soak/testdata/broke/riser.station.yaml", "letter", "SI", false, []string{"pdf"}},
	{"iron-US", "internal/soak/testdata/broke/long-iron-main.station.yaml", "A4", "US", false, []string{"pdf"}},
}

// hard are characters that fonts and encodings lose.
var hard = []string{"°", "²", "≤", "·", "–"}

func TestMain(m *testing.M) {
	code := 1
	if err := write(); err != nil {
		fmt.Fprintln(os.Stderr, err)
	} else {
		code = m.Run()
	}
	os.Remove(program)
	os.Exit(code)
}

// program is the one that is tested, built for it.
var program = filepath.Join(os.TempDir(), fmt.Sprintf("seatward-papers-%d", os.Getpid()))

// write makes every kind of each set.
func write() error {
	if err := os.RemoveAll(folder); err != nil {
		return err
	}
	if out, err := output("../..", "go", "build", "-o", program, "./cmd/seatward"); err != nil {
		return fmt.Errorf("%s: %w", out, err)
	}
	for _, s := range sets {
		args := []string{
			"write", "all", s.station, "--paper", s.paper, "--units", s.units, "-o",
			filepath.Join("artifacts/papers", s.name),
		}
		for _, f := range append(s.formats, "html") {
			args = append(args, "--format", f)
		}
		if s.profile {
			args = append(args, "--profile", "examples/profile.yaml")
		}
		if out, err := output("../..", program, args...); err != nil {
			return fmt.Errorf("%s: %w", out, err)
		}
	}
	return nil
}

// output runs a program and gives what it printed.
func output(dir, name string, args ...string) (string, error) {
	c := exec.Command(name, args...)
	c.Dir = dir
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	err := c.Run()
	return out.String(), err
}

// reads runs a program that must succeed.
func reads(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := output(".", name, args...)
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return out
}

// files lists the documents of a format on a paper.
func files(t *testing.T, paper, format string) []string {
	t.Helper()
	out, err := filepath.Glob(filepath.Join(folder, paper, "*."+format))
	if err != nil || len(out) < 11 {
		t.Fatalf("%d documents of %s, %v", len(out), format, err)
	}
	return out
}
