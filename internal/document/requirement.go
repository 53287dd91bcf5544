package document

import (
	"fmt"
	"slices"

	"seatward/basis"
	"seatward/judge"
)

// Status is how the offered valve stands to a requirement.
type Status uint8

// The statuses.
const (
	Complies Status = iota
	Deviates
	NotApplicable
	ToSee // open: a person has to say
)

// String gives the word of the matrix.
func (s Status) String() string {
	return [...]string{"complies", "deviates", "not applicable", "open"}[s]
}

func (s Status) tone() Tone {
	return [...]Tone{Good, Bad, Plain, Open}[s]
}

// answer is what is offered against a requirement.
type answer struct {
	status Status
	text   string
	bad    string // what of it deviates, where the text tells more
}

// deviation is what the list of deviations says.
func (a answer) deviation() string {
	if a.bad != "" {
		return a.bad
	}
	return a.text
}

// requirement is a clause of the specification with what is offered against it. A clause
// without an answer is one that only a person can answer.
type requirement struct {
	level  int
	number string
	text   string
	note   string // to the specifier
	answer func() answer
}

// clauses counts the numbers of a section: PART 1, 1.1, A., 1., a.
type clauses struct {
	list   []requirement
	counts [5]int
}

func (c *clauses) add(r requirement) {
	c.counts[r.level]++
	for i := r.level + 1; i < len(c.counts); i++ {
		c.counts[i] = 0
	}
	n := c.counts[r.level]
	switch r.level {
	case 0:
		r.number = fmt.Sprintf("PART %d", n)
	case 1:
		r.number = fmt.Sprintf("%d.%d", c.counts[0], n)
	case 2:
		r.number = letters(n, 'A') + "."
	case 3:
		r.number = fmt.Sprintf("%d.", n)
	default:
		r.number = letters(n, 'a') + "."
	}
	c.list = append(c.list, r)
}

// note puts a note to the specifier behind the clause added last.
func (c *clauses) note(text string) { c.list[len(c.list)-1].note = text }

// letters counts A to Z, AA and so on.
func letters(n int, first rune) string {
	if n > 26 {
		return letters((n-1)/26, first) + letters((n-1)%26+1, first)
	}
	return string(first + rune(n-1))
}

// reference is the whole number of a clause as a matrix cites it: 2.3 A 1.
func (c *clauses) reference(i int) string {
	r := c.list[i]
	if r.level < 2 {
		return r.number
	}
	ref := trimDot(r.number)
	for level := r.level - 1; level >= 1; level-- {
		for j := i; j >= 0; j-- {
			if c.list[j].level == level {
				ref = trimDot(c.list[j].number) + " " + ref
				break
			}
		}
	}
	return ref
}

func trimDot(s string) string {
	if n := len(s); n > 0 && s[n-1] == '.' {
		return s[:n-1]
	}
	return s
}

// byFindings answers by findings of the study: what rejects or is a condition deviates,
// what was not checked is open, and what passed complies.
func (w *sheet) byFindings(evidence string, points ...judge.Point) func() answer {
	return func() answer {
		found := false
		for _, f := range w.Assessment.Findings {
			if !slices.Contains(points, f.Kind.Point) {
				continue
			}
			found = true
			switch f.Severity {
			case judge.Rejects, judge.Condition:
				return answer{status: Deviates, text: w.withMend(f)}
			case judge.Confirm, judge.Open:
				return answer{status: ToSee, text: w.withMissing(f)}
			}
			if evidence == "" {
				evidence = f.Text
			}
		}
		if !found {
			return answer{status: ToSee, text: w.say("not checked by the study")}
		}
		return answer{status: Complies, text: evidence}
	}
}

// offered answers with what the configuration has; open where the catalog does not tell.
func (w *sheet) offered(text string, parts ...basis.Value) func() answer {
	return func() answer {
		for _, v := range parts {
			if !v.Known() {
				return answer{status: ToSee, text: w.say("the catalog does not tell: {what}", "what", v.Name)}
			}
		}
		if text == "" {
			return answer{status: ToSee, text: w.say("the catalog does not tell it")}
		}
		return answer{status: Complies, text: text}
	}
}

// person leaves the answer to whoever submits.
func (w *sheet) person(what string) func() answer {
	return func() answer { return answer{status: ToSee, text: w.say(what)} }
}
