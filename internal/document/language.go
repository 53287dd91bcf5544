package document

import (
	"embed"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The languages that come with the program: a wording file each, as users write them.
//
//go:embed words/*.yaml
var languages embed.FS

// Languages are the tags of the languages that come with the program, its own first.
func Languages() []string {
	out := []string{"en"}
	entries, _ := languages.ReadDir("words")
	for _, e := range entries {
		out = append(out, strings.TrimSuffix(e.Name(), ".yaml"))
	}
	return out
}

// Speak puts the phrases of a language that comes with the program under those of the user.
// A tag with a region (es-MX) takes those of its language.
func (w *Wording) Speak(tag string) error {
	base, _, _ := strings.Cut(strings.ToLower(tag), "-")
	if base == "en" {
		w.Language = tag
		return nil
	}
	if !slices.Contains(Languages(), base) {
		return fmt.Errorf("language %q has no wording in the program: write %s, or give a folder of your own with --templates",
			tag, strings.Join(Languages(), " or "))
	}
	data, err := languages.ReadFile("words/" + base + ".yaml")
	if err != nil {
		return err
	}
	own := NewWording()
	if list := own.ParseWording("words/"+base+".yaml", data); list.Err() != nil {
		return list
	}
	plain := *w
	plain.phrases, plain.patterns = maps.Clone(w.phrases), slices.Clone(w.patterns)
	w.plain = &plain
	for from, to := range own.phrases {
		if _, told := w.phrases[from]; !told {
			w.phrases[from] = to
		}
	}
	w.patterns = append(w.patterns, own.patterns...)
	sortPatterns(w.patterns)
	w.Language = tag
	return nil
}

// pattern is a text that the program computes, with names in braces for what differs.
type pattern struct {
	from, to string
	names    []string
	longest  string // of its own words: a text without them is not looked at further
	match    *regexp.Regexp
	used     bool
}

// What names in braces stand for: texts that go over no end of a sentence. A name of one
// letter stands for a number with its unit.
const (
	anyText = `((?:[^.]|\.[^ ])+?)`
	number  = `([-−+<>~]?\d(?:[^.,;:]|[.,;:][^ ])*?)`
)

func newPattern(from, to string) pattern {
	p := pattern{from: from, to: to}
	text := regexp.QuoteMeta(from)
	text = strings.NewReplacer(`\{`, "{", `\}`, "}").Replace(text)
	for _, n := range inOrder(from) {
		p.names = append(p.names, strings.Trim(n, "{}"))
		what := anyText
		if len(n) == len("{n}") {
			what = number
		}
		text = strings.Replace(text, n, what, 1)
	}
	for _, own := range inBraces.Split(from, -1) {
		if len(own) > len(p.longest) {
			p.longest = own
		}
	}
	p.match = regexp.MustCompile("(?s)^" + text + "$")
	return p
}

// sortPatterns puts those first that say most by themselves.
func sortPatterns(all []pattern) {
	own := func(p pattern) int { return len(p.from) - len(strings.Join(inOrder(p.from), "")) }
	slices.SortStableFunc(all, func(a, b pattern) int { return own(b) - own(a) })
}

// inOrder lists the names in braces as they stand.
func inOrder(s string) []string { return inBraces.FindAllString(s, -1) }

var inBraces = regexp.MustCompile(`\{[a-z_]+\}`)

// Worded text stands between these characters while a document is being made, so that what
// is left between them is what the program computed, or data. They are of the range that
// Unicode keeps for private use, and no document that is done has one.
const (
	wordedFrom, wordedTo = '\uE0F0', '\uE0F1'
)

// foreign is true where texts are put into other words than the program's.
func (w *Wording) foreign() bool { return len(w.phrases) > 0 || len(w.patterns) > 0 }

// worded is Fill with the words of the phrase marked, and what is filled in left as it is.
func worded(phrase string, pairs []string) string {
	var b strings.Builder
	mark := func(s string) {
		if s != "" {
			b.WriteRune(wordedFrom)
			b.WriteString(s)
			b.WriteRune(wordedTo)
		}
	}
	rest := phrase
	for {
		at := inBraces.FindStringIndex(rest)
		if at == nil {
			mark(rest)
			return b.String()
		}
		name := rest[at[0]+1 : at[1]-1]
		i := 0
		for ; i+1 < len(pairs) && pairs[i] != name; i += 2 {
		}
		if i+1 < len(pairs) {
			mark(rest[:at[0]])
			b.WriteString(pairs[i+1])
		} else {
			mark(rest[:at[1]])
		}
		rest = rest[at[1]:]
	}
}

// finish puts what the program computed into the words of the user, and takes the marks out.
func (w *Wording) finish(s string) string {
	if !w.foreign() || s == "" {
		return s
	}
	var b strings.Builder
	depth, from := 0, 0
	raw := func(to int) {
		if depth == 0 && to > from {
			b.WriteString(unmarked(w.tell(s[from:to])))
		} else {
			b.WriteString(s[from:to])
		}
	}
	for i, r := range s {
		if r != wordedFrom && r != wordedTo {
			continue
		}
		raw(i)
		from = i + utf8.RuneLen(r)
		if r == wordedFrom {
			depth++
		} else if depth > 0 {
			depth--
		}
	}
	raw(len(s))
	return b.String()
}

func unmarked(s string) string {
	return strings.Map(func(r rune) rune {
		if r == wordedFrom || r == wordedTo {
			return -1
		}
		return r
	}, s)
}

// tell puts a computed text into the user's words: as a whole, or else the longest parts
// between stops, semicolons, colons and commas that there are words for. Parts without
// words stay as they are, and are remembered.
func (w *Wording) tell(s string) string {
	if !strings.ContainsFunc(s, unicode.IsLetter) {
		return s
	}
	core := strings.TrimFunc(s, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;:·–", r) })
	at := strings.Index(s, core)
	lead, trail := s[:at], s[at+len(core):]
	if t, known := w.whole(core); known {
		return lead + t + trail
	}
	parts, seps := split(core)
	var b strings.Builder
	for i := 0; i < len(parts); {
		to := len(parts)
		if i == 0 {
			to-- // the whole is tried already
		}
		text, known := "", false
		for ; to > i && !known; to-- {
			text, known = w.whole(between(parts, seps, i, to))
		}
		if to++; !known {
			to, text = i+1, parts[i]
			w.untold[parts[i]] = true
		}
		b.WriteString(text)
		if to-1 < len(seps) {
			b.WriteString(seps[to-1])
		}
		i = to
	}
	return lead + b.String() + trail
}

var separators = regexp.MustCompile(`[.;:,?!]\s+|\s+·\s+|\s+\(|\)\s+|\)$|\.$`)

// split cuts a text at what separates its parts.
func split(s string) (parts, seps []string) {
	from := 0
	for _, at := range separators.FindAllStringIndex(s, -1) {
		parts, seps = append(parts, s[from:at[0]]), append(seps, s[at[0]:at[1]])
		from = at[1]
	}
	return append(parts, s[from:]), seps
}

// between joins the parts from one to another with what stood between them.
func between(parts, seps []string, from, to int) string {
	var b strings.Builder
	for i := from; i < to; i++ {
		b.WriteString(parts[i])
		if i < to-1 {
			b.WriteString(seps[i])
		}
	}
	return b.String()
}

// whole puts a text into the user's words that has them as a whole: a phrase, or a computed
// text; also with a capital at its head or a stop at its end that the phrase does not have.
func (w *Wording) whole(s string) (string, bool) {
	if s == "" || !strings.ContainsFunc(s, unicode.IsLetter) {
		return s, true
	}
	if t, known := w.exactly(s); known {
		return t, true
	}
	if t, known := w.exactly(s + "."); known && strings.HasSuffix(unmarked(t), ".") {
		at := strings.LastIndexByte(t, '.')
		return t[:at] + t[at+1:], true
	}
	if r, n := utf8.DecodeRuneInString(s); unicode.IsUpper(r) {
		if t, known := w.exactly(string(unicode.ToLower(r)) + s[n:]); known {
			return raised(t), true
		}
	}
	if cut, closes := strings.CutSuffix(s, ")"); closes && !strings.Contains(s, "(") {
		if t, known := w.whole(cut); known {
			return t + ")", true
		}
	}
	if cut, stopped := strings.CutSuffix(s, "."); stopped && !strings.HasSuffix(cut, ".") {
		if t, known := w.whole(cut); known {
			return t + ".", true
		}
	}
	return "", false
}

// exactly is whole for a text as it stands.
func (w *Wording) exactly(s string) (string, bool) {
	if to, known := w.phrases[s]; known {
		w.asked[s] = true
		return worded(to, nil), true
	}
	for i := range w.patterns {
		p := &w.patterns[i]
		if !strings.Contains(s, p.longest) {
			continue
		}
		m := p.match.FindStringSubmatch(s)
		if m == nil {
			continue
		}
		pairs := make([]string, 0, 2*len(p.names))
		for j, n := range p.names {
			pairs = append(pairs, n, w.tell(m[j+1]))
		}
		p.used = true
		return worded(p.to, pairs), true
	}
	return "", false
}

// raised begins with a capital, behind the marks.
func raised(s string) string {
	for i, r := range s {
		if r != wordedFrom && r != wordedTo {
			return s[:i] + string(unicode.ToUpper(r)) + s[i+utf8.RuneLen(r):]
		}
	}
	return s
}

// Told is a computed text in the user's words.
func (w *Wording) Told(s string) string { return w.finish(s) }

// Untold lists the computed texts of the documents made so far that no phrase has, sorted:
// names and data of the user among them.
func (w *Wording) Untold() []string {
	var out []string
	for s := range w.untold {
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

// Unsaid lists the phrases that documents asked for and that stand in the program's words.
func (w *Wording) Unsaid() []string {
	var out []string
	for _, s := range w.Asked() {
		if _, told := w.phrases[s]; !told && strings.ContainsFunc(s, unicode.IsLetter) {
			out = append(out, s)
		}
	}
	return out
}
