package rules

import (
	"strings"
	"testing"

	"seatward/internal/condition"
)

func baseBook(t *testing.T) *Book {
	t.Helper()
	b, list := Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return b
}

// TestPacksAreWhole: every pack cites its text, every rule says how sure it is, and a
// rule with a number holds that number.
func TestPacksAreWhole(t *testing.T) {
	b := baseBook(t)
	if len(b.Packs()) < 12 {
		t.Errorf("only %d packs", len(b.Packs()))
	}
	for _, p := range b.Packs() {
		for _, r := range p.Rules {
			where := p.Where(&r)
			if !strings.Contains(where, p.Citation) || !strings.Contains(where, r.Status) ||
				!strings.Contains(where, "check the current text") || r.Status == ownersRule {
				t.Errorf("%s/%s: %s", p.ID, r.ID, where)
			}
			if r.Value.Known() != (r.Bound != "") {
				t.Errorf("%s/%s: a number without a bound, or a bound without one", p.ID, r.ID)
			}
		}
	}
}

// TestRulesHoldTheirNumbers: just inside the number a rule is kept, just outside broken.
func TestRulesHoldTheirNumbers(t *testing.T) {
	scale := map[string]float64{"main_size": 1000, "passage": 1000, "pump_flow": 1000}
	n := 0
	for _, p := range baseBook(t).Packs() {
		for _, r := range p.Rules {
			if !r.Value.Known() || r.Require == nil || len(r.Require.Names) == 0 {
				continue
			}
			n++
			if len(r.Require.Names) != 1 {
				t.Errorf("%s/%s speaks of %v", p.ID, r.ID, r.Require.Names)
				continue
			}
			name := r.Require.Names[0]
			unit := 1.0
			if s, ok := scale[name]; ok {
				unit = s
			}
			inside, outside := 1.01, 0.97
			if r.Bound == "most" {
				inside, outside = 0.99, 1.01
			}
			for factor, want := range map[float64]condition.Answer{inside: condition.Yes, outside: condition.No} {
				var known any = r.Value.SI * unit * factor
				if name == "main_size" { // nominal: DN100 stands for 4 in
					known = map[bool]int{true: 100, false: 90}[factor == inside]
					if r.Value.SI < 0.1 {
						known = map[bool]int{true: 80, false: 65}[factor == inside]
					}
				}
				if got, err := r.Require.Answer(map[string]any{name: known}); err != nil || got != want {
					t.Errorf("%s/%s at %g of its number: %v, %v", p.ID, r.ID, factor, got, err)
				}
			}
		}
	}
	if n < 15 {
		t.Errorf("only %d rules with numbers", n)
	}
}

// TestTopicsShowTheSpread: 2 or 3 ft/s, 0 to 10 diameters.
func TestTopicsShowTheSpread(t *testing.T) {
	spread := map[string][2]float64{}
	for _, topic := range Topics(baseBook(t).Packs()) {
		if !topic.Spread {
			continue
		}
		low, high := 1e9, -1e9
		for _, s := range topic.Says {
			if s.Rule.Value.Known() {
				low, high = min(low, s.Rule.Value.SI), max(high, s.Rule.Value.SI)
			}
		}
		spread[topic.Name] = [2]float64{low, high}
	}
	if s := spread["straight pipe before the valve"]; s != [2]float64{0, 10} {
		t.Errorf("straight pipe: %v", s)
	}
	if s := spread["least velocity in a sewage force main"]; !(s[0] == 0.6 && s[1] > 0.91) {
		t.Errorf("velocity: %v", s)
	}
}

// TestOwnPack: a user's file adds a pack or replaces one, and its mistakes are reported.
func TestOwnPack(t *testing.T) {
	own := "packs:\n  - id: town\n    title: Our town\n    citation: Standard details\n    read: 2026-02-30\n    rules:\n      - {id: a, topic: x, text: t, require: 'velocity > 2.0'}\n      - {id: a, topic: x, text: t}\n      - {id: b, topic: x, text: t, kind: velocity, value: 2 gpm, bound: least}\n"
	f, list := Parse("own.yaml", []byte(own))
	if list.Err() != nil {
		t.Fatal(list)
	}
	_, list = baseBook(t).With(f)
	for _, id := range []string{"date-unreadable", "condition-unreadable", "rule-twice", "value-unreadable"} {
		if !strings.Contains(list.Error(), "["+id+"]") {
			t.Errorf("%s is not reported: %v", id, list)
		}
	}
	good := "packs:\n  - id: ten-states\n    title: Ours\n    citation: Standard details\n    rules:\n      - {id: a, topic: x, text: t, require: 'size >= 100'}\n"
	f, _ = Parse("own.yaml", []byte(good))
	b, list := baseBook(t).With(f)
	if list.Err() != nil {
		t.Fatal(list)
	}
	if p, ok := b.Pack("ten-states"); !ok || p.Title != "Ours" || p.Rules[0].Status != ownersRule ||
		len(b.Packs()) != len(baseBook(t).Packs()) {
		t.Errorf("%+v", p)
	}
}

// TestAdvice: what must not be used comes first, and what depends on an unknown fact says so.
func TestAdvice(t *testing.T) {
	b := baseBook(t)
	ids := func(known map[string]any) map[string]Advice {
		out := map[string]Advice{}
		last := 0
		for _, a := range b.Advise(known) {
			rank := map[string]int{"must not": 0, "use": 1, "needs": 2}[a.Says]
			if rank < last {
				t.Errorf("%s stands behind what is milder", a.ID)
			}
			last = rank
			out[a.ID] = a
		}
		return out
	}
	sewage := ids(map[string]any{"service": "raw sewage", "temperature": 20.0, "oil": "trace", "grit": "some"})
	for id, want := range map[string]bool{
		"skin-nbr": true, "skin-epdm-oil": true, "skin-pu-grit": true,
		"coat-drinking": false, "skin-nbr-hot": false, "bolt-carbon-sewage": true,
	} {
		if _, got := sewage[id]; got != want {
			t.Errorf("sewage: %s told: %v", id, got)
		}
	}
	if drinking := ids(map[string]any{"service": "drinking water"}); drinking["coat-drinking"].ID == "" ||
		len(drinking["skin-nbr-hot"].Open) != 1 {
		t.Errorf("drinking water: %v", drinking["skin-nbr-hot"])
	}
}
