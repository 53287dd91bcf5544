package catalog

import (
	"errors"
	"slices"
	"strings"

	"seatward/internal/condition"
	"seatward/internal/legal"
	"seatward/quantity"
	"seatward/valve"
)

// Circumstances are what a configuration must bear and nobody chooses.
type Circumstances struct {
	TemperatureK, PressurePa float64 // 0 where not given
}

// tie is a rule as the search asks it, with what is said when it is broken.
type tie struct {
	message, reason, source string
	rule                    *OptionRule // nil for those that follow from sizes and ratings
	open                    []string    // circumstances that it would need
}

// problem is the choices of a family with all that ties them.
type problem struct {
	f    *Family
	made *legal.Problem
	ties []tie
	err  error // of a condition that could not be worked out
}

// problem sets up the search. The circumstances that are given are built in.
func (f *Family) problem(c Circumstances) *problem {
	p := &problem{f: f}
	choices := make([]int, len(f.Options))
	for i, o := range f.Options {
		choices[i] = len(o.Choices)
	}
	var rules []legal.Rule
	add := func(b tie, allows func(pick []int) bool, options ...string) {
		r := legal.Rule{Allows: allows}
		for _, id := range options {
			at := f.index(id)
			if at < 0 {
				return
			}
			r.Scope = append(r.Scope, at)
		}
		rules, p.ties = append(rules, r), append(p.ties, b)
	}
	p.standing(c, add)
	for i := range f.Rules {
		p.written(&f.Rules[i], c, add)
	}
	p.made = legal.New(choices, rules)
	return p
}

// index is the place of an option; −1 where the family has none such.
func (f *Family) index(option string) int {
	return slices.IndexFunc(f.Options, func(o Option) bool { return o.ID == option })
}

// choiceOf is the ID of the choice that a pick of an option stands for.
func (f *Family) choiceOf(option string, pick int) string {
	return f.Options[f.index(option)].Choices[pick].ID
}

// standing adds what follows from sizes, ends and ratings.
func (p *problem) standing(c Circumstances, add func(b tie, allows func(pick []int) bool, options ...string)) {
	f := p.f
	source := f.Source()
	sized := func(pick int) []*Item { return f.ofSize(f.choiceOf(SizeOption, pick)) }
	add(tie{
		message: "these ends are not made in this size", reason: "the catalog lists them " + f.spans(),
		source: source,
	}, func(pick []int) bool {
		items := sized(pick[0])
		_, ok := f.end(f.choiceOf(EndsOption, pick[1]), items[0].Size)
		return ok
	}, SizeOption, EndsOption)
	add(tie{message: "this variant is not made in this size", reason: "the catalog has no data of it", source: source},
		func(pick []int) bool {
			return slices.ContainsFunc(sized(pick[0]),
				func(it *Item) bool { return it.Variant == f.choiceOf(VariantOption, pick[1]) })
		}, SizeOption, VariantOption)
	add(tie{message: "this variant is not for this position", reason: "the maker allows others", source: source},
		func(pick []int) bool {
			variant, position := f.choiceOf(VariantOption, pick[0]), f.choiceOf(PositionOption, pick[1])
			return slices.ContainsFunc(f.Items, func(it *Item) bool {
				return it.Variant == variant && slices.ContainsFunc(it.Positions,
					func(p valve.Position) bool { return p.String() == position })
			})
		}, VariantOption, PositionOption)
	if c.PressurePa <= 0 {
		return
	}
	asked := quantity.SI.Format(quantity.Pressure, c.PressurePa)
	add(tie{message: "this size is not rated for " + asked, reason: "its rating is lower", source: source},
		func(pick []int) bool {
			return !(sized(pick[0])[0].Rating.SI < c.PressurePa)
		}, SizeOption)
	add(tie{
		message: "these ends are not rated for " + asked, reason: "their rating in this size is lower",
		source: source,
	}, func(pick []int) bool {
		e, ok := f.end(f.choiceOf(EndsOption, pick[1]), sized(pick[0])[0].Size)
		return !ok || !e.Rating.Known() || e.Rating.SI >= c.PressurePa
	}, SizeOption, EndsOption)
	for _, o := range f.Options {
		if slices.ContainsFunc(o.Choices, func(c Choice) bool { return c.Rating.Known() }) {
			add(tie{message: "this choice is not rated for " + asked, reason: "its rating is lower", source: source},
				func(pick []int) bool {
					return !o.Choices[pick[0]].Rating.Known() || o.Choices[pick[0]].Rating.SI >= c.PressurePa
				}, o.ID)
		}
	}
}

// written adds a rule of the catalog.
func (p *problem) written(
	rule *OptionRule, c Circumstances, add func(b tie, allows func(pick []int) bool, options ...string),
) {
	known := map[string]any{}
	if c.TemperatureK > 0 {
		known["temperature"] = c.TemperatureK - 273.15
	}
	if c.PressurePa > 0 {
		known["pressure"] = c.PressurePa / 1e5
	}
	b := tie{message: rule.Message, reason: rule.Reason, source: rule.Source, rule: rule}
	var scope []string
	for _, name := range rule.Require.Names {
		if name == "nps" {
			name = SizeOption
		}
		switch {
		case p.f.index(name) >= 0:
			if !slices.Contains(scope, name) {
				scope = append(scope, name)
			}
		case known[name] == nil:
			b.open = append(b.open, name)
		}
	}
	facts := p.facts(scope)
	add(b, func(pick []int) bool {
		for i, option := range scope {
			f := &facts[i][pick[i]]
			if option == SizeOption {
				known["size"], known["nps"] = f.dn, f.nps
			} else {
				known[option] = f.word
			}
		}
		answer, err := rule.Require.Answer(known)
		if err != nil && p.err == nil {
			p.err = err
		}
		return answer != condition.No
	}, scope...)
}

// fact is what a choice tells a condition, boxed once.
type fact struct{ word, dn, nps any }

// facts are those of the choices of the options.
func (p *problem) facts(options []string) [][]fact {
	out := make([][]fact, len(options))
	for i, id := range options {
		for _, c := range p.f.Options[p.f.index(id)].Choices {
			f := fact{word: c.ID}
			if id == SizeOption {
				size := p.f.ofSize(c.ID)[0].Size
				f.dn, f.nps = size.DN, size.NPS()
			}
			out[i] = append(out[i], f)
		}
	}
	return out
}

// ofSize lists the items of a size.
func (f *Family) ofSize(id string) []*Item { return f.bySize[id] }

// end finds the ends of an ID in the size.
func (f *Family) end(id string, size quantity.Size) (End, bool) {
	for _, e := range f.Ends {
		if e.ID == id && e.Covers(size) {
			return e, true
		}
	}
	return End{}, false
}

// spans tells in which sizes which ends are made.
func (f *Family) spans() string {
	var parts []string
	for _, e := range f.Ends {
		text := e.Standard
		if e.Least.DN > 0 {
			text += " from " + e.Least.Format(quantity.US)
		}
		if e.Most.DN > 0 {
			text += " to " + e.Most.Format(quantity.US)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// unset is a pick of nothing at all.
func (p *problem) unset() []int { return slices.Repeat([]int{legal.Unset}, len(p.f.Options)) }

// because words the rules of a conflict, each once.
func (p *problem) because(rules []int) []Reason {
	var out []Reason
	for _, r := range rules {
		b := p.ties[r]
		made := Reason{Message: b.message, Reason: b.reason, Source: b.source}
		if !slices.Contains(out, made) {
			out = append(out, made)
		}
	}
	return out
}

// Reason is why choices do not go together.
type Reason struct {
	Message string `json:"message"`
	Reason  string `json:"reason"`
	Source  string `json:"source"`
}

// String words it: message, because reason.
func (r Reason) String() string { return r.Message + ", because " + r.Reason }

var errUndecided = errors.New("catalog: a rule could not be worked out")

// failed is the error of a condition that failed in the search.
func (p *problem) failed() error {
	if p.err == nil {
		return nil
	}
	return errors.Join(errUndecided, p.err)
}
