package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// screen is a terminal as far as the progress uses one.
type screen struct {
	t     *testing.T
	lines []string
	x, y  int
}

func (s *screen) Write(p []byte) (int, error) {
	text := []rune(string(p))
	for i := 0; i < len(text); i++ {
		for s.y >= len(s.lines) {
			s.lines = append(s.lines, "")
		}
		switch r := text[i]; r {
		case '\r':
			s.x = 0
		case '\n':
			s.x, s.y = 0, s.y+1
		case '\x1b':
			n := 0
			for i += 2; text[i] >= '0' && text[i] <= '9'; i++ {
				n = 10*n + int(text[i]-'0')
			}
			s.obey(text[i], n)
		default:
			line := []rune(s.lines[s.y])
			s.lines[s.y] = string(append(line[:s.x:s.x], append([]rune{r}, line[min(s.x+1, len(line)):]...)...))
			s.x++
		}
	}
	return len(p), nil
}

func (s *screen) obey(command rune, n int) {
	switch command {
	case 'A':
		if s.y -= n; s.y < 0 {
			s.t.Fatalf("the cursor goes %d lines above the first", -s.y)
		}
	case 'K':
		s.lines[s.y] = string([]rune(s.lines[s.y])[:s.x])
	case 'J':
		s.lines = s.lines[:s.y]
	default:
		s.t.Fatalf("the terminal is sent %c", command)
	}
}

func (s *screen) text() string { return strings.Join(s.lines, "\n") }

// On a terminal every valve stands there before any has been run, fills in as its run comes,
// and nothing stays behind when the report is printed.
func TestRowsFillOnATerminal(t *testing.T) {
	shown := &screen{t: t}
	l := &live{to: shown, width: 80, height: 24}
	at, pending := func(id string) *catalog.Item { return &catalog.Item{ID: id} }, judge.Assessment{Runs: true}
	for i := range 3 {
		a := pending
		a.Item = at(fmt.Sprintf("valve-%d", i))
		l.row(&a)
	}
	if got := shown.text(); strings.Count(got, "suitable so far") != 3 || !strings.Contains(got, "0 of 3 valves run") {
		t.Fatalf("before the runs:\n%s", got)
	}
	l.row(&judge.Assessment{Item: at("valve-1"), Verdict: judge.Unsuitable})
	lines := shown.lines
	if len(lines) != 5 || lines[4] != "" || !strings.Contains(lines[1], "valve-1") ||
		!strings.Contains(lines[1], "not run        unsuitable") || strings.Contains(lines[1], "so far") ||
		!strings.Contains(lines[3], "1 of 3 valves run") {
		t.Fatalf("after one:\n%s", shown.text())
	}
	if l.clear(); shown.text() != "" {
		t.Errorf("left on the screen:\n%s", shown.text())
	}
}

// A screen with fewer lines than valves shows as many as it holds, each on one line.
func TestRowsOnASmallTerminal(t *testing.T) {
	shown := &screen{t: t}
	l := &live{to: shown, width: 30, height: 8}
	for i := range 20 {
		l.row(&judge.Assessment{Item: &catalog.Item{ID: fmt.Sprintf("valve-%d", i)}, Runs: true})
	}
	if len(shown.lines) != 7 || !strings.Contains(shown.lines[5], "0 of 20 valves run (15 not") {
		t.Errorf("%d lines:\n%s", len(shown.lines), shown.text())
	}
	for _, line := range shown.lines {
		if n := len([]rune(line)); n >= 30 {
			t.Errorf("%d wide: %s", n, line)
		}
	}
}

// The rows that are reported as they come are those of the answer, which is the same whether
// anybody looks or not.
func TestRowsAreThoseOfTheAnswer(t *testing.T) {
	var a app
	data, err := a.read("../../examples/layout.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	st, _ := station.Load("layout", data)
	book, _ := rules.Base()
	demo, _ := catalog.Demo()
	said := map[string][]string{}
	opt := study.Options{
		Catalogs: demo, Rules: book,
		Row: func(a *judge.Assessment) { said[a.Item.ID] = append(said[a.Item.ID], a.SlamWords()) },
	}
	s, err := study.Run(context.Background(), st, opt)
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Assessments {
		x := &s.Assessments[i]
		if got := said[x.Item.ID]; len(got) != 2 || got[1] != x.SlamWords() || x.Runs && got[0] != judge.ToRun {
			t.Errorf("%s was reported as %q, and is %s", x.Item.ID, got, x.SlamWords())
		}
	}
	var out, errOut bytes.Buffer
	if code := run([]string{"select", "../../examples/layout.station.yaml"}, nil, &out, &errOut); code != 0 ||
		errOut.Len() > 0 || strings.Contains(out.String(), "\x1b") {
		t.Errorf("code %d; where nobody looks there is %q", code, errOut.String())
	}
}
