package catalog

import (
	"fmt"
	"slices"
	"strings"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// options proves what the rules of a family leave: in every size at least one legal
// configuration, for every choice at least one in which it stands, for every rule
// something that it bars.
func (k *checker) options(f *Family) {
	if len(f.Items) == 0 {
		return
	}
	p := f.problem(Circumstances{})
	for i := range f.Rules {
		if !k.rule(f, p, &f.Rules[i]) {
			return // whatever it bars, it would be reported again and again
		}
	}
	reached := k.sizes(f, p)
	for o := range f.Options {
		for c := range f.Options[o].Choices {
			if reached[o][c] || f.Options[o].ID == SizeOption {
				continue
			}
			try := p.unset()
			try[o] = c
			whole, ok := p.made.Complete(try)
			if ok {
				mark(reached, whole)
				continue
			}
			_, rules := p.made.Conflict(try)
			k.unreachable(f, &f.Options[o], &f.Options[o].Choices[c], p.because(rules))
		}
	}
	if p.err != nil {
		k.place(f, f.file.ID.At, diag.Message{
			ID: "rule-failed", Text: p.err.Error(),
			Expected: "a condition that can be worked out for all choices", Mend: "mend the rule",
		})
	}
}

func mark(reached [][]bool, whole []int) {
	for o, c := range whole {
		reached[o][c] = true
	}
}

// sizes finds a legal configuration of every size, and for every service in it.
func (k *checker) sizes(f *Family, p *problem) [][]bool {
	reached := make([][]bool, len(f.Options))
	for o := range reached {
		reached[o] = make([]bool, len(f.Options[o].Choices))
	}
	size, service := f.index(SizeOption), f.index(ServiceOption)
	for c := range f.Options[size].Choices {
		try := p.unset()
		try[size] = c
		whole, ok := p.made.Complete(try)
		it := f.ofSize(f.Options[size].Choices[c].ID)[0]
		if !ok {
			_, rules := p.made.Conflict(try)
			if !slices.ContainsFunc(rules, func(r int) bool { return p.ties[r].rule != nil }) {
				continue // a size without ends is reported by the size
			}
			k.add(it, finding{
				id: "no-legal-configuration",
				text: "no configuration of this size is legal: " +
					worded(p.because(rules)), expected: "rules that leave at least one", mend: "mend one of the rules, or take the size out",
			})
			continue
		}
		mark(reached, whole)
		if service < 0 {
			continue
		}
		for s := range f.Options[service].Choices {
			try[service] = s
			if whole[service] == s {
				continue
			}
			if other, ok := p.made.Complete(try); ok {
				mark(reached, other)
				continue
			}
			_, rules := p.made.Conflict(try)
			k.add(it, finding{
				severity: diag.Warning, id: "service-without-configuration",
				text: fmt.Sprintf("offered for %s, but no configuration of this size is legal there: %s", f.Services[s],
					worded(p.because(rules))), mend: "mend one of the rules, or the services",
			})
		}
	}
	return reached
}

func worded(reasons []Reason) string {
	var out []string
	for _, r := range reasons {
		out = append(out, r.String())
	}
	return strings.Join(out, "; ")
}

// place tells a fault at a place of the family's file.
func (k *checker) place(f *Family, at yamlfile.At, m diag.Message) {
	m.Place, m.Path = at.Place, f.ID
	k.message(m)
}

func (k *checker) unreachable(f *Family, o *Option, c *Choice, because []Reason) {
	at := c.at
	if !at.Set {
		at = f.file.ID.At
	}
	k.place(f, at, diag.Message{
		ID: "choice-unreachable", Severity: diag.Warning,
		Text: fmt.Sprintf("%s can never be had: %s", Pick{o.ID, c.ID},
			worded(because)), Expected: "a configuration in which it is legal",
		Mend: "mend the rule, or remove the choice",
	})
}

// rule tells a rule that bars everything, false, and one that bars nothing.
func (k *checker) rule(f *Family, p *problem, rule *OptionRule) bool {
	at := slices.IndexFunc(p.ties, func(b tie) bool { return b.rule == rule })
	allows, bars, tried := p.made.Tried(at)
	switch {
	case !tried:
	case !allows:
		k.place(f, rule.at, diag.Message{
			ID: "rule-bars-all", Text: "the rule bars every choice: " + rule.Message,
			Expected: "a condition that something meets", Mend: "turn the condition round: it says what must hold, not what is barred",
		})
		return false
	case !bars && len(p.ties[at].open) == 0:
		k.place(f, rule.at, diag.Message{
			ID: "rule-bars-nothing", Severity: diag.Warning,
			Text: "the rule bars no choice: " + rule.Message, Mend: "mend the condition, or remove the rule",
		})
	}
	return true
}
