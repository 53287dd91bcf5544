package inquiry

import (
	"regexp"
	"sort"
	"strings"

	"seatward/internal/trade"
	"seatward/quantity"
)

// spoken is a vocabulary looked for in letters, and the field that it fills.
type spoken struct {
	list, path string
	words      []spokenWord
}

type spokenWord struct {
	re    *regexp.Regexp
	means []string
	said  string
	first string // its first word, in small letters
}

// onlyInFields are words that mean what their list says only where the field is named: in a
// letter they are of anything.
var onlyInFields = map[string]bool{
	"water": true, "sewer": true, "sanitary": true, "drainage": true, "up": true, "down": true, "level": true,
	"none": true, "no": true, "some": true, "much": true, "light": true, "building": true, "chamber": true,
	"ramp": true, "inverter": true, "contactor": true, "pe": true, "cs": true, "riser": true, "domestic water": true,
	"outdoors": true, "sump": true, "screened": true, "ductile": true, "potable": true, "city water": true,
}

// inCapitals are words of another kind in small letters.
var inCapitals = map[string]bool{
	"DI": true, "DIP": true, "CIP": true, "WAS": true, "RAS": true, "FOG": true, "PE": true, "CS": true, "D.I.": true,
	"C.I.": true, "D.I.P.": true,
}

var vocabularies = func() []spoken {
	out := []spoken{
		{list: "liquid", path: "fluid.kind"},
		{list: "rags", path: "fluid.rags"},
		{list: "grit", path: "fluid.grit"},
		{list: "oil", path: "fluid.oil"},
		{list: "position", path: "valve.position"},
		{list: "place", path: "valve.place"},
		{list: "material", path: "main.runs[0].material"},
		{list: "stop", path: "surge.normal_stop"},
	}
	for i := range out {
		for _, w := range trade.List(out[i].list) {
			if onlyInFields[strings.ToLower(w.Said)] {
				continue
			}
			flags := "(?i)"
			if inCapitals[w.Said] {
				flags = ""
			}
			said := strings.ReplaceAll(regexp.QuoteMeta(w.Said), " ", `[\s]+`)
			out[i].words = append(out[i].words, spokenWord{
				re:    regexp.MustCompile(flags + `(?:^|[^\w-])(` + said + `)(?:$|[^\w])`),
				means: w.Means, said: w.Said, first: strings.ToLower(strings.Fields(w.Said)[0]),
			})
		}
		sort.SliceStable(out[i].words, func(a, b int) bool {
			return len(out[i].words[a].said) > len(out[i].words[b].said)
		})
	}
	return out
}()

// words finds words of the trade.
func (r *reader) words() {
	lower := strings.ToLower(r.flat)
	for _, v := range vocabularies {
		taken := make([]bool, len(r.flat))
		for _, w := range v.words {
			if !strings.Contains(lower, w.first) {
				continue
			}
			for at := 0; at < len(r.flat); {
				m := w.re.FindStringSubmatchIndex(r.flat[at:])
				if m == nil {
					break
				}
				start, end := at+m[2], at+m[3]
				at = end
				if taken[start] || taken[end-1] {
					continue
				}
				for i := start; i < end; i++ {
					taken[i] = true
				}
				r.word(v, w, start, end)
			}
		}
	}
	r.submersible()
	r.class()
}

var (
	body        = regexp.MustCompile(`(?i)^[\s-]*(?:bod(?:y|ied)|bolts?|impellers?|casings?|housings?|trim|balls?|discs?|seats?|hatch|covers?|lid|fasteners?|hardware|flanges?|fittings?|rails?|chain|anchors?|valves?|checks?|wet ?well|lines?\b ?\(gravity|manholes?|sleeve|plates?|tank|roof)\b`)
	notPosition = regexp.MustCompile(`(?i)^[\s,]*(?:split|end|centrifugal|pumps?|turbine|directional|multi-?stage|in-?line|lift|rise|distance|drop|non-clog|shaft|motor|clearance|separation|bends?|elbows?|walls?|datum)\b`)
	notLiquid   = regexp.MustCompile(`(?i)^\s*(?:treatment|plant|district|authority|department|dept|division|utility|utilities|works|company|collection|superintendent|engineer|supply|hammer|& sewer|and sewer|tower|tank)\b`)
	pumpRoom    = regexp.MustCompile(`(?i)^ (?:room|house|building|station|hall)\b`)
	pumpWord    = regexp.MustCompile(`(?i)\bpumps?\b|\bmotors?\b|\bimpellers?\b`)
	valveWord   = regexp.MustCompile(`(?i)\bvalves?\b|\bchecks?\b|\bNRVs?\b|\bpiping\b`)
	insideWord  = regexp.MustCompile(`(?i)\b(?:in|inside|within|into)\s+(?:the|an?|our|its|their|one|each)?\s*(?:\w+[ -]){0,2}$`)
	mainWord    = regexp.MustCompile(`(?i)\bforce ?mains?\b|\brising mains?\b|\bmains?\b|\bpipelines?\b|\bFM\b`)
	branchWord  = regexp.MustCompile(`(?i)\bdischarge pip(?:e|ing)\b|\bstation piping\b|\bbranch(?:es)?\b|\brisers?\b|\bvault piping\b|\bin the (?:station|vault)\b|\bpump discharges?\b|\bheader\b`)
	pipeWord    = regexp.MustCompile(`(?i)\bpip(?:e|es|ing)\b|\bline\b|\bDR ?\d|\bSDR|\bLF\b|\bDN ?\d`)
)

// word takes one word, if it says what its list is of.
func (r *reader) word(v spoken, w spokenWord, start, end int) {
	after := r.flat[end:min(len(r.flat), end+40)]
	means := w.means
	why := "it may be " + strings.Join(means, " or ")
	negated := r.negated(start)
	switch v.list {
	case "liquid":
		if negated || notLiquid.MatchString(after) {
			return
		}
	case "rags", "grit", "oil":
		free := strings.HasPrefix(strings.ToLower(after), "-free") || strings.HasPrefix(strings.ToLower(after), " free")
		switch {
		case negated || free:
			if m := denial.FindStringIndex(r.flat[max(0, start-36):start]); m != nil {
				start = max(0, start-36) + m[0]
			}
			means = []string{"none"}
		case means[0] != "none" && !strings.Contains(w.said, " "):
			means, why = degrees[v.list], "how much is not said"
		}
	case "position":
		if negated || notPosition.MatchString(after) {
			return
		}
		if d := r.near(start, end, pumpWord); d < r.near(start, end, valveWord) && d < 12 {
			return
		}
	case "place":
		before := r.flat[max(0, start-40):start]
		if negated || !insideWord.MatchString(before) && w.means[0] != "above ground" ||
			r.near(start, end, pumpWord) < r.near(start, end, valveWord) || r.near(start, end, valveWord) > 60 {
			return
		}
	case "material":
		r.material(means, start, end, negated || body.MatchString(after))
		return
	case "stop":
		if negated {
			return
		}
	}
	if len(means) == 1 {
		r.add(start, end, v.path, means[0], quantity.Quantity{})
		return
	}
	var choices []Choice
	for _, m := range means {
		choices = append(choices, Choice{v.path, m, ""})
	}
	r.doubt(start, end, why, quantity.Quantity{}, choices...)
}

// degrees are how much of it there may be.
var degrees = map[string][]string{"rags": {"heavy", "light"}, "grit": {"some", "heavy"}, "oil": {"trace", "heavy"}}

// near is how far the nearest word of a kind is on the same line or the next; far where none is.
func (r *reader) near(start, end int, re *regexp.Regexp) int {
	from, to := max(0, start-90), min(len(r.flat), end+90)
	best := 1000
	for _, m := range re.FindAllStringIndex(r.flat[from:to], -1) {
		if re == pumpWord && pumpRoom.MatchString(r.flat[from+m[1]:]) {
			continue // a pump room is no pump
		}
		d := from + m[0] - end
		between := [2]int{end, from + m[0]}
		if d < 0 {
			d = start - (from + m[1])
			between = [2]int{from + m[1], start}
		}
		if d < 0 {
			d = 0
		} else {
			d += 25 * len(sentence.FindAllString(r.flat[between[0]:between[1]], -1))
			d += 25 * strings.Count(r.flat[between[0]:between[1]], "\n\n")
			d += 12 * strings.Count(r.flat[between[0]:between[1]], ",")
		}
		best = min(best, d)
	}
	return best
}

// material takes what a pipe is made of.
func (r *reader) material(means []string, start, end int, other bool) {
	main, branch := r.near(start, end, mainWord), r.near(start, end, branchWord)
	paths := []string{"main.runs[0].material"}
	why := ""
	switch {
	case other:
		return
	case min(main, branch) > 60:
		if r.near(start, end, pipeWord) > 25 {
			return
		}
		paths, why = append(paths, "branch.runs[0].material"), "the text does not say of which pipe"
	case branch < main:
		paths = []string{"branch.runs[0].material"}
	}
	if len(means) > 1 {
		why = means[0] + " has no table of dimensions here: give the inner diameter and wall, or take the nearest"
		means = means[1:]
	}
	var choices []Choice
	for _, p := range paths {
		for _, m := range means {
			choices = append(choices, Choice{p, m, said(p)})
		}
	}
	if why == "" {
		r.add(start, end, choices[0].Path, choices[0].Value, quantity.Quantity{})
		return
	}
	r.doubt(start, end, why, quantity.Quantity{}, choices...)
}

var (
	classWord = regexp.MustCompile(`\b(?:(SDR)[ -]?(\d{1,2}(?:\.\d)?)|(DR)[ -]?(\d{1,2}(?:\.\d)?)|(?:PC|(?:[Pp]ressure )?[Cc]lass)[ -]?(150|200|250|300|350)|(K) ?(7|8|9|10|12)|(?i:sch(?:edule|\.)?)[ -]?(10|20|40|80|STD))\b`)
	ironWord  = regexp.MustCompile(`(?i)\bductile|\bDIP?\b|\biron\b`)
)

// class takes the class of a pipe.
func (r *reader) class() {
	for _, m := range classWord.FindAllStringSubmatchIndex(r.flat, -1) {
		text := func(i int) string { return r.flat[m[2*i]:m[2*i+1]] }
		path := "main.runs[0].class"
		if r.near(m[0], m[1], branchWord) < r.near(m[0], m[1], mainWord) {
			path = "branch.runs[0].class"
		}
		switch {
		case m[2] >= 0:
			r.doubt(m[0], m[1], "SDR is of standards with other outer diameters; of those in the tables DR is the nearest", quantity.Quantity{}, Choice{path, "DR" + text(2), "as DR" + text(2)})
		case m[6] >= 0:
			r.add(m[0], m[1], path, "DR"+text(4), quantity.Quantity{})
		case m[10] >= 0:
			if r.near(m[0], m[1], ironWord) <= 40 {
				r.add(m[0], m[1], path, "PC"+text(5), quantity.Quantity{})
			}
		case m[12] >= 0:
			r.add(m[0], m[1], path, "K"+text(7), quantity.Quantity{})
		case m[16] >= 0:
			r.add(m[0], m[1], path, "SCH "+strings.ToUpper(text(8)), quantity.Quantity{})
		}
	}
}

var (
	under    = regexp.MustCompile(`(?i)\bsubmersibles?\b`)
	notUnder = regexp.MustCompile(`(?i)\bself[- ]priming\b|\bend[- ]suction\b|\bsuction lift pumps?\b|\bvertical turbine\b|\bsplit[- ]case\b`)
)

func (r *reader) submersible() {
	for _, m := range under.FindAllStringIndex(r.flat, -1) {
		if !r.negated(m[0]) {
			r.add(m[0], m[1], "pumps[0].submersible", "yes", quantity.Quantity{})
		}
	}
	for _, m := range notUnder.FindAllStringIndex(r.flat, -1) {
		if !r.negated(m[0]) {
			r.add(m[0], m[1], "pumps[0].submersible", "no", quantity.Quantity{})
		}
	}
}

const valveKinds = `(?:cushioned swing|rubber flapper|rubber[- ]flap|swing|ball|flap(?:per)?|tilting[- ]dis[ck]|dual[- ]plate|double[- ]door|duckbill|lift|silent|spring[- ]loaded|nozzle|axial|wafer|lever and weight)`

// assisted is what a swing check has beside its disc.
const assisted = `,?\s+(?:with|and)\s+(?:an?\s+)?(?:outside\s+|external\s+)?levers?\s+(?:and|&)\s+(?:weights?|springs?)`

var (
	thereNow = regexp.MustCompile(`(?i)\b(?:existing|current(?:ly)?|present(?:ly)?|old|original|replac(?:e|ing|ement)|have|has|installed|there (?:now|is)|equipped with|came with)\b[^.;]{0,45}?(\b` + valveKinds + `[-\s]\s*(?:type\s+)?(?:check(?: valves?|s)?|valves?|NRVs?)(?:` + assisted + `)?)`)
	nowThere = regexp.MustCompile(`(?i)(\b` + valveKinds + `[-\s]\s*(?:type\s+)?(?:check(?: valves?|s)?|valves?|NRVs?)(?:` + assisted + `)?)\b[^.;]{0,22}\b(?:now|today|at present|at the moment|existing|slams?|slamming|sticks?|leaks?|bangs?|rattles?|chatters?|passes|fails?|failed|is noisy|are noisy)\b`)
	plural   = regexp.MustCompile(`(?:(check) valves?|(check)s|( valve)s|nrvs?)($|,| with\b| and\b)`)
	wanted   = regexp.MustCompile(`(?i)\b(?:with|by|quote|want|need|prefer|propose|looking for)\b[^,.;\n]{0,30}$`)
)

// existing takes the valve that is there now.
func (r *reader) existing() {
	for _, m := range thereNow.FindAllStringSubmatchIndex(r.flat, -1) {
		lead := strings.ToLower(r.flat[m[0]:m[2]])
		if r.negated(m[0]) || strings.HasPrefix(lead, "replac") && wanted.MatchString(lead) {
			continue
		}
		r.thereNow(m[2], m[3])
	}
	for _, m := range nowThere.FindAllStringSubmatchIndex(r.flat, -1) {
		if !r.negated(m[2]) {
			r.thereNow(m[2], m[3])
		}
	}
}

// thereNow keeps the type of the valve, in the singular.
func (r *reader) thereNow(start, end int) {
	text := strings.ToLower(strings.Join(strings.Fields(r.flat[start:end]), " "))
	r.add(start, end, "valve.existing", plural.ReplaceAllString(text, "$1$2$3$4"), quantity.Quantity{})
}
