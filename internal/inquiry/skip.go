package inquiry

import (
	"regexp"
	"sort"
	"strings"
)

// reader is one reading of a text.
type reader struct {
	text    string
	flat    string // as long as text: without the parts that are not read, signs made plain
	numbers []bool // by byte: no number begins here, it names something
	skips   []Skip
	blanked int // of them
	finds   []Find
	tokens  []token
	running int // pumps that run together; 0 where the text does not say
	us, si  int // units seen
}

func newReader(text string) *reader {
	r := &reader{text: text, flat: flattened(text), numbers: make([]bool, len(text))}
	r.mail()
	r.blank()
	for _, n := range names {
		for _, m := range n.re.FindAllStringIndex(r.flat, -1) {
			if n.all {
				r.skip(m[0], m[1], n.why)
			}
			for i := m[0]; i < m[1]; i++ {
				r.numbers[i] = true
			}
		}
		r.blank()
	}
	return r
}

// flattened makes signs plain without moving a byte: other blanks, quotes and dashes become
// their plain form with blanks behind.
func flattened(text string) string {
	var out strings.Builder
	for i := 0; i < len(text); {
		done := false
		for _, p := range signs {
			if strings.HasPrefix(text[i:], p[0]) {
				out.WriteString(p[1] + strings.Repeat(" ", len(p[0])-len(p[1])))
				i += len(p[0])
				done = true
				break
			}
		}
		if !done {
			out.WriteByte(text[i])
			i++
		}
	}
	return out.String()
}

// signs are what word processors put into letters.
var signs = [][2]string{
	{"\u00a0", " "},
	{"\u202f", " "},
	{"\u2009", " "},
	{"’", "'"},
	{"‘", "'"},
	{"′", "'"},
	{"”", "\""},
	{"“", "\""},
	{"″", "\""},
	{"–", "-"},
	{"—", "-"},
	{"−", "-"},
	{"\r\n", " \n"},
	{"\r", "\n"},
	{"•", "*"},
	{"·", "*"},
	{"\t", " "},
}

// skip takes a part out of what is read.
func (r *reader) skip(start, end int, why string) {
	if start >= end {
		return
	}
	r.skips = append(r.skips, Skip{start, end, why})
}

// blank leaves nothing of what was skipped since the last time.
func (r *reader) blank() {
	flat := []byte(r.flat)
	for _, s := range r.skips[r.blanked:] {
		for i := s.Start; i < s.End; i++ {
			if flat[i] != '\n' {
				flat[i] = ' '
			}
		}
	}
	r.flat, r.blanked = string(flat), len(r.skips)
}

// name is a way to name things by numbers that are no quantities.
type name struct {
	re  *regexp.Regexp
	why string
	all bool // no word of it is read either
}

const month = `(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?`

// names are in the order in which they are looked for.
var names = []name{
	{regexp.MustCompile(`(?i)\b[\w.+-]+@[\w-]+\.[\w.-]+`), "an e-mail address", true},
	{regexp.MustCompile(`(?i)\b(?:https?://|www\.)\S+`), "a web address", true},
	{regexp.MustCompile(`(?i)\b(?:tel|phone|ph|fax|cell|mobile|mob|direct|office|call me at|reach me at)\b\.?:?[ ]*[+(]?\d[\d ().+-]{5,}(?: *(?:x|ext\.?) *\d+)?`), "a telephone number", true},
	{regexp.MustCompile(`(?:\+?\d{1,3}[ .-])?\(?\b\d{3}\)?[ .-]{1,2}\d{3}[ .-]\d{4}\b(?:,? *(?i:x|ext\.?) *\d+)?`), "a telephone number", true},
	{regexp.MustCompile(`\+\d{1,3}[\d ()-]{7,}\d`), "a telephone number", true},
	{regexp.MustCompile(`\b\d{3}-\d{4}\b`), "a telephone number", true},
	{regexp.MustCompile(`\b(?:\d{4}-\d{2}-\d{2}|\d{1,2}[/.-]\d{1,2}[/.-](?:\d{4}|\d{2}))\b`), "a date", true},
	{regexp.MustCompile(`(?i)\b` + month + ` +\d{1,2}(?:st|nd|rd|th)?\b(?:,? +\d{4}\b)?`), "a date", true},
	{regexp.MustCompile(`(?i)\b\d{1,2}(?:st|nd|rd|th|\.)? +(?:of +)?` + month + `(?: +\d{4})?\b`), "a date", true},
	{regexp.MustCompile(`(?i)\b\d{1,2}:\d{2}(?: ?[ap]\.?m\b\.?)?|\b\d{1,2} ?[ap]\.m\.|\b\d{1,2} ?[ap]m\b`), "a time of day", true},
	{regexp.MustCompile(`(?i)\b(?:project|proj|job|p\.?o|quote|quotation|rfq|rfp|bid|contract|reference|ref|ticket|order|invoice|drawing|dwg|sheet|addendum|item|tag|section|spec|division|revision|rev|permit|work order|w\.?o|phase|suite|room|box|zip|serial|model|catalog|page|station|well|site|option|alternate)\b\.? *(?:nos?\.?|number|#|nr\.?)? *[:#]? *[A-Za-z]{0,4}[ -]?\d[\w./-]*`), "a number that names something", false},
	{regexp.MustCompile(`\b(?:No|NO|Nr|Nos)\. *[A-Z]*-?\d[\w/-]*|# ?\d[\w/-]*|\b[A-Z]{2,5}-\d[\w-]*`), "a number that names something", false},
	{regexp.MustCompile(`\b(?:AWWA|ANSI|ASME|ASTM|ISO|EN|DIN|BS|API|NSF|MSS|AS|NZS)(?:[ /-]+[A-Z]{1,4})?[ -]*\d[\d./:-]*`), "a standard", false},
	{regexp.MustCompile(`\b\d+ +(?:[A-Z]\w+ +){1,3}(?:St|Street|Ave|Avenue|Road|Rd|Lane|Ln|Drive|Blvd|Way|Court|Highway|Hwy)\b`), "an address", true},
	{regexp.MustCompile(`\b[A-Z]{2} +\d{5}(?:-\d{4})?\b`), "an address", true},
	{regexp.MustCompile(`[$€£] ?\d[\d,.]*(?: ?[kK]\b)?`), "money", false},
	{regexp.MustCompile(`(?i)\b\d+ ?(?:hz|v|volts?|amps?|a|kva|phase|ph|%)\b`), "an electrical number", false},
}

var (
	lineStart  = regexp.MustCompile(`(?m)^`)
	headLine   = regexp.MustCompile(`(?i)^ *\*?(?:from|to|cc|bcc|date|sent|reply-to|importance|attachments?)\*?:`)
	isQuoted   = regexp.MustCompile(`^ *>`)
	earlier    = regexp.MustCompile(`(?i)^ *(?:-{2,} *original message|on .{6,100} wrote:|_{10,})`)
	forwarded  = regexp.MustCompile(`(?i)^ *-+ *(?:forwarded message|begin forwarded)`)
	closing    = regexp.MustCompile(`(?i)^ *(?:-- ?|(?:with |best |kind |kindest |warm )*regards|thanks(?: again| so much| in advance)?|thank you(?: very much| in advance)?|thx|sincerely(?: yours)?|cheers|respectfully|best(?: wishes)?|many thanks|yours (?:truly|sincerely|faithfully)|v/r|br)[ ,.!]*$`)
	postScript = regexp.MustCompile(`(?i)^ *p\.? ?s\.?\b`)
)

// mostSignature is how many lines the block under a closing may have; longer is the letter.
const mostSignature = 12

// mail takes the head of a mail, what it quotes of earlier ones, and the signature out.
func (r *reader) mail() {
	starts := lineStart.FindAllStringIndex(r.flat, -1)
	lines := make([]string, len(starts))
	at := make([]int, len(starts)+1)
	for i, s := range starts {
		at[i] = s[0]
	}
	at[len(starts)] = len(r.flat)
	for i := range lines {
		lines[i] = strings.TrimRight(r.flat[at[i]:at[i+1]], " \n")
	}
	body := false // something but heads stood above
	for i := 0; i < len(lines); i++ {
		l := lines[i]
		switch {
		case isQuoted.MatchString(l):
			r.skip(at[i], at[i+1], "an earlier mail")
		case forwarded.MatchString(l):
			body = false
		case earlier.MatchString(l), body && headBegins(lines, i):
			r.skip(at[i], len(r.flat), "an earlier mail")
			return
		case headLine.MatchString(l):
			r.skip(at[i], at[i+1], "the head of the mail")
		case body && closing.MatchString(l):
			if end := signatureEnd(lines, i); end > i {
				r.skip(at[i], at[end], "a signature")
				i = end - 1
			}
		default:
			body = body || l != "" && !strings.HasPrefix(strings.ToLower(l), "subject:")
		}
	}
}

// headBegins is true where the head of a mail begins: two lines of one.
func headBegins(lines []string, i int) bool {
	return i+1 < len(lines) && headLine.MatchString(lines[i]) && headLine.MatchString(lines[i+1])
}

// signatureEnd is the line behind a signature; that of the closing where the letter goes on.
func signatureEnd(lines []string, from int) int {
	n := 0
	for i := from + 1; i < len(lines); i++ {
		switch {
		case earlier.MatchString(lines[i]), isQuoted.MatchString(lines[i]), postScript.MatchString(lines[i]),
			headBegins(lines, i):
			return i
		case lines[i] != "":
			n++
		}
		if n > mostSignature {
			return from
		}
	}
	return len(lines)
}

// skipped are the parts that were not read, in order; those inside others are left out.
func (r *reader) skipped() []Skip {
	sort.SliceStable(r.skips, func(i, j int) bool { return r.skips[i].Start < r.skips[j].Start })
	var out []Skip
	for _, s := range r.skips {
		if n := len(out); n > 0 && s.Start < out[n-1].End {
			continue
		}
		if n := len(out); n > 0 && s.Start == out[n-1].End && s.Why == out[n-1].Why {
			out[n-1].End = s.End
			continue
		}
		out = append(out, s)
	}
	return out
}
