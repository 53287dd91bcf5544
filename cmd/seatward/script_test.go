package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"seatward": main})
}

// TestScripts runs the scripts of testdata/script with the examples beside them.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: os.Getenv("SEATWARD_UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			for from, to := range map[string]string{"../../examples": "examples", "../../catalog/demo": "catalog/demo"} {
				if err := os.CopyFS(filepath.Join(env.WorkDir, to), os.DirFS(from)); err != nil {
					return err
				}
			}
			return nil
		},
	})
}

// inRoot runs a command line as from the top of the checkout.
func inRoot(t *testing.T, args []string) (out, errOut string, code int) {
	t.Helper()
	t.Chdir("../..")
	var o, e bytes.Buffer
	code = run(args, strings.NewReader(""), &o, &e)
	return o.String(), e.String(), code
}

// TestHelpExamplesRun runs the example of every command's help.
func TestHelpExamplesRun(t *testing.T) {
	root := (&app{}).root()
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		if c.Example == "" && c.Runnable() && c != root && c.Name() != "help" {
			t.Errorf("the help of %q shows no example", c.CommandPath())
		}
		for _, line := range strings.Split(c.Example, "\n") {
			if line = strings.TrimSpace(line); line == "" || strings.Contains(line, "mine") {
				continue // needs a file of the reader's
			}
			t.Run(line, func(t *testing.T) {
				if out, errOut, code := inRoot(t, words(line)[1:]); code != answered || out == "" {
					t.Errorf("exit %d, %q", code, errOut)
				}
			})
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(root)
}

// words splits a command line at blanks outside quotes.
func words(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`'([^']*)'|(\S+)`).FindAllStringSubmatch(line, -1) {
		out = append(out, m[1]+m[2])
	}
	return out
}

// TestReadmeSessions runs the sessions that README.md shows: each line after "$ " is
// run, and what stands below it must come out; a line "..." stands for any lines.
func TestReadmeSessions(t *testing.T) {
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	sessions := regexp.MustCompile("(?s)```console\n(.*?)```").FindAllStringSubmatch(string(data), -1)
	if len(sessions) == 0 {
		t.Fatal("README.md shows no session")
	}
	for _, s := range sessions {
		for _, step := range strings.Split("\n"+s[1], "\n$ ")[1:] {
			command, want, _ := strings.Cut(step, "\n")
			t.Run(command, func(t *testing.T) {
				args := words(strings.TrimPrefix(command, "./bin/"))
				out, errOut, _ := inRoot(t, args[1:])
				if !shows(out+errOut, want) {
					t.Errorf("README.md shows\n%s\nbut the command prints\n%s%s", want, out, errOut)
				}
			})
		}
	}
}

// shows is true when got is want, with lines "..." in want standing for any lines.
func shows(got, want string) bool {
	pattern := regexp.QuoteMeta(strings.TrimSpace(want))
	pattern = strings.ReplaceAll(pattern, "\n\\.\\.\\.\n", "\n(?:.*\n)*?")
	pattern = strings.TrimSuffix(pattern, "\n\\.\\.\\.")
	if strings.HasSuffix(strings.TrimSpace(want), "\n...") {
		pattern += "(?s:.*)"
	}
	return regexp.MustCompile(`^` + pattern + `\s*$`).MatchString(strings.TrimSpace(got) + "\n")
}

// TestNoReportLineIsTooLong holds every report to 80 columns, without escape codes.
func TestNoReportLineIsTooLong(t *testing.T) {
	examples, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(examples) < 4 {
		t.Fatalf("examples: %v, %v", examples, err)
	}
	for _, file := range examples {
		file, _ = filepath.Abs(file)
		for _, args := range [][]string{
			{"select", file, "--all"},
			{"select", file, "--units", "SI"},
			{"select", file, "--units", "US", "--valve", "swing-assisted-spring/6in"},
			{"loss", file, "--valve", "flap/6in"},
			{"closing", file, "--valve", "flap/6in"},
			{"explain", file, "flap/6in reverse_velocity"},
		} {
			var out, errOut bytes.Buffer
			if code := run(args, strings.NewReader(""), &out, &errOut); code == badInput {
				t.Errorf("%v: %s", args, errOut.String())
			}
			for i, line := range strings.Split(out.String(), "\n") {
				if strings.HasPrefix(line, "    ") && strings.Contains(line, file) {
					continue // a path cannot be broken
				}
				if n := len([]rune(line)); n > 80 || strings.Contains(line, "\x1b") {
					t.Errorf("%v line %d has %d columns: %q", args, i+1, n, line)
				}
				if strings.Contains(line, "NaN") || strings.Contains(line, "%!") {
					t.Errorf("%v line %d: %q", args, i+1, line)
				}
			}
		}
	}
}
