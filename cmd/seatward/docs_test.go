package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// shownFile is a block of a document that is a file: ```yaml line.map.yaml.
var shownFile = regexp.MustCompile("(?ms)^```[a-z]+ ([\\w.]+)\n(.*?)^```")

// TestFieldDoc: every command of docs/field.md runs as it stands there, in order.
func TestFieldDoc(t *testing.T) {
	data, err := os.ReadFile("../../docs/field.md")
	if err != nil {
		t.Fatal(err)
	}
	commands := regexp.MustCompile(`(?m)^    (seatward .*)$`).FindAllStringSubmatch(string(data), -1)
	if len(commands) < 6 {
		t.Fatalf("docs/field.md has %d commands", len(commands))
	}
	t.Chdir("../..")
	for _, c := range commands {
		if out, errOut, code := called(t, c[1]); code != answered || out == "" {
			t.Errorf("%s ends with %d: %s", c[1], code, errOut)
		}
	}
}

// TestCatalogDoc walks through docs/catalog.md as one who is new to it would: the files it
// shows are written as they stand there, its commands are run in order, and what it shows
// below them must come out.
func TestCatalogDoc(t *testing.T) {
	data, err := os.ReadFile("../../docs/catalog.md")
	if err != nil {
		t.Fatal(err)
	}
	examples, err := filepath.Abs("../../examples")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.CopyFS("examples", os.DirFS(examples)); err != nil {
		t.Fatal(err)
	}
	files := shownFile.FindAllStringSubmatch(string(data), -1)
	if len(files) != 2 {
		t.Fatalf("docs/catalog.md shows %d files", len(files))
	}
	for _, f := range files {
		example, err := os.ReadFile("examples/" + strings.Replace(f[1], "line.", "prices.", 1))
		if err != nil || string(example) != f[2] {
			t.Errorf("examples/ does not hold %s as the page shows it: %v", f[1], err)
		}
		if err := os.WriteFile(f[1], []byte(f[2]), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	steps := sessions(string(data))
	asked := map[string]bool{}
	for _, s := range steps {
		out, errOut, code := called(t, s.command)
		if code != answered {
			t.Errorf("%s ends with %d: %s", s.command, code, errOut)
		}
		if at := missing(errOut+out, s.shown); at != "" {
			t.Errorf("docs/catalog.md shows below %q\n%s\nwhich the command does not print there:\n%.3000s", s.command, at, errOut+out)
		}
		asked[strings.Fields(s.command)[1]] = true
	}
	for _, c := range []string{"select", "configure", "fit", "standards", "catalog"} {
		if !asked[c] {
			t.Errorf("the walk does not ask %s", c)
		}
	}
}
