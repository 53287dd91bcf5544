package inquiry

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"seatward/quantity"
)

const count = `(one|two|three|four|five|six|seven|eight|[1-9]|1[0-2])`

// counted are the ways to say how many pumps there are, with the group of all of them.
var (
	dutyStandby = regexp.MustCompile(`(?i)\b` + count + ` *(?:x *)?(?:pumps? )?(?:duty|working|running|operating|in service)\b[^.;\n\d]{0,16}?(?:[+&/,]|and|plus|with)? *` + count + ` *(?:x *)?(?:pumps? )?(?:stand-?by|spare|back-?up|reserve|assist)\b`)
	plusPumps   = regexp.MustCompile(`(?i)\b([1-6]) ?\+ ?([1-3])\b(?:[^\n.;]{0,25}\b(?:pumps?|duty|stand-?by|duplex|triplex))`)
	somePumps   = regexp.MustCompile(`(?i)(?:^|[^\w.,/-])(?:` + count + `|\(([1-9])\)) *(?:\(([1-9]\d?)\) *)?(?:(?:nos?\.?|off|x|each|new|existing|identical|equal|ea\.?) +)?((?:[\w./"'-]+ +){0,5}?)pumps\b`)
	pumpsPlus   = regexp.MustCompile(`(?i)\bpumps?\b[^\n.;\d]{0,12}\(? *([1-6]) ?\+ ?([1-3])\b`)
	timesFlow   = regexp.MustCompile(`(?i)(?:^|[^\d.,/-])([1-9]) ?x ?\d[\d.,]* *(?:gpm|l/s|lps|m3/h|m³/h|hp|kw)\b`)
	ofThem      = regexp.MustCompile(`(?i)\b(?:stand-?by|spare|duty|lag|lead|backup|back-up|failed|old|sump|booster|jockey)\b`)
	onePump     = regexp.MustCompile(`(?i)(?:^|[^\w.,/-])(?:one|single|1) (?:\(1\) )?((?:[a-z-]+ +){0,3})pump\b(?: station)?`)
	plex        = regexp.MustCompile(`(?i)\b(simplex|duplex|triplex|quadr?u?plex)\b`)
	pumpsLabel  = regexp.MustCompile(`(?i)\b(?:no\.? of pumps|number of pumps|pumps|pump qty|qty of pumps) *[:=|] *\|? *` + count + `\b`)
	standbyOnly = regexp.MustCompile(`(?i)\b(?:duty ?[/&-] ?stand-?by|duty and stand-?by|duty/spare|one duty and one stand-?by|alternating|alternate each cycle|alternates?|one (?:pump )?at a time|one as (?:a )?(?:spare|stand-?by|backup)|never (?:run )?together)\b`)
	leadLag     = regexp.MustCompile(`(?i)\blead[ /-]+(?:and )?lag\b|\bduty[ /-]+assist\b`)
	unitAfter   = regexp.MustCompile(`(?i)^(?:in|inch(?:es)?|"|'|ft|feet|hp|kw|gpm|mm|m|psi|l/s|rpm|of|stage|vane|year|hour|min|days?|weeks?|valves?|stations?|sites?|motors?|starts?)\b`)
)

var numbers = map[string]int{
	"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "simplex": 1, "duplex": 2,
	"triplex": 3, "quadplex": 4, "quadruplex": 4,
}

func numberOf(text string) int {
	if n, ok := numbers[strings.ToLower(text)]; ok {
		return n
	}
	n, _ := strconv.Atoi(text)
	return n
}

// pumps finds how many there are, and how many of them stand by.
func (r *reader) pumps() {
	all, standby := 0, -1
	give := func(start, end, n int) {
		if n < 1 || n > 12 {
			return
		}
		all = max(all, n)
		r.add(start, end, "pumps[0].count", strconv.Itoa(n), quantity.Quantity{})
	}
	stand := func(start, end, n int) {
		standby = n
		r.add(start, end, "pumps[0].standby", strconv.Itoa(n), quantity.Quantity{})
	}
	for _, re := range []*regexp.Regexp{dutyStandby, plusPumps, pumpsPlus} {
		for _, m := range re.FindAllStringSubmatchIndex(r.flat, -1) {
			duty, more := numberOf(r.flat[m[2]:m[3]]), numberOf(r.flat[m[4]:m[5]])
			if standby >= 0 || r.numbers[m[0]] {
				continue
			}
			start := m[0]
			if re == pumpsPlus {
				start = m[2]
			}
			give(start, m[1], duty+more)
			stand(start, m[1], more)
		}
	}
	for _, m := range somePumps.FindAllStringSubmatchIndex(r.flat, -1) {
		r.somePumps(m, give)
	}
	for _, m := range pumpsLabel.FindAllStringSubmatchIndex(r.flat, -1) {
		give(m[0], m[1], numberOf(r.flat[m[2]:m[3]]))
	}
	for _, m := range timesFlow.FindAllStringSubmatchIndex(r.flat, -1) {
		give(m[2], m[1], numberOf(r.flat[m[2]:m[3]]))
	}
	for _, m := range plex.FindAllStringSubmatchIndex(r.flat, -1) {
		give(m[2], m[3], numberOf(r.flat[m[2]:m[3]]))
	}
	if all == 0 {
		if m := onePump.FindStringSubmatchIndex(r.flat); m != nil && !joining(r.flat[m[2]:m[3]]) {
			r.doubt(m[0], m[1], "one pump is named; the text does not say that there is no other", quantity.Quantity{},
				Choice{"pumps[0].count", "1", "one pump"}, Choice{"pumps[0].count", "2", "two pumps"})
		}
	}
	r.standby(all, standby, stand)
}

// somePumps takes "two (2) submersible pumps", unless the number is of something else.
func (r *reader) somePumps(m []int, give func(start, end, n int)) {
	at, text := -1, ""
	for _, g := range []int{1, 2} {
		if m[2*g] >= 0 {
			at, text = m[2*g], r.flat[m[2*g]:m[2*g+1]]
		}
	}
	between := r.flat[m[8]:m[9]]
	first := strings.TrimSpace(between)
	if at < 0 || r.numbers[at] || unitAfter.MatchString(first) || r.negated(at) || strings.Contains(between, ". ") ||
		joining(between) || ofThem.MatchString(between) {
		return
	}
	start := at
	if start > 0 && r.flat[start-1] == '(' {
		start--
	}
	give(start, m[1], numberOf(text))
}

// joining is true for words behind which the number is of something else.
func joining(between string) bool {
	for _, w := range strings.Fields(strings.ToLower(between)) {
		switch w {
		case "of", "the", "in", "and", "for", "at", "with", "by", "to", "is", "are":
			return true
		}
	}
	return false
}

// standby takes how many stand by where the number of pumps is known.
func (r *reader) standby(all, standby int, stand func(start, end, n int)) {
	if m := standbyOnly.FindStringIndex(r.flat); m != nil && standby < 0 {
		switch {
		case all > 1:
			standby = all - 1
			if all > 2 {
				standby = 1
			}
			stand(m[0], m[1], standby)
		case all == 0:
			all = 2
			r.doubt(m[0], m[1], "the number of pumps is not said", quantity.Quantity{},
				Choice{"pumps[0].count", "2", "two pumps"}, Choice{"pumps[0].count", "3", "three pumps"})
			stand(m[0], m[1], 1)
			standby = 1
		}
	}
	if m := leadLag.FindStringIndex(r.flat); m != nil && standby < 0 && all > 1 {
		r.doubt(m[0], m[1], "both may run at peak, or one may stand by", quantity.Quantity{},
			Choice{"pumps[0].standby", "0", "all run together at peak"},
			Choice{"pumps[0].standby", fmt.Sprint(all - 1), "one runs at a time"})
	}
	if all > 0 {
		r.running = all - max(standby, 0)
	}
}
