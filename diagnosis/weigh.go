package diagnosis

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"seatward/diag"
	"seatward/internal/condition"
)

// Case is what is known of a trouble.
type Case struct {
	Signs []string          // ids
	Found map[string]string // reading by test
	Facts map[string]any    // of the station, as conditions take them
	Words map[string]string // the facts as text, in the user's units
}

// Standing is how a cause stands by the evidence.
type Standing string

// The standings, the most likely first.
const (
	Strongly Standing = "strongly supported"
	Likely   Standing = "supported"
	Open     Standing = "cannot be excluded"
	Unlikely Standing = "less likely"
	RuledOut Standing = "ruled out by a test"
)

// Weighed is a cause with what speaks for and against it.
type Weighed struct {
	Cause    *Cause
	Standing Standing
	For      []string
	Against  []string
	Shows    []string // what it would look like at this station
	Lacking  []string // facts of the station that would say more
	score    int
}

// Next is a test to do, with what each cause would show.
type Next struct {
	Test    *Test
	Expects []Showing
}

// Showing is a reading with the causes that would give it.
type Showing struct {
	Reading Reading
	Causes  []string // titles, with the number that is expected
}

// Answer is causes in order and the tests still to do, the next one first.
type Answer struct {
	Causes []Weighed
	Next   []Next
}

// FindSign finds a sign by its id or its words, or by a sentence with the words of one sign in it.
func (b *Book) FindSign(group, said string) (string, error) {
	word := plain(said)
	var all, within []string
	for _, s := range b.Signs {
		if s.Group != group {
			continue
		}
		all = append(all, s.ID)
		names := append([]string{s.ID, s.Text}, s.Also...)
		if slices.ContainsFunc(names, func(n string) bool { return plain(n) == word }) {
			return s.ID, nil
		}
		for _, n := range names {
			before, after, found := strings.Cut(" "+word+" ", " "+plain(n)+" ")
			if found && !denied.MatchString(before+" "+after) {
				within = append(within, s.ID)
				break
			}
		}
	}
	switch {
	case len(within) == 1:
		return within[0], nil
	case len(within) > 1:
		return "", fmt.Errorf("%q holds several signs; give each by itself: %s", said, strings.Join(within, ", "))
	}
	return "", fmt.Errorf("no sign is called %q; %s", said, diag.Meant(said, all))
}

// denied are words that turn a sentence round.
var denied = regexp.MustCompile(`(?i)\b(?:no|not|never|none|nothing|without|don t|doesn t|didn t)\b`)

// HasSign is true where a sign has that id.
func (b *Book) HasSign(id string) bool {
	return slices.ContainsFunc(b.Signs, func(s Sign) bool { return s.ID == id })
}

// plain is a text in lower case with single blanks between its words.
func plain(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !('a' <= r && r <= 'z' || '0' <= r && r <= '9')
	}), " ")
}

// ParseFound reads a test's result: "levels=open-faster".
func (b *Book) ParseFound(text string) (test, reading string, err error) {
	test, reading, found := strings.Cut(text, "=")
	test, reading = strings.TrimSpace(test), strings.TrimSpace(reading)
	if !found || test == "" || reading == "" {
		return "", "", fmt.Errorf("%q: TEST=READING is expected, such as spin=backward", text)
	}
	var tests []string
	for i := range b.Tests {
		t := &b.Tests[i]
		tests = append(tests, t.ID)
		if t.ID != test {
			continue
		}
		var readings []string
		for _, r := range t.Readings {
			if r.ID == reading {
				return test, reading, nil
			}
			readings = append(readings, r.ID)
		}
		return "", "", fmt.Errorf("the test %s has no reading %q; %s", test, reading, diag.Meant(reading, readings))
	}
	return "", "", fmt.Errorf("no test is called %q; %s", test, diag.Meant(test, tests))
}

// Weigh orders the causes by the evidence and says which test comes next.
func (b *Book) Weigh(c *Case) Answer {
	var a Answer
	for i := range b.Causes {
		a.Causes = append(a.Causes, b.weigh(&b.Causes[i], c))
	}
	slices.SortStableFunc(a.Causes, func(x, y Weighed) int {
		return cmp.Or(cmp.Compare(last(x.Standing), last(y.Standing)), cmp.Compare(y.score, x.score))
	})
	a.Next = b.next(a.Causes, c)
	return a
}

// last is 1 for what comes after all else.
func last(s Standing) int {
	if s == RuledOut {
		return 1
	}
	return 0
}

// weigh gathers what speaks for and against one cause.
func (b *Book) weigh(cause *Cause, c *Case) Weighed {
	w := Weighed{Cause: cause}
	add := func(n int, text string) {
		w.score += n
		if n > 0 {
			w.For = append(w.For, text)
		} else {
			w.Against = append(w.Against, text)
		}
	}
	for i := range b.Signs { // in the order of the list, not of the flags
		s := &b.Signs[i]
		if e, ok := cause.signs[s.ID]; ok && slices.Contains(c.Signs, s.ID) {
			add(e.score, lower(s.Text)+": "+e.why)
		}
	}
	for i := range cause.numbers {
		w.number(&cause.numbers[i], c, add)
	}
	out := false
	for i := range b.Tests {
		t := &b.Tests[i]
		found, done := c.Found[t.ID]
		e, speaks := t.Expects[cause.ID]
		switch {
		case !done || !speaks:
		case e.Reading == found:
			add(readingScore, "test: "+lower(t.Title)+": "+t.Reading(found))
		default:
			add(-readingScore, "test: "+lower(t.Title)+": "+t.Reading(found)+", where it would be "+t.Reading(e.Reading))
			out = out || e.Decides
		}
	}
	w.Standing = standing(w.score)
	if out {
		w.Standing = RuledOut
	}
	return w
}

// number weighs one number of the station.
func (w *Weighed) number(n *number, c *Case, add func(int, string)) {
	answer, err := n.when.Answer(c.Facts)
	if err != nil || answer == condition.Open {
		for _, m := range n.when.Missing(c.Facts) {
			if n.score != 0 && !slices.Contains(w.Lacking, m) {
				w.Lacking = append(w.Lacking, m)
			}
		}
		return
	}
	text, whole := fill(n.text, c.Words)
	switch {
	case answer == condition.No || !whole:
	case n.score == 0:
		w.Shows = append(w.Shows, text)
	default:
		add(n.score, text)
	}
}

func standing(score int) Standing {
	switch {
	case score >= 2*strongScore:
		return Strongly
	case score >= strongScore:
		return Likely
	case score > -strongScore:
		return Open
	}
	return Unlikely
}

// Reading is the text of a reading.
func (t *Test) Reading(id string) string {
	for _, r := range t.Readings {
		if r.ID == id {
			return r.Text
		}
	}
	return id
}

// fill puts numbers in the place of their names; whole is false where one is not known.
func fill(text string, words map[string]string) (out string, whole bool) {
	whole = true
	out = placeholder.ReplaceAllStringFunc(text, func(m string) string {
		w, ok := words[m[1:len(m)-1]]
		whole = whole && ok
		return w
	})
	return out, whole
}

// lower makes the first letter small, but for words all in capitals.
func lower(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' || len(s) > 1 && s[1] == ' ' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// worthwhile is the share of the best test's gain that a safer test must have to come first; a
// judgement.
const worthwhile = 0.35

// leastGain is a gain, in bits, below which a test says nothing.
const leastGain = 0.02

// next orders the tests that are left. The next one is of the safest class in which a test
// tells nearly as much as the best of all; the others follow by class, so that nobody opens a
// valve before the safer tests, and by what they tell. What a test tells is the information
// about the cause, with weights from the scores.
func (b *Book) next(causes []Weighed, c *Case) []Next {
	type rated struct {
		test  *Test
		gain  float64
		class int
	}
	var left []rated
	best := 0.0
	for i := range b.Tests {
		t := &b.Tests[i]
		if _, done := c.Found[t.ID]; done {
			continue
		}
		if g := gain(t, causes); g > leastGain {
			left = append(left, rated{t, g, slices.Index(Safeties, t.Safety)})
			best = math.Max(best, g)
		}
	}
	slices.SortStableFunc(left, func(x, y rated) int {
		return cmp.Or(cmp.Compare(x.class, y.class), cmp.Compare(y.gain, x.gain))
	})
	if at := slices.IndexFunc(left, func(r rated) bool { return r.gain >= worthwhile*best }); at > 0 {
		first := left[at]
		left = slices.Insert(slices.Delete(left, at, at+1), 0, first)
	}
	var out []Next
	for _, r := range left {
		out = append(out, Next{Test: r.test, Expects: r.test.showings(causes, c)})
	}
	return out
}

// gain is the information, bits, that the test's reading gives of the cause. A cause of which
// the test says nothing gives every reading alike.
func gain(t *Test, causes []Weighed) float64 {
	index := map[string]int{}
	for i, r := range t.Readings {
		index[r.ID] = i
	}
	k := float64(len(t.Readings))
	share := make([]float64, len(t.Readings))
	sum, within := 0.0, 0.0
	for i := range causes {
		w := &causes[i]
		if w.Standing == RuledOut {
			continue
		}
		weight := math.Exp2(float64(w.score))
		sum += weight
		if e, ok := t.Expects[w.Cause.ID]; ok {
			share[index[e.Reading]] += weight
			continue
		}
		within += weight * math.Log2(k)
		for j := range share {
			share[j] += weight / k
		}
	}
	if sum == 0 {
		return 0
	}
	entropy := 0.0
	for _, s := range share {
		if p := s / sum; p > 0 {
			entropy -= p * math.Log2(p)
		}
	}
	return entropy - within/sum
}

// showings lists the readings with the causes that would give them, the likeliest first.
func (t *Test) showings(causes []Weighed, c *Case) []Showing {
	var out []Showing
	for _, r := range t.Readings {
		s := Showing{Reading: r}
		for i := range causes {
			w := &causes[i]
			e, ok := t.Expects[w.Cause.ID]
			if !ok || e.Reading != r.ID || w.Standing == RuledOut {
				continue
			}
			title := w.Cause.Title
			if text, whole := fill(e.Text, c.Words); text != "" && whole {
				title += ": " + text
			}
			s.Causes = append(s.Causes, title)
		}
		out = append(out, s)
	}
	return out
}
