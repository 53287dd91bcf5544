package document

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/dimension"
	"seatward/internal/clause"
	"seatward/quantity"
	"seatward/valve"
)

// demandAnswer holds one demand of a specification against what is offered.
func (w *sheet) demandAnswer(d *clause.Demand) answer {
	it, cfg, a := w.Assessment.Item, w.Configuration, w.Assessment
	switch d.Subject {
	case clause.Rating:
		return w.byNumber(d, "configuration rating", cfg.Rating, 0)
	case clause.FlowCoefficient:
		return w.byNumber(d, "configuration flow coefficient", it.FlowCoefficient, 0)
	case clause.Size:
		return w.bySize(d)
	case clause.Length:
		return w.byNumber(d, "configuration face-to-face", it.FaceToFace, 0.0006)
	case clause.Passage:
		return w.byNumber(d, "configuration passage", it.Passage, 0)
	case clause.ShellTest:
		return w.byTest(d, "configuration shell test", cfg.ShellTest)
	case clause.SeatTest:
		return w.byTest(d, "configuration seat test", cfg.SeatTest)
	case clause.BackHead:
		return w.byNumber(d, it.ID+" least_back_head", a.BackHead, 0)
	case clause.HeadLoss:
		return w.byLoss(d)
	case clause.ReverseVelocity, clause.NoSlam:
		return w.bySlam(d)
	case clause.Film:
		return w.byFilm(d)
	case clause.Pressure:
		return answer{status: ToSee, text: w.say("{asked}: the text does not say of what; rating {r}, shell test {s}, seat test {t}", "asked",
			d.Text, "r", w.number("configuration rating", cfg.Rating), "s", w.number("configuration shell test", cfg.ShellTest),
			"t", w.number("configuration seat test", cfg.SeatTest))}
	case clause.Dimension:
		return answer{status: ToSee, text: w.say("{asked}: the text does not say of what; size {s}, face-to-face length {l}", "asked",
			d.Text, "s", it.Size.String(), "l", w.number("configuration face-to-face", it.FaceToFace))}
	}
	return w.byWords(d)
}

// askedWords print a demand: "at least 150 psi".
func (w *sheet) askedWords(d *clause.Demand) string {
	before := [...]string{"", "at least", "at most", "no"}[d.Relation]
	if d.Subject == clause.FlowCoefficient || before == "" {
		before = ""
	} else {
		before = w.say(before) + " "
	}
	text := before + d.Text
	if d.SI > 0 && d.Kind != quantity.Roughness && !strings.Contains(d.Text, w.units().Unit(d.Kind)) {
		text += " (" + w.units().Format(d.Kind, d.SI) + ")"
	}
	return text
}

// byNumber compares a number: a difference up to slack is equal, in SI.
func (w *sheet) byNumber(d *clause.Demand, path string, v basis.Value, slack float64) answer {
	if !v.Known() {
		return answer{status: ToSee, text: w.say("{subject}: {asked} asked; the catalog does not tell it", "subject",
			w.say(string(d.Subject)), "asked", w.askedWords(d))}
	}
	holds := false
	rounding := 0.001 * d.SI // of one unit into another
	switch d.Relation {
	case clause.AtLeast:
		holds = v.SI >= d.SI-max(slack, rounding)
	case clause.AtMost:
		holds = v.SI <= d.SI+max(slack, rounding)
	case clause.Exactly:
		holds = math.Abs(v.SI-d.SI) <= max(slack, rounding)
	}
	return w.held(d, holds, w.number(path, v))
}

func (w *sheet) held(d *clause.Demand, holds bool, offered string) answer {
	status := Deviates
	if holds {
		status = Complies
	}
	return answer{status: status, text: w.say("{subject}: {asked} asked, {offered} offered", "subject", w.say(string(d.Subject)), "asked",
		w.askedWords(d), "offered", offered)}
}

func (w *sheet) bySize(d *clause.Demand) answer {
	s := w.Assessment.Item.Size
	inch, metric := s.NominalM(), float64(s.DN)*1e-3
	holds := false
	switch d.Relation {
	case clause.AtLeast:
		holds = max(inch, metric) >= d.SI-0.0005
	case clause.AtMost:
		holds = min(inch, metric) <= d.SI+0.0005
	default:
		holds = math.Abs(inch-d.SI) < 0.0005 || math.Abs(metric-d.SI) < 0.0005
	}
	d.Kind = quantity.Diameter
	return w.held(&clause.Demand{Subject: d.Subject, Relation: d.Relation, Text: d.Text}, holds, s.String())
}

// byTest compares a test pressure, or its factor on the rating.
func (w *sheet) byTest(d *clause.Demand, path string, v basis.Value) answer {
	if d.Times == 0 || !v.Known() {
		return w.byNumber(d, path, v, 0)
	}
	rating := w.Configuration.Rating
	return w.held(&clause.Demand{Subject: d.Subject, Text: d.Text}, v.SI >= 0.999*d.Times*rating.SI,
		w.say("{p} at a rating of {r}", "p", w.number(path, v), "r", w.number("configuration rating", rating)))
}

// byLoss compares the head loss at the flow that the text names; else at every duty point.
func (w *sheet) byLoss(d *clause.Demand) answer {
	if d.FlowSI > 0 {
		if w.Valve == nil || w.Valve.Mechanism == nil || !w.Assessment.Item.Bore.Known() {
			return answer{status: ToSee, text: w.say("head loss: {asked} asked; it could not be computed here", "asked", w.askedWords(d))}
		}
		bore := w.Assessment.Item.Bore.SI
		loss := w.Valve.Mechanism.Settle(d.FlowSI / (math.Pi / 4 * bore * bore)).HeadM
		return w.held(d, loss <= d.SI*1.001, w.say("{h} at {q} computed and", "h", w.units().Format(quantity.Head, loss),
			"q", w.units().Format(quantity.Flow, d.FlowSI)))
	}
	worst := w.Assessment.Governing
	for _, p := range w.Assessment.Duties {
		if p.Loss.Known() && p.Loss.SI > worst.Loss.SI {
			worst = p
		}
	}
	if !worst.Loss.Known() {
		return answer{status: ToSee, text: w.say("head loss: {asked} asked; it could not be computed here", "asked", w.askedWords(d))}
	}
	return w.held(d, worst.Loss.SI <= d.SI*1.001, w.say("{h} at {q} computed and", "h",
		w.number("duty loss", worst.Loss), "q", w.number("duty flow", worst.Flow)))
}

func (w *sheet) bySlam(d *clause.Demand) answer {
	limit := d.SI
	if limit == 0 {
		limit = w.Rules.Limit("slam-quiet").Value.SI
	}
	a := w.slamAgainst(limit)()
	a.text = w.say("reverse velocity: at most {v} asked; {said}", "v", w.asked(quantity.Velocity, limit), "said", a.text)
	if d.Subject == clause.NoSlam && a.status == Complies {
		a.text = w.say("slam: {said}, below the limit of a quiet closing, {v}", "said",
			w.slamAgainst(limit)().text, "v", w.asked(quantity.Velocity, limit))
	}
	return a
}

// byFilm compares the thickness that the coating's own name has.
func (w *sheet) byFilm(d *clause.Demand) answer {
	for _, p := range w.Configuration.Parts {
		if p.Name != "coating" {
			continue
		}
		for _, have := range clause.Find(p.Material.Material, "coating", nil).Demands {
			if have.Subject == clause.Film {
				return w.held(d, have.SI >= d.SI*0.999, p.Material.Material)
			}
		}
		return answer{status: ToSee, text: w.say("coating thickness: {asked} asked; {offered} offered, its thickness is not given", "asked",
			w.askedWords(d), "offered", p.Material.Material)}
	}
	return answer{status: ToSee, text: w.say("the catalog does not tell the coating: ask the maker")}
}

// byWords answers a demand in words.
func (w *sheet) byWords(d *clause.Demand) answer {
	it := w.Assessment.Item
	traits := &it.Family.Type.Traits
	shape := it.Family.Type.Figure(it.Params)
	switch d.Subject {
	case clause.Type:
		return w.meets(d, slices.Contains(d.Words, string(traits.Style)), it.Family.Title)
	case clause.Ends:
		return w.byEnds(d)
	case clause.Material:
		return w.byMaterial(d)
	case clause.Coating:
		return w.byCoating(d)
	case clause.Position:
		return w.meets(d, w.allows(d.Words[0]), valve.PositionWords(it.Positions, ", "))
	case clause.FullBore:
		return w.meets(d, it.Family.FullBore, w.say("bore {b}", "b", w.number("configuration bore", it.Bore)))
	case clause.Option:
		has, known := map[string]bool{
			"limit switch":       it.Family.Indication == "limit switch",
			"position indicator": it.Family.Indication != "" && it.Family.Indication != "none",
			"external lever":     shape.Lever || it.Family.Indication == "external lever",
			"lever and weight":   shape.Lever && shape.Weight, "lever and spring": shape.Lever && shape.Spring,
			"cushion": shape.Cushion,
		}[d.Words[0]]
		if known && !has && w.optional(d.Words[0]) != "" {
			return answer{status: Deviates, text: w.say("{asked} asked; not in this configuration, but can be had: {how}", "asked", d.Text, "how",
				w.optional(d.Words[0]))}
		}
		if !known {
			return answer{status: ToSee, text: w.say("{asked}: the catalog does not tell it", "asked", d.Text)}
		}
		return w.meets(d, has, w.indication())
	}
	return w.byDocument(d)
}

func (w *sheet) indication() string {
	if i := w.Assessment.Item.Family.Indication; i != "" && i != "none" {
		return w.Assessment.Item.Family.Title + ", " + i
	}
	return w.Assessment.Item.Family.Title
}

// meets answers a demand that is met or not; forbidden words the other way.
func (w *sheet) meets(d *clause.Demand, has bool, offered string) answer {
	if d.Relation == clause.Never {
		has = !has
	}
	return w.held(d, has, offered)
}

func (w *sheet) allows(position string) bool {
	it := w.Assessment.Item
	switch position {
	case "horizontal":
		return it.Allows(valve.Horizontal)
	case "vertical, flow up":
		return it.Allows(valve.FlowUp)
	}
	return it.Allows(valve.FlowUp) || it.Allows(valve.FlowDown)
}

// optional names a choice of the family that has what was asked for; "" for none.
func (w *sheet) optional(word string) string {
	for _, o := range w.Assessment.Item.Family.Options {
		for i := range o.Choices {
			c := &o.Choices[i]
			said := strings.ToLower(joined(" ", c.Title, c.Material.Material, c.Material.Standard))
			if strings.Contains(said, strings.ToLower(word)) {
				return o.Title + ": " + c.Title
			}
		}
	}
	return ""
}

var pn = regexp.MustCompile(`PN\s?(\d+)(?:/(\d+))?`)

// endsHave is true for ends that are of the class, PN or kind.
func endsHave(ends, word string) bool {
	if number, is := strings.CutPrefix(word, "PN"); is {
		for _, m := range pn.FindAllStringSubmatch(ends, -1) {
			if slices.Contains(m[1:], number) {
				return true
			}
		}
		return false
	}
	if number, is := strings.CutPrefix(word, "Class "); is {
		return regexp.MustCompile(`(?i)\bclass ` + number + `\b`).MatchString(ends)
	}
	low := strings.ToLower(ends)
	return strings.Contains(low, word) || word == "thread" && strings.Contains(low, "npt")
}

func (w *sheet) byEnds(d *clause.Demand) answer {
	ends := w.ends()
	if d.Relation == clause.Never || endsHave(ends, d.Words[0]) {
		return w.meets(d, endsHave(ends, d.Words[0]), ends)
	}
	a := w.meets(d, false, ends)
	other := w.otherEnds(func(e string) bool { return endsHave(e, d.Words[0]) })
	a.text = joined("; ", a.text, other, w.drilling(d.Words[0]))
	return a
}

// otherEnds names ends of the family in this size that would do.
func (w *sheet) otherEnds(do func(string) bool) string {
	for _, e := range w.Assessment.Item.Family.Ends {
		if e.Covers(w.Assessment.Item.Size) && do(e.Standard) {
			return w.say("can be had with {ends}", "ends", e.Standard)
		}
	}
	return ""
}

// drilling says how the offered flange goes with one of the class asked for.
func (w *sheet) drilling(asked string) string {
	ours, found := dimension.FlangeOf(w.ends(), w.Assessment.Item.Size)
	if !found {
		return ""
	}
	for _, name := range []string{"ASME B16.1 ", "ASME B16.42 ", "EN 1092-2 "} {
		if f, known := dimension.FlangeOf(name+asked, w.Assessment.Item.Size); known {
			how, what := dimension.Compare(f, ours)
			if how == dimension.Mates {
				return w.say("it has the drilling of {other}", "other", name+asked)
			}
			return w.say("against {other}: {what}", "other", name+asked, "what", what)
		}
	}
	return ""
}

// byMaterial compares the material of a part with that of the bill.
func (w *sheet) byMaterial(d *clause.Demand) answer {
	for _, p := range w.Configuration.Parts {
		if p.Name != d.Part {
			continue
		}
		have := clause.Materials(joined(", ", p.Material.Material, p.Standard))
		offered := w.say("{part} {what}", "part", p.Name, "what", joined(", ", p.Material.Material, p.Standard))
		if len(have) == 0 {
			return answer{status: ToSee, text: w.say("{part}: {asked} asked, {offered} offered: compare", "part", d.Part, "asked", d.Text, "offered",
				offered)}
		}
		meets := isOneOf(d.Words, have)
		a := w.meets(d, meets, offered)
		if a.status == Deviates && d.Relation != clause.Never {
			a.text = joined("; ", a.text, w.otherMaterial(d))
		}
		return a
	}
	if d.Relation == clause.Never {
		return answer{status: ToSee, text: w.say("{part}: {asked} not wanted; the catalog does not name the part", "part", d.Part, "asked", d.Text)}
	}
	return answer{status: ToSee, text: w.say("{part}: {asked} asked; the catalog does not name the part", "part", d.Part, "asked", d.Text)}
}

// isOneOf is true where a material offered is one of those asked for. A grade is of its
// kind: stainless steel 316 is stainless steel.
func isOneOf(asked, have []string) bool {
	return slices.ContainsFunc(asked, func(want string) bool {
		return slices.ContainsFunc(have, func(h string) bool { return h == want || strings.HasPrefix(h, want+" ") })
	})
}

func (w *sheet) otherMaterial(d *clause.Demand) string {
	for _, o := range w.Assessment.Item.Family.Options {
		if o.Part != d.Part && o.ID != d.Part {
			continue
		}
		for i := range o.Choices {
			have := clause.Materials(o.Choices[i].Title)
			if isOneOf(d.Words, have) {
				return w.say("can be had: {how}", "how", o.Title+": "+o.Choices[i].Title)
			}
		}
	}
	return ""
}

func (w *sheet) byCoating(d *clause.Demand) answer {
	for _, p := range w.Configuration.Parts {
		if p.Name == "coating" {
			have := clause.Coatings(p.Material.Material)
			meets := slices.ContainsFunc(d.Words, func(want string) bool {
				return slices.Contains(have, want) || want == "epoxy" && strings.Contains(strings.Join(have, " "), "epoxy")
			})
			return w.meets(d, meets, p.Material.Material)
		}
	}
	return answer{status: ToSee, text: w.say("the catalog does not tell the coating: ask the maker")}
}

// byDocument says where a paper stands in this submittal. What the maker has to give is open.
func (w *sheet) byDocument(d *clause.Demand) answer {
	where := map[string]string{"data sheet": "Data sheet", "bill of materials": "Materials"}
	if w.Loss != nil {
		where["head-loss curve"] = "Curves"
	}
	if len(w.Configuration.Spares) > 0 {
		where["spare parts list"] = "Spares"
	}
	if at := where[d.Words[0]]; at != "" && d.Subject == clause.Document {
		return answer{status: Complies, text: w.say("{what}: in this submittal, under {where}", "what", d.Text, "where", w.say(at))}
	}
	said := map[string]string{
		"closing curve":             "a computed one is in this submittal; a measured one is the maker's",
		"test procedure":            "the steps are in; standard, duration and allowable leakage are blanks",
		"installation instructions": "a sheet is in; the maker's instructions are to be attached",
		"maintenance manual":        "a sheet is in; the maker's manual is to be attached",
		"drawings":                  "a sketch from catalog data is in; the maker's drawing is to be attached",
		"warranty":                  "a blank: the maker states it",
	}[d.Words[0]]
	if said == "" {
		said = "to be attached"
	}
	return answer{status: ToSee, text: d.Text + ": " + w.say(said)}
}
