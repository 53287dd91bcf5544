package rules

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/condition"
	"seatward/quantity"
)

// Facts are what the rules of a pack may speak of: a station with one valve in it.
var Facts = []condition.Fact{
	{
		Name: "service", Kind: condition.Text,
		Doc: "what is pumped: raw sewage, sludge, effluent, raw water, drinking water",
	},
	{Name: "sewage", Kind: condition.YesNo, Doc: "raw sewage or sludge"},
	{Name: "valve_type", Kind: condition.Text, Doc: "key of the valve type"},
	{
		Name: "style", Kind: condition.Text,
		Doc: "style of the valve: ball, swing, flap, tilting disc, dual plate, axial, lift",
	},
	{Name: "ball", Kind: condition.YesNo, Doc: "the valve is a ball check"},
	{Name: "swing", Kind: condition.YesNo, Doc: "the valve is a swing check, with or without lever or cushion"},
	{Name: "position", Kind: condition.Text, Doc: "horizontal, flow up, flow down"},
	{
		Name: "place", Kind: condition.Text,
		Doc: "where the valve stands: dry pit, valve vault, above ground, wet well, pump house",
	},
	{Name: "size", Kind: condition.Whole, Doc: "nominal size DN of the valve"},
	{Name: "passage", Kind: condition.Number, Doc: "largest sphere that passes the valve, mm"},
	{Name: "valve_velocity", Kind: condition.Number, Doc: "normal velocity in the valve, m/s"},
	{
		Name: "main_velocity", Kind: condition.Number,
		Doc: "velocity in the force main with as many pumps as run together, m/s",
	},
	{Name: "main_size", Kind: condition.Whole, Doc: "nominal size DN of the force main, where it begins"},
	{Name: "pumps", Kind: condition.Whole, Doc: "pumps, standby included"},
	{Name: "variable_speed", Kind: condition.YesNo, Doc: "a pump runs at variable speed"},
	{Name: "pump_flow", Kind: condition.Number, Doc: "flow of one pump, L/s"},
	{Name: "straight_before", Kind: condition.Number, Doc: "straight pipe before the valve, diameters"},
	{Name: "straight_after", Kind: condition.Number, Doc: "straight pipe after the valve, diameters"},
}

var packLanguage = func() *condition.Language {
	l, err := condition.NewLanguage(Facts)
	if err != nil {
		panic("rules: " + err.Error())
	}
	return l
}()

// Pack is the rules of a place, an owner or a body that publishes guides.
type Pack struct {
	ID, Title, Citation, Edition, Read string // Read is the day on which the text was read; "" for one from memory
	Rules                              []PackRule
}

// PackRule is one rule of a pack.
type PackRule struct {
	ID, Topic, Clause, Text, Status string
	When, Require                   *condition.Condition // nil: always; not held, and said to be unchecked
	Severity                        Severity
	Value                           basis.Value // the number of the rule; unknown where it has none
	Bound                           string      // least or most
}

// Where cites the rule: the citation, the clause, the edition and the day.
func (p *Pack) Where(r *PackRule) string {
	text := p.Citation
	if r.Clause != "" {
		text += " " + r.Clause
	}
	if p.Edition != "" {
		text += ", " + p.Edition
	}
	text += " (" + r.Status
	if p.Read != "" {
		text += ", read " + p.Read
	}
	return text + "; check the current text)"
}

// pack takes one pack over, in the place of the one of its name.
func (m *merger) pack(f *PackFile) {
	if !f.ID.Set || !m.once(f.ID, "pack") {
		return
	}
	if _, err := time.Parse(time.DateOnly, f.Read.Text); f.Read.Set && err != nil {
		m.fault(f.Read.At, "date-unreadable", fmt.Sprintf("%q is not a date", f.Read.Text), "year-month-day",
			"write for example 2026-05-31")
	}
	p := Pack{ID: f.ID.Text, Title: f.Title.Text, Citation: f.Citation.Text, Edition: f.Edition.Text, Read: f.Read.Text}
	for i := range f.Rules {
		r := &f.Rules[i]
		if slices.ContainsFunc(p.Rules, func(old PackRule) bool { return old.ID == r.ID.Text }) {
			m.fault(r.ID.At, "rule-twice", fmt.Sprintf("the rule %q stands twice", r.ID.Text), "each ID once in a pack",
				"rename one")
			continue
		}
		p.Rules = append(p.Rules, m.packRule(f, r))
	}
	if i := slices.IndexFunc(m.out.packs, func(old Pack) bool { return old.ID == p.ID }); i >= 0 {
		m.out.packs[i] = p
		return
	}
	m.out.packs = append(m.out.packs, p)
}

func (m *merger) packRule(f *PackFile, r *PackRuleFile) PackRule {
	made := PackRule{
		ID: r.ID.Text, Topic: r.Topic.Text, Clause: r.Clause.Text, Text: r.Text.Text, Bound: r.Bound.Text,
		Status: or(r.Status, ownersRule), Severity: Severity(or(r.Severity, string(Condition))),
	}
	made.When, made.Require = m.condition(r.When.Set,
		func() (*condition.Condition, diag.List) { return packLanguage.Compile(r.When) }),
		m.condition(r.Require.Set, func() (*condition.Condition, diag.List) { return packLanguage.Compile(r.Require) })
	if !r.Value.Set {
		return made
	}
	kind, ok := quantity.KindNamed(r.Kind.Text)
	if !ok {
		m.fault(r.Value.At, "kind-unknown", fmt.Sprintf("no kind of quantity is called %q", r.Kind.Text),
			"such as velocity, diameter, number", "add a line kind: ...")
		return made
	}
	q, err := quantity.Parse(kind, r.Value.Text)
	if err != nil {
		m.fault(r.Value.At, "value-unreadable", err.Error(), "a "+kind.String(), "mend the value")
		return made
	}
	made.Value = basis.NewAssumed(r.Topic.Text+" by "+f.Title.Text, kind, q.SI, q.SI, q.SI, made.Status,
		f.Citation.Text)
	return made
}

// condition compiles a condition where one is written.
func (m *merger) condition(written bool, compile func() (*condition.Condition, diag.List)) *condition.Condition {
	if !written {
		return nil
	}
	c, faults := compile()
	for _, fault := range faults {
		m.list.Add(fault)
	}
	return c
}

// Packs lists the packs in their order.
func (b *Book) Packs() []Pack { return b.packs }

// Pack finds a pack; false where the book has none such.
func (b *Book) Pack(id string) (*Pack, bool) {
	if i := slices.IndexFunc(b.packs, func(p Pack) bool { return p.ID == id }); i >= 0 {
		return &b.packs[i], true
	}
	return nil, false
}

// NoPackError says that a station names a pack that the book does not have.
type NoPackError struct{ ID, Near, Known string }

// Error names the packs that there are.
func (e *NoPackError) Error() string {
	if e.Near != "" {
		return fmt.Sprintf("no rule pack is called %q; did you mean %s?", e.ID, e.Near)
	}
	return fmt.Sprintf("no rule pack is called %q; there are: %s", e.ID, e.Known)
}

// Has is nil when the book has every pack, else a *NoPackError.
func (b *Book) Has(packs []string) error {
	for _, id := range packs {
		if _, ok := b.Pack(id); !ok {
			var ids []string
			for _, p := range b.packs {
				ids = append(ids, p.ID)
			}
			return &NoPackError{id, diag.DidYouMean(id, ids), strings.Join(ids, ", ")}
		}
	}
	return nil
}

// Topic is what packs say of one thing, side by side.
type Topic struct {
	Name   string
	Says   []Saying
	Spread bool // numbers of one bound differ
}

// Saying is one rule with its pack.
type Saying struct {
	Pack *Pack
	Rule *PackRule
}

// Topics sets packs side by side, topic by topic, in the order in which they first stand.
func Topics(packs []Pack) []Topic {
	var out []Topic
	for p := range packs {
		for r := range packs[p].Rules {
			rule := &packs[p].Rules[r]
			i := slices.IndexFunc(out, func(t Topic) bool { return t.Name == rule.Topic })
			if i < 0 {
				i = len(out)
				out = append(out, Topic{Name: rule.Topic})
			}
			for _, s := range out[i].Says {
				if s.Rule.Bound == rule.Bound && s.Rule.Value.Known() && rule.Value.Known() &&
					s.Rule.Value.Kind == rule.Value.Kind && s.Rule.Value.SI != rule.Value.SI {
					out[i].Spread = true
				}
			}
			out[i].Says = append(out[i].Says, Saying{&packs[p], rule})
		}
	}
	return out
}
