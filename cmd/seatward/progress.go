package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// progressAfter is how long an answer may take before its progress is shown.
const progressAfter = time.Second

// progress shows on a terminal how far the work has come; nothing where nobody looks.
type progress struct {
	to      io.Writer // nil: show nothing
	started time.Time
	mutex   sync.Mutex
	last    string
}

func (a *app) progress() *progress {
	p := &progress{started: time.Now()}
	if showsColor(a.err) {
		p.to = a.err
	}
	return p
}

// show replaces what is shown, once the work has taken some time.
func (p *progress) show(text string) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if p.to == nil || text == p.last || time.Since(p.started) < progressAfter {
		return
	}
	p.last = text
	fmt.Fprintf(p.to, "\r\x1b[K%s", text)
}

// valves shows how many valves have been run.
func (p *progress) valves(done, total int) {
	p.show(fmt.Sprintf("%d of %d valves run", done, total))
}

// share shows the share of the work that is done, and with what.
func (p *progress) share(done float64, what string) {
	p.show(fmt.Sprintf("%3.0f%% %s", 100*done, what))
}

// clear takes away what is shown.
func (p *progress) clear() {
	if p.last != "" {
		fmt.Fprint(p.to, "\r\x1b[K")
	}
}
