package judge

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/internal/condition"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// packs holds the station with this valve to the rule packs that it names, and tells
// where two of them differ.
func packs(b *bench) []Finding {
	var out []Finding
	var named []rules.Pack
	facts, values := b.facts()
	for _, id := range b.Station.RulePacks {
		p, ok := b.Rules.Pack(id)
		if !ok {
			continue // the study has told it
		}
		named = append(named, *p)
		for i := range p.Rules {
			out = append(out, b.packRule(p, &p.Rules[i], facts, values)...)
		}
	}
	for _, t := range rules.Topics(applying(named, facts)) {
		if t.Spread {
			out = append(out, b.differ(t))
		}
	}
	return out
}

// applying are the packs without the rules that do not apply here.
func applying(packs []rules.Pack, facts map[string]any) []rules.Pack {
	out := slices.Clone(packs)
	for i := range out {
		out[i].Rules = slices.DeleteFunc(slices.Clone(out[i].Rules), func(r rules.PackRule) bool {
			if r.When == nil {
				return false
			}
			answer, _ := r.When.Answer(facts)
			return answer == condition.No
		})
	}
	return out
}

// packRule holds one rule.
func (b *bench) packRule(
	p *rules.Pack, r *rules.PackRule, facts map[string]any, values map[string]basis.Value,
) []Finding {
	f := Finding{Kind: packKind(p, r), Text: p.Title + ": " + r.Text, Limit: r.Value, Basis: p.Where(r)}
	applies := condition.Yes
	if r.When != nil {
		applies, _ = r.When.Answer(facts)
	}
	if applies == condition.No {
		return nil
	}
	switch {
	case applies == condition.Open:
		f.Severity, f.Missing = Confirm, strings.Join(worded(r.When.Missing(facts)), ", ")
		return []Finding{f}
	case r.Require == nil:
		f.Severity, f.Missing = Confirm, "whether this rule is met; Seatward does not work it out"
		return []Finding{f}
	}
	answer, err := r.Require.Answer(facts)
	kept := "Met"
	if len(r.Require.Names) == 1 {
		f.Value = values[r.Require.Names[0]]
	}
	if answer == condition.No {
		kept = "Not met"
	}
	if f.Value.Known() {
		kept += fmt.Sprintf(" (%s: %s)", f.Value.Name, b.show(f.Value))
	}
	switch {
	case err != nil:
		f.Severity, f.Missing = Confirm, "a rule that can be worked out: "+err.Error()
	case answer == condition.Yes:
		f.Severity, f.Text = Pass, kept+". "+f.Text
	case answer == condition.Open:
		f.Severity, f.Missing = Confirm, strings.Join(worded(r.Require.Missing(facts)), ", ")
	default:
		f.Severity = broken[r.Severity]
		f.Text = kept + ". " + f.Text
		f.Mend = "meet the rule, or ask its owner for a deviation"
	}
	return []Finding{f}
}

// broken is what a rule that is not met does to the verdict.
var broken = map[rules.Severity]Severity{rules.Note: Note, rules.Condition: Condition, rules.Rejects: Rejects}

// packKind declares the finding of one rule, from its row.
func packKind(p *rules.Pack, r *rules.PackRule) *Kind {
	k := Kind{
		ID: "rule-" + p.ID + "-" + r.ID, Point: OnRules, Severities: may(Confirm), Settles: Owner,
		Head: r.Topic + " (" + p.Title + ")", Meaning: r.Text,
	}
	if r.Require != nil {
		k.Severities = may(Pass, Confirm, broken[r.Severity])
	}
	return &k
}

// PackKinds are the findings of the rules of a pack.
func PackKinds(p *rules.Pack) []*Kind {
	var out []*Kind
	for i := range p.Rules {
		out = append(out, packKind(p, &p.Rules[i]))
	}
	return out
}

// worded names facts in plain words.
func worded(names []string) []string {
	var out []string
	for _, n := range names {
		i := slices.IndexFunc(rules.Facts, func(f condition.Fact) bool { return f.Name == n })
		doc, _, _ := strings.Cut(rules.Facts[i].Doc, ":")
		doc, _, _ = strings.Cut(doc, ",")
		out = append(out, doc)
	}
	return out
}

// differ sets what packs say of one topic side by side.
func (b *bench) differ(t rules.Topic) Finding {
	var says []string
	for _, s := range t.Says {
		if s.Rule.Value.Known() {
			says = append(says, fmt.Sprintf("%s %s by %s", s.Rule.Bound, b.show(s.Rule.Value), s.Pack.Title))
		}
	}
	return Finding{
		Kind: RulesDiffer, Text: "The rules differ on the " + t.Name + ": " + strings.Join(says, "; ") + ".",
		Basis: "rule packs of the station", Mend: "ask who decides which of them binds",
	}
}

// facts are what rules may speak of, as far as they are known, and their values.
func (b *bench) facts() (map[string]any, map[string]basis.Value) {
	st, typ := b.Station, b.Item.Family.Type
	facts := map[string]any{
		"service": string(st.Fluid.Kind), "sewage": st.Fluid.Sewage(),
		"valve_type": typ.Key, "style": string(typ.Traits.Style), "size": b.Item.Size.DN,
		"ball": typ.Traits.Style == valve.StyleBall, "swing": typ.Traits.Style == valve.StyleSwing,
	}
	values := map[string]basis.Value{}
	number := func(name string, v basis.Value, per float64) {
		if v.Known() {
			facts[name], values[name] = v.SI*per, v
		}
	}
	if st.Valve.PositionGiven {
		facts["position"] = st.Valve.Position.String()
	}
	if st.Valve.Where != "" {
		facts["place"] = st.Valve.Where
	}
	count := 0
	for _, p := range st.Pumps {
		count += p.Count
	}
	facts["pumps"] = count
	facts["variable_speed"] = slices.ContainsFunc(st.Pumps,
		func(p station.Pump) bool { return p.LeastSpeed.SI < p.Speed.SI })
	number("passage", b.Item.Passage, 1000)
	number("valve_velocity", b.out.Governing.Velocity, 1)
	if len(st.Main.Runs) > 0 {
		d := st.Main.Runs[0].InnerDiameter
		if dn := st.Main.Runs[0].Size.DN; dn > 0 {
			facts["main_size"] = dn
		}
		if v := b.mainVelocity(d); v.Known() {
			number("main_velocity", v, 1)
		}
	}
	number("pump_flow", b.out.Governing.Flow, 1000)
	branch := st.Branch.Runs[0].InnerDiameter.SI
	for name, have := range map[string]basis.Value{
		"straight_before": st.Valve.StraightBefore,
		"straight_after":  st.Valve.StraightAfter,
	} {
		if have.Known() {
			facts[name], values[name] = have.SI/branch, have
		}
	}
	return facts, values
}

// mainVelocity is the velocity in the main with as many pumps as run together; unknown
// where pumps are unequal, as the flows of the others are not at hand here.
func (b *bench) mainVelocity(diameter basis.Value) basis.Value {
	var most plant.OperatingPoint
	for _, p := range b.Points {
		if p.Flow.SI > 0 && (p.PumpsRunning > most.PumpsRunning || p.PumpsRunning == most.PumpsRunning &&
			p.Flow.SI < most.Flow.SI) {
			most = p
		}
	}
	if most.PumpsRunning == 0 || len(b.Station.Pumps) > 1 {
		return basis.Value{}
	}
	n := float64(most.PumpsRunning)
	running := basis.NewGiven("pumps running, "+most.Name, quantity.Number, n, "the operating point")
	return mainVelocity.Eval3("velocity in the main, "+most.Name, MainVelocity, running, most.Flow, diameter)
}

// MainVelocity is the velocity in m/s of n equal flows in m³/s in one pipe of the inside
// diameter in m: V = 4 n Q/(π D²), continuity.
func MainVelocity(n, flowM3S, diameterM float64) float64 {
	return 4 * n * flowM3S / (math.Pi * diameterM * diameterM)
}

var mainVelocity = basis.Formula{
	ID: "main-velocity", Title: "Velocity in the main", Expr: "V = 4 n Q/(π D²)", Symbols: []string{"n", "Q", "D"},
	Kind: quantity.Velocity,
	Ref:  basis.DerivedHere, Range: "equal pumps",
}
