package document

import (
	"seatward/judge"
	"seatward/quantity"
)

// execution is PART 3: what is done on site.
func (w *sheet) execution(c *clauses, l siteLimits) {
	p := part{w, c}
	site := w.onSite()
	p.title("EXECUTION")
	p.article("EXAMINATION")
	p.para(site, "Before the valve goes in, check tag, size, rating, flow arrow, ends and length against the approved submittal. Check that the element moves freely and transport blocks are out.")
	p.para(site, "Check that flanges are parallel and the gap fits the valve. Do not pull pipes together with flange bolts.")
	p.article("INSTALLATION")
	p.para(w.byFindings("", judge.OnPosition),
		"Install with the arrow in the direction of flow, {position}, to the manufacturer's instructions.", "position",
		w.position())
	p.para(w.byFindings("", judge.OnStraight),
		"Straight pipe upstream and downstream: not less than the manufacturer's written minimum.")
	p.para(w.byFindings("", judge.OnClearance), "Keep the space for removal of cover and element clear.")
	p.para(site, "Support the pipe on both sides so that flanges carry no weight. New gaskets; bolts tightened crosswise to the manufacturer's torque.")
	w.fieldTests(p, l)
	p.article("CLOSEOUT")
	p.para(site, "[One] visit of the manufacturer at start-up. Train the operators; hand over manuals, test records and spare parts.")
}

// onSite answers what the contractor does: it asks nothing of the valve offered.
func (w *sheet) onSite() func() answer {
	return func() answer { return answer{status: NotApplicable, text: w.say("work on site, for the contractor")} }
}

// fieldTests end with a slam test that has instruments, limits and an order.
func (w *sheet) fieldTests(p part, l siteLimits) {
	site := w.onSite()
	p.article("FIELD QUALITY CONTROL")
	p.para(site, "Pressure test of the piping: not above the pressure rating asked for, {p}, at the valve. Relieve trapped pressure before a cover is loosened.",
		"p", w.asked(quantity.Pressure, l.rating))
	p.para(site, "Slam acceptance test: stop the pumps from full flow in this order, each stop [3] times.")
	p.sub(site, "One pump running, normal stop.")
	if w.Study.Station.Pumps[0].Count > 1 || len(w.Study.Station.Pumps) > 1 {
		p.sub(site, "One of the running pumps stopped, the others running.")
	}
	if w.Assessment.Separation != "" {
		p.sub(site, "Power failure of all pumps: only after the engineer for surge protection agrees in writing, since column separation is predicted.")
	} else {
		p.sub(site, "Power failure of all pumps, simulated.")
	}
	p.para(site, "Instruments: pressure on both sides of the valve, not less than [500] readings a second each, and pump current or speed.")
	if l.rise > 0 {
		p.para(site, "Acceptance: pressure rise at closing not more than [{h}] of head, no second blow, and no pressure above the rating asked for.",
			"h", w.asked(quantity.Head, l.rise))
		w.noteOn(p.c, "the rise is a V/g with the wave speed of the branch and the reverse velocity allowed in PART 2, rounded up; waves that were under way before the closing are read off the record and taken away.")
	}
	p.para(site, "Stop the test where a pressure passes 90 % of the rating asked for, and report before it goes on.")
	p.para(site, "Leakage test: pumps off, no rise of the wet well by the valve in [15] minutes, and no pump turning backward.")
	p.para(site, "A valve that fails is adjusted or replaced and tested again at no cost to the owner.")
}
