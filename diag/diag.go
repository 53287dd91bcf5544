// Package diag holds messages to the person who wrote a file: what is wrong, where
// it stands, what was expected and how to mend it. Messages are data; the front
// ends draw them. All messages of a file are collected, none is thrown.
package diag

import (
	"fmt"
	"sort"
	"strings"
)

// Place is a position in a file that a person wrote. Line and Col count from 1;
// zero means unknown.
type Place struct {
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
	Col  int    `json:"column,omitempty"`
}

// String prints file:line:column as editors and compilers do.
func (p Place) String() string {
	switch {
	case p.File == "" && p.Line == 0:
		return ""
	case p.Line == 0:
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Severity says whether the file can be used all the same.
type Severity uint8

// The severities. An Error stops the answer; a Warning goes with it.
const (
	Error Severity = iota
	Warning
)

// String names the severity as messages print it.
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "error"
}

// Message is one fault in a file.
type Message struct {
	ID       string   `json:"id"` // stable, such as "unit-missing"
	Severity Severity `json:"-"`
	Place    Place    `json:"place"`
	Path     string   `json:"path,omitempty"` // the key, such as main.runs[0].length
	Text     string   `json:"text"`
	Found    string   `json:"found,omitempty"`
	Expected string   `json:"expected,omitempty"`
	Mend     string   `json:"mend,omitempty"`
	// Choices are what may be meant, each as it would be read without doubt, parted by |: a
	// message stays comparable.
	Choices string `json:"-"`
}

// Error prints the message in one paragraph: place, path, what is wrong, what was
// found, what was expected and how to mend it.
func (m Message) Error() string {
	var b strings.Builder
	if p := m.Place.String(); p != "" {
		b.WriteString(p + ": ")
	}
	if m.Severity == Warning {
		b.WriteString("warning: ")
	}
	if m.Path != "" {
		b.WriteString(m.Path + ": ")
	}
	b.WriteString(m.Text)
	if m.Found != "" {
		b.WriteString("; found " + m.Found)
	}
	if m.Expected != "" {
		b.WriteString("; expected " + m.Expected)
	}
	if m.Mend != "" {
		b.WriteString(". To mend: " + m.Mend)
	}
	return b.String() + " [" + m.ID + "]"
}

// List collects the messages of one reading. A List with an Error in it is an error.
type List []Message

// Add appends a message.
func (l *List) Add(m Message) { *l = append(*l, m) }

// Error prints all messages, one a line.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, m := range l {
		lines[i] = m.Error()
	}
	return strings.Join(lines, "\n")
}

// Sort orders the messages by their place in the file.
func (l List) Sort() {
	sort.SliceStable(l, func(i, j int) bool {
		a, b := l[i].Place, l[j].Place
		if a.File != b.File {
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Col < b.Col
	})
}

// Err gives the list as an error if it holds at least one Error, else nil.
func (l List) Err() error {
	for _, m := range l {
		if m.Severity == Error {
			return l
		}
	}
	return nil
}
