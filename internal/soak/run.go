package soak

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"
)

// Options say how much is asked.
type Options struct {
	Seed     uint64        // of the first station
	Stations int           // at most; 0 for as many as the time allows
	For      time.Duration // at most; 0 for as long as it takes
	Kept     bool          // begin with the stations that once broke the answer
	Families int           // of the catalog that are asked about at a generated station
	Pairs    bool          // hold each station against its changed ones too
	Limit    time.Duration // a station on which the processors work longer hangs
}

// Work answers seeds and names of kept stations from in, one a line, with a Result each, as JSON, to out. It is what
// the other process of a soak does: a panic or a hang ends that process, not the soak.
func Work(in io.Reader, out io.Writer, opt Options) error {
	p, err := newProgram()
	if err != nil {
		return err
	}
	lines, answers := bufio.NewScanner(in), json.NewEncoder(out)
	for lines.Scan() {
		answered := opt.watch()
		r, err := p.ask(context.Background(), lines.Text(), opt.Families, opt.Pairs)
		answered()
		if err != nil {
			return err
		}
		if err := answers.Encode(r); err != nil {
			return err
		}
	}
	return lines.Err()
}

// watch ends this process when the processors work longer for it than the limit. The clock
// would not do: other programs may keep the processors busy. What is returned ends the watch.
func (opt Options) watch() func() {
	most, begun, done := opt.most(), busy(), make(chan struct{})
	go func() {
		for tick := time.NewTicker(time.Second); ; {
			select {
			case <-done:
				tick.Stop()
				return
			case <-tick.C:
				if busy()-begun > most {
					fmt.Fprintf(os.Stderr, "%s after %s of work\n", hangs, most)
					os.Exit(1)
				}
			}
		}
	}()
	return func() { close(done) }
}

// most is how long the processors may work on a station with all that is held against it.
func (opt Options) most() time.Duration {
	if opt.Pairs {
		return pairsTake * opt.Limit
	}
	return opt.Limit
}

// hangs is what a process says last that had no answer in its time.
const hangs = "no answer"

// worker is a process that answers.
type worker struct {
	command *exec.Cmd
	in      io.WriteCloser
	answers chan Result
	said    bytes.Buffer
}

// start starts the command that does Work.
func start(command []string) (*worker, error) {
	w := &worker{command: exec.Command(command[0], command[1:]...), answers: make(chan Result)}
	w.command.Stderr = &w.said
	var err error
	if w.in, err = w.command.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := w.command.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := w.command.Start(); err != nil {
		return nil, err
	}
	go func() {
		defer close(w.answers)
		for d := json.NewDecoder(out); ; {
			var r Result
			if d.Decode(&r) != nil {
				return
			}
			w.answers <- r
		}
	}()
	return w, nil
}

// ask has one station answered; false when the worker is no more.
func (w *worker) ask(name string, limit time.Duration) (Result, bool) {
	begun := time.Now()
	late := time.NewTimer(limit)
	defer late.Stop()
	fmt.Fprintln(w.in, name)
	select {
	case r, ok := <-w.answers:
		if ok {
			return r, true
		}
		_ = w.command.Wait() // its code says no more than what it wrote
		last := Fault{panicked, lastWords(w.said.String())}
		if strings.Contains(last.Text, hangs) {
			last.Kind = hung
		}
		return Result{Name: name, Seconds: time.Since(begun).Seconds(), Faults: []Fault{last}}, false
	case <-late.C:
		_ = w.command.Process.Kill()
		for range w.answers { //nolint:revive // until the pipe is closed
		}
		_ = w.command.Wait()
		return Result{
			Name: name, Seconds: time.Since(begun).Seconds(),
			Faults: []Fault{{hung, fmt.Sprintf("no answer in %s", limit)}},
		}, false
	}
}

// lastWords is the panic and the first line below it that names a file of ours; where the
// process ended otherwise, the last line that it wrote.
func lastWords(said string) string {
	lines := strings.Split(strings.TrimSpace(said), "\n")
	for i, line := range lines {
		if !strings.HasPrefix(line, "panic:") && !strings.HasPrefix(line, "fatal error:") {
			continue
		}
		for k, below := range lines[i:] {
			if strings.HasPrefix(below, "seatward/") && i+k+1 < len(lines) {
				return line + " at " + strings.TrimSpace(lines[i+k+1])
			}
		}
		return line
	}
	return "the process ended: " + lines[len(lines)-1]
}

// names gives the stations to ask one after the other: those kept, then seeds.
func (opt Options) names() (func(n int) string, error) {
	first := []string{}
	if opt.Kept {
		var err error
		if first, err = kept(); err != nil {
			return nil, err
		}
	}
	return func(n int) string {
		if n < len(first) {
			return first[n]
		}
		return strconv.FormatUint(opt.Seed+uint64(n-len(first)), 10)
	}, nil
}

// Run asks station after station and prints a table. It is true when the program passes.
func Run(opt Options, command []string, out io.Writer) (bool, error) {
	name, err := opt.names()
	if err != nil {
		return false, err
	}
	var all []Result
	faults := 0
	var w *worker
	for begun := time.Now(); ; {
		if opt.Stations > 0 && len(all) >= opt.Stations || opt.For > 0 && time.Since(begun) >= opt.For {
			break
		}
		if w == nil {
			if w, err = start(command); err != nil {
				return false, err
			}
		}
		r, alive := w.ask(name(len(all)), patience*opt.most())
		if !alive {
			w = nil
		} else if r.Seconds > opt.Limit.Seconds() {
			r.Faults = append(r.Faults, Fault{
				hung,
				fmt.Sprintf("an answer after %.0f s of work, more than %s", r.Seconds, opt.Limit),
			})
		}
		all = append(all, r)
		faults += len(r.Faults)
		fmt.Fprintf(os.Stderr, "\r%d stations, last %s, %d faults, %.0f s ", len(all), r.Name, faults,
			time.Since(begun).Seconds())
	}
	fmt.Fprintln(os.Stderr)
	if w != nil {
		_ = w.in.Close()
		_ = w.command.Wait()
	}
	return newTally(all).print(out), nil
}

// patience is how many times the limit a station may take by the clock: a process that waits
// for ever does no work.
const patience = 60

// pairsTake is how many times as long a station takes with all that is held against it.
const pairsTake = 12
