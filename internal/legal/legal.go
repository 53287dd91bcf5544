// Package legal finds choices that go together: variables, each with a few choices, and
// rules that each allow or bar combinations of some of them. It says whether a partial
// choice can be completed, which choices are left, and which few picks and rules are in
// each other's way. It knows numbers only.
package legal

import "slices"

// Rule allows or bars the choices of a few variables.
type Rule struct {
	Scope  []int                 // variables, each once
	Allows func(pick []int) bool // choices in the order of Scope; always the same answer for the same ones
}

// Problem is variables with their choices, and rules. It is not for several goroutines
// at a time.
type Problem struct {
	choices []int // how many each variable has
	rules   []rule
	of      [][]int // rules of each variable
	parts   [][]int // variables that rules tie together
	steps   int     // left of the budget
}

// Unset stands for a variable that is not chosen.
const Unset = -1

// budget bounds the search: real option lists need hundreds of steps.
const budget = 50_000

// rule is a Rule with its answers kept.
type rule struct {
	Rule
	known []uint8 // by combination: 0 not asked, 1 allows, 2 bars; nil where there are too many
}

const mostKept = 1 << 14

// New makes a problem; choices says how many choices each variable has.
func New(choices []int, rules []Rule) *Problem {
	p := &Problem{choices: choices, of: make([][]int, len(choices))}
	for i, r := range rules {
		n := 1
		for _, v := range r.Scope {
			n = min(n*max(choices[v], 1), mostKept+1)
			p.of[v] = append(p.of[v], i)
		}
		k := rule{Rule: r}
		if n <= mostKept {
			k.known = make([]uint8, n)
		}
		p.rules = append(p.rules, k)
	}
	p.tie()
	return p
}

// tie finds the parts: variables that no rule joins do not depend on each other.
func (p *Problem) tie() {
	seen := make([]bool, len(p.choices))
	for first := range p.choices {
		if seen[first] {
			continue
		}
		part := []int{first}
		seen[first] = true
		for i := 0; i < len(part); i++ {
			for _, r := range p.of[part[i]] {
				for _, v := range p.rules[r].Scope {
					if !seen[v] {
						seen[v] = true
						part = append(part, v)
					}
				}
			}
		}
		slices.Sort(part)
		p.parts = append(p.parts, part)
	}
}

// allows asks the rule, once for each combination.
func (r *rule) allows(picks, choices []int) bool {
	if r.known == nil {
		return r.Allows(r.at(picks))
	}
	key := 0
	for _, v := range r.Scope {
		key = key*choices[v] + picks[v]
	}
	if r.known[key] == 0 {
		r.known[key] = 2
		if r.Allows(r.at(picks)) {
			r.known[key] = 1
		}
	}
	return r.known[key] == 1
}

// at gives the picks of the rule's variables.
func (r *rule) at(picks []int) []int {
	out := make([]int, len(r.Scope))
	for i, v := range r.Scope {
		out[i] = picks[v]
	}
	return out
}

// Broken lists the rules that the picks break, of those whose variables are all picked.
func (p *Problem) Broken(picks []int) []int {
	var out []int
	for i := range p.rules {
		if p.decided(i, picks) && !p.rules[i].allows(picks, p.choices) {
			out = append(out, i)
		}
	}
	return out
}

func (p *Problem) decided(rule int, picks []int) bool {
	return !slices.ContainsFunc(p.rules[rule].Scope, func(v int) bool { return picks[v] == Unset })
}

// Complete fills in the picks that are Unset, the earlier choice first; false when there
// is no way to, or none was found within the budget.
func (p *Problem) Complete(picks []int) ([]int, bool) {
	p.steps = budget
	out := slices.Clone(picks)
	for _, part := range p.parts {
		if !p.fill(out, part, nil) {
			return nil, false
		}
	}
	return out, true
}

// fill completes the picks of one part, asking the rules that are not left out.
func (p *Problem) fill(picks, part []int, without []bool) bool {
	for _, v := range part {
		if picks[v] != Unset && !p.holds(picks, v, without) {
			return false
		}
	}
	return p.straight(picks, part, without) || p.search(picks, part, without)
}

// straight picks one variable after the other, without turning back: enough where rules
// are few. It leaves the picks as they were where it comes to an end.
func (p *Problem) straight(picks, part []int, without []bool) bool {
	var picked []int
	for _, v := range part {
		if picks[v] != Unset {
			continue
		}
		picked = append(picked, v)
		found := false
		for c := 0; c < p.choices[v] && !found; c++ {
			picks[v] = c
			found = p.holds(picks, v, without)
		}
		if !found {
			for _, v := range picked {
				picks[v] = Unset
			}
			return false
		}
	}
	return true
}

// holds is true when no decided rule of the variable is broken.
func (p *Problem) holds(picks []int, variable int, without []bool) bool {
	for _, r := range p.of[variable] {
		if (without == nil || !without[r]) && p.decided(r, picks) && !p.rules[r].allows(picks, p.choices) {
			return false
		}
	}
	return true
}

// search picks for the variable that has the fewest choices left.
func (p *Problem) search(picks, part []int, without []bool) bool {
	if p.steps--; p.steps < 0 {
		return false
	}
	best, fewest := Unset, 0
	for _, v := range part {
		if picks[v] != Unset {
			continue
		}
		left := 0
		for c := range p.choices[v] {
			picks[v] = c
			if p.holds(picks, v, without) {
				left++
			}
		}
		picks[v] = Unset
		if best == Unset || left < fewest {
			best, fewest = v, left
		}
		if left == 0 {
			return false
		}
	}
	if best == Unset {
		return true
	}
	for c := range p.choices[best] {
		picks[best] = c
		if p.holds(picks, best, without) && p.search(picks, part, without) {
			return true
		}
	}
	picks[best] = Unset
	return false
}

// Left says for each variable which choices can be completed with the picks; the choice
// that stands is put aside for its own variable, so that it shows what it could be
// changed for. Picks that cannot be completed themselves leave nothing in their part.
func (p *Problem) Left(picks []int) [][]bool {
	out := make([][]bool, len(p.choices))
	for v := range out {
		out[v] = make([]bool, p.choices[v])
	}
	witness := func(found []int, part []int) {
		for _, v := range part {
			out[v][found[v]] = true
		}
	}
	for _, part := range p.parts {
		p.steps = budget
		if whole := slices.Clone(picks); p.fill(whole, part, nil) {
			witness(whole, part)
		}
		for _, v := range part {
			for c := range p.choices[v] {
				if out[v][c] {
					continue
				}
				p.steps = budget
				try := slices.Clone(picks)
				try[v] = c
				if !p.fill(try, part, nil) {
					continue
				}
				out[v][c] = true
				if picks[v] == Unset {
					witness(try, part)
				}
			}
		}
	}
	return out
}

// Conflict gives few picks and few rules that cannot go together: with any one of them
// away, the rest can be completed. The picks must be such that Complete fails; only then
// is there an answer.
func (p *Problem) Conflict(picks []int) (variables, rules []int) {
	without := make([]bool, len(p.rules))
	possible := func(picks []int) bool {
		p.steps = budget
		whole := slices.Clone(picks)
		for _, part := range p.parts {
			if !p.fill(whole, part, without) {
				return false
			}
		}
		return true
	}
	few := slices.Clone(picks)
	// Rules first: one that stands alone tells more than a pick does.
	for r := range p.rules {
		without[r] = true
		if possible(few) {
			without[r] = false
			rules = append(rules, r)
		}
	}
	for v, c := range few {
		if c == Unset {
			continue
		}
		few[v] = Unset
		if possible(few) {
			few[v] = c
			variables = append(variables, v)
		}
	}
	return variables, rules
}

// Tried says whether a rule allows and whether it bars anything at all, over all
// combinations of its variables; tried is false where there are too many.
func (p *Problem) Tried(rule int) (allows, bars, tried bool) {
	r := &p.rules[rule]
	if r.known == nil {
		return false, false, false
	}
	picks := make([]int, len(p.choices))
	for key := range r.known {
		rest := key
		for i := len(r.Scope) - 1; i >= 0; i-- {
			v := r.Scope[i]
			picks[v], rest = rest%p.choices[v], rest/p.choices[v]
		}
		if r.allows(picks, p.choices) {
			allows = true
		} else {
			bars = true
		}
		if allows && bars {
			break
		}
	}
	return allows, bars, true
}
