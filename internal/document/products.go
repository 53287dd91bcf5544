package document

import (
	"slices"
	"strings"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/clause"
	"seatward/judge"
	"seatward/quantity"
	"seatward/rules"
	"seatward/valve"
)

// products is PART 2: what any valve must do in this station.
func (w *sheet) products(c *clauses, l siteLimits) {
	p := part{w, c}
	p.title("PRODUCTS")
	p.article("MANUFACTURERS")
	p.para(nil,
		"[Manufacturer and model], [manufacturer and model], or equal.")
	p.para(nil, "A valve is equal where it meets every number of this section; another type is acceptable on the same terms.")
	w.performance(p, l)
	w.partsClauses(p)
	w.coatingClauses(p)
	w.connectionClauses(p, l)
	p.article("ACCESSORIES")
	p.para(nil,
		"Provide position indication: [external lever] [limit switch] [none].")
	p.para(w.person("quantities and prices with the offer"),
		"Spare parts for every [5] valves: [one set of moving parts, seals and cover gaskets].")
	w.sourceTests(p, l)
}

func (w *sheet) performance(p part, l siteLimits) {
	a, st, id := w.Assessment, w.Study.Station, w.Assessment.Item.ID
	p.article("PERFORMANCE")
	p.para(w.offered(a.Item.Family.Title), "Type: [{type}] or equal: {what}.", "type", lower(a.Item.Family.Title), "what",
		styleWords(w, a.Item.Family.Type.Traits.Style))
	p.para(w.sameSize(), "Nominal size: {size}.", "size", st.Valve.Size.String())
	p.para(w.byFindings("", judge.OnPosition), "Position: {position}.", "position", w.position())
	p.para(w.atLeast("configuration rating", w.Configuration.Rating, l.rating),
		"Pressure rating: not less than {p} at {t}.", "p", w.asked(quantity.Pressure, l.rating), "t",
		w.number("fluid.max_temperature", st.Fluid.MaxTemperature))
	if st.Fluid.Solids.Known() && st.Fluid.Solids.SI > 0 {
		p.para(w.byFindings("", judge.OnSolids), "Clear passage: a sphere of {d}.", "d",
			w.number("fluid.solids", st.Fluid.Solids))
	}
	if g := a.Governing; g.Flow.Known() {
		p.para(w.atMost("duty loss", g.Loss, l.loss), "Head loss: not more than [{h}] at {q} through one valve.", "h",
			w.asked(quantity.Head, l.loss), "q", w.number("duty flow", g.Flow))
		w.noteOn(p.c, "5 % of the pump's head at normal flow, rounded down: common practice, no source.")
		p.para(w.atMost(id+" full_open_velocity", a.FullOpenVelocity, l.fullOpen),
			"Full open, or parked clear of the flow: at a velocity of [{v}] and above.", "v",
			w.asked(quantity.Velocity, l.fullOpen))
		w.noteOn(p.c, "90 % of the normal velocity, rounded down: common practice, no source.")
	}
	if l.backHead > 0 {
		p.para(w.atMost(id+" least_back_head", a.BackHead, l.backHead),
			"Drop-tight: at a back head of [{h}] and above.", "h", w.asked(quantity.Head, l.backHead))
		w.noteOn(p.c, "half of the least static head on the valve, rounded down: common practice, no source.")
	}
	if l.deceleration > 0 {
		p.para(w.slamAgainst(l.reverse),
			"Slam: reverse velocity not more than [{v}] at a deceleration of [{d}] at flow reversal.", "v",
			w.asked(quantity.Velocity, l.reverse), "d", w.asked(quantity.Acceleration, l.deceleration))
		w.noteOn(p.c, "the deceleration is that of the worst stop of this station with 10 % on top; the limit is that of a quiet closing.")
	}
	if a.Separation != "" {
		p.para(nil, "Surge protection of the main is not part of this section: column separation is predicted whatever the valve.")
	}
}

func (w *sheet) noteOn(c *clauses, text string) { c.note(w.say(text)) }

// styleWords describe a type by how it works, not by a product.
func styleWords(w *sheet, s valve.Style) string {
	return w.say(map[valve.Style]string{
		valve.StyleBall:    "a loose ball that the flow lifts from its seat and moves aside",
		valve.StyleSwing:   "a disc on an arm that swings about a pin",
		valve.StyleFlap:    "a molded rubber flap on an inclined seat",
		valve.StyleTilting: "a disc that tilts about an axis behind its middle",
		valve.StyleDual:    "two half discs on a common pin, closed by springs",
		valve.StyleAxial:   "a disc on a stem in the axis of the pipe, closed by a spring",
		valve.StyleLift:    "a disc or plug in a guide, closed by its weight",
	}[s])
}

func (w *sheet) sameSize() func() answer {
	return func() answer {
		if it := w.Assessment.Item; it.Size != w.Study.Station.Valve.Size {
			return answer{status: Deviates, text: it.Size.String()}
		}
		return answer{status: Complies, text: w.Assessment.Item.Size.String()}
	}
}

// partsClauses names the materials, and what is not acceptable in this liquid for parts
// that this type has.
func (w *sheet) partsClauses(p part) {
	p.article("MATERIALS")
	for _, x := range w.Configuration.Parts {
		what := joined(", ", x.Material.Material, x.Standard)
		if what == "" || x.Name == "ends" || x.Name == "coating" {
			continue
		}
		said := w.offered(what)
		if bad := w.refused(&x); bad != nil {
			what, said = w.instead(x.Name), w.avoids(bad)
		}
		p.para(said, "{part}: [{what}] [or better].", "part", sentenceStart(x.Name), "what", what)
	}
	var sources []string
	for i := range w.Advice {
		a := &w.Advice[i]
		if a.Says != "must not" || len(a.Open) > 0 || !w.has(a.Part) {
			continue
		}
		p.para(w.avoids(a), "Not acceptable as {part}: {material}.", "part", a.Part, "material", a.Material)
		w.noteOn(p.c, a.Text)
		if s := basis.Cite(a.Source); !slices.Contains(sources, s) {
			sources = append(sources, s)
		}
	}
	if len(sources) > 0 {
		p.c.note(joined(" ", p.c.list[len(p.c.list)-1].note,
			w.say("What is not acceptable rests on: {list}.", "list", strings.Join(sources, "; "))))
	}
}

// has is true for parts that this type of valve has: a ball skin is of balls only.
func (w *sheet) has(part string) bool {
	return part != "ball skin" || w.Assessment.Item.Family.Type.Traits.Style == valve.StyleBall
}

// refused is the advice against the material of a part; nil for none.
func (w *sheet) refused(x *catalog.Part) *rules.Advice {
	for i := range w.Advice {
		a := &w.Advice[i]
		if a.Says == "must not" && len(a.Open) == 0 && a.Part == x.Name && sameMaterial(a.Material, x.Material.Material) {
			return a
		}
	}
	return nil
}

// instead is the material that the rules advise for a part; a blank to fill in for none.
func (w *sheet) instead(name string) string {
	for _, a := range w.Advice {
		if a.Says == "use" && a.Part == name && len(a.Open) == 0 {
			return a.Material
		}
	}
	return w.say("material")
}

// sameMaterial is true where both texts name a material that is known here.
func sameMaterial(a, b string) bool {
	return isOneOf(clause.Materials(a), clause.Materials(b))
}

// avoids says whether the bill has a material that is not acceptable: open where the
// catalog does not tell enough, as of "bare" steel.
func (w *sheet) avoids(a *rules.Advice) func() answer {
	return func() answer {
		for _, x := range w.Configuration.Parts {
			if a.Part != x.Name && !(a.Part == "ball skin" && x.Name == "elastomer") &&
				!(a.Part == "disc and seat" && (x.Name == "seat" || x.Name == "element")) {
				continue
			}
			if strings.EqualFold(a.Material, x.Material.Material) {
				return answer{status: Deviates, text: w.say("{part} is {material}", "part", x.Name, "material", x.Material.Material)}
			}
			if sameMaterial(a.Material, x.Material.Material) {
				return answer{status: ToSee, text: w.say("{part} is {material}: say whether it is of this kind", "part", x.Name, "material",
					joined(", ", x.Material.Material, x.Standard))}
			}
		}
		return answer{status: Complies, text: w.say("not in the bill of materials")}
	}
}

func (w *sheet) coatingClauses(p part) {
	for _, x := range w.Configuration.Parts {
		if x.Name != "coating" {
			continue
		}
		p.article("COATINGS")
		film, standard := "[8] mils", w.say("AWWA C550")
		if w.units() == quantity.SI {
			film, standard = "[250] µm", "EN 14901-1"
		}
		said := w.person("the catalog names {what}: say which surfaces it covers")
		p.para(func() answer {
			a := said()
			a.text = Fill(a.text, "what", joined(", ", x.Material.Material, x.Standard))
			return a
		}, "Iron surfaces, inside and outside: fusion-bonded epoxy to {standard}, dry film not less than {film}.",
			"standard", standard, "film", film)
		w.noteOn(p.c, "the film thickness is common practice, no source; the standard leaves it to the order.")
		p.para(w.person("a record goes with the valve"), "Holiday-test every coated valve; no holiday is acceptable.")
	}
}

func (w *sheet) connectionClauses(p part, l siteLimits) {
	it := w.Assessment.Item
	p.article("ENDS AND LENGTH")
	p.para(w.offered(w.ends()), "Ends: [{ends}] to match the piping.", "ends", strings.Join(w.endChoices(), "] ["))
	if l.layingLength > 0 {
		p.para(w.byFindings("", judge.OnLayingLength),
			"Face-to-face length: to fit a space of {l} between flanges; where the valve is shorter, supply the spool piece.", "l",
			w.quote("valve.laying_length", quantity.Diameter, l.layingLength))
	} else {
		p.para(w.offered(w.number("configuration face-to-face", it.FaceToFace), it.FaceToFace),
			"Face-to-face length: stated in the submittal{by}.", "by", by(w, it.Family.LengthStandard))
	}
	if l.clearance > 0 {
		p.para(w.byFindings("", judge.OnClearance), "Cover and element shall come out within {h} above the axis.", "h",
			w.quote("valve.clearance", quantity.Diameter, l.clearance))
	}
}

// endChoices are the ends offered and the others that the family has in the size, those of
// the paper's own units first.
func (w *sheet) endChoices() []string {
	out := []string{w.ends()}
	for _, e := range w.Assessment.Item.Family.Ends {
		if e.Covers(w.Assessment.Item.Size) && !slices.Contains(out, e.Standard) {
			out = append(out, e.Standard)
		}
	}
	slices.SortStableFunc(out, func(a, b string) int {
		first := func(s string) int {
			if strings.HasPrefix(s, "EN ") == (w.units() == quantity.SI) {
				return 0
			}
			return 1
		}
		return first(a) - first(b)
	})
	return out
}

// sourceTests ask for pressures that follow the rating asked for.
func (w *sheet) sourceTests(p part, l siteLimits) {
	cfg := w.Configuration
	p.article("SOURCE QUALITY CONTROL")
	p.para(w.person("standard, duration and allowable leakage are agreed with the order"),
		"Test every valve with water to [EN 12266-1] [the product standard of the type]; test duration and allowable leakage per that standard.")
	p.sub(w.atLeast("configuration shell test", cfg.ShellTest, l.shellTest),
		"Shell test: {f} times the rating asked for, {p}; no visible leakage.", "f", fraction(shellFactor), "p",
		w.asked(quantity.Pressure, l.shellTest))
	p.sub(w.atLeast("configuration seat test", cfg.SeatTest, l.seatTest),
		"Seat test from downstream: {f} times the rating asked for, {p}.", "f", fraction(seatFactor), "p",
		w.asked(quantity.Pressure, l.seatTest))
	p.sub(w.person("a record goes with the valve"), "Seat test at low pressure: [{h}].", "h",
		w.asked(quantity.Head, l.backHead))
	p.sub(w.person("a record goes with the valve"), "The element moves freely through its whole travel.")
	p.para(w.person("a record goes with the valve"),
		"Record serial number, pressures, durations and measured leakage of every valve.")
}

// slamAgainst answers by the reverse velocity of the worst stop.
func (w *sheet) slamAgainst(limit float64) func() answer {
	s := &w.Assessment.Slam
	return func() answer {
		if s.Class == "" {
			return answer{status: ToSee, text: w.say("it could not be computed")}
		}
		text := w.say("computed {v}", "v", w.likely(w.Assessment.Item.ID+" reverse_velocity", s.ReverseVelocity, s))
		switch {
		case !s.AtRest:
			return answer{status: Deviates, text: text + ": " + w.say("it does not come to rest")}
		case s.ReverseVelocity.Low > limit:
			return answer{status: Deviates, text: text}
		case s.ReverseVelocity.High > limit:
			return answer{status: ToSee, text: text + ": " + w.say("the limit lies within the interval")}
		}
		return answer{status: Complies, text: text}
	}
}
