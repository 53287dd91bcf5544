// Package diagnosis goes from what is seen or heard at a pumping station to its cause. Signs,
// causes and tests are data with their sources. Causes are ordered by the evidence alone: no
// shares of failure modes are published for check valves in sewage stations, so none is used
// or printed, and a cause stays listed until a test rules it out.
package diagnosis

import (
	_ "embed"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"seatward/diag"
	"seatward/internal/condition"
	"seatward/internal/yamlfile"
)

//go:embed rules.yaml
var rulesFile []byte

// NoShares is said with every order of causes.
const NoShares = "Ordered by your evidence alone. No shares of failure modes of check valves in sewage stations are published; none is used here."

// NoTest is said where no test is left.
const NoTest = "No test of the list tells the causes that are left apart. A pressure record of a stop and a person who knows the station come next."

// Facts are the numbers and words of a station that rules may speak of; SI.
var Facts = []condition.Fact{
	{Name: "slam", Kind: condition.Number, Doc: "computed reverse velocity at closing, worst stop, m/s"},
	{Name: "head_rise", Kind: condition.Number, Doc: "its head rise, m"},
	{Name: "slam_class", Kind: condition.Text, Doc: "quiet, audible, harmful"},
	{Name: "event", Kind: condition.Text, Doc: "the stop that governs, in words"},
	{Name: "later_blows", Kind: condition.Whole, Doc: "closings after the first in that stop"},
	{Name: "separates", Kind: condition.YesNo, Doc: "column separation is predicted"},
	{Name: "cavity_life", Kind: condition.Number, Doc: "life of a cavity near the station, s"},
	{Name: "wave_swing", Kind: condition.Number, Doc: "four travel times of the wave in the main, s"},
	{Name: "velocity", Kind: condition.Number, Doc: "velocity in the valve, normal duty, m/s"},
	{Name: "full_open", Kind: condition.Number, Doc: "full-open velocity of the valve, m/s"},
	{Name: "valve_loss", Kind: condition.Number, Doc: "head loss of the valve, m"},
	{Name: "back_head", Kind: condition.Number, Doc: "head across the closed valve, m"},
	{Name: "back_head_needed", Kind: condition.Number, Doc: "minimum back head to seal, m"},
	{Name: "hinged", Kind: condition.YesNo, Doc: "the valve's element turns about a hinge"},
	{Name: "run_back", Kind: condition.Number, Doc: "reverse speed behind a valve stuck open, rad/s"},
	{Name: "back_flow", Kind: condition.Number, Doc: "flow back through the pump, m3/s"},
	{Name: "restart_heat", Kind: condition.Number, Doc: "rotor heat of a restart over one from rest"},
	{Name: "drains", Kind: condition.Number, Doc: "volume that can drain back, m3"},
	{Name: "drain_length", Kind: condition.Number, Doc: "its length, m"},
	{Name: "drain_rise", Kind: condition.Number, Doc: "rise of the well by that volume, m"},
	{Name: "back_rise", Kind: condition.Number, Doc: "rise of the well in a minute behind a valve stuck open, m"},
	{Name: "summits", Kind: condition.Whole, Doc: "high points between station and outlet"},
	{Name: "pump_flow", Kind: condition.Number, Doc: "flow of one pump by its curve, m3/s"},
	{Name: "shut_off", Kind: condition.Number, Doc: "shut-off head of the pump, m"},
	{Name: "pumps", Kind: condition.Whole, Doc: "pumps, standby included"},
	{Name: "rags", Kind: condition.Text, Doc: "none, light, heavy"},
	{Name: "grit", Kind: condition.Text, Doc: "none, some, heavy"},
}

var language = func() *condition.Language {
	l, err := condition.NewLanguage(Facts)
	if err != nil {
		panic("diagnosis: " + err.Error())
	}
	return l
}()

// Sign is one thing that may be seen or heard.
type Sign struct {
	ID, Group, Text string
	Also            []string
}

// Cause is one cause.
type Cause struct {
	ID, Title, Text, Source, Status string
	signs                           map[string]evidence
	numbers                         []number
}

type evidence struct {
	score int
	why   string
}

type number struct {
	when  *condition.Condition
	score int // 0 for what it would look like
	text  string
}

// Reading is one thing that a test may show.
type Reading struct{ ID, Text string }

// Expected is what a cause would show.
type Expected struct {
	Reading, Text string
	Decides       bool
}

// Test is one test.
type Test struct {
	ID, Title, Safety, Steps string
	Readings                 []Reading
	Expects                  map[string]Expected // by cause
}

// Safeties are what a test may take, the safest first.
var Safeties = []string{"no entry", "control panel", "gauge fitted", "lock-out", "opened up"}

// Book is a set of signs, causes and tests.
type Book struct {
	Signs  []Sign
	Causes []Cause
	Tests  []Test
}

var base = sync.OnceValues(func() (*Book, diag.List) { return Parse("diagnosis/rules.yaml", rulesFile) })

// Base is the book that comes with Seatward. The list is empty, as a test holds.
func Base() (*Book, diag.List) { return base() }

// Parse reads a book. The list holds every fault; the book is nil if it holds an error.
func Parse(file string, data []byte) (*Book, diag.List) {
	var f File
	list := yamlfile.Decode(file, data, &f)
	b := builder{list: list, ids: map[string]yamlfile.At{}}
	for i := range f.Signs {
		b.sign(&f.Signs[i])
	}
	for i := range f.Causes {
		b.cause(&f.Causes[i])
	}
	for i := range f.Tests {
		b.test(&f.Tests[i])
	}
	b.list.Sort()
	if b.list.Err() != nil {
		return nil, b.list
	}
	return &b.book, b.list
}

type builder struct {
	book Book
	list diag.List
	ids  map[string]yamlfile.At
}

func (b *builder) fault(at yamlfile.At, id, text, expected, mend string) {
	b.list.Add(diag.Message{ID: id, Place: at.Place, Path: at.Path, Text: text, Expected: expected, Mend: mend})
}

// once is false for an id that is missing or stands twice.
func (b *builder) once(w yamlfile.Word, what string) bool {
	if !w.Set {
		return false
	}
	key := what + " " + w.Text
	if at, twice := b.ids[key]; twice {
		b.fault(w.At, "twice", fmt.Sprintf("%s stands twice", key), "an id of its own",
			fmt.Sprintf("rename one; the other is at %s", at.Place))
		return false
	}
	b.ids[key] = w.At
	return true
}

// known holds that an id was declared above.
func (b *builder) known(w yamlfile.Word, what string) bool {
	if _, ok := b.ids[what+" "+w.Text]; ok || !w.Set {
		return ok
	}
	var all []string
	for k := range b.ids {
		if id, ok := strings.CutPrefix(k, what+" "); ok {
			all = append(all, id)
		}
	}
	slices.Sort(all)
	b.fault(w.At, "unknown", fmt.Sprintf("no %s is called %q", what, w.Text), diag.Meant(w.Text, all),
		"mend the id, or add it above")
	return false
}

func (b *builder) sign(f *SignFile) {
	if !b.once(f.ID, "sign") {
		return
	}
	s := Sign{ID: f.ID.Text, Group: f.Group.Text, Text: f.Text.Text}
	for _, w := range f.Also {
		s.Also = append(s.Also, w.Text)
	}
	b.book.Signs = append(b.book.Signs, s)
}

// The scores of evidence: a judgement of this program. They order causes and are not printed.
const (
	strongScore  = 3
	someScore    = 1
	readingScore = 4 // what a test shows weighs more than what was noticed
)

func score(says, weight string) int {
	n := someScore
	if weight == "strong" {
		n = strongScore
	}
	if says == "against" {
		return -n
	}
	return n
}

func (b *builder) cause(f *CauseFile) {
	if !b.once(f.ID, "cause") {
		return
	}
	c := Cause{
		ID: f.ID.Text, Title: f.Title.Text, Text: f.Text.Text, Source: f.Source.Text, Status: f.Status.Text,
		signs: map[string]evidence{},
	}
	for _, e := range f.Signs {
		if b.known(e.Sign, "sign") {
			c.signs[e.Sign.Text] = evidence{score(e.Says.Text, e.Weight.Text), e.Why.Text}
		}
	}
	for i := range f.Numbers {
		n := &f.Numbers[i]
		when, list := language.Compile(n.When)
		b.list = append(b.list, list...)
		b.placeholders(n.Text)
		made := number{when: when, text: n.Text.Text}
		if n.Says.Text != "expect" {
			made.score = score(n.Says.Text, n.Weight.Text)
		}
		c.numbers = append(c.numbers, made)
	}
	b.book.Causes = append(b.book.Causes, c)
}

var placeholder = regexp.MustCompile(`\{([a-z_]+)\}`)

// placeholders holds that the names in braces are facts.
func (b *builder) placeholders(w yamlfile.Word) {
	for _, m := range placeholder.FindAllStringSubmatch(w.Text, -1) {
		if !slices.ContainsFunc(Facts, func(f condition.Fact) bool { return f.Name == m[1] }) {
			b.fault(w.At, "unknown", fmt.Sprintf("no number of a station is called {%s}", m[1]), "one of the facts",
				"mend the name in braces")
		}
	}
}

func (b *builder) test(f *TestFile) {
	if !b.once(f.ID, "test") {
		return
	}
	t := Test{
		ID: f.ID.Text, Title: f.Title.Text, Safety: f.Safety.Text, Steps: f.Steps.Text, Expects: map[string]Expected{},
	}
	for i := range f.Readings {
		if r := &f.Readings[i]; b.once(r.ID, "reading of "+t.ID) {
			t.Readings = append(t.Readings, Reading{r.ID.Text, r.Text.Text})
		}
	}
	for i := range f.Expects {
		e := &f.Expects[i]
		b.placeholders(e.Text)
		if b.known(e.Cause, "cause") && b.known(e.Reading, "reading of "+t.ID) {
			t.Expects[e.Cause.Text] = Expected{Reading: e.Reading.Text, Text: e.Text.Text, Decides: e.Decides.Yes()}
		}
	}
	b.book.Tests = append(b.book.Tests, t)
}
