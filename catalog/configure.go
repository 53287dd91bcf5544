package catalog

import (
	"fmt"
	"slices"
	"strings"

	"seatward/diag"
	"seatward/internal/condition"
	"seatward/internal/legal"
)

// How a choice came to stand.
const (
	Asked   = "asked"   // by the user
	Follows = "follows" // nothing else goes with the rest
	Usual   = "usual"   // the first that goes with the rest
	NotTold = "not given"
)

// Barred is a choice that does not go with those that were asked for, and why.
type Barred struct {
	Choice  string   `json:"choice"`
	With    []string `json:"with,omitempty"` // the choices in its way, as option=choice
	Because []Reason `json:"because"`
}

// OptionState is an option in a configuration.
type OptionState struct {
	Option *Option
	Choice *Choice // nil where not given
	How    string
	Left   []string // what it could be, with all that was asked for
	Barred []Barred
}

// Open is a rule that could not be held, for want of a circumstance.
type Open struct {
	Needs  []string
	Reason Reason
}

// Configuration is a legal choice of everything.
type Configuration struct {
	Family  *Family
	Item    *Item
	Options []OptionState
	Open    []Open
	Bill
}

// Pick is a choice of an option, by IDs.
type Pick struct{ Option, Choice string }

// String writes it as option=choice.
func (p Pick) String() string { return p.Option + "=" + p.Choice }

// BarredError says that picks do not go together, and which few of them.
type BarredError struct {
	With    []Pick
	Because []Reason
	Left    []string // choices of the option that was asked for last
}

// Error words it: not with these, because.
func (e *BarredError) Error() string {
	var with, because []string
	for _, p := range e.With {
		with = append(with, p.String())
	}
	for _, r := range e.Because {
		because = append(because, r.String())
	}
	what := "these cannot be had together"
	if len(with) == 1 {
		what = "this cannot be had"
	}
	text := fmt.Sprintf("%s: %s; %s", strings.Join(with, ", "), what, strings.Join(because, "; "))
	if len(e.Left) > 0 {
		text += "; left: " + strings.Join(e.Left, ", ")
	}
	return text
}

// UnknownError says that a word names no option, or no choice of one.
type UnknownError struct{ Word, Where, Near, Known string }

// Error names what there is.
func (e *UnknownError) Error() string {
	text := fmt.Sprintf("%q is no %s", e.Word, e.Where)
	if e.Near != "" {
		return fmt.Sprintf("%s; did you mean %s?", text, e.Near)
	}
	return text + "; there are: " + e.Known
}

// Named finds an option's choice by what a person writes: the ID, the title, or a part of
// one that fits no other. The errors are *UnknownError.
func (f *Family) Named(option, choice string) (Pick, error) {
	at := f.index(option)
	if at < 0 {
		var ids []string
		for _, o := range f.Options {
			ids = append(ids, o.ID)
		}
		return Pick{}, &UnknownError{option, "option of " + f.ID, diag.DidYouMean(option, ids), strings.Join(ids, ", ")}
	}
	o := &f.Options[at]
	want := slug(choice)
	if option == SizeOption {
		want = strings.ReplaceAll(canonical(f.ID+"/"+choice), f.ID+"/", "")
	}
	var parts []string
	for _, c := range o.Choices {
		if c.ID == choice || slug(c.ID) == want || slug(c.Title) == want {
			return Pick{option, c.ID}, nil
		}
		if option != SizeOption && want != "" &&
			(strings.Contains(slug(c.ID), want) || strings.Contains(slug(c.Title), want)) {
			parts = append(parts, c.ID)
		}
	}
	if len(parts) == 1 {
		return Pick{option, parts[0]}, nil
	}
	return Pick{}, &UnknownError{
		choice, "choice of " + option, diag.DidYouMean(choice, o.IDs()),
		strings.Join(o.IDs(), ", "),
	}
}

// NamedAll checks choices as Named does. The error is that of the first that is none.
func (f *Family) NamedAll(picks []Pick) ([]Pick, error) {
	var out []Pick
	for _, p := range picks {
		named, err := f.Named(p.Option, p.Choice)
		if err != nil {
			return nil, err
		}
		out = append(out, named)
	}
	return out, nil
}

// Picks are the wishes that the family knows, but for options that were picked already. A
// word that the family does not have is left out: its verdict says why it matters.
func (f *Family) Picks(own, wishes []Pick) []Pick {
	var out []Pick
	for _, w := range wishes {
		if w.Choice == "" || slices.ContainsFunc(own, func(p Pick) bool { return p.Option == w.Option }) {
			continue
		}
		if p, err := f.Named(w.Option, w.Choice); err == nil {
			out = append(out, p)
		}
	}
	return out
}

// Picks are the choices that the valve's ID makes: its size, and its variant where the family
// has some.
func (it *Item) Picks() []Pick { return picksOf(it.ID) }

// picksOf are the choices in an ID: family, size and variant, of which the last two may be
// left out.
func picksOf(id string) []Pick {
	var out []Pick
	parts := strings.SplitN(id, "/", 3)
	for i, option := range []string{SizeOption, VariantOption} {
		if len(parts) > i+1 {
			out = append(out, Pick{option, parts[i+1]})
		}
	}
	return out
}

// FindFamily looks up the family that an ID begins with, and the choices that the rest of it
// makes, as they were written. The error is that of Find.
func FindFamily(catalogs []*Catalog, id string) (*Family, []Pick, error) {
	name, _, _ := strings.Cut(id, "/")
	for _, c := range catalogs {
		for _, f := range c.Families {
			if f.ID == strings.ToLower(name) {
				return f, picksOf(id), nil
			}
		}
	}
	_, err := Find(catalogs, id)
	return nil, nil, err
}

// Configure completes the picks to a legal configuration: what follows from them is set,
// the rest is the usual choice that goes with them. The errors are *UnknownError for a
// pick that is none, *BarredError for picks that do not go together, and one for a rule
// that could not be worked out.
func (f *Family) Configure(picks []Pick, c Circumstances) (*Configuration, error) {
	p := f.problem(c)
	asked := p.unset()
	for _, pick := range picks {
		at := f.index(pick.Option)
		if at < 0 || f.Options[at].Choice(pick.Choice) == nil {
			return nil, &UnknownError{pick.String(), "choice of " + f.ID, "", "see the options of the family"}
		}
		asked[at] = slices.IndexFunc(f.Options[at].Choices, func(c Choice) bool { return c.ID == pick.Choice })
	}
	whole, ok := p.made.Complete(asked)
	if err := p.failed(); err != nil {
		return nil, err
	}
	if !ok {
		return nil, p.barred(asked, picks)
	}
	out := &Configuration{Family: f}
	left := p.made.Left(asked)
	for i := range f.Options {
		out.Options = append(out.Options, p.state(i, asked, whole, left[i]))
	}
	out.Item = f.itemOf(whole)
	out.Open = p.open(out)
	out.Bill = f.bill(out)
	return out, p.failed()
}

// state describes one option.
func (p *problem) state(option int, asked, whole []int, left []bool) OptionState {
	o := &p.f.Options[option]
	s := OptionState{Option: o, Choice: &o.Choices[whole[option]], How: Usual}
	if o.ID == ServiceOption && asked[option] == legal.Unset {
		// Nobody chose it: what the configuration as it stands may be used for is what counts.
		asked = slices.Clone(whole)
		asked[option] = legal.Unset
		left = p.made.Left(asked)[option]
		s.How, s.Choice = NotTold, nil
	}
	for c, yes := range left {
		if yes {
			s.Left = append(s.Left, o.Choices[c].ID)
			continue
		}
		try := slices.Clone(asked)
		try[option] = c
		variables, rules := p.made.Conflict(try)
		b := Barred{Choice: o.Choices[c].ID, Because: p.because(rules)}
		for _, v := range variables {
			if v != option {
				b.With = append(b.With, Pick{p.f.Options[v].ID, p.f.Options[v].Choices[asked[v]].ID}.String())
			}
		}
		s.Barred = append(s.Barred, b)
	}
	switch {
	case s.How == NotTold:
	case asked[option] != legal.Unset:
		s.How = Asked
	case len(s.Left) == 1:
		s.How = Follows
	}
	return s
}

// barred says why the picks cannot be had.
func (p *problem) barred(asked []int, picks []Pick) error {
	variables, rules := p.made.Conflict(asked)
	e := &BarredError{Because: p.because(rules)}
	for _, v := range variables {
		e.With = append(e.With, Pick{p.f.Options[v].ID, p.f.Options[v].Choices[asked[v]].ID})
	}
	if len(picks) == 0 {
		return e
	}
	last := p.f.index(picks[len(picks)-1].Option)
	without := slices.Clone(asked)
	without[last] = legal.Unset
	for c, yes := range p.made.Left(without)[last] {
		if yes {
			e.Left = append(e.Left, p.f.Options[last].Choices[c].ID)
		}
	}
	return e
}

// itemOf is the size and variant that the picks name.
func (f *Family) itemOf(whole []int) *Item {
	variant := ""
	if at := f.index(VariantOption); at >= 0 {
		variant = f.Options[at].Choices[whole[at]].ID
	}
	for _, it := range f.ofSize(f.choiceOf(SizeOption, whole[f.index(SizeOption)])) {
		if it.Variant == variant {
			return it
		}
	}
	return nil // no legal configuration is without one: a rule holds size and variant together
}

// open lists the rules that want a circumstance and that the choices alone do not meet.
func (p *problem) open(c *Configuration) []Open {
	known := map[string]any{"size": c.Item.Size.DN, "nps": c.Item.Size.NPS()}
	for _, s := range c.Options {
		if s.Choice != nil && s.Option.ID != SizeOption {
			known[s.Option.ID] = s.Choice.ID
		}
	}
	var out []Open
	for _, b := range p.ties {
		if len(b.open) == 0 {
			continue
		}
		if answer, err := b.rule.Require.Answer(known); err == nil && answer == condition.Open {
			out = append(out, Open{b.rule.Require.Missing(known), Reason{b.message, b.reason, b.source}})
		}
	}
	return out
}
