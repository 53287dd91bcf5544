package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"

	"seatward/judge"
	"seatward/study"
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

// watch shows on a terminal how the study comes along: as rows that fill valve by valve,
// or as the number of valves run. It gives the function that takes the display away.
func (a *app) watch(opt *study.Options, rows bool) (done func()) {
	bar := a.progress()
	if bar.to == nil {
		return func() {}
	}
	if !rows {
		opt.Progress = bar.valves
		return bar.clear
	}
	l := &live{to: bar.to, width: usualWidth, height: usualHeight}
	if f, ok := bar.to.(*os.File); ok {
		if w, h, err := term.GetSize(int(f.Fd())); err == nil && w > 0 && h > 0 {
			l.width, l.height = w, h
		}
	}
	opt.Row = l.row
	return l.clear
}

// The size of a terminal that does not tell its own.
const (
	usualWidth  = 80
	usualHeight = 24
)

// live shows the valves on a terminal, each with its verdict so far, and its slam as soon
// as its stops have been run. It is drawn anew in place.
type live struct {
	to            io.Writer
	width, height int
	ids           []string
	says          map[string]string
	run           int // valves that have nothing left to be run
	drawn         int // lines on the screen
}

// row takes a valve in, or in place of what was said of it before.
func (l *live) row(a *judge.Assessment) {
	if l.says == nil {
		l.says = map[string]string{}
	}
	id := a.Item.ID
	if _, known := l.says[id]; !known {
		l.ids = append(l.ids, id)
	} else if !a.Pending() {
		l.run++
	}
	slam, verdict := a.SlamWords(), a.Verdict.String()
	if a.Pending() {
		slam, verdict = "…", verdict+" so far"
	}
	l.says[id] = fmt.Sprintf("  %-26s %-14s %s", id, slam, verdict)
	l.draw()
}

// draw puts the rows over those on the screen. Rows beyond the height of the screen are
// counted only, for the cursor cannot go back to what has left it.
func (l *live) draw() {
	room := max(l.height-3, 1)
	var lines []string
	for _, id := range l.ids[:min(len(l.ids), room)] {
		lines = append(lines, l.says[id])
	}
	left := ""
	if n := len(l.ids) - room; n > 0 {
		left = fmt.Sprintf(" (%d not shown)", n)
	}
	lines = append(lines, fmt.Sprintf("  %d of %d valves run%s", l.run, len(l.ids), left))
	var out strings.Builder
	l.home(&out)
	for _, line := range lines {
		if r := []rune(line); len(r) >= l.width {
			line = string(r[:max(l.width-1, 0)])
		}
		out.WriteString(line + "\x1b[K\n")
	}
	l.drawn = len(lines)
	fmt.Fprint(l.to, out.String())
}

// home moves the cursor to the first line drawn.
func (l *live) home(out *strings.Builder) {
	if l.drawn > 0 {
		fmt.Fprintf(out, "\r\x1b[%dA", l.drawn)
	}
}

// clear takes the rows away.
func (l *live) clear() {
	if l.drawn == 0 {
		return
	}
	var out strings.Builder
	l.home(&out)
	out.WriteString("\x1b[J")
	fmt.Fprint(l.to, out.String())
	l.drawn = 0
}
