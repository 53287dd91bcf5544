package inquiry

import (
	"errors"
	"regexp"
	"sort"
	"strings"

	"seatward/quantity"
)

// token is a quantity in the text.
type token struct {
	start, end int
	kind       quantity.Kind // Flow, Length (far), Diameter (small), Pressure, ...
	text       string        // as quantity reads it
	size       bool          // a nominal size: DN, NPS
}

const numeral = `(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+ *[ -] *\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d+(?:[.,]\d+)?[½¼¾]?|[½¼¾])`

// unitWords are the units that letters use, by what is measured.
var unitWords = []struct {
	kind  quantity.Kind
	words string
}{
	{quantity.Flow, `us ?gpm|igpm|gpm|gal(?:lons?|s)?\.? ?(?:/|per) ?min(?:ute)?|l/s(?:ec)?|lps|lit(?:er|re)s? ?(?:/|per) ?s(?:ec(?:ond)?)?|l/min|lpm|lit(?:er|re)s? per minute|m(?:3|³)/h(?:r|our)?|cu\.? ?m/h(?:r|our)?|cum/h(?:r|our)?|cubic met(?:er|re)s? per hour|m(?:3|³)/s|m(?:3|³)/d(?:ay)?|mgd|million gallons per day|cfs|gpd|ml/d(?:ay)?`},
	{quantity.Length, `l\.? ?f\.?|lin(?:ear|eal|\.)? ?(?:feet|foot|ft\.?)|feet|foot|ft\.?|'|meters?|metres?|mtrs?|m|kilomet(?:er|re)s?|km|miles?|mi|yards?|yds?`},
	{quantity.Diameter, `inch(?:es)?|in\.|in|"|''|mm|cm`},
	{quantity.Pressure, `psig?|bar|kpa|mpa`},
	{quantity.Power, `hp|horsepower|bhp|kw`},
	{quantity.RotationalSpeed, `rpm|r/min`},
	{quantity.Temperature, `(?:°|º|deg(?:rees?)?\.?) ?[fc]`},
}

var quantityWord = func() *regexp.Regexp {
	var all []string
	for _, u := range unitWords {
		all = append(all, "("+u.words+")")
	}
	out := regexp.MustCompile(`(?i)(` + numeral + `)((?: *(?:-|to|\.\.|\+/-|\+-|±) *` + numeral + `)?) *-? *(?:` +
		strings.Join(all, "|") + `)`)
	out.Longest()
	return out
}()

var (
	feetInch = regexp.MustCompile(`\d[\d,]* *(?:'|ft|feet) *-? *\d{1,2}(?:[ -]\d/\d)? ?(?:"|in\.?\b|inch(?:es)?\b)`)
	named    = regexp.MustCompile(`(?i)\b(?:DN|NPS) ?\d{1,4}\b|[Øø] ?\d{2,4}(?: ?mm)?\b`)
	// preposition is "in" before what things are in.
	preposition = regexp.MustCompile(`(?i)^ (?:the|an?|this|that|our|your|each|both|dry|wet|operation|parallel|service|series|use|total|all|one|place|place|of|case|addition|[a-z]+ well|vault)\b`)
)

// scan finds the quantities.
func (r *reader) scan() {
	for _, m := range feetInch.FindAllStringIndex(r.flat, -1) {
		r.token(token{start: m[0], end: m[1], kind: quantity.Length, text: r.flat[m[0]:m[1]]})
	}
	for _, m := range named.FindAllStringIndex(r.flat, -1) {
		text := strings.TrimLeft(r.flat[m[0]:m[1]], "Øø ")
		r.token(token{start: m[0], end: m[1], kind: quantity.Diameter, text: text, size: true})
	}
	for _, m := range quantityWord.FindAllStringSubmatchIndex(r.flat, -1) {
		for i, u := range unitWords {
			if from := m[6+2*i]; from >= 0 {
				r.quantity(m[0], m[1], from, m[4] < m[5], u.kind)
			}
		}
	}
	sort.Slice(r.tokens, func(i, j int) bool { return r.tokens[i].start < r.tokens[j].start })
}

// quantity takes one number with its unit, if it is one.
func (r *reader) quantity(start, end, unit int, spans bool, kind quantity.Kind) {
	word := strings.ToLower(r.flat[unit:end])
	switch {
	case start > 0 && (letter(r.flat[start-1]) || strings.IndexByte("0123456789.,/$", r.flat[start-1]) >= 0):
		return
	case end < len(r.flat) && letter(word[len(word)-1]) && (letter(r.flat[end]) || digit(r.flat[end])):
		return
	case word == "in" && preposition.MatchString(r.flat[end:]):
		return
	case word == "m" && strings.HasPrefix(r.flat[end:], "/"):
		return
	}
	if strings.HasSuffix(word, ".") && ends.MatchString(r.flat[end:]) {
		end-- // the point is that of the sentence
	}
	text := strings.TrimSuffix(r.flat[start:end], ".")
	switch {
	case strings.ReplaceAll(strings.ReplaceAll(word, ".", ""), " ", "") == "lf":
		text = strings.TrimSpace(r.flat[start:unit]) + " ft"
	case strings.HasPrefix(word, "yard"), strings.HasPrefix(word, "yds"):
		text = strings.TrimSpace(r.flat[start:unit]) + " yd"
	case kind == quantity.Temperature:
		text = strings.TrimSpace(r.flat[start:unit]) + " °" + strings.ToUpper(word[len(word)-1:])
	}
	r.token(token{start: start, end: end, kind: kind, text: dashes.ReplaceAllString(text, "$1-$2")})
}

// dashes have the blanks of a wide dash behind them.
var dashes = regexp.MustCompile(`(\b)- +(\b)`)

// ends is what follows the point of a sentence.
var ends = regexp.MustCompile(`^(?:\s+[A-Z("]|\s*\n|\s*$| +\d)`)

func letter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= 0x80 }
func digit(b byte) bool  { return b >= '0' && b <= '9' }

// mostTokens is how many quantities of one text are looked at: a letter has tens.
const mostTokens = 600

// token keeps a quantity that stands free and names nothing.
func (r *reader) token(t token) {
	if r.numbers[t.start] || len(r.tokens) >= mostTokens {
		return
	}
	for _, o := range r.tokens {
		if t.start < o.end && o.start < t.end {
			return
		}
	}
	unit := strings.ToLower(t.text)
	switch {
	case t.kind == quantity.Pressure && strings.Contains(unit, "psi"), strings.ContainsAny(unit, `'"`),
		strings.Contains(unit, "ft"), strings.Contains(unit, "feet"), strings.Contains(unit, "foot"),
		strings.Contains(unit, "in"), strings.Contains(unit, "gp"), strings.Contains(unit, "mgd"),
		strings.HasSuffix(unit, "hp"), strings.HasSuffix(unit, "°f"), strings.HasPrefix(unit, "nps"):
		r.us++
	case t.kind == quantity.Flow, t.kind == quantity.Length, t.kind == quantity.Diameter:
		r.si++
	}
	r.tokens = append(r.tokens, t)
}

// units is the system in which most of the text is written.
func (r *reader) units() quantity.System {
	if r.si > r.us {
		return quantity.SI
	}
	return quantity.US
}

// read reads a token as the kind. Several values come back where the text is in doubt.
func (r *reader) read(t token, kind quantity.Kind) (values []string, q quantity.Quantity) {
	reading := quantity.Reading{System: r.units(), Stated: true}
	got, err := reading.ParseRange(kind, t.text)
	var p *quantity.ParseError
	switch {
	case errors.As(err, &p):
		return p.Choices, quantity.Quantity{Kind: kind}
	case err != nil || !(got.Best.SI > 0):
		return nil, quantity.Quantity{}
	}
	return []string{strings.Join(strings.Fields(t.text), " ")}, got.Best
}
