package document

import (
	"strings"

	"seatward/judge"
)

func writeFieldcard(w *sheet) {
	a, it, p := w.Assessment, w.Assessment.Item, w.Profile
	w.form("card", "").
		words("Tag", w.blank(p.Tag.Text)).
		words("Position", w.position()).
		words("Isolate at", w.say("pump side {pump}, header {header}", "pump", short(p.PumpSide.Text), "header",
			short(p.HeaderSide.Text))).
		words("Stored energy", w.energy()).
		words("Mass", w.masses()).
		words("Rating, flow", w.both("configuration rating", w.Configuration.Rating)+"; "+
			w.both(it.ID+" flow", a.Governing.Flow)).
		words("At a stop", w.expected()).
		words("Emergency", w.blank(p.Emergency.Text)).put()
	w.put(List{Numbered: true, Items: w.cardSteps()})
	w.put(w.square())
}

// cardSteps are the work in the fewest words.
func (w *sheet) cardSteps() []string {
	items := []string{
		w.say("Look and listen from outside first. Entry: permit, air test."),
		w.say("Isolate both sides; lock pump and valves; try to start."),
	}
	if w.moves().Lever {
		items = append(items, w.say("Block the lever."))
	}
	return append(items,
		w.say("Vent, drain, prove zero pressure on both sides. Then open."),
		w.say("Lifting: {list}.", "list", w.heavy()),
		w.say("New gasket, maker's torque. Fill slowly, vent, unlock."),
		w.say("Watch the first stop. Harder than above: isolate and call."),
	)
}

// energy is what is stored outside and inside the valve with the pump off.
func (w *sheet) energy() string {
	has := w.moves()
	switch {
	case has.Lever && has.Weight:
		return w.say("lever with weight outside; set at {line}", "line", short(""))
	case has.Lever && has.Spring:
		return w.say("lever with spring outside; set at {line}", "line", short(""))
	case has.Lever:
		return w.say("lever outside; set at {line}", "line", short(""))
	case has.Spring:
		return w.say("loaded spring inside; no lever")
	}
	return w.say("pressure only; no lever, no spring")
}

// masses are those of what may be lifted, in both unit systems.
func (w *sheet) masses() string {
	cfg := w.Configuration
	out := []string{w.say("valve {m}", "m", w.both("configuration mass", cfg.Mass))}
	if cfg.Cover.Known() {
		out = append(out, w.say("cover {m}", "m", w.both("configuration cover", cfg.Cover)))
	}
	return strings.Join(append(out, w.say(w.moves().Element)+" "+w.both("configuration element", cfg.Element)), "; ")
}

// short is a tag, or a short line to write on.
func short(tag string) string {
	if tag == "" {
		return "________"
	}
	return tag
}

// square opens the study where it has an address, and holds the key numbers where it has none.
func (w *sheet) square() Code {
	id, hash := w.Assessment.Item.ID, w.Study.Station.Hash
	name := hash[:min(12, len(hash))]
	rules := w.say("Maker's instructions and local rules come first.")
	if link := w.link(); link != "" {
		return Code{Text: link, Caption: w.say("Opens the study {hash}.", "hash", name) + " " + rules}
	}
	cfg := w.Configuration
	tag := w.Profile.Tag.Text
	text := joined("; ", tag, id,
		w.say("valve {m}", "m", w.both("configuration mass", cfg.Mass)),
		w.say("rating {p}", "p", w.both("configuration rating", cfg.Rating)),
		w.say("flow {q}", "q", w.both(id+" flow", w.Assessment.Governing.Flow)), "seatward:"+name)
	return Code{Text: text, Caption: w.say("Key numbers of the study {hash}.", "hash", name) + " " + rules}
}

// link is the address at which the study opens: that which was sent, or that of the profile.
func (w *sheet) link() string {
	if w.Link != "" {
		return w.Link
	}
	return w.Profile.StudyLink.Text
}

// expected is what a crew should hear at a stop.
func (w *sheet) expected() string {
	if w.Assessment.Verdict == judge.Unsuitable {
		return w.say("unsuitable valve: call the engineer")
	}
	switch class := w.Assessment.VerdictClass(); {
	case w.Assessment.Separation != "" && class != judge.Harmful:
		return w.say("bangs from the main are column separation: call the engineer")
	case class == judge.Quiet:
		return w.say("quiet; a bang is a fault")
	case class == judge.Audible:
		return w.say("a thud; harder than last time is a fault")
	case class == judge.Harmful:
		return w.say("slam: call the engineer")
	}
	return w.say("not computed")
}

// heavy says by what is lifted what one person may not lift alone.
func (w *sheet) heavy() string {
	best := w.Rules.Limit("one-person-mass").Value
	by := map[string][]string{}
	for _, l := range w.Lifts {
		switch {
		case l.Alone, l.Part == "cover" && !w.covered():
		case !l.Mass.Known():
			by["weigh first"] = append(by["weigh first"], w.say(l.Part))
		case l.Mass.High <= best.SI:
			by["two persons"] = append(by["two persons"], w.say(l.Part))
		default:
			by["hoist"] = append(by["hoist"], w.say(l.Part))
		}
	}
	var out []string
	for _, how := range []string{"hoist", "two persons", "weigh first"} {
		if len(by[how]) > 0 {
			out = append(out, w.say(how)+": "+strings.Join(by[how], ", "))
		}
	}
	if len(out) == 0 {
		return w.say("nothing is too heavy for one person")
	}
	return strings.Join(out, "; ")
}
