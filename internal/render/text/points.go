package text

import (
	"fmt"

	"seatward/quantity"
)

// points prints the operating points with the first valve in place.
func (r *report) points() {
	if len(r.s.Points) == 0 {
		return
	}
	r.heading("Operating points")
	r.para("  ", fmt.Sprintf("With %s in place, its loss at its true opening.", r.s.Points[0].Valve))
	t := &table{indent: "  ", cols: []column{
		{head: "point", gives: true},
		{head: r.head("flow", quantity.Flow), right: true},
		{head: r.head("pump", quantity.Head), right: true},
		{head: r.head("static", quantity.Head), right: true},
		{head: r.head("valve", quantity.Head), right: true},
		{head: r.head("main", quantity.Velocity), right: true},
		{head: r.head("power", quantity.Power), right: true},
	}}
	for i := range r.s.Points {
		p := &r.s.Points[i]
		loss := none
		if len(p.ValveLoss) > 0 {
			loss = r.roughNum(p.ValveLoss[0])
		}
		t.add(p.Name, r.num(p.Flow), r.num(p.Head), r.num(p.StaticHead), loss, r.num(p.MainVelocity), r.num(p.Power))
	}
	r.table(t)
	for i := range r.s.Points {
		for _, n := range r.s.Points[i].Notes {
			r.item(amber, "  ", "!", r.s.Points[i].Name+": "+sentenceEnd(n))
		}
	}
}

// stops prints the pump stops that were looked at for slam.
func (r *report) stops() {
	if len(r.s.Stops.All) == 0 {
		return
	}
	byRun := len(r.s.Assessments) > 0 && r.s.Assessments[0].Slam.ClosedForm.Known()
	worst, _ := r.s.Stops.Worst()
	if byRun {
		r.heading("Pump stops by closed formulas")
	} else {
		r.heading("Pump stops looked at for slam")
	}
	t := &table{indent: "  ", cols: []column{
		{head: "what happens", gives: true}, {head: "before"}, {head: r.head("flow slows at", quantity.Acceleration), right: true},
	}}
	methods, marked := []string{}, false
	for _, s := range r.s.Stops.All {
		name := "  " + s.Name
		if !byRun && !marked && s.Name == worst.Name && s.Level == worst.Level {
			name, marked = "▸ "+s.Name, true
		}
		t.add(name, s.Level, r.band(s.Deceleration))
		if len(methods) == 0 || methods[len(methods)-1] != s.Method {
			methods = append(methods, s.Method)
		}
	}
	r.table(t)
	if byRun {
		r.para("  ", "Slam is told by pump trips that were run through; these are a check on them. Where the header gives way, as on a long plastic main, the formulas are far too harsh. Rates are those of the velocity in the pipe at the valve.")
	} else {
		r.paraIn(faint, "  ", "▸ the worst, by which slam is told. Rates are those of the velocity in the pipe at the valve.")
	}
	for _, m := range distinct(methods) {
		r.paraIn(faint, "  ", "Method: "+m)
	}
}

// distinct keeps the first of equal texts.
func distinct(texts []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range texts {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}
