package document

import (
	"strings"

	"seatward/basis"
	"seatward/dimension"
	"seatward/standards"
)

// standardAnswer answers a standard that a specification asks for. It complies only where
// the maker declares it, or the part that it is of has it.
func (w *sheet) standardAnswer(m *standards.Mention, forbids bool) answer {
	if m.Said == nil {
		return answer{status: ToSee, text: w.say("{id}: not known here; ask the maker whether it is met", "id", m.Found)}
	}
	s := m.Said.Standard
	held := s.NamedIn(w.declared(s.About)...)
	switch {
	case forbids && held == "":
		return answer{status: Complies, text: w.say("{id}: not used", "id", s.ID)}
	case forbids:
		return answer{status: Deviates, text: w.say("{id}: not wanted, but used: {held}", "id", s.ID, "held", held)}
	case s.Withdrawn != "":
		return answer{status: ToSee, text: w.say("{id}: withdrawn, {other} took its place; agree which is meant", "id", s.ID, "other",
			s.Withdrawn)}
	case s.About == "flange" && held == "":
		return w.otherFlange(s)
	case s.About == "material" && held == "":
		return answer{status: Deviates, text: w.say("{id}: the parts offered are of {list}", "id", s.ID, "list",
			strings.Join(w.materialStandards(), ", "))}
	case s.About == "installation":
		return answer{status: ToSee, text: w.say("{id}: for whoever installs the valve", "id", s.ID)}
	case s.About == "drinking water":
		a := w.drinking()()
		a.text = s.ID + ": " + a.text
		return a
	case held == "" && m.Said.Verdict == standards.DoesNot:
		return answer{status: Deviates, text: w.say("{id} does not cover this valve. Its scope: {scope}", "id", s.ID, "scope", lower(s.Scope))}
	case held == "":
		return answer{status: ToSee, text: w.say("{id}: the maker does not declare it; ask", "id", s.ID)}
	}
	if short := w.shortOf(s); short != "" {
		return answer{status: Deviates, text: short}
	}
	if m.Year != "" && !strings.Contains(held, m.Year) {
		return answer{status: ToSee, text: w.say("{id}: {held}; edition {year} is asked, and the maker names none", "id", s.ID, "held", held,
			"year", m.Year)}
	}
	return answer{status: Complies, text: w.say("{id}: {held}", "id", s.ID, "held", held)}
}

// declared are the texts in which a standard of a kind may be declared.
func (w *sheet) declared(about string) []string {
	out := w.Configuration.Standards
	switch about {
	case "flange", "thread":
		out = append([]string{w.ends()}, out...)
	case "length":
		out = append([]string{w.Assessment.Item.Family.LengthStandard}, out...)
	case "material", "coating":
		out = append(w.materialStandards(), out...)
	}
	return out
}

func (w *sheet) materialStandards() []string {
	var out []string
	for _, p := range w.Configuration.Parts {
		if p.Name != "ends" && p.Standard != "" {
			out = append(out, p.Name+" "+p.Standard)
		}
	}
	return out
}

// otherFlange answers a flange standard that the ends offered are not of.
func (w *sheet) otherFlange(s *standards.Standard) answer {
	text := w.say("{id} asked, {ends} offered", "id", s.ID, "ends", w.ends())
	choice := w.otherEnds(func(e string) bool { return s.NamedIn(e) != "" })
	ours, found := dimension.FlangeOf(w.ends(), w.Assessment.Item.Size)
	fits := ""
	for _, class := range []string{" Class 125", " Class 150", " PN10", " PN16"} {
		if f, known := dimension.FlangeOf(s.ID+class, w.Assessment.Item.Size); known && found && fits == "" {
			if how, _ := dimension.Compare(f, ours); how == dimension.Mates {
				fits = w.say("the drilling is that of {other}", "other", s.ID+class)
			}
		}
	}
	return answer{status: Deviates, text: joined("; ", text, fits, choice)}
}

// shortOf says where the tests offered fall short of those of a standard that the maker
// declares; "" where they do not.
func (w *sheet) shortOf(s *standards.Standard) string {
	cfg := w.Configuration
	for _, x := range []struct {
		name, path string
		factor     float64
		v          basis.Value
	}{
		{"shell test", "configuration shell test", s.ShellTest, cfg.ShellTest},
		{"seat test", "configuration seat test", s.SeatTest, cfg.SeatTest},
	} {
		if x.factor > 0 && x.v.Known() && cfg.Rating.Known() && x.v.SI < 0.999*x.factor*cfg.Rating.SI {
			return w.say("{id}: its {test} is {f} times the rating; {p} at a rating of {r} is offered", "id", s.ID, "test",
				w.say(x.name), "f", fraction(x.factor), "p", w.number(x.path, x.v), "r",
				w.number("configuration rating", cfg.Rating))
		}
	}
	return ""
}
