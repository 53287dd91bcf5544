package inquiry

import (
	"fmt"
	"regexp"
	"strings"

	"seatward/quantity"
)

var (
	least    = regexp.MustCompile(`(?i)\bmin(?:imum|\.)?\b|\bleast\b|\blow(?:est)? flow\b|\bturn ?down\b`)
	greatest = regexp.MustCompile(`(?i)\bmax(?:imum|\.)?\b|\bpeak\b|\bgreatest\b|\bboost\b`)
	daily    = regexp.MustCompile(`(?i)\baverage\b|\bavg\b|\bdaily\b|\bADF\b|\bADWF\b|\bPWWF\b|\binflow\b|\binfiltration\b|\bdrain ?down\b|\bleak(?:age|s|ing)?\b|\bper capita\b|\bpopulation\b|\bfuture\b|\bbuild-?out\b|\bseal water\b`)
	total    = regexp.MustCompile(`(?i)\btotal(?: of| flow| capacity)?\b|\bcombined\b|\btogether\b|\bboth (?:pumps )?running\b|\bboth pumps\b|\b(?:two|all) pumps\b|\bfirm capacity\b|\bstation (?:capacity|flow)\b|\bin parallel\b`)
	each     = regexp.MustCompile(`(?i)\beach\b|\bea\b\.?|\bper pump\b|\bapiece\b|\b(?:one|single) pump\b|\beither pump\b|\bpump capacity\b|\bone running\b|\bwith one\b|\bindividual(?:ly)?\b`)
)

// flow takes a flow: of one pump, of all together, or the least or greatest.
func (r *reader) flow(i int) {
	t := r.tokens[i]
	near := func(re *regexp.Regexp) bool {
		from, to := r.clause(t)
		for _, m := range re.FindAllStringIndex(r.flat[from:to], -1) {
			if r.distance(i, from+m[0], from+m[1]) <= reach-10 {
				return true
			}
		}
		return false
	}
	headAfter := i+1 < len(r.tokens) && r.tokens[i+1].kind == quantity.Length && r.paired(i+1)
	times := manyTimes.MatchString(r.flat[max(0, t.start-6):t.start])
	switch {
	case near(daily) && !headAfter:
	case times || near(each):
		r.give(t, quantity.Flow, "", "duty.flow")
	case near(total) && !totalHead.MatchString(r.flat[t.end:min(len(r.flat), t.end+40)]):
		r.totalFlow(t)
	case near(least):
		r.give(t, quantity.Flow, "", "duty.least_flow")
	case near(greatest) && !headAfter:
		r.give(t, quantity.Flow, "peak flow may be that of the station or that through one valve", "duty.flow", "duty.greatest_flow")
	case headAfter || r.running <= 1:
		r.give(t, quantity.Flow, "", "duty.flow")
	default:
		r.totalFlow(t)
	}
}

// manyTimes stands before the flow of each: 2 x 220 gpm.
var manyTimes = regexp.MustCompile(`(?:^|[^\d.,])[1-9] ?[xX] ?$`)

// totalHead is the total that belongs to the head behind a flow.
var totalHead = regexp.MustCompile(`(?i)^[^.;\n]{0,20}total (?:dynamic )?head`)

// totalFlow takes the flow of several pumps, which is nobody's flow alone.
func (r *reader) totalFlow(t token) {
	values, q := r.read(t, quantity.Flow)
	if len(values) == 0 {
		return
	}
	if r.running == 1 {
		r.give(t, quantity.Flow, "", "duty.flow")
		return
	}
	n := max(r.running, 2)
	number, unit, _ := strings.Cut(strings.ReplaceAll(values[0], ",", ""), " ")
	share := ""
	var v float64
	if _, err := fmt.Sscanf(number, "%g", &v); err == nil && unit != "" {
		share = fmt.Sprintf("%g %s", v/float64(n), unit)
	}
	choices := []Choice{{"duty.flow", values[0], "flow of one pump running alone"}}
	if share != "" {
		choices = append([]Choice{{"duty.flow", share, fmt.Sprintf("a share of %d pumps", n)}}, choices...)
	}
	r.doubt(t.start, t.end, "it may be the flow of all pumps or of one", q, choices...)
}
