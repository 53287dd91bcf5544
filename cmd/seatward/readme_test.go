package main

import (
	"os"
	"strings"
	"testing"
)

// TestReadme runs the sessions of README.md: each line after "$ " is run, and what
// stands below it must come out; a line "..." stands for any lines.
func TestReadme(t *testing.T) {
	t.Chdir("../..")
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	steps := sessions(string(data))
	if len(steps) == 0 {
		t.Fatal("README.md shows no session")
	}
	for _, s := range steps {
		if !strings.HasPrefix(s.command, "seatward ") && !strings.HasPrefix(s.command, "./bin/seatward ") {
			t.Errorf("README.md shows %q: only seatward itself can be tried here", s.command)
			continue
		}
		out, errOut, _ := called(t, s.command)
		at := missing(errOut+out, s.shown)
		switch {
		case at == "":
		case os.Getenv("SEATWARD_UPDATE") != "":
			data = renewed(t, data, s, errOut+out)
		default:
			t.Errorf("README.md shows below %q\n%s\nwhich the command does not print there:\n%.2000s", s.command, at,
				errOut+out)
		}
	}
	if os.Getenv("SEATWARD_UPDATE") != "" {
		if err := os.WriteFile("README.md", data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// renewed puts what a command prints now in the place of what is shown: as many lines,
// where all that is left out is the end.
func renewed(t *testing.T, doc []byte, s step, output string) []byte {
	t.Helper()
	old := strings.Join(s.shown, "\n")
	lines := len(s.shown)
	end := ""
	if lines > 0 && s.shown[lines-1] == "..." {
		lines, end = lines-1, "..."
	}
	if strings.Contains(strings.Join(s.shown[:lines], "\n")+"\n", "\n...\n") || old == "" {
		t.Errorf("README.md leaves out the middle of %q: renew it by hand", s.command)
		return doc
	}
	now := strings.Split(strings.TrimRight(output, "\n"), "\n")
	if end != "" && lines < len(now) {
		now = append(now[:lines:lines], end)
	}
	return []byte(strings.Replace(string(doc), old, strings.Join(now, "\n"), 1))
}

// step is one command of a session and what is shown below it.
type step struct {
	command string
	shown   []string
}

// sessions finds the commands in the blocks of a document that are fenced as console.
func sessions(doc string) []step {
	var out []step
	inside := false
	for _, l := range strings.Split(doc, "\n") {
		switch {
		case !inside:
			inside = strings.HasPrefix(l, "```console")
		case strings.HasPrefix(l, "```"):
			inside = false
		case strings.HasPrefix(l, "$ "):
			out = append(out, step{command: l[2:]})
		case len(out) > 0:
			last := &out[len(out)-1]
			last.shown = append(last.shown, l)
		}
	}
	return out
}

// missing gives the first piece of what is shown that does not stand in the output
// where it should; empty when all does.
func missing(output string, shown []string) string {
	got := strings.Split(strings.TrimRight(output, "\n"), "\n")
	for len(shown) > 0 && strings.TrimSpace(shown[len(shown)-1]) == "" {
		shown = shown[:len(shown)-1]
	}
	anywhere := false
	for _, piece := range pieces(shown) {
		at := 0
		if anywhere {
			for at < len(got) && !starts(got[at:], piece) {
				at++
			}
		}
		if !starts(got[at:], piece) {
			return strings.Join(piece, "\n")
		}
		got, anywhere = got[at+len(piece):], true
	}
	if len(shown) > 0 && shown[len(shown)-1] != "..." && len(got) > 0 {
		return "(the end of the output)"
	}
	return ""
}

// pieces cuts what is shown at the lines "...".
func pieces(shown []string) [][]string {
	out := [][]string{nil}
	for _, l := range shown {
		if l == "..." {
			out = append(out, nil)
			continue
		}
		out[len(out)-1] = append(out[len(out)-1], l)
	}
	return out
}

func starts(got, piece []string) bool {
	if len(piece) > len(got) {
		return false
	}
	for i := range piece {
		if got[i] != piece[i] {
			return false
		}
	}
	return true
}

// TestReadmeRunner: the runner of README.md finds what does not come out.
func TestReadmeRunner(t *testing.T) {
	doc := "text\n```console\n$ seatward version\nseatward 1\n...\nbuilt\n$ seatward x\n```\n```\n$ not this\n```\n"
	steps := sessions(doc)
	if len(steps) != 2 || steps[0].command != "seatward version" || len(steps[0].shown) != 3 ||
		steps[1].command != "seatward x" {
		t.Fatalf("found %+v", steps)
	}
	for _, tt := range []struct {
		output, shown string
		fits          bool
	}{
		{"a\nb\nc\n", "a\nb\nc", true},
		{"a\nb\nc\n", "a\n...\nc", true},
		{"a\nb\nc\n", "a\n...", true},
		{"a\nb\nc\n", "...\nb\n...", true},
		{"a\nb\nc\n", "a\nb", false},
		{"a\nb\nc\n", "b\n...", false},
		{"a\nb\nc\n", "a\n...\nx", false},
		{"a\nb\nc\n", "a\nb\nc\nd", false},
		{"", "a", false},
	} {
		if at := missing(tt.output, strings.Split(tt.shown, "\n")); (at == "") != tt.fits {
			t.Errorf("output %q, shown %q: missing %q, want it to fit: %v", tt.output, tt.shown, at, tt.fits)
		}
	}
}
