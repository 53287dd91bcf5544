package document

import (
	"fmt"
	"strings"

	"seatward/quantity"
)

// writeRequest asks a vendor for a price. It holds what the vendor must know of the duty,
// the limits that any valve has to meet, and what has to be stated; nothing of the owner's
// money, and nothing that only the study needs.
func writeRequest(w *sheet) {
	p := w.Profile
	l := w.limits()
	w.heading(1, "What is wanted")
	w.form("wanted", "").
		add("", "From", w.field("company", p.Company.Text)).
		words("Contact", p.Contact.Text).
		add("", "Project", w.field("project", p.Project.Text)).
		add("", "Reply by", w.field("reply date", p.Reply.Text)).
		add("", "Quantity", w.field("quantity", p.Quantity.Text)).
		words("Type", w.Assessment.Item.Family.Title+" "+w.say("or equal by the numbers below")).
		words("Nominal size", w.Study.Station.Valve.Size.String()).
		words("Position", w.position()).
		words("Ends", strings.Join(w.endChoices(), w.say(" or "))).
		add("", "Delivery place", w.field("delivery place", p.Delivery.Text)).
		add("", "Delivery date", w.field("delivery date", p.Wanted.Text)).put()
	w.heading(1, "Service and duty")
	w.serviceForm()
	w.dutyFlows()
	w.heading(1, "Limits to be met")
	w.text(Plain, "State what you offer against each. An offer that leaves one open cannot be compared.")
	w.put(w.limitTable(l))
	w.heading(1, "Materials and coating")
	w.put(w.wantedMaterials())
	w.heading(1, "To be stated with the price")
	w.put(List{Boxes: true, Items: []string{
		w.say("maker, model, data sheet, drawing with mass, cover clearance and lifting points"),
		w.say("flow coefficient with its test, and the opening at which it holds; head loss at each flow above"),
		w.say("full-open velocity and minimum back head to seal, in this position"),
		w.say("reverse velocity against deceleration at flow reversal, measured, with laboratory and date; where there is none, say so"),
		w.say("test pressures, test standard and allowable leakage"),
		w.say("certificates: {list}", "list", w.certificateNames()),
		w.say("straight pipe required upstream and downstream; allowed positions"),
		w.say("spare parts with prices, torque of cover and flange bolts, inspection interval"),
		w.say("every deviation from this request"),
		w.say("price, delivery time, warranty, validity of the offer"),
	}})
	w.cautions("preliminary", "drinking-water")
}

// serviceForm is what the valve meets in this station.
func (w *sheet) serviceForm() {
	st := w.Study.Station
	f := w.form("service", "").
		words("Liquid", string(st.Fluid.Kind)).
		value("Highest temperature", "fluid.max_temperature", st.Fluid.MaxTemperature)
	if st.Fluid.Solids.Known() && st.Fluid.Solids.SI > 0 {
		f.value("Largest solids (sphere)", "fluid.solids", st.Fluid.Solids)
	}
	for _, x := range []struct{ key, label, text string }{
		{"rags", "Rags", st.Fluid.Rags}, {"grit", "Grit", st.Fluid.Grit}, {"oil", "Oil and grease", st.Fluid.Oil},
	} {
		if st.Fluid.Said[x.key] {
			f.words(x.label, x.text)
		}
	}
	f.words("Pumps", w.pumpWords())
	if d := w.Assessment.Slam.Deceleration; d.Known() {
		f.add("", "Deceleration at flow reversal, worst stop, without the valve",
			Cell{Text: w.number(w.Assessment.Item.ID+" deceleration", d)})
		f.words("Worst stop", w.Assessment.Slam.Event)
	}
	f.put()
}

func (w *sheet) pumpWords() string {
	var out []string
	for i := range w.Study.Station.Pumps {
		p := &w.Study.Station.Pumps[i]
		out = append(out, w.say("{n} × {name}, {speed}", "n", fmt.Sprint(max(1, p.Count)), "name", p.Name, "speed",
			w.number("pump speed", p.Speed)))
	}
	return strings.Join(out, "; ")
}

// dutyFlows are the flows through one valve; the head loss is the vendor's to state.
func (w *sheet) dutyFlows() {
	t := Table{ID: "flows", Columns: []Column{
		w.column("Point", 0.4), w.numbers("Flow through one valve", quantity.Flow), w.column("Head loss offered", 0.3),
	}}
	for _, d := range w.Assessment.Duties {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: d.Name}, w.of("duty flow", d.Flow), {Blank: true}}})
	}
	w.put(t)
}

// limitTable has what any valve must meet here, and a blank for what is offered.
func (w *sheet) limitTable(l siteLimits) Table {
	t := Table{ID: "limits", Columns: []Column{
		w.column("Point", 0.4), w.column("Limit", 0.3), w.column("Offered", 0.3),
	}}
	add := func(label, phrase string, kind quantity.Kind, si float64) {
		if si > 0 {
			t.Rows = append(t.Rows, Row{Cells: []Cell{
				{Text: w.say(label)}, {Text: w.say(phrase, "v", w.asked(kind, si))}, {Blank: true},
			}})
		}
	}
	st := w.Study.Station
	add("Pressure rating", "not less than {v}", quantity.Pressure, l.rating)
	if st.Fluid.Solids.Known() {
		add("Clear passage (sphere)", "not less than {v}", quantity.Diameter, st.Fluid.Solids.SI)
	}
	add("Head loss at normal flow", "not more than {v}", quantity.Head, l.loss)
	add("Full-open velocity", "not more than {v}", quantity.Velocity, l.fullOpen)
	add("Minimum back head to seal", "not more than {v}", quantity.Head, l.backHead)
	reverse := "not more than {v}"
	if l.deceleration > 0 {
		reverse = w.say("not more than {v} at a deceleration of {d} at flow reversal", "v", "{v}", "d",
			w.asked(quantity.Acceleration, l.deceleration))
	}
	add("Reverse velocity at closing", reverse, quantity.Velocity, l.reverse)
	add("Shell test", "not less than {v}", quantity.Pressure, l.shellTest)
	add("Seat test", "not less than {v}", quantity.Pressure, l.seatTest)
	add("Face-to-face length", "to fit {v}", quantity.Diameter, l.layingLength)
	add("Free height above the axis", "not more than {v}", quantity.Diameter, l.clearance)
	return t
}

// wantedMaterials are asked for by part, without masses of the valve that was looked at.
func (w *sheet) wantedMaterials() Table {
	t := Table{ID: "wanted-materials", Columns: []Column{
		w.column("Part", 0.2), w.column("Asked for, or better", 0.5), w.column("Offered", 0.3),
	}}
	for _, x := range w.Configuration.Parts {
		what := joined(", ", x.Material.Material, x.Standard)
		if x.Name == "ends" || what == "" {
			continue
		}
		if w.refused(&x) != nil {
			what = w.instead(x.Name)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: x.Name}, {Text: what}, {Blank: true}}})
	}
	return t
}

func (w *sheet) certificateNames() string {
	if w.Study.Station.Fluid.Drinking() {
		return w.say("drinking water, castings, coating")
	}
	return w.say("castings, coating")
}

// orderText names the configuration in words, as an order does.
func (w *sheet) orderText() string {
	it := w.Assessment.Item
	out := []string{it.Family.Title + " " + it.Size.String()}
	for _, s := range w.Configuration.Options {
		switch {
		case s.Choice == nil || s.Option.ID == "size" || s.Option.ID == "service":
		case s.Option.ID == "ends":
			out = append(out, s.Choice.Title)
		case s.Option.ID == "elastomer" && s.Choice.ID == "none":
		default:
			out = append(out, lower(s.Option.Title)+": "+s.Choice.Title)
		}
	}
	return strings.Join(out, "; ")
}
