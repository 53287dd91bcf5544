package clause

import (
	"regexp"
	"slices"
	"strings"

	"seatward/quantity"
)

// Subject is what a demand is about.
type Subject string

// The subjects. Pressure and Dimension stand for numbers of which the text does not say
// what they are of.
const (
	Rating          Subject = "pressure rating"
	FlowCoefficient Subject = "flow coefficient"
	Size            Subject = "size"
	Length          Subject = "face-to-face length"
	Passage         Subject = "clear passage"
	ShellTest       Subject = "shell test"
	SeatTest        Subject = "seat test"
	Film            Subject = "coating thickness"
	HeadLoss        Subject = "head loss"
	ReverseVelocity Subject = "reverse velocity"
	BackHead        Subject = "minimum back head"
	Pressure        Subject = "pressure"
	Dimension       Subject = "dimension"

	Type        Subject = "type"
	Ends        Subject = "ends"
	Material    Subject = "material"
	Coating     Subject = "coating"
	Position    Subject = "position"
	Option      Subject = "option"
	FullBore    Subject = "full bore"
	NoSlam      Subject = "slam"
	Document    Subject = "document"
	Certificate Subject = "certificate"
)

// Relation is how what is offered must stand to what is asked.
type Relation uint8

// The relations.
const (
	Exactly Relation = iota
	AtLeast
	AtMost
	Never // it must not be
)

// Demand is one thing that a paragraph asks for.
type Demand struct {
	Subject  Subject
	Relation Relation
	Kind     quantity.Kind
	SI       float64 // the number asked for; 0 where words are asked for
	FlowSI   float64 // flow at which it holds, m³/s; 0 where none is said
	Times    float64 // a test pressure as a multiple of the rating; 0 for a pressure
	Part     string  // of a material: "body"
	Words    []string
	Text     string // as written
	from, to int
}

// Reading is what was found in a paragraph.
type Reading struct {
	Demands []Demand
	Advice  bool   // every sentence is advice or a note: it asks for nothing
	Rest    string // what is left of sentences that ask: a person has to read it
}

// A sentence that is longer, in bytes, or has more numbers is for a person: it is a table
// that was pasted without its lines, or was made to take hours.
const (
	mostSentence = 800
	mostNumbers  = 24
)

var figures = regexp.MustCompile(`\d+`)

var (
	asks   = regexp.MustCompile(`(?i)\b(?:shall|must|will be|furnish|provide|conform|comply|submit|require[ds]?)\b`)
	advice = regexp.MustCompile(`(?i)\b(?:should|may be|may have|may not|consider|recommend(?:ed|s)?|prefer(?:red|ably)?|typical(?:ly)?|usual(?:ly)?|often|known to|tend to|for information|for reference|need not)\b|^\s*(?:notes?|comment|advice|guidance|caution)\b[^:]{0,24}:`)
	firm   = regexp.MustCompile(`(?i)\b(?:shall|must|is required|are required)\b`)
	denied = regexp.MustCompile(`(?i)\b(?:(?:shall|must|may|will|is|are) not (?:be )?(?:used|acceptable|accepted|permitted|allowed|approved|considered|of|have|contain)|not acceptable|unacceptable|prohibited|not permitted|not allowed)\b`)
)

// Find reads what a paragraph asks. Known are places in it that the caller has read, such
// as names of standards; under is the heading above it.
func Find(text, under string, known [][2]int) Reading {
	blank := []byte(text)
	for _, k := range known {
		blanked(blank, k[0], k[1])
	}
	var out Reading
	out.Advice = true
	var rest []string
	for _, s := range sentences(text) {
		plain := string(blank[s[0]:s[1]])
		if advice.MatchString(text[s[0]:s[1]]) && !firm.MatchString(text[s[0]:s[1]]) {
			continue
		}
		out.Advice = false
		if s[1]-s[0] > mostSentence || len(figures.FindAllStringIndex(plain, -1)) > mostNumbers {
			rest = append(rest, strings.TrimSpace(text[s[0]:s[1]]))
			continue
		}
		f := finder{text: plain, whole: text[s[0]:s[1]], under: under, left: []byte(plain)}
		f.numbers()
		f.words()
		left := f.rest()
		for _, d := range f.found {
			if d.Relation == Never && left != "" {
				continue // what must not be done with it is for a person
			}
			d.from, d.to = d.from+s[0], d.to+s[0]
			out.Demands = append(out.Demands, d)
		}
		if left != "" {
			rest = append(rest, left)
		}
	}
	slices.SortStableFunc(out.Demands, func(a, b Demand) int { return a.from - b.from })
	out.Rest = strings.Join(rest, " … ")
	return out
}

// Mood says whether the sentence at a place asks, and whether it forbids.
func Mood(text string, at int) (isAdvice, forbids bool) {
	for _, s := range sentences(text) {
		if at >= s[0] && at < s[1] {
			part := text[s[0]:s[1]]
			return advice.MatchString(part) && !firm.MatchString(part), denied.MatchString(part)
		}
	}
	return false, false
}

func blanked(b []byte, from, to int) {
	for i := max(0, from); i < min(to, len(b)); i++ {
		b[i] = ' '
	}
}

var (
	stop = regexp.MustCompile(`[.!?]\s+|;\s+`)
	// short are words whose point ends no sentence.
	short = regexp.MustCompile(`(?i)(?:^|[\s(0-9-])(?:in|no|nos|min|max|dia|nom|approx|ft|fig|sec|par|e\.g|i\.e|vs|incl|lb|lbs|sq|cl|std|art|gal|temp)\.$`)
)

// sentences are the sentences of a text, by their places.
func sentences(text string) [][2]int {
	var out [][2]int
	from := 0
	for _, m := range stop.FindAllStringIndex(text, -1) {
		next := text[m[1]:]
		if text[m[0]] == '.' && short.MatchString(text[max(from, m[0]-12):m[0]+1]) && !startsAsSentence(next) {
			continue
		}
		out = append(out, [2]int{from, m[1]})
		from = m[1]
	}
	if from < len(text) {
		out = append(out, [2]int{from, len(text)})
	}
	return out
}

// startsAsSentence is true for a capital with a small letter behind it.
func startsAsSentence(s string) bool {
	return len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'a' && s[1] <= 'z'
}

// finder finds the demands of one sentence.
type finder struct {
	text  string // what others have read is blank in it
	whole string
	under string
	left  []byte // what nothing has read yet
	found []Demand

	hard, soft [][]int // where its segments may break
}

func (f *finder) add(d Demand, from, to int) {
	d.from, d.to = from, to
	d.Text = strings.Join(strings.Fields(f.text[from:to]), " ")
	f.found = append(f.found, d)
	blanked(f.left, from, to)
}

var (
	breaks = regexp.MustCompile(`;|\b(?:and|with|capable|having)\b`)
	// A comma, a colon and shall break only where a number stands before them: "head loss
	// shall not exceed 1 ft" is one thing.
	soft  = regexp.MustCompile(`[,:]\s|\bshall\b`)
	digit = regexp.MustCompile(`\d`)
)

// segment is the part of the sentence around a place, by which it is known what a number
// is of.
func (f *finder) segment(from, to int) (start, end int) {
	start, end = 0, len(f.text)
	cut := func(a, b int) {
		if b <= from {
			start = max(start, b)
		}
		if a >= to {
			end = min(end, a)
		}
	}
	if f.hard == nil {
		f.hard = append([][]int{}, breaks.FindAllStringIndex(f.text, -1)...)
		f.soft = soft.FindAllStringIndex(f.text, -1)
	}
	for _, m := range f.hard {
		cut(m[0], m[1])
	}
	for _, m := range f.soft {
		if m[0] >= to || m[1] > start && digit.MatchString(f.text[start:m[0]]) {
			cut(m[0], m[1])
		}
	}
	return start, end
}

var (
	plainWord = regexp.MustCompile(`[\pL\pN][\pL\pN'./%±-]*|[±#°]`)
	filler    = func() map[string]bool {
		out := map[string]bool{}
		for _, w := range strings.Fields(`a an the of for to be shall must will have has having with and or on in at by all each any every is
are as it its this that these valve valves check checks non-return minimum maximum min max less than
not more least no greater exceed exceeding exceeds over under provide provided furnish furnished
supply supplied suitable capable rated rating ratings pressure pressures working cold design class
nominal psi bar size sizes diameter dia length lengths face-to-face face laying overall dimension
dimensions sphere spherical solid solids pass passing passage clear free through flow coefficient cv
kv fully open full opening when body bodies bonnet disc disk seat seats seated ring bolts bolting
fasteners nuts coating coated coat lining lined epoxy thick thickness dry film dft mils microns ends
end flange flanges flanged drilling drilled joint per submit reports copies accordance conform conforming conforms comply
complies complying requirements meet meets meeting standard standards test tests tested testing
hydrostatic hydrostatically hydro shell shop factory works times type made manufactured constructed
construction material materials equal approved from which value values required require requires new
installation installed use used service larger smaller head loss losses velocity reverse closing back
discharge pump pumps station flap flapper element position indicator latest edition current surfaces
surface including include applied apply applicable following against mounted only pipe line allow
submit submitted along there their they so such unit units acceptable permitted allowed prohibited
other`) {
			out[w] = true
		}
		return out
	}()
)

// rest is what nothing has read of the sentence: "" where only words without a demand of
// their own are left.
func (f *finder) rest() string {
	some := false
	for _, w := range plainWord.FindAllString(string(f.left), -1) {
		if !filler[strings.Trim(strings.ToLower(w), "./'-")] {
			some = true
		}
	}
	if !some {
		return ""
	}
	return strings.TrimSpace(f.whole)
}
