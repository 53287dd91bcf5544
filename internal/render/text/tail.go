package text

import (
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
	r.para("  ", "Those that move the answer most stand first. Give any of them in the station file and the answer narrows.")
	for _, a := range list {
		v := a.Value
		text := v.Name + ": " + v.Format(r.opt.Units)
		r.item(plain, "  ", "·", text)
		why := sentence(v.Reason)
		if c := cite(v.Source); c != "" {
			why += " [" + short(c) + "]"
		}
		r.paraIn(faint, "    ", why)
	}
}

// byWeight orders the assumptions by what they do to the slam band of the first valve,
// then by how wide they are.
func (r *report) byWeight() []study.Assumed {
	swing := map[string]float64{}
	if len(r.s.Assessments) > 0 {
		for _, s := range r.s.Assessments[0].Slam.Shares {
			swing[s.Input] = max(swing[s.Input], math.Abs(s.HighMS-s.LowMS))
		}
	}
	weigh := func(v basis.Value) (moves, spread float64) {
		moves = swing[v.Name]
		if scale := max(math.Abs(v.SI), math.Abs(v.High), math.Abs(v.Low)); scale > 0 {
			spread = (v.High - v.Low) / scale
		}
		return moves, spread
	}
	list := slices.Clone(r.s.Assumed)
	slices.SortStableFunc(list, func(a, b study.Assumed) int {
		am, as := weigh(a.Value)
		bm, bs := weigh(b.Value)
		switch {
		case am != bm:
			return sign(bm - am)
		default:
			return sign(bs - as)
		}
	})
	return list
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// short cuts a citation to its first part; the references have it in full.
func short(cite string) string {
	if head, _, ok := strings.Cut(cite, ","); ok && len(head) > 12 {
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
	if len(r.s.References) == 0 {
		return
	}
	r.heading("References")
	for i, ref := range r.s.References {
		r.para(fmt.Sprintf("%4d  ", i+1), ref)
	}
}
