package inquiry

import (
	"math"
	"regexp"
	"strings"

	"seatward/quantity"
)

// cue is a phrase that says what a quantity near it is.
type cue struct {
	re    *regexp.Regexp
	paths []string // one: sure; several: a choice; none: a quantity of something else
}

func cues(rows ...[2]string) []cue {
	var out []cue
	for _, r := range rows {
		c := cue{re: regexp.MustCompile(`(?i)` + r[0])}
		if r[1] != "" {
			c.paths = strings.Split(r[1], "|")
		}
		out = append(out, c)
	}
	return out
}

const (
	mainLength, branchLength = "main.runs[0].length", "branch.runs[0].length"
	mainSize, branchSize     = "main.runs[0].size", "branch.runs[0].size"
)

// elevations are the words that make a length a level and no height.
const elevation = `\b(?:elev(?:ation)?s?|el)\b\.?`

// far are the cues of lengths in feet and meters.
var far = cues(
	[2]string{`\btdh\b|\btotal (?:dynamic |pump(?:ing)? |manometric )?head\b|\bdynamic head\b|\bmanometric head\b|\bpump(?:ing)? head\b|\bduty head\b|\bduty\b`, "duty.head"},
	[2]string{`\bstatic(?: (?:lift|head|height))?\b|\bgeodetic(?: (?:head|height|lift))?\b|\bvertical (?:lift|rise)\b|\belevation (?:difference|gain|change)\b|\bdifference in (?:level|elevation)\b|\bnet lift\b|\bH ?geo\b|\blevel to level\b|\blift height\b`, "duty.static_head"},
	[2]string{`\blift(?:s|ed|ing)?\b(?: of\b)?|\brises?\b`, "duty.static_head|duty.head"},
	[2]string{`\bhead\b`, "duty.head|duty.static_head"},
	[2]string{`\bshut-? ?off(?: head)?\b|\bdead-?head\b|\bclosed[- ]valve head\b|\bzero flow\b|\bhead at no flow\b`, "duty.shutoff_head"},
	[2]string{`\bfriction(?: loss(?:es)?| head)?\b|\bhead ?loss(?:es)?\b|\blosses\b|\bminor loss(?:es)?\b|\bnpsh[ar]?\b|\bsuction(?: lift| head)?\b|\bsubmergence\b`, ""},
	[2]string{`\bforce ?mains?\b|\brising mains?\b|\bpressure mains?\b|\bdelivery mains?\b|\bpipelines?\b|\bFM\b|\bforcemains?\b|\bdischarge mains?\b|\btransmission mains?\b|\bmains?\b`, mainLength},
	[2]string{`\b(?:town|city|street|water|supply|public|municipal|incoming)(?:'s)? (?:water )?mains?\b`, ""},
	[2]string{`\b(?:above|higher(?: up)?|uphill|up the hill|up hill)\b`, "height"},
	[2]string{`\babove (?:the )?(?:grade|ground|floor|slab|valve|pumps? base|normal)\b`, ""},
	[2]string{`\brisers?\b`, mainLength + "|" + branchLength},
	[2]string{`\blong\b|\blength\b|\bin length\b|\brun of\b|\bto the (?:outfall|manhole|plant|wwtp|headworks|discharge|reservoir|tank|basin|clarifier|\w+ box)\b`, mainLength + "|" + branchLength},
	[2]string{`\bbranch(?:es)?\b|\bdischarge pip(?:e|ing)\b|\bstation piping\b|\bpump discharge\b|\bto the header\b|\briser pipe\b`, branchLength},
	[2]string{`\bstraight(?: (?:pipe|run|length))?(?: of pipe)?(?: (?:upstream|before|ahead of|in front of))`, "valve.straight_before"},
	[2]string{`\bstraight(?: (?:pipe|run|length))?(?: of pipe)?(?: (?:downstream|after|beyond|behind))`, "valve.straight_after"},
	[2]string{`\bstraight(?: (?:pipe|run|length))?\b`, "valve.straight_before|valve.straight_after"},
	[2]string{`\bclearance\b|\bhead ?room\b`, "valve.clearance"},
	[2]string{`\bface[- ]to[- ]face\b|\blay(?:ing)? length\b|\bF/F\b|\bF-F\b|\bF2F\b`, "valve.laying_length"},
	[2]string{elevation + `|\binvert\b|\bdatum\b`, "level"},
	[2]string{`\bpump on\b|\blead on\b|\bhigh (?:water )?level\b|\bHWL\b|\bstart level\b`, "level:levels.wet_well_high"},
	[2]string{`\bpumps? off\b|\ball off\b|\blow (?:water )?level\b|\bLWL\b|\bstop level\b`, "level:levels.wet_well_low"},
	[2]string{`\b(?:discharge|outlet|outfall|receiving manhole) (?:elev(?:ation)?|level|water level|invert)\b|\bcrown\b`, "level:levels.outlet"},
	[2]string{`\babove sea level\b|\bAMSL\b|\baltitude\b|\bmasl\b`, "site.elevation"},
	[2]string{`\bdeep\b|\bdepth\b|\bdia(?:meter)?\b|\bwide\b|\bby\b|\bburied\b|\bcover\b|\bgrade\b|\brim\b|\bground\b|\bfence\b|\baway\b|\bcable\b|\bcord\b|\bhoist\b|\brail\b|\bwet ?well\b|\bvault\b|\bsquare\b|\bspacing\b`, ""},
)

// small are the cues of sizes and lengths in inches and millimeters.
var small = cues(
	[2]string{`\bforce ?mains?\b|\brising mains?\b|\bpressure mains?\b|\bdelivery mains?\b|\bpipelines?\b|\bFM\b|\bforcemains?\b|\bdischarge mains?\b|\btransmission mains?\b|\bmains?\b`, mainSize},
	[2]string{`\bcheck valves?\b|\bcheck\b|\bnon-?return valves?\b|\bNRVs?\b|\breflux valves?\b|\bvalve size\b|\b(?:swing|ball|flap|duckbill|tilting disc|dual plate) checks?\b|\bvalves?\b`, "valve.size"},
	[2]string{`\b(?:gate|plug|isolation|butterfly|knife|air|relief|shut-?off)(?: valves?)?\b|\bmeter\b|\bsuction\b|\bimpeller\b|\btrim\b|\bshaft\b|\bbolts?\b|\banchors?\b|\bwall\b|\brain(?:fall)?\b|\borifice\b|\bhatch\b|\bconduit\b|\bdrain\b|\bwater service\b|\bvent\b|\bmanhole\b|\bgravity\b|\bsewer line\b|\bwet ?well\b|\bbypass\b|\bwell casing\b|\bgrating\b|\bslab\b`, ""},
	[2]string{`\bsolids?\b|\bspheres?\b|\bparticles?\b|\bfree passage\b|\bclear passage\b|\bdebris\b`, "fluid.solids"},
	[2]string{`\bbranch(?:es)?\b|\bdischarge pip(?:e|ing)\b|\bstation piping\b|\briser pipe\b`, "valve.size|" + branchSize},
	[2]string{`\b(?:pump )?discharges?\b|\briser\b|\bflange[sd]?\b|\bpump outlet\b|\bbase elbow\b`, "valve.size|" + branchSize},
	[2]string{`\bpip(?:e|ing|es)\b|\blines?\b|\bheader\b`, mainSize + "|valve.size|" + branchSize},
	[2]string{`\binside dia(?:meter)?\b|\binner dia(?:meter)?\b|\bI\.D\.|\bID\b|\bbore\b`, "main.runs[0].inner_diameter"},
	[2]string{`\bstraight(?: (?:pipe|run|length))?(?: of pipe)?(?: (?:upstream|before|ahead of))?\b`, "valve.straight_before|valve.straight_after"},
	[2]string{`\bclearance\b|\bhead ?room\b`, "valve.clearance"},
	[2]string{`\bface[- ]to[- ]face\b|\blay(?:ing)? length\b|\bF/F\b|\bF-F\b|\bF2F\b`, "valve.laying_length"},
)

// reach is how far from a quantity its cue may be, in bytes as the reader weighs them.
const reach = 55

// quantities finds what each quantity of the text is.
func (r *reader) quantities() {
	r.scan()
	for i, t := range r.tokens {
		if r.negated(t.start) {
			continue
		}
		switch t.kind {
		case quantity.Flow:
			r.flow(i)
		case quantity.Length, quantity.Diameter:
			r.length(i)
		case quantity.Pressure:
			r.pressure(t)
		default:
			r.machine(t)
		}
	}
	r.hours()
	r.levels()
}

// levels are sure where the text gives them for both ends and no static head.
func (r *reader) levels() {
	has := map[string]bool{}
	for _, f := range r.finds {
		has[f.Path] = true
	}
	if !has["levels.outlet"] || !has["levels.wet_well_high"] || has["duty.static_head"] {
		return
	}
	for i, f := range r.finds {
		pressure := strings.HasSuffix(f.Path, "_pressure")
		if strings.HasPrefix(f.Path, "levels.") && !pressure && len(f.Choices) == 1 {
			r.finds[i].Doubt, r.finds[i].Choices = "", nil
		}
	}
}

// clause is the part of the text around a token in which a cue may stand: its line, or its
// sentence where that is shorter.
func (r *reader) clause(t token) (from, to int) {
	from = strings.LastIndexByte(r.flat[:t.start], '\n') + 1
	to = len(r.flat)
	if i := strings.IndexByte(r.flat[t.end:], '\n'); i >= 0 {
		to = t.end + i
	}
	// A folded line goes on in the next one where no list and no label begins there.
	if to < len(r.flat) && to-from > 45 && !newItem.MatchString(r.flat[to+1:]) {
		if i := strings.IndexByte(r.flat[to+1:], '\n'); i >= 0 {
			to += 1 + i
		} else {
			to = len(r.flat)
		}
	}
	up := strings.LastIndexByte(r.flat[:max(from-1, 0)], '\n') + 1
	if from-up > 45 && !newItem.MatchString(r.flat[from:]) {
		from = up
	}
	from, to = max(from, t.start-window), min(to, t.end+window)
	for _, m := range sentence.FindAllStringIndex(r.flat[from:to], -1) {
		if from+m[0] >= t.end {
			return from, from + m[0]
		}
	}
	if all := sentence.FindAllStringIndex(r.flat[from:t.start], -1); len(all) > 0 {
		from += all[len(all)-1][1]
	}
	return from, to
}

// window is how far from a token its cues are looked for, in bytes.
const window = 150

var (
	newItem  = regexp.MustCompile(`^\s*(?:$|\n|[-*+|]|\d+[.)]|[\w /()]{2,30}[:=|])`)
	sentence = regexp.MustCompile(`[.;!?] +[A-Z(]|[;!?] |\. *\n|[.!?]$`)
	comma    = regexp.MustCompile(`[,|]| - | and | then `)
)

// nearest gives the cue of a token, and false where none is near.
func (r *reader) nearest(i int, all []cue) (cue, bool) {
	t := r.tokens[i]
	from, to := r.clause(t)
	best, at, long := cue{}, math.Inf(1), 0
	for _, c := range all {
		for _, m := range c.re.FindAllStringIndex(r.flat[from:to], -1) {
			if d := r.distance(i, from+m[0], from+m[1]); d < at || d == at && m[1]-m[0] > long {
				best, at, long = c, d, m[1]-m[0]
			}
		}
	}
	return best, at <= reach
}

// distance weighs how far a phrase is from a token: what parts them counts more than blanks.
func (r *reader) distance(i, start, end int) float64 {
	t := r.tokens[i]
	lo, hi := end, t.start
	if start >= t.end {
		lo, hi = t.end, start
	} else if end > t.start {
		return 0
	}
	between := r.flat[lo:hi]
	d := float64(len(strings.Join(strings.Fields(between), " ")))
	d += 9 * float64(len(comma.FindAllString(between, -1)))
	label := strings.Trim(between, " .~=:|") == "" && start < t.start // "Static lift: 14 m"
	for j, o := range r.tokens {
		switch {
		case j == i:
		case o.start >= lo && o.end <= hi:
			d += 6
			if start < t.start && o.kind == t.kind { // the phrase before another quantity is that quantity's
				d += 18
			}
		case start >= t.end && o.start >= end && o.start <= end+4 && o.kind == t.kind && labels(r.flat[end:o.start]):
			d += 25 // so is a label before it
		}
	}
	if label {
		d /= 4
	}
	return d
}

// labels is true for what may stand between a label and its number.
func labels(between string) bool { return strings.Trim(between, " :=|~.") == "" }

var besideFlow = regexp.MustCompile(`(?i)^[ (]*(?:@|at|/|,|x|and|against|with|w/|vs|\||-|;)?[ ]*(?:a |an )?(?:head of |about |approx\.? |~)?\(?$`)

// paired is true for a length that follows a flow as its head: 350 gpm @ 62'.
func (r *reader) paired(i int) bool {
	if i > 0 && r.tokens[i-1].kind == quantity.Flow {
		between := r.flat[r.tokens[i-1].end:r.tokens[i].start]
		if besideFlow.MatchString(strings.TrimSpace(between)) ||
			besideFlow.MatchString(pumpEach.ReplaceAllString(between, "")) {
			return !strings.Contains(strings.TrimSpace(between), ",") || r.headWord(i)
		}
	}
	if i+1 < len(r.tokens) && r.tokens[i+1].kind == quantity.Flow {
		between := strings.TrimSpace(r.flat[r.tokens[i].end:r.tokens[i+1].start])
		return between == "@" || between == "at" || headAt.MatchString(between)
	}
	return false
}

var (
	pumpEach = regexp.MustCompile(`(?i) *\(?\b(?:each|ea\.?|per pump|apiece)\b\)?`)
	headAt   = regexp.MustCompile(`(?i)^(?:of )?(?:tdh|total dynamic head|head) (?:@|at)$`)
)

func (r *reader) headWord(i int) bool {
	after := r.flat[r.tokens[i].end:min(len(r.flat), r.tokens[i].end+24)]
	return regexp.MustCompile(`(?i)^ *(?:of )?(?:tdh|total|dynamic|head)`).MatchString(after)
}

// length takes a length, a height or a size.
func (r *reader) length(i int) {
	t := r.tokens[i]
	if t.kind == quantity.Length && r.paired(i) {
		r.give(t, quantity.Head, "", "duty.head")
		return
	}
	all, kind := far, quantity.Length
	if t.kind == quantity.Diameter {
		all, kind = small, quantity.Diameter
	}
	c, ok := r.nearest(i, all)
	if !ok && t.kind == quantity.Length && linear.MatchString(r.flat[t.start:t.end]) {
		c, ok = cue{paths: []string{mainLength}}, true
	}
	if !ok || len(c.paths) == 0 {
		return
	}
	if linear.MatchString(r.flat[t.start:t.end]) && !strings.HasSuffix(c.paths[0], ".length") {
		c.paths = []string{mainLength}
	}
	if strings.HasPrefix(c.paths[0], "level") {
		r.level(i)
		return
	}
	if c.paths[0] == "height" {
		r.give(t, quantity.Head, "it is a height above something: the static head, if that is the wet well or the suction",
			"duty.static_head")
		return
	}
	if len(c.paths) > 1 && c.paths[0] == mainLength && (linear.MatchString(r.flat[t.start:t.end]) ||
		r.ofMain(t)) {
		c.paths = c.paths[:1]
	}
	why := ""
	if len(c.paths) > 1 {
		var all []string
		for _, p := range c.paths {
			all = append(all, "the "+said(p))
		}
		why = "it may be " + strings.Join(all, " or ")
	}
	r.give(t, kind, why, c.paths...)
}

// ofMain is true where the last pipe that was named is the main.
func (r *reader) ofMain(t token) bool {
	before := r.flat[max(0, t.start-200):min(len(r.flat), t.end+30)]
	main, branch := mainWord.FindAllStringIndex(before, -1), branchWord.FindAllStringIndex(before, -1)
	return len(main) > 0 && (len(branch) == 0 || main[len(main)-1][0] > branch[len(branch)-1][0])
}

// linear are lengths of laid pipe.
var linear = regexp.MustCompile(`(?i)\bl\.? ?f\.?$|lin(?:ear|eal|\.)|km$|mi(?:les?)?$|kilomet`)

// level takes an elevation with a word that says of what.
func (r *reader) level(i int) {
	t := r.tokens[i]
	var named []cue
	for _, c := range far {
		if len(c.paths) == 1 && strings.HasPrefix(c.paths[0], "level:") {
			named = append(named, c)
		}
	}
	if c, ok := r.nearest(i, named); ok {
		path := strings.TrimPrefix(c.paths[0], "level:")
		r.give(t, quantity.Length, "an elevation: of use with the levels of both ends only", path)
	}
}

// give keeps a quantity for a field: in doubt where a reason is given, several fields are, or
// its number may be read in two ways.
func (r *reader) give(t token, kind quantity.Kind, why string, paths ...string) {
	if strings.HasSuffix(paths[0], "head") {
		kind = quantity.Head
	}
	var choices []Choice
	var q quantity.Quantity
	for _, path := range paths {
		if strings.HasSuffix(path, ".size") {
			if s, err := (quantity.Reading{}).ParseSize(t.text); err == nil {
				choices = append(choices, Choice{path, s.Format(r.writes(t)), said(path)})
				q = quantity.Quantity{SI: s.NominalM(), Kind: quantity.Diameter, Unit: "in"}
			} else if near := r.beside(t); len(near) > 0 {
				why = "it is no nominal size, and may be an outer diameter; these are the nearest"
				for _, s := range near {
					choices = append(choices, Choice{path, s.Format(r.writes(t)), said(path)})
				}
			}
			continue
		}
		if t.size {
			continue
		}
		values, read := r.read(t, kind)
		if len(values) > 1 {
			why = "the comma may part decimals or group thousands"
		}
		for _, v := range values {
			choices = append(choices, Choice{path, v, said(path)})
		}
		q = read
	}
	switch {
	case len(choices) == 0:
	case why == "" && len(choices) == 1:
		r.add(t.start, t.end, choices[0].Path, choices[0].Value, q)
	default:
		if why == "" {
			why = "it may be one or the other"
		}
		r.doubt(t.start, t.end, why, q, choices...)
	}
}

// Said names a field in words, as a sentence has it.
func Said(path string) string { return said(path) }

func said(path string) string {
	if s, ok := saidAs[path]; ok {
		return s
	}
	return strings.ReplaceAll(path[strings.LastIndexByte(path, '.')+1:], "_", " ")
}

var saidAs = map[string]string{
	"duty.head": "pump head (TDH)", "duty.static_head": "static head", "duty.flow": "flow of one pump",
	"duty.shutoff_head": "shut-off head", "duty.least_flow": "least flow", "duty.greatest_flow": "greatest flow",
	mainLength: "length of the main", branchLength: "length of the pump's discharge pipe",
	mainSize: "size of the main", branchSize: "size of the pump's discharge pipe", "valve.size": "size at the valve",
	"valve.straight_before": "straight pipe upstream", "valve.straight_after": "straight pipe downstream",
	"main.runs[0].material": "material of the main", "branch.runs[0].material": "material of the discharge pipe",
	"main.runs[0].class": "class of the main", "branch.runs[0].class": "class of the discharge pipe",
	"main.runs[0].inner_diameter": "inner diameter of the main", "levels.outlet": "outlet level",
	"levels.wet_well_high": "high level of the wet well", "levels.wet_well_low": "low level of the wet well",
	"valve.rating": "pressure rating of the valve", "levels.outlet_pressure": "pressure at the outlet",
	"levels.suction_pressure": "pressure at the suction",
	"fluid.kind":              "liquid", "pumps[0].count": "number of pumps", "pumps[0].standby": "standby pumps",
	"valve.position": "position of the valve", "valve.existing": "valve there now", "fluid.solids": "solids",
}

var (
	rated   = regexp.MustCompile(`(?i)\brat(?:ed|ing)\b|\bworking pressure\b|\bCWP\b|\bWOG\b`)
	supply  = regexp.MustCompile(`(?i)\b(?:suction|inlet|incoming|supply|upstream) (?:side )?pressure\b|\bfed (?:by|from|off)\b|\b(?:town|city|street|public|municipal|incoming|supply)(?:'s)? (?:water )?main\b`)
	against = regexp.MustCompile(`(?i)\bagainst\b|\bsystem pressure\b|\boutlet pressure\b|\bdelivery pressure\b|\bbooster\b|\bmain pressure\b`)
	maxTemp = regexp.MustCompile(`(?i)\bmax(?:imum)?\b|\bup to\b|\bhot\b`)
	air     = regexp.MustCompile(`(?i)\bambient\b|\bair temp|\boutdoor|\bdesign temp`)
	gen     = regexp.MustCompile(`(?i)\bgenerator\b|\btransformer\b|\bgenset\b|\bsolar\b|\bheater\b`)
)

func (r *reader) around(t token, re *regexp.Regexp) bool {
	from, to := r.clause(t)
	return re.MatchString(r.flat[max(from, t.start-40):min(to, t.end+40)])
}

func (r *reader) pressure(t token) {
	switch {
	case r.around(t, rated):
		r.give(t, quantity.Pressure, "", "valve.rating")
	case r.around(t, supply):
		r.give(t, quantity.Pressure, "it may be the pressure at the suction while nothing flows, or while the pumps run",
			"levels.suction_pressure")
	case r.around(t, against):
		r.give(t, quantity.Pressure, "it may be the pressure that the main discharges against, or a reading at the pump", "levels.outlet_pressure")
	}
}

// machine takes power, speed and temperature.
func (r *reader) machine(t token) {
	switch t.kind {
	case quantity.Power:
		if !r.around(t, gen) {
			r.give(t, t.kind, "", "pumps[0].motor_power")
		}
	case quantity.RotationalSpeed:
		r.give(t, t.kind, "", "pumps[0].speed")
	case quantity.Temperature:
		switch {
		case r.around(t, air):
		case r.around(t, maxTemp):
			r.give(t, t.kind, "", "fluid.greatest_temperature")
		default:
			r.give(t, t.kind, "", "fluid.temperature")
		}
	}
}

var perYear = regexp.MustCompile(`(?i)(\d[\d,]*) ?(?:hours|hrs?|h) ?(?:per|/|a) ?(?:year|yr|annum)\b`)

// hours takes the running time per year.
func (r *reader) hours() {
	for _, m := range perYear.FindAllStringSubmatchIndex(r.flat, -1) {
		if r.numbers[m[0]] {
			continue
		}
		text := strings.ReplaceAll(r.flat[m[2]:m[3]], ",", "") + " h"
		if q, err := quantity.Parse(quantity.Time, text); err == nil {
			r.add(m[0], m[1], "operation.running_time_per_year", text, q)
		}
	}
}

var denial = regexp.MustCompile(`(?i)(?:\b(?:no|not|non|without|never|zero|free of|rather than|instead of|formerly|used to be|used to have|isn't|aren't|don't have|doesn't have|neither|nor)|n't)[ -]+(?:(?:an?|any|the|real|much|have|has|be|with|see|seen|expect|many)[ -]+){0,2}$`)

// negated is true for what is denied right before.
func (r *reader) negated(at int) bool { return denial.MatchString(r.flat[max(0, at-36):at]) }
