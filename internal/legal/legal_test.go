package legal

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawn is a problem of random rules, with a plain check of whole picks.
func drawn(t *rapid.T) (*Problem, []int, func(picks []int) bool) {
	n := rapid.IntRange(1, 6).Draw(t, "variables")
	choices := make([]int, n)
	for i := range choices {
		choices[i] = rapid.IntRange(1, 4).Draw(t, "choices")
	}
	var rules []Rule
	for range rapid.IntRange(0, 7).Draw(t, "rules") {
		scope := rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), 1, min(3, n), rapid.ID[int]).Draw(t, "scope")
		seed := rapid.IntRange(1, 1<<20).Draw(t, "seed")
		rules = append(rules, Rule{scope, func(pick []int) bool {
			h := seed
			for _, c := range pick {
				h = (h*31 + c*17 + 7) % 65_537
			}
			return h%3 != 0
		}})
	}
	return New(choices, rules), choices, func(picks []int) bool {
		for _, r := range rules {
			var at []int
			for _, v := range r.Scope {
				at = append(at, picks[v])
			}
			if !r.Allows(at) {
				return false
			}
		}
		return true
	}
}

// each runs over all whole picks that keep to the fixed ones.
func each(choices, fixed []int, do func(picks []int)) {
	picks := make([]int, len(choices))
	var walk func(v int)
	walk = func(v int) {
		if v == len(choices) {
			do(picks)
			return
		}
		for c := range choices[v] {
			if fixed[v] == Unset || fixed[v] == c {
				picks[v] = c
				walk(v + 1)
			}
		}
	}
	walk(0)
}

func possible(choices, fixed []int, legal func([]int) bool) bool {
	found := false
	each(choices, fixed, func(picks []int) { found = found || legal(picks) })
	return found
}

// TestAgreesWithTryingAll: completions, what is left and conflicts are those of trying
// every combination.
func TestAgreesWithTryingAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, choices, legal := drawn(t)
		fixed := make([]int, len(choices))
		for v := range fixed {
			fixed[v] = rapid.IntRange(Unset, choices[v]-1).Draw(t, "fixed")
		}
		whole, ok := p.Complete(fixed)
		if ok != possible(choices, fixed, legal) {
			t.Fatalf("complete %v: %v", fixed, ok)
		}
		if ok {
			for v, c := range fixed {
				if c != Unset && whole[v] != c {
					t.Fatalf("the pick of %d was changed", v)
				}
			}
			if !legal(whole) || len(p.Broken(whole)) > 0 {
				t.Fatalf("%v is not legal", whole)
			}
		}
		for v, left := range p.Left(fixed) {
			for c, yes := range left {
				if !ok {
					break
				}
				try := slices.Clone(fixed)
				try[v] = c
				if yes != possible(choices, try, legal) {
					t.Fatalf("choice %d of %d with %v: left %v", c, v, fixed, yes)
				}
			}
		}
		if ok {
			return
		}
		variables, rules := p.Conflict(fixed)
		few := make([]int, len(fixed))
		for v := range few {
			few[v] = Unset
		}
		for _, v := range variables {
			few[v] = fixed[v]
		}
		kept := make([]Rule, 0, len(rules))
		for _, r := range rules {
			kept = append(kept, p.rules[r].Rule)
		}
		if _, ok := New(choices, kept).Complete(few); ok {
			t.Fatalf("picks %v and rules %v are said to clash and do not", variables, rules)
		}
		for i := range kept {
			if _, ok := New(choices, slices.Delete(slices.Clone(kept), i, i+1)).Complete(few); !ok {
				t.Fatalf("rule %d of the conflict is not needed", i)
			}
		}
	})
}

// TestBudget: a search that cannot end in time gives up.
func TestBudget(t *testing.T) {
	const n = 14 // one thing more than there are places
	choices := make([]int, n)
	var rules []Rule
	for i := range choices {
		choices[i] = n - 1
		for j := range i {
			rules = append(rules, Rule{[]int{i, j}, func(pick []int) bool { return pick[0] != pick[1] }})
		}
	}
	none := slices.Repeat([]int{Unset}, n)
	if _, ok := New(choices, rules).Complete(none); ok {
		t.Error("fourteen in thirteen places")
	}
}
