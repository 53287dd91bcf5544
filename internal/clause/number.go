package clause

import (
	"regexp"
	"strconv"
	"strings"

	"seatward/quantity"
)

const (
	numeric = `(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?(?:[- ]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2})`
	units   = `(psig|psi|kPa|MPa|bars?|mm|cm|inch(?:es)?|in\b\.?|["”″]|feet|foot|ft/s|fps|ft\b\.?|mils?\b|µm|μm|microns?|m/s|m³/h|m3/h|L/s|gpm|m\b)`
)

var (
	measure  = regexp.MustCompile(`(?i)` + numeric + `\s*-?\s*` + units)
	feet     = regexp.MustCompile(`(?i)(\d+)\s*(?:'|ft\.?|feet)\s*-?\s*` + numeric + `\s*(?:"|in\b\.?|inch(?:es)?)`)
	unitWord = regexp.MustCompile(`(?i)^` + units + `$`)
	flowOf   = regexp.MustCompile(`(?i)\b([CK]v)\b\)?[^0-9;.]{0,40}?` + numeric)
	flowIs   = regexp.MustCompile(`(?i)` + numeric + `\s*\(?([CK]v)\b`)
	named    = regexp.MustCompile(`\b(DN|NPS)\s?-?\s?` + numeric + `|\b(PN)\s?-?\s?(\d{1,3}(?:\.\d)?)\b`)
	classed  = regexp.MustCompile(`(?i)\bclass\s?(\d{2,4})\b`)
	times    = regexp.MustCompile(`(?i)(?:` + numeric + `\s*(?:times|x|×)|\b(twice|double)|` + numeric + `\s?(?:%|percent) of)\s+(?:the\s+)?(?:valve(?:'s)?\s+)?(?:(?:maximum|rated|design|cold|working|nominal|allowable|operating)\s+)*(?:pressure\s+rating|rating|pressure|PN|rated)`)
)

// units that quantities are read in, by their kind.
var kindOf = map[string]quantity.Kind{
	"psi": quantity.Pressure, "kpa": quantity.Pressure, "mpa": quantity.Pressure, "bar": quantity.Pressure,
	"mm": quantity.Diameter, "cm": quantity.Diameter, "in": quantity.Diameter, "ft": quantity.Diameter,
	"m": quantity.Diameter, "mil": quantity.Roughness, "µm": quantity.Roughness, "ft/s": quantity.Velocity,
	"m/s": quantity.Velocity, "m3/h": quantity.Flow, "l/s": quantity.Flow, "gpm": quantity.Flow,
}

// inSI is one of each unit.
var inSI = map[string]float64{
	"psi": 6894.757293168361, "kpa": 1e3, "mpa": 1e6, "bar": 1e5, "mm": 1e-3, "cm": 1e-2, "in": 0.0254, "ft": 0.3048,
	"m": 1, "mil": 0.0254e-3, "µm": 1e-6, "ft/s": 0.3048, "m/s": 1, "m3/h": 1.0 / 3600, "l/s": 1e-3,
	"gpm": 3.785411784e-3 / 60,
}

// spelled brings the spellings of a unit to one.
var spelled = strings.NewReplacer(
	"psig", "psi", "bars", "bar", "inches", "in", "inch", "in", `"`, "in", "”", "in", "″", "in", "feet", "ft", "foot", "ft",
	"fps", "ft/s", "mils", "mil", "μm", "µm", "microns", "µm", "micron", "µm", "m³/h", "m3/h", ".", "",
)

func unit(s string) string { return spelled.Replace(strings.ToLower(s)) }

// number reads a number as specifications write it: 1,500; 1.5; 1-1/2; 3/4; 1,6.
func number(s string) (float64, bool) {
	whole, fraction, mixed := strings.Cut(strings.ReplaceAll(s, " ", "-"), "-")
	if !mixed && strings.Contains(s, "/") {
		whole, fraction = "0", s
	}
	if i := strings.IndexByte(whole, ','); i >= 0 {
		if len(whole)-i == 4 && !strings.HasPrefix(whole, "0,") || strings.Count(whole, ",") > 1 {
			whole = strings.ReplaceAll(whole, ",", "")
		} else {
			whole = strings.Replace(whole, ",", ".", 1)
		}
	}
	x, err := strconv.ParseFloat(whole, 64)
	if err != nil || x > 1e9 {
		return 0, false
	}
	if fraction != "" {
		top, bottom, _ := strings.Cut(fraction, "/")
		a, errA := strconv.Atoi(top)
		b, errB := strconv.Atoi(bottom)
		if errA != nil || errB != nil || b == 0 || a >= b {
			return 0, false
		}
		x += float64(a) / float64(b)
	}
	return x, true
}

// apart is true where a match is no piece of a longer word or number, and no tolerance.
func (f *finder) apart(from int) bool {
	before := strings.TrimRight(f.text[:from], " ")
	if strings.HasSuffix(before, "±") || strings.HasSuffix(before, "+/-") {
		return false
	}
	if from == 0 {
		return true
	}
	return !regexpWordEnd.MatchString(f.text[:from])
}

var regexpWordEnd = regexp.MustCompile(`[\pL\pN.,/-]$`)

// numbers finds the demands with a number.
func (f *finder) numbers() {
	f.coefficients()
	for _, m := range times.FindAllStringSubmatchIndex(f.text, -1) {
		x, ok := 2.0, true
		switch {
		case m[2] >= 0:
			x, ok = number(f.text[m[2]:m[3]])
		case m[6] >= 0:
			x, ok = number(f.text[m[6]:m[7]])
			x /= 100
		}
		if !ok || !f.apart(m[0]) {
			continue
		}
		start, end := f.segment(m[0], m[1])
		if s := f.pressureOf(start, end, true); s == ShellTest || s == SeatTest {
			f.add(Demand{Subject: s, Relation: AtLeast, Kind: quantity.Pressure, Times: x}, m[0], m[1])
		}
	}
	for _, m := range named.FindAllStringSubmatchIndex(f.text, -1) {
		f.designation(m)
	}
	for _, m := range classed.FindAllStringSubmatchIndex(f.text, -1) {
		f.add(Demand{Subject: Ends, Words: []string{"Class " + f.text[m[2]:m[3]]}}, m[0], m[1])
	}
	for _, m := range feet.FindAllStringSubmatchIndex(f.text, -1) {
		a, okA := number(f.text[m[2]:m[3]])
		b, okB := number(f.text[m[4]:m[5]])
		if okA && okB && f.apart(m[0]) && f.fresh(m[0]) {
			f.measured(quantity.Diameter, a*0.3048+b*0.0254, "ft", m[0], m[1])
		}
	}
	flow, place := 0.0, []int(nil)
	var rest [][]int
	for _, m := range measure.FindAllStringSubmatchIndex(f.text, -1) {
		u := unit(f.text[m[4]:m[5]])
		if x, ok := number(f.text[m[2]:m[3]]); ok && kindOf[u] == quantity.Flow {
			flow, place = x*inSI[u], m
			continue
		}
		rest = append(rest, m)
	}
	for _, m := range rest {
		u := unit(f.text[m[4]:m[5]])
		x, ok := number(f.text[m[2]:m[3]])
		if !ok || x <= 0 || !f.apart(m[0]) || !f.fresh(m[0]) {
			continue
		}
		before := len(f.found)
		f.measured(kindOf[u], x*inSI[u], u, m[0], m[1])
		if len(f.found) > before && f.found[before].Subject == HeadLoss {
			if f.found[before].FlowSI = flow; flow > 0 {
				blanked(f.left, place[0], place[1])
			}
		}
	}
}

// fresh is true where no other demand has read the place.
func (f *finder) fresh(at int) bool { return f.left[at] != ' ' }

func (f *finder) coefficients() {
	put := func(name, digits string, from, to, gapFrom, gapTo int) {
		x, ok := number(digits)
		if !ok || !f.fresh(from) {
			return
		}
		if strings.EqualFold(name, "Cv") {
			x *= 0.8649804
		}
		f.add(Demand{
			Subject: FlowCoefficient, Relation: f.relation(from, to, AtLeast), Kind: quantity.FlowCoefficient,
			SI: x,
		}, from, to)
		copy(f.left[gapFrom:gapTo], f.text[gapFrom:gapTo]) // what stands between is read as any other word
	}
	for _, m := range flowOf.FindAllStringSubmatchIndex(f.text, -1) {
		if d := f.found; len(d) == 0 || m[0] >= d[len(d)-1].to {
			put(f.text[m[2]:m[3]], f.text[m[4]:m[5]], m[0], m[1], m[3], m[4])
		}
	}
	for _, m := range flowIs.FindAllStringSubmatchIndex(f.text, -1) {
		put(f.text[m[4]:m[5]], f.text[m[2]:m[3]], m[0], m[1], m[3], m[4])
	}
}

var endWords = regexp.MustCompile(`(?i)flange|\bends?\b|drill|connection`)

// designation reads DN, NPS and PN.
func (f *finder) designation(m []int) {
	start, end := f.segment(m[0], m[1])
	if m[6] >= 0 {
		x, ok := number(f.text[m[8]:m[9]])
		switch {
		case !ok:
		case endWords.MatchString(f.text[start:end]):
			f.add(Demand{Subject: Ends, Words: []string{"PN" + f.text[m[8]:m[9]]}}, m[0], m[1])
		default:
			f.add(Demand{Subject: Rating, Relation: AtLeast, Kind: quantity.Pressure, SI: x * 1e5}, m[0], m[1])
		}
		return
	}
	x, ok := number(f.text[m[4]:m[5]])
	if !ok || x <= 0 {
		return
	}
	if f.text[m[2]:m[3]] == "DN" {
		x *= 1e-3
	} else {
		x *= 0.0254
	}
	f.add(Demand{Subject: Size, Kind: quantity.Diameter, SI: x}, m[0], m[1])
}

var (
	ofSeat    = regexp.MustCompile(`(?i)\bseats?\b|closure|leak|tightness`)
	ofShell   = regexp.MustCompile(`(?i)\bshell\b|hydro|\bbody\b|\bbodies\b`)
	ofTest    = regexp.MustCompile(`(?i)\btest`)
	ofRating  = regexp.MustCompile(`(?i)\brat(?:ed|ing)|working|design|service|CWP|WOG|nominal|\bclass\b|operating|pressure`)
	notRating = regexp.MustCompile(`(?i)surge|differential|cracking|back|vacuum|suction|supply|opening|drop|burst|transient`)
	ofPassage = regexp.MustCompile(`(?i)sphere|spherical|solids?\b|passage|\bpass(?:ing|es)?\b|waterway`)
	ofLength  = regexp.MustCompile(`(?i)face[- ]?to[- ]?face|laying|\blengths?\b|end[- ]to[- ]end|flange[- ]to[- ]flange|\bf/f\b|\bf-f\b`)
	ofCoating = regexp.MustCompile(`(?i)coat|epoxy|film|\bDFT\b|lining|paint`)
	notSize   = regexp.MustCompile(`(?i)straight|clearance|headroom|bolt|hole|\bpin\b|shaft|upstream|downstream|above|below|elevation|wall|stem|lever|\btaps?\b|drain|vent|tolerance|travel|depth|height|gauge|switch`)
	ofNominal = regexp.MustCompile(`(?i)\bsizes?\b|nominal`)
	// Where nothing names the size, a number right before or behind the valve is it.
	sizeAfter  = regexp.MustCompile(`(?i)^[\s-]*(?:(?:nominal|diameter|plain|swing|ball|rubber|flapper|flap|lever|weighted|spring|cushioned|dual|plate|tilting|disc|silent|wafer|flanged|type|sewage)[\s-]+)*(?:checks?|non-return|valves?)\b`)
	sizeBefore = regexp.MustCompile(`(?i)(?:valves?|checks?)\s*[:,(]?\s*$`)
	elsewhere  = regexp.MustCompile(`(?i)straight|upstream|downstream|\bpipe lengths?|spool|cable|stud|\bbolt|supports?\b`)
	ofLoss     = regexp.MustCompile(`(?i)head\s?loss|\bloss\b`)
	ofBack     = regexp.MustCompile(`(?i)back\s?(?:head|pressure)`)
	bare       = regexp.MustCompile(`[\pL]{2,}`)
)

// pressureOf says what a pressure of a segment is of; "" where it is of nothing known here.
func (f *finder) pressureOf(start, end int, multiple bool) Subject {
	part := f.text[start:end]
	test := ofTest.MatchString(f.text) || ofTest.MatchString(f.under)
	for _, where := range []string{part, f.text} {
		switch seat, shell := ofSeat.MatchString(where), ofShell.MatchString(where); {
		case !test:
		case seat && shell:
			return Pressure
		case seat:
			return SeatTest
		case shell:
			return ShellTest
		}
	}
	switch {
	case test || multiple:
		return Pressure
	case notRating.MatchString(part):
		return ""
	case ofRating.MatchString(part), ofRating.MatchString(f.under):
		return Rating
	}
	return ""
}

// measured files a number with a unit under what it is of. One of which nothing is known
// stays unread.
func (f *finder) measured(kind quantity.Kind, si float64, u string, from, to int) {
	start, end := f.segment(from, to)
	part := f.text[start:end]
	alone := !bare.MatchString(part[:from-start]+part[to-start:]) || f.listed()
	d := Demand{Kind: kind, SI: si}
	usual := Exactly
	switch {
	case kind == quantity.Pressure:
		if d.Subject = f.pressureOf(start, end, false); d.Subject == "" && alone && !notRating.MatchString(part) {
			d.Subject = Rating
		}
		usual = AtLeast
	case kind == quantity.Velocity && strings.Contains(strings.ToLower(part), "revers"):
		d.Subject, usual = ReverseVelocity, AtMost
	case kind == quantity.Roughness:
		if ofCoating.MatchString(f.text) || ofCoating.MatchString(f.under) {
			d.Subject, usual = Film, AtLeast
		}
	case kind == quantity.Diameter:
		d.Subject, d.Kind, usual = f.dimensionOf(start, end, from, to, u, alone)
	}
	if d.Subject == "" {
		return
	}
	d.Relation = f.relation(from, to, usual)
	if d.Subject == Rating {
		d.Relation = AtLeast // "maximum working pressure of 150 psi" asks for no lower rating
	}
	f.add(d, from, to)
}

// listed is true for a sentence that is a list of numbers, with hardly a word.
func (f *finder) listed() bool {
	return len(bare.FindAllString(f.text, -1)) <= 1+strings.Count(f.text, ",")*2 && !asks.MatchString(f.text)
}

// dimensionOf says what a length is of: by the nearest word that names one, else by the
// words that only hint at the size.
func (f *finder) dimensionOf(start, end, from, to int, u string, alone bool) (Subject, quantity.Kind, Relation) {
	metric := u == "ft" || u == "m"
	kinds := []struct {
		words    *regexp.Regexp
		subject  Subject
		kind     quantity.Kind
		relation Relation
	}{
		{ofPassage, Passage, quantity.Diameter, AtLeast},
		{ofLength, Length, quantity.Diameter, Exactly},
		{ofCoating, Film, quantity.Roughness, AtLeast},
		{ofNominal, Size, quantity.Diameter, Exactly},
		{notSize, "", 0, 0},
	}
	if metric {
		kinds = append(kinds[:0:0], kinds...)
		kinds[0] = struct {
			words    *regexp.Regexp
			subject  Subject
			kind     quantity.Kind
			relation Relation
		}{ofBack, BackHead, quantity.Head, AtMost}
	}
	if metric && ofLoss.MatchString(f.text[start:end]) {
		return HeadLoss, quantity.Head, AtMost
	}
	if elsewhere.MatchString(f.text[start:end]) {
		return "", 0, 0
	}
	best, nearest := -1, len(f.text)+1
	for i, k := range kinds {
		for _, m := range k.words.FindAllStringIndex(f.text[start:end], -1) {
			gap := from - (start + m[1])
			if start+m[0] >= to {
				gap = start + m[0] - to
			}
			if gap >= 0 && gap < nearest {
				best, nearest = i, gap
			}
		}
	}
	switch {
	case best >= 0:
		k := kinds[best]
		return k.subject, k.kind, k.relation
	case sizeAfter.MatchString(f.text[to:]), sizeBefore.MatchString(f.text[:from]):
		return Size, quantity.Diameter, Exactly
	case !alone:
		return "", 0, 0
	case ofLength.MatchString(f.under):
		return Length, quantity.Diameter, Exactly
	}
	return Dimension, quantity.Diameter, Exactly
}

var (
	negated = regexp.MustCompile(`(?i)\b(?:not|no)(?: be| have)? (less|smaller|lower|more|greater|larger|higher) than\b|\bnot? (?:to )?exceed(?:ing)?\b`)
	signs   = regexp.MustCompile(`(?i)(<=|≤|<|\b(?:less|smaller|lower) than|\bmaximum|\bmax\b|at most|\bup to\b|\bunder\b|\bbelow\b)|(>=|≥|>|(?:greater|more|larger|higher) than|at least|\bminimum|\bmin\b|exceeds?\b|exceeding)`)

	leastAfter = regexp.MustCompile(`(?i)^[\s).]*(?:or (?:greater|more|higher|larger|above|better)|minimum|min\b|and (?:above|larger))`)
	mostAfter  = regexp.MustCompile(`(?i)^[\s).]*(?:or (?:less|lower|smaller|below)|maximum|max\b)`)
)

// turned writes "not less than" and the like as signs.
func turned(text string) string {
	return negated.ReplaceAllStringFunc(text, func(s string) string {
		low := strings.ToLower(s)
		if strings.Contains(low, "less") || strings.Contains(low, "smaller") || strings.Contains(low, "lower") {
			return ">="
		}
		return "<="
	})
}

// relation reads the words around a number: of those before it the last one counts.
func (f *finder) relation(from, to int, usual Relation) Relation {
	start, _ := f.segment(from, to)
	switch after := f.text[to:]; {
	case leastAfter.MatchString(after):
		return AtLeast
	case mostAfter.MatchString(after):
		return AtMost
	}
	out := usual
	for _, m := range signs.FindAllStringSubmatchIndex(turned(f.text[start:to]), -1) {
		if out = AtLeast; m[2] >= 0 {
			out = AtMost
		}
	}
	return out
}
