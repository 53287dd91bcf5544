//go:build linux

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"time"
)

// What every case is held to.
const (
	mostCPU   = 20              // seconds that a case may compute
	mostWait  = 5 * time.Minute // and that it may stand, on a machine with much else to do
	mostRSS   = 1 << 30         // bytes
	mostSaid  = 16 << 20        // bytes of its answer that are looked at
	mostSpace = 12 << 20        // KB of addresses: what runs away is ended before the machine is full
	temporary = ".seatward-"    // begins the names of files that are being written
	shell     = `ulimit -t 20; ulimit -v 12582912; exec "$@"`
)

// worker runs cases, with a server of its own for the requests.
type worker struct {
	binary string
	server *server
}

// notNumber finds a number that is none.
var notNumber = regexp.MustCompile(`\b(NaN|Inf)\b`)

// hold runs a case and says what it does that it must not; "" where nothing.
func (w *worker) hold(c *attempt) (string, error) {
	if c.path != "" {
		return w.request(c)
	}
	ctx, stop := context.WithTimeout(context.Background(), mostWait)
	defer stop()
	cmd := exec.CommandContext(ctx, "/bin/sh", append([]string{"-c", shell, "sh", w.binary}, c.args...)...)
	cmd.Env = append(os.Environ(), "GOTRACEBACK=single")
	var out, said capped
	cmd.Stdout, cmd.Stderr = &out, &said
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) && ctx.Err() == nil {
		return "", err
	}
	use, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return "", errors.New("this system does not tell what a process took")
	}
	cpu := (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	code := cmd.ProcessState.ExitCode()
	switch words := said.String(); {
	case strings.Contains(words, "panic:"), strings.Contains(words, "goroutine "),
		strings.Contains(words, "fatal error:"):
		return "panic: " + panicLine(words), nil
	case ctx.Err() != nil:
		return fmt.Sprintf("stands still: ended after %s, with %.1f s computed", mostWait, cpu), nil
	case cpu >= mostCPU:
		return fmt.Sprintf("hangs: %.0f s computed", cpu), nil
	case use.Maxrss<<10 > max(mostRSS,
		most(os.Getpid())): // Linux counts for a process what its parent had when it began
		return fmt.Sprintf("%d MB", use.Maxrss>>10), nil
	case code < 0 || code > 2:
		return fmt.Sprintf("exit code %d", code), nil
	case code == 2 && out.Len() > 0:
		return "exit code 2, and yet an answer", nil
	case code == 2 && len(words) == 0:
		return "exit code 2 without a word", nil
	}
	if n := notNumber.FindString(out.String()); n != "" && !given(c.dir, n) {
		return n + " in the answer", nil
	}
	if has(c.args, "--json") && out.Len() > 0 && !json.Valid(out.Bytes()) {
		return "the answer is not JSON", nil
	}
	return left(c, code), nil
}

func has(list []string, s string) bool {
	return strings.Contains("\x00"+strings.Join(list, "\x00")+"\x00", "\x00"+s+"\x00")
}

// given is true where a file of the case has the word, which an answer may then repeat.
func given(dir, word string) bool {
	names, _ := filepath.Glob(filepath.Join(dir, "*"))
	for _, n := range names {
		if info, err := os.Stat(n); err != nil || !info.Mode().IsRegular() {
			continue
		}
		if data, err := os.ReadFile(n); err == nil && bytes.Contains(data, []byte(word)) {
			return true
		}
	}
	return false
}

// left looks at what a case has written: all of it where the code is 0, nothing where it is
// 2, and never a file that is half done.
func left(c *attempt, code int) string {
	fault := ""
	err := filepath.WalkDir(c.dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasPrefix(d.Name(), temporary) {
			fault = "a file half written: " + d.Name()
		}
		return err
	})
	if err != nil || fault != "" || c.out == "" {
		return fault
	}
	info, err := os.Stat(filepath.Join(c.dir, c.out))
	switch {
	case code == 0 && err != nil:
		return "exit code 0, and nothing written"
	case code == 0 && info.Size() == 0:
		return "exit code 0, and an empty file"
	case code == 2 && err == nil:
		return "exit code 2, and yet " + c.out + " is written"
	}
	return ""
}

// panicLine is the panic and the first line of ours below it.
func panicLine(words string) string {
	lines := strings.Split(words, "\n")
	for i, l := range lines {
		if !strings.HasPrefix(l, "panic:") && !strings.HasPrefix(l, "fatal error:") {
			continue
		}
		for k := i; k+1 < len(lines); k++ {
			if strings.HasPrefix(lines[k], "seatward/") || strings.HasPrefix(lines[k], "main.") {
				return l + " at " + strings.TrimSpace(lines[k+1])
			}
		}
		return l
	}
	return lines[0]
}

// capped keeps the beginning of what is written into it.
type capped struct{ bytes.Buffer }

// Write is that of an io.Writer.
func (c *capped) Write(p []byte) (int, error) {
	if room := mostSaid - c.Len(); room > 0 {
		c.Buffer.Write(p[:min(len(p), room)])
	}
	return len(p), nil
}

// keep copies the files of a case into a folder, with what was done.
func keep(dir, to string, c *attempt, fault string) error {
	if err := errors.Join(os.RemoveAll(to), os.MkdirAll(to, 0o755)); err != nil {
		return err
	}
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		return err
	}
	for _, n := range names {
		info, err := os.Lstat(n)
		if err != nil || !info.Mode().IsRegular() { // links and pipes are made again by -first
			continue
		}
		if err := copied(n, filepath.Join(to, filepath.Base(n))); err != nil {
			return err
		}
	}
	said := fault + "\nseatward " + strings.ReplaceAll(strings.Join(c.args, " "), dir, ".") + "\n"
	if c.path != "" {
		said = fault + "\nPOST " + c.path + "\n"
		if err := os.WriteFile(filepath.Join(to, "body.json"), c.body, 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(to, "case.txt"), []byte(said), 0o644)
}

func copied(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.Create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}
