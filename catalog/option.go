package catalog

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/fluid"
	"seatward/internal/condition"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/valve"
)

// Choice is one choice of an option.
type Choice struct {
	ID, Title         string
	Material          Material
	Mass, Rating      basis.Value // what it adds to the mass; the rating that it limits to; unknown where neither
	DrinkingWater     string
	Spares, Standards []string

	at yamlfile.At
}

// Option is something that can be chosen. Those that every family has come first: size,
// position, variant, ends, elastomer and service.
type Option struct {
	ID, Title, Part string
	Choices         []Choice

	at yamlfile.At
}

// Choice finds a choice by its ID; nil where there is none such.
func (o *Option) Choice(id string) *Choice {
	if i := slices.IndexFunc(o.Choices, func(c Choice) bool { return c.ID == id }); i >= 0 {
		return &o.Choices[i]
	}
	return nil
}

// IDs lists the choices.
func (o *Option) IDs() []string {
	var out []string
	for _, c := range o.Choices {
		out = append(out, c.ID)
	}
	return out
}

// OptionRule is a condition that every legal configuration meets.
type OptionRule struct {
	Require                 *condition.Condition
	Message, Reason, Source string

	at yamlfile.At
}

// The options that every family has. Service is a circumstance: it is given, not chosen.
const (
	SizeOption      = "size"
	PositionOption  = "position"
	VariantOption   = "variant"
	EndsOption      = "ends"
	ElastomerOption = "elastomer"
	ServiceOption   = "service"
)

// Circumstances are numbers that rules may speak of and nobody chooses.
var circumstances = []condition.Fact{
	{Name: "size", Kind: condition.Whole, Doc: "nominal size DN"},
	{Name: "nps", Kind: condition.Number, Doc: "nominal size in inches"},
	{Name: "temperature", Kind: condition.Number, Doc: "temperature of the liquid, deg C"},
	{Name: "pressure", Kind: condition.Number, Doc: "greatest pressure, bar"},
}

// options resolves what can be chosen, and the rules.
func (r *resolver) options(f *Family) {
	f.Options = f.standing()
	for i := range f.file.Options {
		if o, ok := r.option(f, &f.file.Options[i]); ok {
			f.Options = append(f.Options, o)
		}
	}
	r.rules(f)
}

// standing are the options that every family has.
func (f *Family) standing() []Option {
	size := Option{ID: SizeOption, Title: "Size"}
	for _, it := range f.Items {
		if size.Choice(sizeID(it.Size)) == nil {
			size.Choices = append(size.Choices,
				Choice{ID: sizeID(it.Size), Title: it.Size.Format(quantity.US) + " (" + it.Size.Format(quantity.SI) +
					")"})
		}
	}
	plain := func(id, title string, words []string) Option {
		o := Option{ID: id, Title: title}
		for _, w := range words {
			o.Choices = append(o.Choices, Choice{ID: w, Title: w})
		}
		return o
	}
	variant := Option{ID: VariantOption, Title: "Variant"}
	for _, v := range f.file.Variants {
		if v.ID.Set && variant.Choice(v.ID.Text) == nil {
			variant.Choices = append(variant.Choices, Choice{ID: v.ID.Text, Title: v.Title.Text, at: v.ID.At})
		}
	}
	ends := Option{ID: EndsOption, Title: "Ends"}
	for _, e := range f.Ends {
		if ends.Choice(e.ID) == nil {
			ends.Choices = append(ends.Choices, Choice{ID: e.ID, Title: e.Standard})
		}
	}
	all := []Option{
		size, plain(PositionOption, "Position", positionIDs(f.Positions)), variant, ends,
		plain(ElastomerOption, "Elastomer", f.Elastomers), plain(ServiceOption, "Service",
			fluid.ServiceWords(f.Services)),
	}
	return slices.DeleteFunc(all, func(o Option) bool { return len(o.Choices) == 0 })
}

// slug makes an ID of a name: asme-b16.1-class-125-flanges.
func slug(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '.')
	}), "-")
}

func (r *resolver) option(f *Family, of *OptionFile) (Option, bool) {
	if !of.ID.Set {
		return Option{}, false // the reader has told it
	}
	taken := slices.ContainsFunc(f.Options, func(o Option) bool { return o.ID == of.ID.Text }) ||
		slices.ContainsFunc(circumstances, func(c condition.Fact) bool { return c.Name == of.ID.Text }) ||
		slices.Contains([]string{VariantOption, EndsOption, ServiceOption}, of.ID.Text)
	switch {
	case !condition.IsName(of.ID.Text):
		r.add(of.ID.At, "id-unusable", fmt.Sprintf("%q cannot be the ID of an option", of.ID.Text),
			"small letters, digits and underscores, and no word of CEL", "rename it, such as ball_core")
		return Option{}, false
	case taken:
		r.add(of.ID.At, "option-twice", fmt.Sprintf("the option %q is there already", of.ID.Text),
			"each ID once in a family; size, nps, position, variant, ends, elastomer, service, temperature and pressure are taken", "rename it")
		return Option{}, false
	case len(of.Choices) == 0:
		if !r.broken {
			r.add(of.ID.At, "list-empty", "the list choices holds nothing", "at least one choice",
				"add one, or remove the option")
		}
		return Option{}, false
	}
	o := Option{ID: of.ID.Text, Title: of.Title.Text, Part: of.Part.Text, at: of.ID.At}
	for i := range of.Choices {
		c := &of.Choices[i]
		switch {
		case !c.ID.Set:
			continue // the reader has told it
		case o.Choice(c.ID.Text) != nil:
			r.add(c.ID.At, "choice-twice", fmt.Sprintf("the choice %q stands twice", c.ID.Text),
				"each ID once in an option", "rename or remove one")
			continue
		}
		made := Choice{
			ID: c.ID.Text, Title: c.Title.Text, Material: Material{c.Material.Text, c.Standard.Text},
			DrinkingWater: c.DrinkingWater.Text,
			Mass:          f.datum("mass that "+of.Title.Text+" "+c.ID.Text+" adds", c.Mass),
			Rating:        f.datum("rating with "+of.Title.Text+" "+c.ID.Text, c.Rating),
			Spares:        words(c.Spares), Standards: words(c.Standards), at: c.ID.At,
		}
		if made.Title == "" {
			made.Title = made.ID
		}
		o.Choices = append(o.Choices, made)
	}
	return o, len(o.Choices) > 0
}

// rules compiles the rules of the family.
func (r *resolver) rules(f *Family) {
	if len(f.file.Rules) == 0 {
		return
	}
	facts := slices.Clone(circumstances)
	for _, o := range f.Options {
		if o.ID != SizeOption {
			facts = append(facts, condition.Fact{Name: o.ID, Kind: condition.Text, Doc: o.Title})
		}
	}
	language, err := condition.NewLanguage(facts)
	if err != nil {
		r.add(f.file.ID.At, "condition-unreadable", err.Error(), "option IDs that conditions can use",
			"rename the option")
		return
	}
	for i := range f.file.Rules {
		rf := &f.file.Rules[i]
		if !rf.Require.Set {
			continue // the reader has told it
		}
		c, faults := r.compiled(language, facts, rf.Require)
		for _, m := range faults {
			r.message(m)
		}
		if c == nil {
			continue
		}
		if len(c.Names) == 0 {
			r.add(rf.Require.At, "rule-of-nothing", "the rule speaks of no choice and no circumstance",
				"a condition on options", "name an option, or remove the rule")
			continue
		}
		made := OptionRule{
			Require: c, Message: rf.Message.Text, Reason: rf.Reason.Text, Source: rf.Source.Text,
			at: rf.Require.At,
		}
		if made.Source == "" {
			made.Source = f.Source()
		}
		f.Rules = append(f.Rules, made)
		r.spelled(f, rf, c)
	}
}

// compiled reads a condition once for all families that have it: a maker's rules repeat
// from family to family.
func (r *resolver) compiled(
	l *condition.Language, facts []condition.Fact, w yamlfile.Word,
) (*condition.Condition, diag.List) {
	var key strings.Builder
	for _, f := range facts {
		key.WriteString(f.Name + " ")
	}
	key.WriteString(w.Text)
	if c, ok := r.conditions.Load(key.String()); ok {
		return c.(*condition.Condition), nil
	}
	c, faults := l.Compile(w)
	if c != nil {
		r.conditions.Store(key.String(), c)
	}
	return c, faults
}

// spelled tells texts that a rule compares an option with and that are none of its
// choices: such a rule never bars anything, or always does.
func (r *resolver) spelled(f *Family, rule *RuleFile, c *condition.Condition) {
	for _, x := range c.Compared {
		at := f.index(x.Name)
		if at < 0 || f.Options[at].Choice(x.Text) != nil {
			continue
		}
		r.add(rule.Require.At, "choice-unknown",
			fmt.Sprintf("the rule compares %s with %q, which is none of its choices", x.Name, x.Text), "one of: "+
				strings.Join(f.Options[at].IDs(), ", "), meant(x.Text, f.Options[at].IDs(), "mend the rule"))
	}
}

func positionIDs(all []valve.Position) []string {
	var out []string
	for _, p := range all {
		out = append(out, p.String())
	}
	return out
}
