package text

import (
	"fmt"
	"strings"

	"seatward/quantity"
)

// points prints the operating points with the first valve in place.
func (r *report) points() {
	if len(r.s.Points) == 0 {
		return
	}
	r.heading("Operating points")
	r.para("  ", fmt.Sprintf("With %s in place, its head loss at its actual opening.", r.s.Points[0].Valve))
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
			loss = r.num(p.ValveLoss[0])
		}
		t.add(p.Name, r.num(p.Flow), r.num(p.Head), r.num(p.StaticHead), loss, r.num(p.MainVelocity), r.num(p.Power))
	}
	r.table(t)
	var notes []string
	at := map[string][]string{} // names of the points by note
	for i := range r.s.Points {
		for _, n := range r.s.Points[i].Notes {
			if at[n] == nil {
				notes = append(notes, n)
			}
			at[n] = append(at[n], r.s.Points[i].Name)
		}
	}
	for _, n := range notes {
		r.item(amber, "  ", "!", strings.Join(at[n], "; ")+": "+sentenceEnd(n))
	}
}
