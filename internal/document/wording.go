package document

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// Wording puts a user's words in place of those of the documents: another house style,
// or another language. The words of the program itself are the keys, so that a phrase
// which nobody has replaced stands as it is. What is computed (findings, cautions, events,
// names of a catalog) is replaced by patterns, once a document is done.
type Wording struct {
	Language string
	phrases  map[string]string
	patterns []pattern           // of computed texts
	untold   map[string]bool     // computed texts, or parts of them, that none has
	own      map[string]bool     // phrases of the user's own files
	plain    *Wording            // without the language that comes with the program; nil where it has none
	before   map[string][]string // paragraphs at the start of a kind
	after    map[string][]string // and at its end
	asked    map[string]bool
}

// WordingForm names the form of a wording file. It changes only when a file that was legal no longer is.
const WordingForm = "seatward.wording/1"

// WordingFile is a wording file as written.
type WordingFile struct {
	Language yamlfile.Word   `yaml:"language" doc:"Language of the phrases, as a BCP 47 tag"`
	Phrases  []PhraseFile    `yaml:"phrases" doc:"Phrases in place of those of the documents"`
	Computed []PhraseFile    `yaml:"computed" doc:"Texts that the program computes: findings, cautions, events, names of a catalog"`
	Added    []AddedTextFile `yaml:"added" doc:"Paragraphs of your own at the start or the end of a kind of document"`
}

// PhraseFile is one phrase and what stands in its place.
type PhraseFile struct {
	From yamlfile.Word `yaml:"from" need:"true" doc:"Phrase as the documents have it; names in braces stand for numbers and words"`
	To   yamlfile.Word `yaml:"to" need:"true" doc:"What stands in its place, with the same names in braces"`
}

// AddedTextFile is a paragraph of the user's own.
type AddedTextFile struct {
	Kind  yamlfile.Word `yaml:"kind" need:"true" doc:"Kind of document"`
	Where yamlfile.Word `yaml:"where" one:"start|end" need:"true" doc:"At its start or end"`
	Text  yamlfile.Word `yaml:"text" need:"true" doc:"The paragraph"`
}

// NewWording is the wording of the program itself.
func NewWording() *Wording {
	return &Wording{
		Language: "en", phrases: map[string]string{}, before: map[string][]string{},
		after: map[string][]string{}, asked: map[string]bool{},
		untold: map[string]bool{}, own: map[string]bool{},
	}
}

// ParseWording reads a wording file on top of what stands. The list holds every fault.
func (w *Wording) ParseWording(filename string, data []byte) diag.List {
	var f WordingFile
	list := yamlfile.Decode(filename, data, &f)
	if f.Language.Text != "" {
		w.Language = f.Language.Text
	}
	for i, p := range slices.Concat(f.Phrases, f.Computed) {
		if want, got := names(p.From.Text), names(p.To.Text); !slices.Equal(want, got) {
			list.Add(diag.Message{
				ID: "wording-names", Place: p.To.Place, Path: p.To.Path,
				Text:  "the phrase does not have the names in braces of the one that it replaces",
				Found: strings.Join(got, " "), Expected: strings.Join(want, " "), Mend: "write each of them once",
			})
		}
		if i >= len(f.Phrases) && len(inOrder(p.From.Text)) > 0 {
			w.patterns = append(w.patterns, newPattern(p.From.Text, p.To.Text))
			continue
		}
		w.phrases[p.From.Text], w.own[p.From.Text] = p.To.Text, true
	}
	sortPatterns(w.patterns)
	for _, a := range f.Added {
		if _, err := KindNamed(a.Kind.Text); err != nil {
			list.Add(diag.Message{
				ID: "wording-kind", Place: a.Kind.Place, Path: a.Kind.Path, Text: err.Error(),
				Mend: "mend the name of the kind",
			})
			continue
		}
		into := w.after
		if a.Where.Text == "start" {
			into = w.before
		}
		into[a.Kind.Text] = append(into[a.Kind.Text], a.Text.Text)
	}
	list.Sort()
	return list
}

// names lists the names in braces, sorted.
func names(s string) []string {
	var out []string
	for {
		from := strings.IndexByte(s, '{')
		if from < 0 {
			break
		}
		to := strings.IndexByte(s[from:], '}')
		if to < 0 {
			break
		}
		out = append(out, s[from:from+to+1])
		s = s[from+to+1:]
	}
	slices.Sort(out)
	return out
}

// say gives the phrase in the user's words, its names filled in: say("{n} pumps", "n", "2").
func (w *Wording) say(phrase string, pairs ...string) string {
	if strings.ContainsRune(phrase, wordedFrom) {
		return phrase // said already
	}
	w.asked[phrase] = true
	if own, found := w.phrases[phrase]; found {
		phrase = own
	}
	if w.foreign() {
		return worded(phrase, pairs)
	}
	return Fill(phrase, pairs...)
}

// Fill puts texts in place of names in braces, all in one go: a brace in a text that goes
// in stays a brace. Fill("Page {n}", "n", "2") is "Page 2".
func Fill(phrase string, pairs ...string) string {
	all := make([]string, 0, len(pairs))
	for i := 0; i+1 < len(pairs); i += 2 {
		all = append(all, "{"+pairs[i]+"}", pairs[i+1])
	}
	return strings.NewReplacer(all...).Replace(phrase)
}

// Asked lists the phrases that documents have asked for so far: what a wording file may
// replace.
func (w *Wording) Asked() []string { return slices.Sorted(maps.Keys(w.asked)) }

// Unused lists the replaced phrases that no document has asked for: slips of the pen,
// once every kind has been made.
func (w *Wording) Unused() []string {
	var out []string
	for p := range w.own {
		if !w.asked[p] {
			out = append(out, p)
		}
	}
	slices.Sort(out)
	return out
}

// Starter is a wording file that holds every phrase asked for, each as it stands.
func (w *Wording) Starter() string {
	var b strings.Builder
	b.WriteString("# Phrases of the documents. Change what stands after to; leave out what is right.\nlanguage: " +
		w.Language + "\nphrases:\n")
	for _, p := range w.Asked() {
		fmt.Fprintf(&b, "  - from: %s\n    to: %s\n", quoted(p), quoted(unmarked(w.say(p))))
	}
	head := "computed:\n"
	for _, p := range w.patterns {
		if p.used {
			fmt.Fprintf(&b, "%s  - from: %s\n    to: %s\n", head, quoted(p.from), quoted(p.to))
			head = ""
		}
	}
	return b.String()
}

// quoted writes a text as YAML has it in double quotes.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s) + `"`
}
