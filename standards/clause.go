package standards

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/clause"
	"seatward/valve"
)

// Flag is something in a specification clause that a reader should look at.
type Flag struct {
	Place diag.Place
	Found string // as written
	Kind  string // fits, in part, does not fit, hangs, stale, withdrawn, contradiction, unknown
	Text  string
}

// Text is a specification clause with the name of its file.
type Text struct{ Name, Text string }

// ReadText takes the text of a file as a clause, if it is one.
func ReadText(name string, data []byte) (*Text, diag.List) {
	text, list := clause.Text(name, data)
	if list != nil {
		return nil, list
	}
	return &Text{Name: name, Text: text}, nil
}

// quoted finds what looks like a standard, known here or not.
var quoted = regexp.MustCompile(`\b(?:AWWA|ASME|ANSI|ASTM|MSS|API|NSF|BS EN|DIN EN|EN|ISO|DIN|BS|UL|FM|ASSE)[\s/-]+(?:[A-Z]{0,4}[\s-]?)?\d\w*(?:\.\d+)*(?:-\d+)?`)

// upright are the words by which a text asks for a valve that stands.
var upright = regexp.MustCompile(`(?i)\bvertical(?:ly)?\b|\bflow[- ]up\b|\bupflow\b|\bupward flow\b`)

// negated are words before or after that turn an upright one round.
var negated = regexp.MustCompile(`(?i)\b(?:not|no|never|except|horizontal only)\b[^.]{0,40}$`)

// Clause reads a specification clause for one valve: standards that do not fit it, stale
// and withdrawn editions, and contradictions of the text with itself or with the valve.
func Clause(t Text, all []Standard, it *catalog.Item, at Place) []Flag {
	text := t.Text
	c := pasted{file: t.Name, text: text}
	said := Judge(all, it, at)
	var taken [][2]int
	vertical := c.vertical()
	for i := range all {
		for _, m := range all[i].match.FindAllStringSubmatchIndex(text, -1) {
			if goesOn(text, m[0], m[1]) {
				continue
			}
			taken = append(taken, [2]int{m[0], m[1]})
			c.standard(&said[i], m, vertical)
		}
	}
	for _, m := range quoted.FindAllStringIndex(text, -1) {
		if !slices.ContainsFunc(taken, func(t [2]int) bool { return t[0] < m[1] && m[0] < t[1] }) {
			c.add(m[0], m[1], "unknown", "not known here: read its scope, and ask whether it covers "+
				it.Family.Type.Title)
		}
	}
	if vertical >= 0 && !it.Allows(valve.FlowUp) && !it.Allows(valve.FlowDown) {
		c.add(vertical, vertical+8, "contradiction",
			"the text asks for a vertical valve; the maker allows this one only "+valve.PositionWords(it.Positions,
				" or "))
	}
	slices.SortStableFunc(c.flags, func(a, b Flag) int {
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Col - b.Place.Col
	})
	return c.flags
}

type pasted struct {
	file, text string
	flags      []Flag
}

// goesOn is true when the match is the beginning or end of a longer number or word.
func goesOn(text string, from, to int) bool {
	word := func(r rune) bool { return r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }
	after, n := utf8.DecodeRuneInString(text[to:])
	before, _ := utf8.DecodeLastRuneInString(text[:from])
	if word(after) || word(before) {
		return true
	}
	next, _ := utf8.DecodeRuneInString(text[min(to+n, len(text)):])
	return after == '.' && next >= '0' && next <= '9'
}

func (c *pasted) add(from, to int, kind, text string) {
	before := c.text[:from]
	line := before[strings.LastIndexByte(before, '\n')+1:]
	place := diag.Place{File: c.file, Line: strings.Count(before, "\n") + 1, Col: utf8.RuneCountInString(line) + 1}
	c.flags = append(c.flags, Flag{
		place, strings.Join(strings.Fields(c.text[from:min(to, len(c.text))]), " "), kind,
		text,
	})
}

// vertical is where the text asks for a vertical valve; −1 where it does not.
func (c *pasted) vertical() int {
	for _, m := range upright.FindAllStringIndex(c.text, -1) {
		if !negated.MatchString(c.text[max(0, m[0]-60):m[0]]) {
			return m[0]
		}
	}
	return -1
}

// standard flags one mention of a standard.
func (c *pasted) standard(s *Said, m []int, vertical int) {
	st := s.Standard
	kind, text := "fits", st.Scope
	switch s.Verdict {
	case InPart:
		kind, text = "in part", s.Text
	case DoesNot:
		kind, text = "does not fit", st.Scope
		if s.Text != "" {
			text += " Ask instead: " + s.Text
		}
	case Hangs:
		kind, text = "hangs", "it depends on what is not given: "+strings.Join(s.Hangs, ", ")
	}
	c.add(m[0], m[1], kind, text)
	if st.Withdrawn != "" {
		c.add(m[0], m[1], "withdrawn", "withdrawn; "+st.Withdrawn+" took its place")
	}
	if m[2] >= 0 && len(st.Editions) > 0 {
		c.edition(st, m, c.text[m[2]:m[3]])
	}
	if st.HorizontalOnly && vertical >= 0 {
		c.add(m[0], m[1], "contradiction",
			fmt.Sprintf("%s covers horizontal valves only, and the text asks for a vertical one", st.ID))
	}
}

// edition flags an edition that is not the current one.
func (c *pasted) edition(st *Standard, m []int, year string) {
	switch at := slices.IndexFunc(st.Editions, func(e string) bool { return alike(e, year) }); {
	case at == 0:
	case at > 0:
		c.add(m[0], m[1], "stale", fmt.Sprintf("edition %s is stale; %s is the latest known here, from memory: check the current one", year, st.Editions[0]))
	default:
		c.add(m[0], m[1], "stale", fmt.Sprintf("no edition %s is known here; %s is the latest known, from memory: check", year, st.Editions[0]))
	}
}
