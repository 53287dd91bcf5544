package rules

import (
	"slices"

	"seatward/diag"
	"seatward/internal/condition"
)

// adviceFacts are what material advice may speak of.
var adviceLanguage = func() *condition.Language {
	l, err := condition.NewLanguage([]condition.Fact{
		{Name: "service", Kind: condition.Text, Doc: "raw sewage, sludge, effluent, raw water, drinking water"},
		{Name: "temperature", Kind: condition.Number, Doc: "greatest temperature of the liquid, deg C"},
		{Name: "oil", Kind: condition.Text, Doc: "none, trace, heavy"},
		{Name: "grit", Kind: condition.Text, Doc: "none, some, heavy"},
	})
	if err != nil {
		panic("rules: " + err.Error())
	}
	return l
}()

// Advice is what is said of one material for one part.
type Advice struct {
	ID, Part, Material, Says, Text, Source, Status string
	Open                                           []string // facts that it depends on and that are not known

	when *condition.Condition
}

// Advise lists the advice that holds under the known facts (service, oil, grit: string;
// temperature: float64, deg C), what must not be used first; advice that depends on a fact
// that is not known says which.
func (b *Book) Advise(known map[string]any) []Advice {
	var out []Advice
	for _, a := range b.advice {
		answer := condition.Yes
		if a.when != nil {
			var err error
			if answer, err = a.when.Answer(known); err != nil {
				answer = condition.Open // told as open: nothing is left out for a slip in a rule
			}
			if answer == condition.Open {
				a.Open = a.when.Missing(known)
			}
		}
		if answer != condition.No {
			out = append(out, a)
		}
	}
	rank := []string{"must not", "use", "needs"}
	slices.SortStableFunc(out, func(x, y Advice) int {
		return slices.Index(rank, x.Says) - slices.Index(rank, y.Says)
	})
	return out
}

func (m *merger) advise(f *AdviceFile) {
	if !f.ID.Set || !m.once(f.ID, "advice") {
		return
	}
	a := Advice{
		ID: f.ID.Text, Part: f.Part.Text, Material: f.Material.Text, Says: f.Says.Text, Text: f.Text.Text,
		Source: f.Source.Text, Status: or(f.Status, ownersRule),
		when: m.condition(f.When.Set, func() (*condition.Condition,
			diag.List,
		) {
			return adviceLanguage.Compile(f.When)
		}),
	}
	if i := slices.IndexFunc(m.out.advice, func(old Advice) bool { return old.ID == a.ID }); i >= 0 {
		m.out.advice[i] = a
		return
	}
	m.out.advice = append(m.out.advice, a)
}
