//go:build linux

package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"seatward/internal/table"
)

// TestSomeHostileFiles is the share of make hostile that every test run has: as many cases
// as go into a few seconds, from the first on.
func TestSomeHostileFiles(t *testing.T) {
	t.Chdir("../..")
	o := &options{
		seed: 1, n: 200, minutes: 4.0 / 60, parallel: 2, binary: filepath.Join(t.TempDir(), "seatward"),
		dir: "artifacts/hostile",
	}
	if out, err := exec.Command("go", "build", "-o", o.binary, "./cmd/seatward").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	found, done, err := o.all()
	if err != nil || done == 0 {
		t.Fatal(done, err)
	}
	for _, f := range found {
		t.Errorf("case %d (%s): %s; see %s", f.number, f.kind, f.fault, f.kept)
	}
}

// TestFaultsAreSeen: a program that does what it must not is found out.
func TestFaultsAreSeen(t *testing.T) {
	for script, want := range map[string]string{
		"exit 0":                       "",
		"echo no >&2; exit 2":          "",
		"echo 'panic: oh' >&2; exit 2": "panic: ",
		"echo 'goroutine 1 [running]:' >&2; exit 1": "panic: ",
		"exit 3":                               "exit code 3",
		"kill -9 $$":                           "exit code -1",
		"exit 2":                               "exit code 2 without a word",
		"echo yes; echo no >&2; exit 2":        "exit code 2, and yet an answer",
		"echo loss NaN m":                      "NaN in the answer",
		"echo head +Inf m":                     "Inf in the answer",
		"touch $1/.seatward-12; exit 1":        "a file half written",
		"echo no >&2; echo x > $1/out; exit 2": "exit code 2, and yet out is written",
		"rm -f $1/out; exit 0 # nothing":       "exit code 0, and nothing written",
	} {
		dir := t.TempDir()
		program := filepath.Join(dir, "program")
		if err := os.WriteFile(program, []byte("#!/bin/sh\n"+script+"\n"), 0o755); err != nil {
			t.Fatal(err)
		}
		work := t.TempDir()
		c := &attempt{dir: work, args: []string{work}}
		if strings.Contains(script, "out") {
			c.out = "out"
		}
		got, err := (&worker{binary: program}).hold(c)
		if err != nil || !strings.HasPrefix(got, want) || want == "" && got != "" {
			t.Errorf("%s: %q, %v; want %q", script, got, err, want)
		}
	}
}

// TestCasesCanBeMadeAgain: seed and number give the same files and the same question.
func TestCasesCanBeMadeAgain(t *testing.T) {
	s, err := readSources("../..")
	if err != nil {
		t.Fatal(err)
	}
	for number := range 60 {
		first, second := files(t, s, number), files(t, s, number)
		if !bytes.Equal(first, second) {
			t.Errorf("case %d differs when it is made again", number)
		}
	}
}

// TestTooLongCell: the text that no library writes is in the workbook.
func TestTooLongCell(t *testing.T) {
	sheets := []table.Sheet{{Name: "families", Rows: [][]table.Cell{{{Text: tooLong, Row: 1, Col: 1}}}}}
	for seed := range uint64(40) {
		m := mutator{rand.New(rand.NewPCG(seed, 1))}
		data, err := m.workbook(sheets)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		held := false
		_, err = rewritten(data, func(_ int, text []byte) []byte {
			held = held || bytes.Contains(text, []byte(tooLong))
			return text
		})
		if err == nil && held {
			return
		}
	}
	t.Error("no workbook holds the text")
}

// files are all that a case is made of.
func files(t *testing.T, s *sources, number int) []byte {
	t.Helper()
	dir := t.TempDir()
	c, err := s.make(dir, 7, number)
	if err != nil {
		t.Fatal(err)
	}
	out := bytes.NewBufferString(strings.ReplaceAll(strings.Join(c.args, " "), dir, "") + c.path + string(c.body))
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if info, err := os.Lstat(n); err == nil && info.Mode().IsRegular() &&
			!strings.HasSuffix(n, ".xlsx") { // a workbook has the time in it
			data, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			out.Write(data)
		}
	}
	return out.Bytes()
}
