package document

import (
	"seatward/basis"
	"seatward/quantity"
	"seatward/standards"
)

func writeTestForm(w *sheet) {
	w.heading(1, "What is tested")
	p := w.Profile
	w.form("tested", "").
		add("", "Order", Cell{Blank: true}).
		add("", "Tag", w.field("tag", p.Tag.Text)).
		add("", "Serial number", Cell{Blank: true}).
		words("Valve", w.Assessment.Item.Family.Title+", "+w.Assessment.Item.Size.String()).
		words("Order text", w.orderText()).
		value("Pressure rating", "configuration rating", w.Configuration.Rating).put()
	w.heading(1, "Procedure")
	w.testProcedure()
	w.heading(1, "Record")
	w.text(Plain, "Every measured value is a blank: the program never fills one in.")
	t := Table{ID: "record", Columns: []Column{
		w.column("Test", 0.2), w.column("Pressure to hold", 0.16),
		w.column("Pressure held", 0.16), w.column("Duration", 0.14), w.column("Leakage measured",
			0.17), w.column("Leakage allowed", 0.17),
	}}
	for _, r := range []struct {
		name, path string
		v          basis.Value
	}{{"Shell", "configuration shell test", w.Configuration.ShellTest}, {
		"Seat, from downstream",
		"configuration seat test", w.Configuration.SeatTest,
	}} {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: w.say(r.name)},
			w.cell(r.path, r.v),
			{Blank: true},
			{Blank: true},
			{Blank: true},
			{Blank: true},
		}})
	}
	t.Rows = append(t.Rows, Row{Cells: []Cell{
		{Text: w.say("Seat, low pressure")},
		{Blank: true},
		{Blank: true},
		{Blank: true},
		{Blank: true},
		{Blank: true},
	}})
	w.put(t)
	w.form("gauge", "").
		add("", "Test medium and temperature", Cell{Blank: true}).
		add("", "Gauge, range, calibration date", Cell{Blank: true}).
		add("", "Element moves freely through its whole way", Cell{Blank: true}).
		add("", "Operator, date", Cell{Blank: true}).
		add("", "Inspector, date", Cell{Blank: true}).
		add("", "Certificate type", Cell{Blank: true}).put()
	w.text(Warning, "Test with water, not gas: compressed gas holds energy that kills. Vent all air before pressure is raised, stand clear of covers and ends, and relieve trapped pressure before anything is loosened. The test is done by the maker's instructions.")
	w.cautions("pressure", "lifting")
}

// testProcedure tells pressures and which standards speak of them.
func (w *sheet) testProcedure() {
	cfg := w.Configuration
	w.form("test", "").
		value("Shell test pressure", "configuration shell test", cfg.ShellTest).
		words("Basis", w.factor(cfg.Family.ShellTest)).
		value("Seat test pressure", "configuration seat test", cfg.SeatTest).
		words("Basis", w.factor(cfg.Family.SeatTest)).
		add("", "Standard agreed on", Cell{Blank: true}).
		add("", "Test duration and allowable leakage per that standard", Cell{Blank: true}).put()
	var rows []Row
	for _, s := range w.Standards {
		if s.Standard.About == "test" && (s.Verdict == standards.Applies || s.Verdict == standards.InPart) {
			edition := ""
			if len(s.Standard.Editions) > 0 {
				edition = s.Standard.Editions[0]
			}
			rows = append(rows, Row{Cells: []Cell{
				{Text: s.Standard.ID},
				{Text: edition},
				{Text: s.Standard.Scope},
				{Text: joined(": ", s.Verdict.String(), s.Text)},
			}})
		}
	}
	if len(rows) > 0 {
		w.put(Table{
			ID: "test-standards",
			Columns: []Column{
				w.column("Standard", 0.16), w.column("Edition", 0.1),
				w.column("Summary (not quoted)", 0.44), w.column("For this valve", 0.3),
			}, Rows: rows,
		})
	}
	w.put(List{Numbered: true, Items: []string{
		w.say("Fill with clean water, vent, dry the outside. The element is free to move."),
		w.say("Shell: ends blanked, raise to the shell test pressure, hold for the duration agreed, look at every joint and wall."),
		w.say("Seat: pressure from downstream, upstream end open to the air; hold, then measure what passes the seat."),
		w.say("Repeat the seat test at low pressure, since a check valve that is tight at high head may leak at a low one."),
		w.say("Drain, relieve trapped pressure, block the element for transport."),
	}})
}

func (w *sheet) factor(v basis.Value) string {
	if !v.Known() {
		return ""
	}
	by := w.say("catalog")
	if v.Origin == basis.Assumed {
		by = w.say("assumed: {why}", "why", basis.Cite(v.Source))
	}
	return w.say("{n} × pressure rating ({by})", "n", quantity.Figures(v.SI, 3), "by", by)
}

// assumptions lists every assumed value with its range and reason.
func (w *sheet) assumptions() Table {
	t := Table{
		ID: "assumed", Caption: w.say("Assumed"),
		Columns: []Column{
			w.column("Fact", 0.28), w.column("Taken as", 0.14), w.column("Range", 0.2),
			w.column("Why", 0.38),
		},
	}
	for _, a := range w.Study.Assumed {
		v := a.Value
		span := "–"
		if v.Ranged() {
			span = v.FormatRange(w.units())
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: v.Name},
			w.cell(a.Path, v),
			{Text: span},
			{Text: joined(". ", v.Reason, basis.Cite(v.Source))},
		}})
	}
	return t
}
