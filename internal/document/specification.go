package document

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
	"seatward/standards"
)

func writeSpecification(w *sheet) {
	section := w.Profile.Section.Text
	if section == "" {
		w.missing("specification section")
		section = w.say("[SECTION NUMBER] CHECK VALVES FOR PUMPING STATIONS")
	}
	w.heading(1, section)
	w.text(Advice, "This section was made for one station from its computed study. Choices stand in brackets; delete what does not apply, and these notes. References are those known to the program with the edition beside them; where an edition is from memory the note says so: check it before issue.")
	w.put(Contents{})
	for _, r := range w.section().list {
		w.put(Clause{r.level, r.number, r.text})
		if r.note != "" {
			w.put(Paragraph{Label: w.say("Note to the specifier:"), Text: r.note, Tone: Advice})
		}
	}
	w.text(Plain, "END OF SECTION")
	w.heading(1, "What the section rests on")
	w.verdict()
	w.cautions("preliminary", "drinking-water", "surge")
}

// section is the three-part specification of the valve in its station, each clause with
// what is offered against it.
func (w *sheet) section() *clauses {
	c := &clauses{}
	w.general(c)
	w.products(c)
	w.execution(c)
	return c
}

func (w *sheet) general(c *clauses) {
	part := func(s string) { c.add(requirement{level: 0, text: w.say(s)}) }
	article := func(s string) { c.add(requirement{level: 1, text: w.say(s)}) }
	para := func(answer func() answer, s string, pairs ...string) {
		c.add(requirement{level: 2, text: w.say(s, pairs...), answer: answer})
	}
	sub := func(answer func() answer, s string, pairs ...string) {
		c.add(requirement{level: 3, text: w.say(s, pairs...), answer: answer})
	}
	st := w.Study.Station
	part("GENERAL")
	article("SCOPE")
	para(w.byFindings("", judge.OnService),
		"Check valves on the pump discharges of {station}, for {service}, in the position and for the flows stated in this section.", "station", st.Name, "service", string(st.Fluid.Kind))
	para(w.person("sections of others are not known here"),
		"Related sections: [pumps] [ductile iron pipe] [valves, general] [coatings] [surge control].")
	article("REFERENCES")
	para(w.person("the editions named are those of the section; say which were used"),
		"The edition stated applies; where none is stated, the one in force at the date of bid.")
	var recalled []string
	for _, s := range w.Standards {
		if s.Verdict == standards.Applies || s.Verdict == standards.InPart {
			c.add(w.reference(s))
			if len(s.Standard.Editions) > 0 {
				recalled = append(recalled, s.Standard.ID)
			}
		}
	}
	if len(recalled) > 0 { // no edition was read in print
		c.note(w.say("The editions of {list} are from memory: check them before issue.", "list",
			strings.Join(recalled, ", ")))
	}
	article("DEFINITIONS")
	para(nil, "Reverse velocity: greatest velocity of the flow backward through the valve before it closes, at the hardest seating of a stop.")
	para(nil, "Full-open velocity: least steady velocity that holds the moving element at its stop, or parked clear of the flow.")
	para(nil, "Slam: the blow and the head rise of a valve that closes in reverse flow.")
	article("SUBMITTALS")
	para(w.offered(w.say("in this submittal")),
		"With reference to section and paragraph, and with every deviation listed:")
	for _, s := range []string{
		"Data sheet, dimension drawing with mass, cover clearance and flow arrow, bill of materials with standard and grade.",
		"Head-loss curve with its basis (tested or computed), the full-open velocity, and the duty points of this section marked.",
		"Reverse velocity against deceleration, tested or computed, with its source.",
		"Procedures of shell and seat test, with pressures and durations.",
		"Coating data, installation instructions, operation and maintenance manual, list of spares, warranty.",
	} {
		sub(w.offered(w.say("in this submittal")), s)
	}
	if st.Fluid.Drinking() {
		sub(w.drinking(), "Certificates of the parts in contact with drinking water.")
	}
	article("QUALITY")
	para(w.person("the maker states it"),
		"Valves of one type shall be of one maker, who has made the type for at least [5] years.")
	article("DELIVERY AND STORAGE")
	para(w.person("the maker states it"),
		"Ship dry, ends closed, moving parts blocked; store indoors, rubber away from sun, ozone and heat.")
}

// reference is a standard with its edition and to what it applies.
func (w *sheet) reference(s standards.Said) requirement {
	name := s.Standard.ID
	if len(s.Standard.Editions) > 0 {
		name += ", " + w.say("edition {e}", "e", s.Standard.Editions[0])
	}
	r := requirement{level: 3, text: fmt.Sprintf("%s: %s. %s: %s", name, s.Standard.Title, w.say("Applies to"),
		strings.TrimSuffix(s.Standard.Scope, "."))}
	if s.Verdict == standards.InPart {
		r.text += ". " + w.say("In part only") + ": " + strings.TrimSuffix(s.Text, ".")
	}
	r.text += "."
	declared := strings.Join(w.Configuration.Standards, "; ")
	r.answer = w.person("the maker does not declare it: ask")
	if strings.Contains(declared, s.Standard.ID) {
		r.answer = w.offered(w.say("declared by the maker: {list}", "list", declared))
	}
	return r
}

func (w *sheet) products(c *clauses) {
	part := func(s string) { c.add(requirement{level: 0, text: w.say(s)}) }
	article := func(s string) { c.add(requirement{level: 1, text: w.say(s)}) }
	para := func(answer func() answer, s string, pairs ...string) {
		c.add(requirement{level: 2, text: w.say(s, pairs...), answer: answer})
	}
	a, cfg, id := w.Assessment, w.Configuration, w.Assessment.Item.ID
	part("PRODUCTS")
	article("TYPE AND SIZE")
	para(w.offered(a.Item.Family.Title), "Type: {type}: {what} [or equal by the numbers of this section].", "type",
		lower(a.Item.Family.Title), "what", strings.TrimSuffix(lower(a.Item.Family.Summary), "."))
	para(w.offered(a.Item.Size.String()), "Size: {size}, for the pipe of {pipe}.", "size", a.Item.Size.String(), "pipe",
		w.Study.Station.Valve.Size.String())
	para(w.byFindings("", judge.OnPosition),
		"Position: {position}. A valve that the maker does not allow in this position is not acceptable.", "position", w.position())
	if p := a.Item.Passage; p.Known() && w.Study.Station.Fluid.Solids.Known() {
		para(w.byFindings("", judge.OnSolids), "Clear passage for a sphere of {d}.", "d",
			w.number("fluid.solids", w.Study.Station.Fluid.Solids))
	}
	article("DUTY")
	for _, d := range a.Duties {
		para(w.offered(w.say("{loss} at {opening} open", "loss", w.number("duty loss", d.Loss), "opening",
			w.number("duty opening", d.Opening)), d.Loss),
			"{point}: {flow} through one valve; head loss of the valve not above [{loss}].", "point", d.Name, "flow", w.number("duty flow", d.Flow), "loss", w.number("duty loss", d.Loss))
	}
	para(w.byFindings(w.say("full open from {v}", "v", w.number(id+" full_open_velocity", a.FullOpenVelocity)),
		judge.OnVelocity),
		"The valve shall be full open, or its element parked clear of the flow, at the normal velocity of {v} in its bore.", "v", w.number(id+" velocity", a.Governing.Velocity))
	if v := a.BackHead; v.Known() {
		para(w.byFindings("", judge.OnBackHead), "Drop-tight at back heads of {h} and above.", "h",
			w.number(id+" least_back_head", v))
	}
	article("SLAM")
	para(w.slamAnswer(), "At the worst stop ({event}; deceleration {rate} at flow reversal, without the valve) the reverse velocity shall not be above {limit}.",
		"event", w.Assessment.Slam.Event, "rate", w.number(id+" deceleration", a.Slam.Deceleration), "limit", "["+
			w.number("limit slam-quiet", w.Rules.Limit("slam-quiet").Value)+"]")
	article("RATING AND ENDS")
	called := w.Study.Station.Valve.Rating
	rated := cfg.Rating
	if called.Known() {
		rated = called
	}
	para(w.byFindings(w.number("configuration rating", cfg.Rating), judge.OnRating),
		"Pressure rating at least [{p}], at the greatest temperature of {t}.", "p", w.number("rating",
			rated), "t", w.number("fluid.max_temperature", w.Study.Station.Fluid.MaxTemperature))
	para(w.offered(w.ends()), "Ends: [{ends}].", "ends", w.ends())
	para(w.length(), "Face-to-face length: [{l}]{by}.", "l", w.number("configuration face-to-face", a.Item.FaceToFace),
		"by", by(w, a.Item.Family.LengthStandard))
	w.partsClauses(c)
	article("TESTS AT THE WORKS")
	para(w.offered(w.number("configuration shell test", cfg.ShellTest), cfg.ShellTest),
		"Shell test of every valve at {p} with water, no leak to be seen; duration by [the standard named for tests].", "p", w.number("configuration shell test", cfg.ShellTest))
	para(w.offered(w.number("configuration seat test", cfg.SeatTest), cfg.SeatTest),
		"Seat test of every valve at {p} from downstream; allowed leakage [none to be seen] [by the standard named for tests].", "p", w.number("configuration seat test", cfg.SeatTest))
	article("ACCESSORIES")
	para(w.byFindings(a.Item.Family.Indication, judge.OnIndication),
		"Provide position indication: [external lever] [limit switch] [none].")
	para(w.offered(strings.Join(cfg.Spares, ", ")), "Spares with every [5] valves: [{spares}].", "spares",
		strings.Join(cfg.Spares, ", "))
}

// by names a length standard; nothing where lengths are the maker's own.
func by(w *sheet, standard string) string {
	if standard == "" || standard == "own" {
		return ""
	}
	return ", " + w.say("by {s}", "s", standard)
}

func (w *sheet) length() func() answer {
	if w.Study.Station.Valve.LayingLength.Known() {
		return w.byFindings("", judge.OnLayingLength)
	}
	return w.offered(w.number("configuration face-to-face", w.Assessment.Item.FaceToFace), w.Assessment.Item.FaceToFace)
}

func (w *sheet) slamAnswer() func() answer {
	s := &w.Assessment.Slam
	return func() answer {
		limit := w.Rules.Limit("slam-quiet").Value
		text := w.say("computed {v}", "v", w.likely(w.Assessment.Item.ID+" reverse_velocity", s.ReverseVelocity, s))
		switch {
		case s.Class == "":
			return answer{ToSee, w.say("it could not be computed")}
		case !s.AtRest:
			return answer{Deviates, text + ": " + w.say("it does not come to rest")}
		case s.ReverseVelocity.Low > limit.SI:
			return answer{Deviates, text}
		case s.ReverseVelocity.High > limit.SI:
			return answer{ToSee, text + ": " + w.say("the limit lies within the interval")}
		}
		return answer{Complies, text}
	}
}

func (w *sheet) drinking() func() answer {
	return func() answer {
		if w.Configuration.DrinkingWater == "certified" {
			return answer{Complies, w.say("certified; certificate to be attached")}
		}
		return answer{Deviates, w.say("drinking water: {said}", "said", orNotTold(w, w.Configuration.DrinkingWater))}
	}
}

// partsClauses names the materials, each with what the bill has.
func (w *sheet) partsClauses(c *clauses) {
	c.add(requirement{level: 1, text: w.say("MATERIALS")})
	for _, p := range w.Configuration.Parts {
		what := joined(", ", p.Material.Material, p.Standard)
		if what == "" || p.Name == "ends" {
			continue
		}
		c.add(requirement{
			level: 2, text: sentence(w.say("{part}: [{what}]", "part", p.Name, "what", what)),
			answer: w.offered(what),
		})
	}
	var sources []string
	for _, a := range w.Advice {
		if a.Says == "must not" && len(a.Open) == 0 {
			c.add(requirement{level: 2, text: w.say("Not acceptable as {part}: {material}. {why}", "part", a.Part,
				"material", a.Material, "why", a.Text), answer: w.avoids(a.Material)})
			if s := basis.Cite(a.Source); !slices.Contains(sources, s) {
				sources = append(sources, s)
			}
		}
	}
	if len(sources) > 0 {
		c.note(w.say("What is not acceptable rests on: {list}.", "list", strings.Join(sources, "; ")))
	}
}

// avoids is true to the bill: the material is not in it.
func (w *sheet) avoids(material string) func() answer {
	return func() answer {
		for _, p := range w.Configuration.Parts {
			if strings.Contains(lower(p.Material.Material), lower(material)) {
				return answer{Deviates, w.say("{part} is {material}", "part", p.Name, "material", p.Material.Material)}
			}
		}
		return answer{Complies, w.say("not in the bill of materials")}
	}
}

func (w *sheet) execution(c *clauses) {
	part := func(s string) { c.add(requirement{level: 0, text: w.say(s)}) }
	article := func(s string) { c.add(requirement{level: 1, text: w.say(s)}) }
	para := func(answer func() answer, s string, pairs ...string) {
		c.add(requirement{level: 2, text: w.say(s, pairs...), answer: answer})
	}
	it := w.Assessment.Item
	part("EXECUTION")
	article("HANDLING")
	para(w.offered(w.number("configuration mass", w.Configuration.Mass), w.Configuration.Mass),
		"Lift by the maker's lifting points only; the valve weighs {m}. Never lift by lever, stem or seat.", "m", w.number("configuration mass", w.Configuration.Mass))
	article("INSTALLATION")
	para(w.byFindings("", judge.OnPosition),
		"Arrow in the direction of flow, {position}; cover up where it is horizontal.", "position", w.position())
	if v := it.Family.StraightBefore; v.Known() {
		para(w.byFindings("", judge.OnStraight), "Straight pipe before the valve: at least [{n}] diameters.", "n",
			w.quote("configuration straight", quantity.Number, v.SI))
	}
	para(w.byFindings("", judge.OnClearance),
		"Free height above the axis: at least [{h}], for cover and moving element.", "h", w.number("configuration clearance", it.Clearance))
	para(w.person("done on site"),
		"Support the pipe on both sides so that flanges carry no weight; bolts by the maker's order and torque.")
	article("FIELD TESTS")
	para(w.person("done on site"),
		"Stop each pump, and each combination of pumps, at full flow and by a simulated power failure, with pressure recorded on both sides of the valve; compare with the predicted numbers of the commissioning checklist.")
	para(w.person("done on site"),
		"Test the pipeline below the valve's own rating of {p}; relieve trapped pressure before a cover is loosened.", "p", w.number("configuration rating", w.Configuration.Rating))
	article("START-UP AND TRAINING")
	para(w.person("done on site"),
		"[One] visit of the maker at start-up; training of operators, hand-over of manuals and spares.")
}

// lower makes the first letter small, but for abbreviations.
func lower(s string) string {
	r := []rune(s)
	if len(r) < 2 || strings.ToUpper(string(r[1])) == string(r[1]) && strings.ToLower(string(r[1])) != string(r[1]) {
		return s
	}
	return strings.ToLower(string(r[:1])) + string(r[1:])
}
