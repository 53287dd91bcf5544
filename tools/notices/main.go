// Command notices collects the licenses of everything that is linked into the program, on
// every system that a release is made for, from the module cache and the Go distribution.
// Modules that carry the same text share it.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"seatward/tools/target"
)

func main() {
	out := flag.String("out", "", "file to write")
	flag.Parse()
	if err := write(*out); err != nil {
		fmt.Fprintln(os.Stderr, "notices:", err)
		os.Exit(1)
	}
}

func write(out string) error {
	modules, err := linked()
	if err != nil {
		return err
	}
	text, err := notices(modules)
	if err != nil {
		return err
	}
	return os.WriteFile(out, text, 0o644)
}

// module is a piece that is linked in, with the folder of its source.
type module struct{ title, dir string }

// linked lists the modules of the program, over all targets.
func linked() ([]module, error) {
	root, err := output("go", "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	found := map[module]bool{{"Go standard library", root}: true}
	for _, t := range target.All {
		listed, err := output("env", "GOOS="+t.OS, "GOARCH="+t.Arch, "CGO_ENABLED=0", "go", "-C", "..", "list", "-deps",
			"-json=Module", "./cmd/seatward")
		if err != nil {
			return nil, err
		}
		for d := json.NewDecoder(strings.NewReader(listed)); ; {
			var p struct {
				Module *struct {
					Path, Version, Dir string
					Main               bool
				}
			}
			if err := d.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				return nil, err
			}
			if m := p.Module; m != nil && !m.Main {
				found[module{m.Path + " " + m.Version, m.Dir}] = true
			}
		}
	}
	var out []module
	for m := range found {
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b module) int { return strings.Compare(a.title, b.title) })
	return out, nil
}

func output(name string, args ...string) (string, error) {
	var errOut bytes.Buffer
	c := exec.Command(name, args...)
	c.Stderr = &errOut
	out, err := c.Output()
	if err != nil {
		return "", fmt.Errorf("%s: %w\n%s", c, err, errOut.Bytes())
	}
	return strings.TrimSpace(string(out)), nil
}

// legal are the names of the files that a license wants passed on.
var legal = regexp.MustCompile(`(?i)^(licen[cs]e|copying|copyright|notice|patents|authors)([._-].*)?$`)

// code are endings of files that are no texts, whatever their name.
var code = []string{".go", ".py", ".sh", ".yaml", ".yml", ".json", ".tpl"}

// notices writes the texts, the most shared first.
func notices(modules []module) ([]byte, error) {
	carriers := map[string][]string{}
	for _, m := range modules {
		names, err := os.ReadDir(m.dir)
		if err != nil {
			return nil, err
		}
		licensed := false
		for _, n := range names {
			if n.IsDir() || !legal.MatchString(n.Name()) || slices.Contains(code, filepath.Ext(n.Name())) {
				continue
			}
			data, err := os.ReadFile(filepath.Join(m.dir, n.Name()))
			if err != nil {
				return nil, err
			}
			text := clean(string(data))
			carriers[text] = append(carriers[text], m.title+" ("+n.Name()+")")
			licensed = licensed || !strings.HasPrefix(strings.ToLower(n.Name()), "authors")
		}
		if !licensed {
			return nil, fmt.Errorf("%s has no license file in %s: find out under which license it may be passed on",
				m.title, m.dir)
		}
	}
	var texts []string
	for text := range carriers {
		texts = append(texts, text)
	}
	slices.SortFunc(texts, func(a, b string) int {
		if n := len(carriers[b]) - len(carriers[a]); n != 0 {
			return n
		}
		return strings.Compare(carriers[a][0], carriers[b][0])
	})
	var out bytes.Buffer
	out.WriteString("Seatward is licensed under the Apache License 2.0. It is made with the works below, each\nunder its own license.\n")
	for _, text := range texts {
		fmt.Fprintf(&out, "\n%s\n%s\n\n%s\n", strings.Repeat("=", 80), strings.Join(carriers[text], "\n"), text)
	}
	return out.Bytes(), nil
}

// clean drops what differs between copies of one text: line ends, blanks at ends of lines.
func clean(s string) string {
	lines := strings.Split(strings.ReplaceAll(strings.TrimPrefix(s, "\ufeff"), "\r\n", "\n"), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " \t\f")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}
