package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/basis"
	"seatward/catalog"
	"seatward/lift"
	"seatward/quantity"
	"seatward/rules"
)

// Configured is a configuration with what goes with it.
type Configured struct {
	Configuration *catalog.Configuration
	Limit         basis.Value // what one person may lift here
	Lifts         []lift.Verdict
	Advice        []rules.Advice
	Cautions      []rules.Caution
}

// Configuration prints a legal configuration: choices, what is left and why the rest is
// barred, the bill of materials, tests, masses and lifts, and advice on materials.
func Configuration(w io.Writer, c *Configured, opt Options) error {
	p := newPage(opt)
	cfg := c.Configuration
	p.heading(cfg.Family.Title + ", " + cfg.Item.Size.Format(opt.Units))
	p.paraIn(faint, "  ", fmt.Sprintf("Catalog: %s %s%s. To have it again: seatward configure %s",
		cfg.Family.Catalog.Maker, cfg.Family.Catalog.Version, inventedMark(cfg.Family.Catalog), cfg.Code()))
	p.choices(cfg)
	p.barred(cfg)
	p.bill(cfg)
	p.lifting(c)
	p.advice(c.Advice)
	p.cautions(c.Cautions)
	return p.flush(w)
}

// cautions prints what can hurt, each with whom it defers to.
func (p *page) cautions(all []rules.Caution) {
	if len(all) == 0 {
		return
	}
	p.heading("Cautions")
	for _, x := range all {
		p.item(amber, "  ", "!", x.Text+" "+x.Defers)
	}
}

func inventedMark(c *catalog.Catalog) string {
	if c.Invented {
		return " (invented)"
	}
	return ""
}

func (p *page) choices(c *catalog.Configuration) {
	p.gap()
	t := &table{indent: "  ", cols: []column{
		{head: "option"},
		{head: "choice", gives: true},
		{head: "how"},
		{head: "could be", gives: true},
	}}
	for _, s := range c.Options {
		choice := "not given"
		if s.Choice != nil {
			choice = s.Choice.Title
		}
		var others []string
		for _, id := range s.Left {
			if s.Choice == nil || id != s.Choice.ID {
				others = append(others, id)
			}
		}
		t.add(s.Option.ID, choice, s.How, strings.Join(others, ", "))
	}
	p.table(t)
	for _, o := range c.Open {
		p.item(amber, "  ", "?", sentenceEnd(fmt.Sprintf("Open, as the %s is not given: %s",
			strings.Join(o.Needs, " and the "), o.Reason)))
	}
}

func (p *page) barred(c *catalog.Configuration) {
	told := false
	for _, s := range c.Options {
		if s.Option.ID == catalog.SizeOption {
			continue // the list of sizes is said by what is left
		}
		for _, b := range s.Barred {
			if !told {
				p.heading("Barred")
				told = true
			}
			with := ""
			if len(b.With) > 0 {
				with = " with " + strings.Join(b.With, " and ")
			}
			var because []string
			for _, r := range b.Because {
				because = append(because, r.String())
			}
			p.para("  ", sentenceEnd(fmt.Sprintf("%s=%s: not%s; %s", s.Option.ID, b.Choice, with,
				strings.Join(because, "; "))))
		}
	}
}

func (p *page) bill(c *catalog.Configuration) {
	p.heading("Bill of materials")
	t := &table{indent: "  ", cols: []column{
		{head: "part"},
		{head: "material", gives: true},
		{head: "standard and grade", gives: true},
		{head: p.head("mass", quantity.Mass), right: true},
	}}
	for _, part := range c.Parts {
		mass := ""
		if part.Mass.Known() {
			mass = p.num(part.Mass)
		}
		t.add(part.Name, part.Material.Material, part.Standard, mass)
	}
	p.table(t)
	p.gap()
	p.labeledLine("  rating", p.val(c.Rating)+" ("+c.Rating.Name+")")
	if c.ShellTest.Known() {
		p.labeledLine("  shell test", p.val(c.ShellTest)+", "+factor(c.Family.ShellTest))
		p.labeledLine("  seat test", p.val(c.SeatTest)+", "+factor(c.Family.SeatTest))
	}
	p.labeledLine("  mass", "valve "+p.val(c.Mass)+", cover "+p.val(c.Cover)+", element "+p.val(c.Element))
	drinking := c.DrinkingWater
	if drinking == "" {
		drinking = "not given"
	}
	p.labeledLine("  drinking water", drinking)
	p.labeledLine("  declared", strings.Join(c.Standards, "; "))
	p.labeledLine("  spares", strings.Join(c.Spares, ", "))
	if len(c.Say) > 0 {
		p.labeledLine("  not given", strings.Join(c.Say, ", "))
	}
}

// factor tells a test's factor and whether the catalog gives it.
func factor(v basis.Value) string {
	text := quantity.Figures(v.SI, 3) + " times the rating"
	if v.Origin == basis.Assumed {
		return text + ", assumed: " + basis.Cite(v.Source)
	}
	return text + ", by the catalog"
}

func (p *page) lifting(c *Configured) {
	p.heading("Lifting by hand")
	p.para("  ", fmt.Sprintf("One person may lift %s here, by the %s.", p.val(c.Limit), basis.Cite(c.Limit.Source)))
	p.paraIn(faint, "    ", "It holds for "+sentenceEnd(c.Limit.Formula.Range))
	for _, in := range c.Limit.Inputs {
		if in.Origin == basis.Assumed {
			p.paraIn(faint, "    ", fmt.Sprintf("assumed: %s %s (%s)", in.Name, p.val(in), in.Reason))
		}
	}
	plan := false
	for _, v := range c.Lifts {
		switch {
		case !v.Mass.Known():
			plan = true
			p.item(amber, "  ", "?", sentenceEnd("the mass of the "+v.Part+
				" is not given: weigh it, or ask the maker, before it is lifted"))
		case v.Alone:
			p.item(plain, "  ", "·", fmt.Sprintf("%s: %s, %.0f%% of the limit.", v.Part, p.val(v.Mass), 100*v.Index))
		case math.IsInf(v.Index, 0):
			plan = true
			p.item(rust, "  ", "✗", fmt.Sprintf("%s: %s. Nothing may be lifted by hand from so far.", v.Part,
				p.val(v.Mass)))
		default:
			plan = true
			p.item(rust, "  ", "✗", fmt.Sprintf("%s: %s, %.1f times the limit.", v.Part, p.val(v.Mass), v.Index))
		}
	}
	if plan {
		p.para("  ", "A lifting plan is called for: rated gear, clear room, nobody below. Lifting points and their loads are the maker's to tell; never take an eyebolt's load from memory.")
	}
}

func (p *page) advice(all []rules.Advice) {
	if len(all) == 0 {
		return
	}
	p.heading("Materials for the liquid")
	var open []string
	hidden := 0
	for _, a := range all {
		if len(a.Open) > 0 {
			hidden++
			open = append(open, a.Open...)
			continue
		}
		lead := map[string]string{"must not": "Must not be used", "use": "Use", "needs": "Needs care"}[a.Says]
		text := fmt.Sprintf("%s, %s: %s. %s", a.Part, strings.ToLower(lead), a.Material, a.Text)
		mark, i := "·", plain
		if a.Says == "must not" {
			mark, i = "✗", rust
		}
		p.item(i, "  ", mark, text)
		p.paraIn(faint, "      ", sentenceEnd(basis.Cite(a.Source)+"; "+a.Status))
	}
	if hidden > 0 {
		p.item(amber, "  ", "?", fmt.Sprintf("%s on facts that are not given (%s).", plural(hidden, "more rule"),
			strings.Join(distinct(open), ", ")))
	}
}

// Materials prints advice on materials alone.
func Materials(w io.Writer, advice []rules.Advice, cautions []rules.Caution, opt Options) error {
	p := newPage(opt)
	p.advice(advice)
	p.cautions(cautions)
	return p.flush(w)
}
