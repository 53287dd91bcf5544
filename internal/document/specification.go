package document

import (
	"fmt"
	"slices"
	"strings"

	"seatward/judge"
	"seatward/standards"
)

func writeSpecification(w *sheet) {
	section := w.Profile.Section.Text
	if section == "" {
		w.missing("specification section")
		section = w.say("[SECTION NUMBER] CHECK VALVES FOR PUMPING STATIONS")
	}
	made := w.section()
	w.heading(1, "Before the section is used")
	w.text(Advice, "The section begins on the next page and was made for one station from its study. Choices stand in brackets; delete what does not apply, and the notes. This page is not part of it.")
	w.verdict()
	if recalled := w.recalled(made); len(recalled) > 0 {
		w.text(Open, "Editions to be confirmed against the current ones before issue: {list}.", "list",
			strings.Join(recalled, ", "))
	}
	w.put(Contents{})
	w.cautions("preliminary", "drinking-water", "surge")
	w.put(Break{})
	w.heading(1, section)
	for _, r := range made.list {
		w.put(Clause{r.level, r.number, r.text})
		if r.note != "" {
			w.put(Paragraph{Label: w.say("Note to the specifier:"), Text: r.note, Tone: Advice})
		}
	}
	w.text(Plain, "END OF SECTION")
}

// section is the three-part specification of the valve in its station, each clause with
// what is offered against it.
func (w *sheet) section() *clauses {
	l := w.limits()
	products, execution := &clauses{}, &clauses{}
	products.counts[0], execution.counts[0] = 1, 2
	w.products(products, l)
	w.execution(execution, l)
	c := &clauses{}
	w.general(c, append(slices.Clone(products.list), execution.list...))
	c.list = append(append(c.list, products.list...), execution.list...)
	return c
}

// writer of one part: part, article, paragraph and what stands below it.
type part struct {
	w *sheet
	c *clauses
}

func (p part) title(s string)   { p.c.add(requirement{level: 0, text: p.w.say(s)}) }
func (p part) article(s string) { p.c.add(requirement{level: 1, text: p.w.say(s)}) }

func (p part) para(answer func() answer, s string, pairs ...string) {
	p.c.add(requirement{level: 2, text: p.w.say(s, pairs...), answer: answer})
}

func (p part) sub(answer func() answer, s string, pairs ...string) {
	p.c.add(requirement{level: 3, text: p.w.say(s, pairs...), answer: answer})
}

func (w *sheet) general(c *clauses, later []requirement) {
	p := part{w, c}
	st := w.Study.Station
	p.title("GENERAL")
	p.article("SUMMARY")
	p.para(w.byFindings("", judge.OnService), "This section covers check valves on the pump discharges of {station}, for {service}.",
		"station", st.Name, "service", string(st.Fluid.Kind))
	p.para(nil, "Related sections: [pumps] [ductile iron pipe] [valves, general] [coatings] [surge control].")
	if ids := cited(w, later); len(ids) > 0 {
		p.article("REFERENCES")
		p.para(nil, "The edition named applies; where none is named, the one in force at the date of bid.")
		for _, text := range ids {
			p.c.add(requirement{level: 3, text: text})
		}
	}
	p.article("DEFINITIONS")
	p.para(nil, "Reverse velocity: the greatest velocity of the flow backward through the valve before it closes, at the hardest closing of a stop.")
	p.para(nil, "Full-open velocity: the least steady velocity that holds the element at its stop, or parked clear of the flow.")
	p.para(nil, "Slam: the blow and the pressure rise of a valve that closes in reverse flow.")
	w.submittals(p)
	p.article("QUALITY ASSURANCE")
	p.para(w.person("the maker states it"),
		"Valves of one type shall be of one manufacturer, who has made the type for at least [5] years.")
	p.para(w.person("the maker states it"),
		"Test gauges and instruments shall have been calibrated within [12] months before the test.")
	p.article("DELIVERY, STORAGE AND HANDLING")
	p.para(w.person("the maker states it"),
		"Ship dry, with ends closed and moving parts blocked. Store indoors, rubber away from sun, ozone and heat.")
	p.para(w.person("the maker states it"),
		"Lift by the manufacturer's lifting points only; never by lever, stem or seat.")
	p.article("WARRANTY")
	p.para(w.person("blank: the maker states it"),
		"Warrant material and workmanship for [12] months from [substantial completion].")
}

func (w *sheet) submittals(p part) {
	p.article("SUBMITTALS")
	p.para(w.person("the transmittal names section and paragraph"),
		"Refer each submittal to section and paragraph. List every deviation.")
	in := func(where string) func() answer {
		return func() answer {
			return answer{status: Complies, text: w.say("in this submittal, under {where}", "where", w.say(where))}
		}
	}
	p.sub(in("Data sheet"), "Product data: size, rating, mass, clear passage, bill of materials with standard and grade.")
	p.sub(w.person("a sketch from catalog data is in; the manufacturer's drawing is to be attached"),
		"Dimension drawing with face-to-face length, cover clearance, lifting points and flow arrow.")
	if w.Loss != nil {
		p.sub(in("Curves"), "Head-loss curve, tested or computed, with full-open velocity and the duty points of this section marked.")
	}
	p.sub(w.person("a computed curve is in; a measured one is the maker's"),
		"Reverse velocity against deceleration at flow reversal, with laboratory and date; where none was measured, say so.")
	p.sub(w.person("the steps are in; standard, duration and allowable leakage are blanks"),
		"Procedures of shell and seat test, with pressures, durations and allowable leakage.")
	p.sub(w.person("to be attached"), "Certificates of tests and coating; installation instructions; operation and maintenance manual; warranty.")
	if w.Study.Station.Fluid.Drinking() {
		p.sub(w.drinking(), "Certificates of the parts in contact with drinking water.")
	}
}

// cited lists the standards that the clauses name, each once.
func cited(w *sheet, later []requirement) []string {
	var out []string
	seen := map[string]bool{}
	for _, r := range later {
		for _, m := range standards.Mentions(r.text, w.all, w.Assessment.Item, w.place()) {
			id, text := m.Found, m.Found+"."
			if m.Said != nil {
				s := m.Said.Standard
				id, text = s.ID, s.ID+": "+s.Title+"."
				if len(s.Editions) > 0 {
					text = s.ID + ", " + w.say("edition {e}", "e", "["+s.Editions[0]+"]") + ": " + s.Title + "."
				}
			}
			if !seen[id] {
				seen[id] = true
				out = append(out, text)
			}
		}
	}
	slices.Sort(out)
	return out
}

// recalled are the standards of the section whose editions nobody read in print.
func (w *sheet) recalled(c *clauses) []string {
	var out []string
	for _, r := range c.list {
		for _, m := range standards.Mentions(r.text, w.all, w.Assessment.Item, w.place()) {
			if m.Said != nil && len(m.Said.Standard.Editions) > 0 && !slices.Contains(out, m.Said.Standard.ID) {
				out = append(out, m.Said.Standard.ID)
			}
		}
	}
	slices.Sort(out)
	return out
}

// by names a length standard; nothing where lengths are the maker's own.
func by(w *sheet, standard string) string {
	if standard == "" || standard == "own" {
		return ""
	}
	return ", " + w.say("by {s}", "s", standard)
}

func (w *sheet) drinking() func() answer {
	return func() answer {
		if w.Configuration.DrinkingWater == "certified" {
			return answer{status: ToSee, text: w.say("certified, by the catalog; the certificate is to be attached")}
		}
		return answer{status: Deviates, text: w.say("drinking water: {said}", "said", orNotTold(w, w.Configuration.DrinkingWater))}
	}
}

// lower makes the first letter small, but for abbreviations.
func lower(s string) string {
	r := []rune(s)
	if len(r) < 2 || strings.ToUpper(string(r[1])) == string(r[1]) && strings.ToLower(string(r[1])) != string(r[1]) {
		return s
	}
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

// fraction prints a factor of the section: 1.5.
func fraction(x float64) string { return fmt.Sprint(x) }
