package text

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/study"
)

// tail prints what goes with every answer.
func (r *report) tail() {
	r.assumed()
	r.warnings()
	r.cautions()
	r.references()
}

// assumed lists the assumptions, the most decisive first.
func (r *report) assumed() {
	list := r.byWeight()
	if len(list) == 0 {
		return
	}
	r.heading(fmt.Sprintf("Assumed: %s", plural(len(list), "fact")))
	r.para("  ", "The largest sources of uncertainty come first. Give any of them in the station file and the answer narrows.")
	for _, a := range list {
		v := a.Value
		text := v.Name + ": " + r.val(v)
		if v.Ranged() {
			text += " (" + r.band(v) + ")"
		}
		r.item(plain, "  ", "·", text)
		why := sentence(v.Reason)
		if c := cite(v.Source); c != "" {
			why += " [" + short(c) + "]"
		}
		r.paraIn(faint, "    ", why)
	}
}

// byWeight orders the assumptions by what they do to the first valve's answer: first
// those that move its slam, by their share; then those that the slam verdict rests
// on, then the operating point, then the cost, then the rest, each by how wide they are.
func (r *report) byWeight() []study.Assumed {
	type weight struct{ tier, swing float64 }
	weights := map[basis.Same]weight{}
	rest := func(tier float64, values ...basis.Value) {
		for _, v := range basis.Assumptions(values...) {
			if weights[v.Same()].tier < tier {
				weights[v.Same()] = weight{tier: tier}
			}
		}
	}
	if len(r.s.Assessments) > 0 {
		a := &r.s.Assessments[0]
		rest(1, a.EnergyPerYear, a.CostPerYear, a.LifeCycleCost)
		rest(2, a.Governing.Flow, a.Governing.Velocity, a.Governing.Loss)
		rest(3, a.Slam.ReverseVelocity, a.Slam.HeadRise)
		for _, x := range a.Slam.Inputs {
			weights[x.Value.Same()] = weight{4, x.Share}
		}
	}
	list := slices.Clone(r.s.Assumed)
	slices.SortStableFunc(list, func(a, b study.Assumed) int {
		x, y := weights[a.Value.Same()], weights[b.Value.Same()]
		return cmp.Or(cmp.Compare(y.tier, x.tier), cmp.Compare(y.swing, x.swing),
			cmp.Compare(spread(b.Value), spread(a.Value)))
	})
	return list
}

// spread is how wide the range of a value is, as a share of its greatest end.
func spread(v basis.Value) float64 {
	scale := max(math.Abs(v.High), math.Abs(v.Low))
	if scale == 0 {
		return 0
	}
	return (v.High - v.Low) / scale
}

// short cuts a citation to its first part; the references have it in full.
func short(cite string) string {
	if head, _, ok := strings.Cut(cite, ","); ok && len(head) > 8 {
		return head
	}
	return cite
}

func (r *report) warnings() {
	if len(r.s.Station.Warnings) == 0 {
		return
	}
	r.heading("Odd, but used as it stands")
	for _, w := range r.s.Station.Warnings {
		r.item(amber, "  ", "!", w.Error())
	}
}

func (r *report) cautions() {
	if len(r.s.Cautions) == 0 {
		return
	}
	r.heading("Cautions")
	for _, c := range r.s.Cautions {
		r.item(amber, "  ", "!", c.Text)
	}
}

func (r *report) references() {
	n := 0
	for _, ref := range r.s.References {
		if r.s.OfProduct(ref) {
			continue // the catalog is named with the answer
		}
		if n++; n == 1 {
			r.heading("References")
		}
		r.para(fmt.Sprintf("%4d  ", n), ref)
	}
}
