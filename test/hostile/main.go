//go:build linux

// Command hostile hands the program files that are wrong in every way that it can think of,
// for make hostile: keys dropped, doubled and swapped, numbers without measure, curves of
// many points, files in other encodings, links, pipes, devices, workbooks that swell. It
// holds that each is answered or refused, soon, in little memory, and leaves nothing half
// written. A case is made from seed and number alone, so it can be shown again.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"
)

func main() {
	passed, err := run(os.Args[1:])
	switch {
	case err != nil:
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	case !passed:
		os.Exit(1)
	}
}

// ownMemory keeps this process small: what it has had counts for those that it starts.
const ownMemory = 200 << 20

// options are what the command line says.
type options struct {
	seed        uint64
	first, n    int
	minutes     float64
	parallel    int
	binary, dir string
}

func run(args []string) (bool, error) {
	f := flag.NewFlagSet("hostile", flag.ContinueOnError)
	var o options
	f.Uint64Var(&o.seed, "seed", 1, "seed of all cases")
	f.IntVar(&o.first, "first", 0, "number of the first case")
	f.IntVar(&o.n, "n", 3000, "number of cases")
	f.Float64Var(&o.minutes, "minutes", 0, "how long at most; 0 for no limit")
	f.IntVar(&o.parallel, "parallel", 2, "cases at once")
	f.StringVar(&o.binary, "binary", "", "program to be tried; built without it")
	f.StringVar(&o.dir, "keep", "artifacts/hostile", "folder for the files of cases that fail")
	if err := f.Parse(args); err != nil {
		return false, err
	}
	debug.SetMemoryLimit(ownMemory)
	if o.binary == "" {
		o.binary = filepath.Join(os.TempDir(), fmt.Sprintf("seatward-hostile-%d", os.Getpid()))
		defer os.Remove(o.binary)
		if out, err := exec.Command("go", "build", "-trimpath", "-o", o.binary,
			"./cmd/seatward").CombinedOutput(); err != nil {
			return false, fmt.Errorf("the program cannot be built: %w\n%s", err, out)
		}
	}
	faults, done, err := o.all()
	fmt.Printf("%d cases of seed %d, %d faults\n", done, o.seed, len(faults))
	for _, t := range faults {
		fmt.Printf("\ncase %d (%s): %s\n  files: %s\n  show:  go run ./test/hostile -seed %d -first %d -n 1\n",
			t.number, t.kind, t.fault, t.kept, o.seed, t.number)
	}
	return len(faults) == 0, err
}

// trouble is a case that failed.
type trouble struct {
	number            int
	kind, fault, kept string
}

// all runs the cases, several at once.
func (o *options) all() ([]trouble, int, error) {
	sources, err := readSources(".")
	if err != nil {
		return nil, 0, fmt.Errorf("hostile runs in the root of the repository: %w", err)
	}
	var (
		next, done atomic.Int64
		mu         sync.Mutex
		found      []trouble
		failed     error
		wait       sync.WaitGroup
	)
	begun := time.Now()
	late := func() bool { return o.minutes > 0 && time.Since(begun).Minutes() > o.minutes }
	for range o.parallel {
		wait.Go(func() {
			w := &worker{binary: o.binary}
			defer w.stop()
			for n := int(next.Add(1)) - 1; n < o.n && !late(); n = int(next.Add(1)) - 1 {
				t, err := o.one(w, sources, o.first+n)
				mu.Lock()
				failed = errors.Join(failed, err)
				if t.fault != "" {
					found = append(found, t)
				}
				mu.Unlock()
				fmt.Fprintf(os.Stderr, "\r%d cases, %.0f s ", done.Add(1), time.Since(begun).Seconds())
				if err != nil {
					return
				}
			}
		})
	}
	wait.Wait()
	fmt.Fprintln(os.Stderr)
	return found, int(done.Load()), failed
}

// one makes a case, runs it, and keeps its files where it fails.
func (o *options) one(w *worker, s *sources, number int) (trouble, error) {
	dir, err := os.MkdirTemp("", "hostile-*")
	if err != nil {
		return trouble{}, err
	}
	defer os.RemoveAll(dir)
	c, err := s.make(dir, o.seed, number)
	if err != nil {
		return trouble{}, fmt.Errorf("case %d cannot be made: %w", number, err)
	}
	t := trouble{number: number, kind: c.kind}
	if t.fault, err = w.hold(c); err != nil || t.fault == "" {
		return t, err
	}
	t.kept = filepath.Join(o.dir, fmt.Sprintf("%d-%d", o.seed, number))
	return t, keep(dir, t.kept, c, t.fault)
}
