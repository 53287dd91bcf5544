package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/internal/render/text"
)

// called runs a command line as from the top of the checkout.
func called(t testing.TB, line string) (out, errOut string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(words(line), strings.NewReader(""), &o, &e)
	return o.String(), e.String(), code
}

// words splits a command line at blanks outside single quotes, without its first word.
func words(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`'([^']*)'|([^\s']+)`).FindAllStringSubmatch(line, -1) {
		out = append(out, m[1]+m[2])
	}
	return out[1:]
}

// commands lists every command that people see.
func commands() []*cobra.Command {
	var out []*cobra.Command
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		out = append(out, c)
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk((&app{}).root())
	return out
}

// TestHelp: every command's help fits the page, and says how it is called, an example
// and the exit codes.
func TestHelp(t *testing.T) {
	for _, c := range commands() {
		out, errOut, code := called(t, c.CommandPath()+" --help")
		if code != answered || errOut != "" {
			t.Errorf("%s --help: exit %d, %s", c.CommandPath(), code, errOut)
		}
		for _, part := range []string{
			"\nUsage:\n  " + c.CommandPath(), "\nExample:\n  seatward ",
			"\nExit codes:\n  0 ", "2 ",
		} {
			if !strings.Contains(out, part) {
				t.Errorf("%s --help does not say %q", c.CommandPath(), part)
			}
		}
		for _, l := range strings.Split(out, "\n") {
			if n := len([]rune(l)); n > text.Width {
				t.Errorf("%s --help: %d columns: %s", c.CommandPath(), n, l)
			}
		}
	}
}

// TestHelpExamples: every line of every example answers.
func TestHelpExamples(t *testing.T) {
	dir := t.TempDir() // some of them write a file
	for _, folder := range []string{"examples", "catalog/demo"} {
		if err := os.CopyFS(filepath.Join(dir, folder), os.DirFS(filepath.Join("../..", folder))); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	for _, c := range commands() {
		for _, line := range strings.Split(c.Example, "\n") {
			if out, errOut, code := called(t, line); code != answered || out == "" {
				t.Errorf("%s: exit %d, %d bytes, %s", line, code, len(out), errOut)
			}
		}
	}
}

// TestReportsFit: no line of any report about any example passes the page.
func TestReportsFit(t *testing.T) {
	t.Chdir("../..")
	files, err := filepath.Glob("examples/*.station.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	lines := []string{"seatward explain --all examples/first-call.station.yaml"}
	for _, f := range files {
		lines = append(lines, "seatward loss --valve flap/6in "+f, "seatward closing --units SI --valve flap/6in "+f)
	}
	out, _, _ := called(t, "seatward catalog list --all")
	for _, id := range strings.Fields(out) {
		if strings.Contains(id, "/6in") {
			lines = append(lines, "seatward loss --valve "+id, "seatward closing --units SI --valve "+id,
				"seatward select examples/layout.station.yaml --valve "+id)
		}
	}
	catalogs, _ := catalog.Demo()
	for _, f := range catalogs[0].Families {
		for _, sys := range []string{"US", "SI"} {
			lines = append(lines, "seatward configure "+f.ID+" --units "+sys,
				"seatward standards "+f.Items[0].ID+" --units "+sys)
		}
	}
	lines = append(lines, "seatward catalog list", "seatward rules", "seatward version", "seatward rules --packs",
		"seatward materials --service 'raw sewage'",
		"seatward fit --all --bolt-circle '9.5 in' --bolts 8",
		"seatward fit --all --units SI --flange-od '340 mm' --face-to-face '500 mm' --position horizontal",
		"seatward catalog diff catalog/demo/swing.yaml catalog/demo/flap.yaml --station examples/first-call.station.yaml")
	for _, line := range lines {
		out, errOut, code := called(t, line)
		if code == badInput || out == "" {
			t.Errorf("%s: exit %d, %s", line, code, errOut)
		}
		for i, l := range strings.Split(out, "\n") {
			if n := len([]rune(l)); n > text.Width || strings.ContainsAny(l, "\x1b") || strings.Contains(l, "NaN") ||
				strings.Contains(l, "Inf") || strings.Contains(l, "%!") {
				t.Errorf("%s, line %d: %q", line, i+1, l)
			}
		}
	}
}
