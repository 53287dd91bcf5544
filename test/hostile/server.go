//go:build linux

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"time"

	"seatward/internal/yamlfile"
)

// api makes a request to the server that is wrong: its station file, its JSON, or both.
func (s *sources) api(m mutator, c *attempt) error {
	st := m.source(s.stations)
	text := st.data
	if m.IntN(2) == 0 {
		text = m.changed(st)
	}
	asks := []struct {
		path string
		more map[string]any
	}{
		{"sheet", nil},
		{"rows", map[string]any{"units": "SI"}},
		{"edit", map[string]any{"edits": []any{map[string]any{
			"path": m.oneOf([]string{
				"levels.outlet", "main.runs[0].length", "pumps[99].count", "pumps[-1]", "",
				"station", "a.b[1000000000].c", "events[0].steps[0].at",
			}),
			"value": m.oneOf(strange),
		}}}},
		{"configure", map[string]any{
			"valve": "swing/6in",
			"picks": []any{map[string]any{"option": "coating", "choice": m.oneOf([]string{"epoxy_8", "x", ""})}},
		}},
		{"explain", map[string]any{"path": m.oneOf([]string{
			"flow", "levels.outlet", "x", "..",
			strings.Repeat("a.", 9000),
		}), "valve": "flap/6in", "runs": "none"}},
		{"trip", map[string]any{
			"valve": "flap/6in", "quick": true, "frames": 50,
			"vary": map[string]any{"levels.outlet": 1e300},
		}},
		{"document", map[string]any{
			"kind": "datasheet", "format": "html", "valve": "flap/6in",
			"profile": map[string]any{"company": m.oneOf(strange), "notes": []any{m.oneOf(strange)}},
		}},
	}
	ask := asks[m.IntN(len(asks))]
	request := map[string]any{"text": string(text)}
	maps.Copy(request, ask.more)
	c.path = "/api/" + ask.path
	var err error
	if c.body, err = json.Marshal(request); err != nil || m.IntN(2) == 0 {
		return err
	}
	if tree, list := yamlfile.ParseTree("body", c.body); list.Err() == nil && m.IntN(3) > 0 {
		m.tree(tree)
		c.body = written(tree, true)
		return nil
	}
	c.body = m.bytes(c.body)
	return nil
}

// server is a running server, and where it answers.
type server struct {
	cmd  *exec.Cmd
	at   string
	said capped
	over chan struct{}
}

var address = regexp.MustCompile(`http://[0-9.:]+`)

// serving starts the server where none runs.
func (w *worker) serving() (*server, error) {
	if w.server != nil {
		select {
		case <-w.server.over:
		default:
			return w.server, nil
		}
	}
	s := &server{
		cmd:  exec.Command(w.binary, "serve", "--listen", "127.0.0.1:0", "--store", "none"),
		over: make(chan struct{}),
	}
	pipe, err := s.cmd.StderrPipe()
	if err != nil {
		return nil, err
	}
	if err := s.cmd.Start(); err != nil {
		return nil, err
	}
	w.server = s
	lines := bufio.NewReader(pipe)
	for s.at == "" {
		line, err := lines.ReadString('\n')
		if err != nil {
			return nil, fmt.Errorf("the server does not start: %w", err)
		}
		s.at = address.FindString(line)
	}
	go func() {
		_, _ = io.Copy(&s.said, lines) // what it logs is looked at where it ends
		_ = s.cmd.Wait()
		close(s.over)
	}()
	return s, nil
}

// stop ends the server.
func (w *worker) stop() {
	if w.server != nil {
		_ = w.server.cmd.Process.Signal(os.Interrupt)
		<-w.server.over
	}
}

// request sends a case to the server and says what it does that it must not.
func (w *worker) request(c *attempt) (string, error) {
	s, err := w.serving()
	if err != nil {
		return "", err
	}
	before := s.cpu()
	client := http.Client{Timeout: mostWait}
	reply, err := client.Post(s.at+c.path, "application/json", bytes.NewReader(c.body))
	if err != nil {
		select {
		case <-s.over:
			return "the server ended: " + panicLine(s.said.String()), nil
		case <-time.After(time.Second):
			return "no answer: " + err.Error(), nil
		}
	}
	defer reply.Body.Close()
	data, err := io.ReadAll(io.LimitReader(reply.Body, mostSaid))
	switch cpu := s.cpu() - before; {
	case err != nil:
		return "the answer breaks off: " + err.Error(), nil
	case reply.StatusCode >= 500 && reply.StatusCode != http.StatusServiceUnavailable:
		return fmt.Sprintf("status %d: %.300s", reply.StatusCode, data), nil
	case strings.HasPrefix(reply.Header.Get("Content-Type"), "application/json") && !json.Valid(data):
		return "the answer is not JSON", nil
	case cpu >= mostCPU:
		return fmt.Sprintf("hangs: %.0f s computed", cpu), nil
	}
	if n := most(s.cmd.Process.Pid); n > mostRSS {
		w.stop()
		return fmt.Sprintf("the server has taken %d MB", n>>20), nil
	}
	return "", nil
}

// cpu is how many seconds the server has computed, by /proc/PID/stat; 0 where it is no more.
func (s *server) cpu() float64 {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	fields := strings.Fields(string(data[bytes.LastIndexByte(data, ')')+1:]))
	const user, system, ticks = 11, 12, 100
	if len(fields) <= system {
		return 0
	}
	a, _ := strconv.ParseFloat(fields[user], 64)
	b, _ := strconv.ParseFloat(fields[system], 64)
	return (a + b) / ticks
}

// most is the most memory that a process has had, in bytes; 0 where it is no more.
func most(pid int) int64 {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(data)) {
		if kb, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			n, _ := strconv.ParseInt(strings.Fields(kb)[0], 10, 64)
			return n << 10
		}
	}
	return 0
}
