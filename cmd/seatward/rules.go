package main

import (
	"github.com/spf13/cobra"

	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/rules"
)

// rulesCommand lists the limits by which is judged.
func (a *app) rulesCommand() *cobra.Command {
	var in inputs
	var packs bool
	c := &cobra.Command{
		Use:   "rules",
		Short: "List the limits by which valves are judged",
		Long: "List every limit by which valves are judged, with its source and how sure it is.\n" +
			"A file of your own, given with --rules, replaces single limits. --packs sets the\n" +
			"rules of places and owners side by side, where they differ too; a station file\n" +
			"names those that bind.",
		Example: "seatward rules\nseatward rules --packs",
		Args:    exactly(0, "no arguments (write --rules FILE to see what a file changes)"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		book, err := a.book(in.rules)
		if err != nil {
			return err
		}
		switch {
		case packs && in.json:
			return a.printJSON(packsJSON(book.Packs()))
		case packs:
			return text.Packs(&a.out, book.Packs(), a.print(sys))
		case in.json:
			out := limitList{Schema: "seatward.rules/1", Program: program.This()}
			for _, id := range book.IDs() {
				l := book.Limit(id)
				out.Limits = append(out.Limits, limitLine{
					l.ID, l.Title, l.Value.SI, l.Value.Kind.Symbol(),
					l.Value.Source, l.Edition, l.Status, l.Note,
				})
			}
			return a.printJSON(out)
		}
		return text.Rules(&a.out, book, a.print(sys))
	}
	c.Flags().BoolVar(&packs, "packs", false, "list rule packs in place of limits")
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}

// limitList is the machine form of the limits.
type limitList struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Limits  []limitLine     `json:"limits"`
}

type limitLine struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Source  string  `json:"source"`
	Edition string  `json:"edition,omitempty"`
	Status  string  `json:"status"`
	Note    string  `json:"note,omitempty"`
}

// packsSchema names the machine form of rule packs.
const packsSchema = "seatward.rule-packs/1"

// packList is the machine form of the rule packs.
type packList struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Packs   []packLine      `json:"packs"`
}

type packLine struct {
	ID    string         `json:"id"`
	Title string         `json:"title"`
	Rules []packRuleLine `json:"rules"`
}

type packRuleLine struct {
	ID      string   `json:"id"`
	Topic   string   `json:"topic"`
	Text    string   `json:"text"`
	When    string   `json:"when,omitempty"`
	Require string   `json:"require,omitempty"`
	Value   *float64 `json:"value,omitempty"`
	Unit    string   `json:"unit,omitempty"`
	Bound   string   `json:"bound,omitempty"`
	Basis   string   `json:"basis"`
}

func packsJSON(packs []rules.Pack) packList {
	out := packList{Schema: packsSchema, Program: program.This()}
	for i := range packs {
		p := &packs[i]
		line := packLine{ID: p.ID, Title: p.Title}
		for j := range p.Rules {
			r := &p.Rules[j]
			rule := packRuleLine{ID: r.ID, Topic: r.Topic, Text: r.Text, Bound: r.Bound, Basis: p.Where(r)}
			if r.When != nil {
				rule.When = r.When.Text
			}
			if r.Require != nil {
				rule.Require = r.Require.Text
			}
			if r.Value.Known() {
				rule.Value, rule.Unit = &r.Value.SI, r.Value.Kind.Symbol()
			}
			line.Rules = append(line.Rules, rule)
		}
		out.Packs = append(out.Packs, line)
	}
	return out
}
