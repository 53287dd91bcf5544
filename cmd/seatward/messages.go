package main

import (
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"

	"golang.org/x/term"

	"seatward/diag"
	"seatward/internal/render/text"
)

// mostMessages is how many faults are listed; of a file with more the message asks to mend those first.
const mostMessages = 40

// complain prints one line to standard error.
func (a *app) complain(line string) { fmt.Fprintln(a.err, "seatward:", text.Clean(line)) }

// messages prints faults, each as a block: a line with place, key and fault, then what
// was found, what was expected and how to mend it.
func (a *app) messages(list diag.List) {
	var faults []diag.Message
	for _, m := range list {
		if m.Severity == diag.Error {
			faults = append(faults, m)
		}
	}
	for i, m := range faults {
		if i == mostMessages {
			a.complain(fmt.Sprintf("and %d more; mend these first", len(faults)-i))
			return
		}
		a.message(m)
	}
}

func (a *app) message(m diag.Message) {
	var parts []string
	if m.Place.File != "" || m.Place.Line != 0 {
		parts = append(parts, m.Place.String())
	}
	if m.Severity == diag.Warning {
		parts = append(parts, "warning")
	}
	if m.Path != "" {
		parts = append(parts, m.Path)
	}
	line := strings.Join(append(parts, m.Text), ": ")
	if m.ID != "" {
		line += " [" + m.ID + "]"
	}
	a.complain(line)
	for _, x := range []struct{ name, text string }{{"found", m.Found}, {"expected", m.Expected}, {"to mend", m.Mend}} {
		if x.text != "" {
			fmt.Fprintf(a.err, "    %-9s %s\n", x.name+":", text.Clean(x.text))
		}
	}
}

// warnings prints the warnings of a station whose report does not hold them.
func (a *app) warnings(list diag.List) {
	for _, m := range list {
		if m.Severity == diag.Warning {
			a.message(m)
		}
	}
}

// showsColor is true when w shows to a person who did not ask for plain text.
func showsColor(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" || os.Getenv("TERM") == "" &&
		runtime.GOOS != "windows" {
		return false
	}
	if runtime.GOOS == "windows" && os.Getenv("WT_SESSION") == "" {
		return false // the old console prints escape codes as they are
	}
	return term.IsTerminal(int(f.Fd()))
}
