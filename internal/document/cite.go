package document

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"seatward/basis"
)

// citations number the sources of a calculation in the order in which they are first named,
// and keep apart what was not read again in the current edition of its source: a paper says
// that in one list, and nowhere in between.
type citations struct {
	sources []string
	confirm []string
}

var (
	// unread marks a source, or a number of it, that was not read again.
	unread = regexp.MustCompile(`(?i)from[ -]memory|not re-read|not seen`)
	// status is what data files say of how a number was read; it is no part of a source.
	status = regexp.MustCompile(`(?i)\s*[(,;]?\s*(as used in[^()]*\(|seen;\s*)?\b((C |C and |C, |the )?(and )?(range|roughness|ratio|constant|thicknesses|numbers?)?\s*from[ -]memory( and unsure)?(, not re-read)?|the note itself not seen|not re-read|seen)\b\)?`)
	// placed is a place after a source: a table, a page, a chapter, an equation, an appendix.
	placed = regexp.MustCompile(`^(.*?)[ ,]+((?:[Tt]able|p\.|pp\.|[Cc]h\.|chapter|[Ee]qs?\.|sec\.|section|[Aa]ppendix|ex\.|pump appendix) ?[A-Z0-9].*|pump appendix)$`)
)

// cite gives the number of a source, with table, page or chapter behind it: "[3], Table 2". What
// says of what it is the source, for the list of facts to be confirmed.
func (c *citations) cite(source, what string) string {
	key, place, _ := strings.Cut(source, " ")
	text := source
	if basis.Cited(source) {
		if slices.Contains([]string{basis.CommonPractice, basis.OwnChoice, basis.DerivedHere}, key) {
			return own(key)
		}
		text = basis.Cite(key)
	} else {
		place = ""
	}
	if unread.MatchString(source) || unread.MatchString(text) {
		c.toConfirm(what, plainSource(text))
	}
	text = plainSource(text)
	if text == "" {
		return "to be confirmed"
	}
	if m := placed.FindStringSubmatch(text); place == "" && m != nil {
		text, place = m[1], m[2]
	}
	place = plainSource(place)
	n := slices.Index(c.sources, text) + 1
	if n == 0 {
		c.sources = append(c.sources, text)
		n = len(c.sources)
	}
	return joined(", ", "["+strconv.Itoa(n)+"]", place)
}

// own names what no publication stands behind.
func own(key string) string {
	return map[string]string{
		basis.CommonPractice: "common practice, no source", basis.OwnChoice: "choice of this calculation, no source",
		basis.DerivedHere: "first principles",
	}[key]
}

// toConfirm puts a fact on the list of those to be confirmed.
func (c *citations) toConfirm(what, source string) {
	if what == "" {
		return
	}
	if source == "" {
		source = "its source"
	}
	if text := sentence(what + ": " + source); !slices.Contains(c.confirm, text) {
		c.confirm = append(c.confirm, text)
	}
}

// plainSource is a source without what data files say of how it was read.
func plainSource(s string) string {
	return strings.Trim(strings.Join(strings.Fields(status.ReplaceAllString(s, "")), " "), " ,;")
}

// reason is why a value was taken, without what was not read again, which goes on the list.
func (c *citations) reason(text, what string) string {
	if unread.MatchString(text) {
		c.toConfirm(what, "")
		text = plainSource(text)
	}
	return text
}
