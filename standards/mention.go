package standards

import (
	"slices"
	"strings"

	"seatward/catalog"
)

// Mention is a standard that a text names.
type Mention struct {
	Said     *Said  // nil for one that is not known here
	Found    string // as written
	Year     string // edition that the text asks for; "" for none
	From, To int
}

// Mentions finds the standards that a text names, in the order of the text, each with how
// it stands to the valve. A number that goes on is another standard: B16.1 is not in B16.10.
func Mentions(text string, all []Standard, it *catalog.Item, at Place) []Mention {
	var out []Mention
	said := Judge(all, it, at)
	taken := func(from, to int) bool {
		return slices.ContainsFunc(out, func(m Mention) bool { return m.From < to && from < m.To })
	}
	for i := range all {
		for _, m := range all[i].match.FindAllStringSubmatchIndex(text, -1) {
			if goesOn(text, m[0], m[1]) || taken(m[0], m[1]) {
				continue
			}
			x := Mention{Said: &said[i], From: m[0], To: m[1]}
			if m[2] >= 0 {
				x.Year = text[m[2]:m[3]]
			}
			x.From += len(text[m[0]:m[1]]) - len(strings.TrimLeft(text[m[0]:m[1]], " \t\n/"))
			x.Found = strings.Join(strings.Fields(text[x.From:x.To]), " ")
			out = append(out, x)
		}
	}
	for _, m := range quoted.FindAllStringIndex(text, -1) {
		if !taken(m[0], m[1]) {
			out = append(out, Mention{
				Found: strings.Join(strings.Fields(text[m[0]:m[1]]), " "), From: m[0], To: m[1],
			})
		}
	}
	slices.SortStableFunc(out, func(a, b Mention) int { return a.From - b.From })
	return out
}

// NamedIn is the first of the texts that names the standard; "" where none does.
func (s *Standard) NamedIn(texts ...string) string {
	for _, t := range texts {
		for _, m := range s.match.FindAllStringIndex(t, -1) {
			if !goesOn(t, m[0], m[1]) {
				return t
			}
		}
	}
	return ""
}

// CurrentEdition is true for a year that the latest edition known here has.
func (s *Standard) CurrentEdition(year string) bool {
	return len(s.Editions) > 0 && alike(s.Editions[0], year)
}

// alike is true for years that are the same, written with two figures or four.
func alike(e, year string) bool {
	return e == year || len(e) == 4 && e[2:] == year || len(year) == 4 && year[2:] == e
}
