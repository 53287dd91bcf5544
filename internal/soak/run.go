package soak

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"slices"
	"strings"
	"time"
)

// Options say how much is asked.
type Options struct {
	Seed     uint64        // of the first station
	Stations int           // at most; 0 for as many as the time allows
	For      time.Duration // at most; 0 for as long as it takes
	Pairs    bool          // hold each station against its changed ones too
	Limit    time.Duration // a station that takes longer hangs
}

// Work answers seeds from in, one a line, with a Result each, as JSON, to out. It is what
// the other process of a soak does: a panic or a hang ends that process, not the soak.
func Work(in io.Reader, out io.Writer, pairs bool) error {
	p, err := newProgram()
	if err != nil {
		return err
	}
	lines, answers := bufio.NewScanner(in), json.NewEncoder(out)
	for lines.Scan() {
		var seed uint64
		if _, err := fmt.Sscan(lines.Text(), &seed); err != nil {
			return err
		}
		if err := answers.Encode(p.ask(context.Background(), seed, pairs)); err != nil {
			return err
		}
	}
	return lines.Err()
}

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
func (w *worker) ask(seed uint64, limit time.Duration) (Result, bool) {
	begun := time.Now()
	late := time.NewTimer(limit)
	defer late.Stop()
	fmt.Fprintln(w.in, seed)
	select {
	case r, ok := <-w.answers:
		if ok {
			return r, true
		}
		_ = w.command.Wait() // its code says no more than what it wrote
		return Result{Seed: seed, Seconds: time.Since(begun).Seconds(), Faults: []Fault{{panicked, lastWords(w.said.String())}}}, false
	case <-late.C:
		_ = w.command.Process.Kill()
		for range w.answers { //nolint:revive // until the pipe is closed
		}
		_ = w.command.Wait()
		return Result{Seed: seed, Seconds: time.Since(begun).Seconds(), Faults: []Fault{{hung, fmt.Sprintf("no answer in %s", limit)}}}, false
	}
}

// lastWords is the panic and the first line of ours below it.
func lastWords(said string) string {
	var out []string
	for _, line := range strings.Split(said, "\n") {
		if strings.HasPrefix(line, "panic:") || strings.HasPrefix(line, "fatal error:") {
			out = append(out, line)
		}
		if i := strings.Index(line, "/seatward"); len(out) > 0 && strings.Contains(line, ".go:") && (i >= 0 || !strings.Contains(line, "/go/")) {
			out = append(out, strings.TrimSpace(line))
			break
		}
	}
	return strings.Join(out, " ")
}

// Run asks station after station and prints a table. It is true when the program passes.
func Run(opt Options, command []string, out io.Writer) (bool, error) {
	var all []Result
	begun := time.Now()
	var w *worker
	var err error
	for seed := opt.Seed; ; seed++ {
		if opt.Stations > 0 && len(all) >= opt.Stations || opt.For > 0 && time.Since(begun) >= opt.For {
			break
		}
		if w == nil {
			if w, err = start(command); err != nil {
				return false, err
			}
		}
		limit := opt.Limit
		if opt.Pairs {
			limit *= 12
		}
		r, alive := w.ask(seed, limit)
		if !alive {
			w = nil
		}
		if r.Seconds > opt.Limit.Seconds() && alive {
			r.Faults = append(r.Faults, Fault{hung, fmt.Sprintf("an answer after more than %s", opt.Limit)})
		}
		all = append(all, r)
		fmt.Fprintf(os.Stderr, "\r%d stations, seed %d, %.0f s ", len(all), seed, time.Since(begun).Seconds())
	}
	fmt.Fprintln(os.Stderr)
	if w != nil {
		_ = w.in.Close()
		_ = w.command.Wait()
	}
	return table(all, out), nil
}

// leastAnswered is the share of stations that must be answered whole.
const leastAnswered = 0.99

// table prints what came of the stations; true when the program passes.
func table(all []Result, out io.Writer) bool {
	groups, seeds := map[string]int{}, map[string]uint64{}
	counts := map[string]int{}
	held, broken := map[string]int{}, map[string]int{}
	var whole, events, told, whyNot int
	var seconds []float64
	slowest := Result{}
	for _, r := range all {
		if r.answered() {
			whole++
		}
		events, told, whyNot = events+r.Events, told+r.Told, whyNot+r.WhyNot
		seconds = append(seconds, r.Seconds)
		if r.Seconds > slowest.Seconds {
			slowest = r
		}
		for _, f := range r.Faults {
			g := f.Group()
			if groups[g] == 0 {
				seeds[g] = r.Seed
			}
			groups[g]++
			counts[f.Kind]++
		}
		for k, n := range r.Held {
			held[k] += n
		}
		for k, n := range r.Broken {
			broken[k] += n
		}
	}
	slices.Sort(seconds)
	share := float64(whole) / float64(max(len(all), 1))
	fmt.Fprintf(out, "stations                      %d\n", len(all))
	fmt.Fprintf(out, "answered, or said why not     %d (%.1f %%)\n", whole, 100*share)
	fmt.Fprintf(out, "events asked                  %d\n  answered                    %d\n  said why not                %d\n", events, told, whyNot)
	for _, kind := range []string{refused, noChoice, noTrip, notANumber, panicked, hung, unequal} {
		fmt.Fprintf(out, "%-29s %d\n", "faults: "+kind, counts[kind])
	}
	if len(seconds) > 0 {
		fmt.Fprintf(out, "time per station              median %.2f s, 95 %% %.2f s, max. %.2f s (seed %d)\n", seconds[len(seconds)/2], seconds[len(seconds)*95/100], slowest.Seconds, slowest.Seed)
	}
	for _, name := range slices.Sorted(maps.Keys(joined(held, broken))) {
		fmt.Fprintf(out, "one answer, %-25s %d of %d\n", name, held[name], held[name]+broken[name])
	}
	list := slices.SortedFunc(maps.Keys(groups), func(a, b string) int { return cmp.Or(cmp.Compare(groups[b], groups[a]), strings.Compare(a, b)) })
	for _, g := range list {
		fmt.Fprintf(out, "%5d  seed %-8d %s\n", groups[g], seeds[g], g)
	}
	return share >= leastAnswered && counts[notANumber]+counts[panicked]+counts[hung] == 0
}

func joined(a, b map[string]int) map[string]int {
	out := maps.Clone(a)
	maps.Copy(out, b)
	return out
}
