package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"seatward": main})
}

// TestScripts runs the scripts of testdata/script, each in a folder with the examples
// and the demonstration catalog beside it, as in a checkout. SEATWARD_UPDATE=1 renews
// the reports that they compare with.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: os.Getenv("SEATWARD_UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			for from, to := range map[string]string{
				"../../examples":     "examples",
				"../../catalog/demo": "catalog/demo",
			} {
				if err := os.CopyFS(filepath.Join(env.WorkDir, to), os.DirFS(from)); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "hiddenstop": hiddenStop, "holdstruth": holdsTruth, "fillsbook": fillsBook,
		},
	})
}

// exits runs a command that must end with an exit code: exits 2 seatward select x.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d\n%s", got, want, fmt.Sprint(ts.ReadFile("stdout"), ts.ReadFile("stderr")))
	}
}
