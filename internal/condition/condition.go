// Package condition reads and answers the conditions that data files hold (option rules
// of catalogs, rules of places and owners, scopes of standards), written in CEL, the
// Common Expression Language (cel.dev), an open specification: size <= 150 || ends == "flanges".
//
// A fact that is not known leaves a condition open, unless the rest decides it: false && x
// is false whatever x is. A condition cannot loop, call out or change anything, and its
// cost is bounded.
package condition

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// Kind is what a fact is.
type Kind uint8

// The kinds of fact.
const (
	Text   Kind = iota // string
	Whole              // int
	Number             // double
	YesNo              // bool
	Texts              // list of string
)

func (k Kind) of() *cel.Type {
	return [...]*cel.Type{cel.StringType, cel.IntType, cel.DoubleType, cel.BoolType, cel.ListType(cel.StringType)}[k]
}

// Fact declares a name that conditions may use.
type Fact struct {
	Name, Doc string
	Kind      Kind
}

// Language is the facts that conditions of one sort of file may speak of.
type Language struct {
	env   *cel.Env
	facts []Fact
}

// Limits on a condition, so that a hostile file costs nothing.
const (
	maxLength = 2000
	maxCost   = 20_000
)

// plain is the language without facts. To make it takes a thousand times as long as to
// add facts to it.
var plain = sync.OnceValues(func() (*cel.Env, error) {
	return cel.NewEnv(cel.CrossTypeNumericComparisons(true), cel.ParserRecursionLimit(60),
		cel.ParserExpressionSizeLimit(maxLength), cel.DefaultUTCTimeZone(true))
})

// NewLanguage makes the language of the facts. The error names a fact whose name cannot
// be one: a word of letters, digits and underscores that CEL does not keep to itself.
func NewLanguage(facts []Fact) (*Language, error) {
	base, err := plain()
	if err != nil {
		return nil, err
	}
	var known []cel.EnvOption
	for _, f := range facts {
		if !IsName(f.Name) {
			return nil, fmt.Errorf("%q cannot be the name of a fact: write a word of small letters, digits and underscores", f.Name)
		}
		known = append(known, cel.VariableWithDoc(f.Name, f.Kind.of(), f.Doc))
	}
	env, err := base.Extend(known...)
	return &Language{env, facts}, err
}

// reserved are the words that CEL keeps to itself.
var reserved = strings.Fields("as break const continue else false for function if import in let loop null package namespace return true var void while int uint double bool string bytes list map type dyn")

// IsName is true when the word can name a fact.
func IsName(word string) bool {
	for i, r := range word {
		if !(r >= 'a' && r <= 'z' || r == '_' || i > 0 && r >= '0' && r <= '9') {
			return false
		}
	}
	return word != "" && !slices.Contains(reserved, word)
}

// Condition is a condition that was read and found to give yes or no.
type Condition struct {
	Text     string
	Names    []string     // the facts that it speaks of, sorted
	Compared []Comparison // facts with the texts that they are compared with
	run      cel.Program
}

// Compile reads a condition. The list holds every fault with its place in the file.
func (l *Language) Compile(w yamlfile.Word) (*Condition, diag.List) {
	ast, issues := l.env.Compile(w.Text)
	var list diag.List
	for _, e := range issues.Errors() {
		place := w.Place
		if e.Location.Line() <= 1 && place.Col > 0 {
			place.Col += w.Inset + max(0, e.Location.Column())
		}
		list.Add(diag.Message{
			ID: "condition-unreadable", Place: place, Path: w.Path,
			Text: "the condition cannot be read: " +
				oneLine(e.Message), Expected: "a condition in CEL, such as nps <= 6.0 || ends == \"flanges\"", Mend: l.mend(e.Message),
		})
	}
	if len(list) > 0 {
		return nil, list
	}
	if ast.OutputType() != cel.BoolType {
		list.Add(diag.Message{
			ID: "condition-no-answer", Place: w.Place, Path: w.Path,
			Text: "the condition gives a " + ast.OutputType().String() +
				", not yes or no", Expected: "a comparison", Mend: "compare it with something",
		})
		return nil, list
	}
	run, err := l.env.Program(ast, cel.CostLimit(maxCost))
	if err != nil {
		list.Add(diag.Message{
			ID: "condition-unreadable", Place: w.Place, Path: w.Path,
			Text: "the condition cannot be used: " +
				oneLine(err.Error()), Expected: "a condition in CEL", Mend: "make it simpler",
		})
		return nil, list
	}
	c := &Condition{Text: w.Text, Compared: compared(ast.NativeRep()), run: run}
	for _, ref := range ast.NativeRep().ReferenceMap() {
		if slices.ContainsFunc(l.facts, func(f Fact) bool { return f.Name == ref.Name }) &&
			!slices.Contains(c.Names, ref.Name) {
			c.Names = append(c.Names, ref.Name)
		}
	}
	slices.Sort(c.Names)
	return c, nil
}

// mend says what a writer may have meant.
func (l *Language) mend(message string) string {
	names := make([]string, len(l.facts))
	for i, f := range l.facts {
		names[i] = f.Name
	}
	if _, after, found := strings.Cut(message, "undeclared reference to '"); found {
		word, _, _ := strings.Cut(after, "'")
		if near := diag.DidYouMean(word, names); near != "" {
			return fmt.Sprintf("did you mean %s?", near)
		}
		return "write one of: " + strings.Join(names, ", ")
	}
	if strings.Contains(message, "no matching overload") && strings.Contains(message, "double") {
		return "write decimals with a point where a fact is a decimal number: 6.0"
	}
	return "mend the condition; texts stand in quotes, and is &&, or is ||"
}

func oneLine(s string) string {
	s, _, _ = strings.Cut(s, " expecting {") // a list of all that the grammar knows
	return strings.Join(strings.Fields(s), " ")
}

// Answer is what is known of a condition.
type Answer uint8

// The answers.
const (
	Open Answer = iota // depends on a fact that is not known
	Yes
	No
)

// String gives the answer in plain words.
func (a Answer) String() string { return [...]string{"open", "yes", "no"}[a] }

// ErrFailed means that a condition could not be worked out although all its facts are known.
var ErrFailed = errors.New("condition: not worked out")

// Answer works the condition out from the facts that are known: string, int64 or int,
// float64, bool and []string by name. The error wraps ErrFailed.
func (c *Condition) Answer(known map[string]any) (Answer, error) {
	out, _, err := c.run.Eval(known)
	if err == nil {
		if out == types.True {
			return Yes, nil
		}
		return No, nil
	}
	for _, name := range c.Names {
		if _, ok := known[name]; !ok {
			return Open, nil
		}
	}
	return Open, fmt.Errorf("%w: %s: %w", ErrFailed, c.Text, err)
}

// Missing names the facts of the condition that are not known.
func (c *Condition) Missing(known map[string]any) []string {
	var out []string
	for _, name := range c.Names {
		if _, ok := known[name]; !ok {
			out = append(out, name)
		}
	}
	return out
}
