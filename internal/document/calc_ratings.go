package document

import (
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/plant"
	"seatward/quantity"
)

// rated is a part with what it is rated for and what it gets.
type rated struct {
	name          string
	rating, extra basis.Value // extra: allowed above the rating in surge
	greatestPa    float64
	event         string
}

// ratings sets the greatest pressure of all stops and starts against what pipes, valve and
// flanges are rated for.
func (c *calc) ratings() {
	if c.Trip == nil {
		return
	}
	var ran []*plant.Stop
	for _, s := range c.Trip.Answer.Stops {
		if s.Fault == "" {
			ran = append(ran, s)
		}
	}
	if len(ran) == 0 {
		return
	}
	c.envelope(ran)
	t := Table{
		ID: "ratings", Caption: c.say("Greatest pressure of all stops and starts against ratings"),
		Columns: []Column{
			c.column("Part", 0.2), c.numbers("Rating", quantity.Pressure),
			c.numbers("Surge allowance", quantity.Pressure),
			c.numbers("Greatest", quantity.Pressure),
			{Title: c.say("Of the limit"), Unit: "%", Right: true},
			c.column("Event", 0.3), c.column("From", 0.16), c.column("", 0.13),
		},
	}
	for i, r := range c.parts(ran) {
		t.Rows = append(t.Rows, c.ratedRow(i, r))
	}
	c.put(t)
	c.text(Source, "Gauge pressures at the axis. Limit: rating and surge allowance. Without a surge allowance the rating itself is the limit.")
}

func (c *calc) ratedRow(i int, r rated) Row {
	id := "r" + string(rune('a'+i%26))
	p := func(pa float64) Cell {
		return c.full(Cell{Text: c.units().Format(quantity.Pressure, pa)}, quantity.Pressure, pa)
	}
	short := func(x Cell) Cell {
		x.Text = c.units().Number(quantity.Pressure, c.si(x.Number))
		return x
	}
	row := Row{ID: id, Cells: []Cell{{Text: r.name}}}
	most := short(p(r.greatestPa))
	if !r.rating.Known() {
		row.Cells = append(row.Cells, Cell{Text: "–", Tone: Open}, Cell{}, most, Cell{Text: "–"}, Cell{Text: r.event},
			Cell{}, Cell{Text: c.say("not rated"), Tone: Open})
		return row
	}
	rating, extra := short(p(r.rating.SI)), short(p(r.extra.SI))
	share := r.greatestPa / (r.rating.SI + r.extra.SI)
	text := numeric(Cell{Text: c.units().Number(quantity.Fraction, share)})
	text.Number = 100 * share
	text.Formula = "100*{ratings." + id + ":3}/({ratings." + id + ":1}+{ratings." + id + ":2})"
	said := Cell{Text: c.say("holds"), Tone: Good}
	if share > 1 {
		said = Cell{Text: c.say("exceeded"), Tone: Bad}
	}
	row.Cells = append(row.Cells, rating, extra, most, text, Cell{Text: r.event},
		Cell{Text: joined("; ", c.from(r.rating), c.allowance(r.extra))}, said)
	return row
}

// allowance says where a surge allowance comes from.
func (c *calc) allowance(v basis.Value) string {
	if !v.Known() {
		return ""
	}
	return c.from(v)
}

// si is a pressure of the paper's units in Pa.
func (c *calc) si(v float64) float64 { return v / c.in(quantity.Pressure, 1) }

// parts are the rated parts with the greatest pressure that each gets.
func (c *calc) parts(ran []*plant.Stop) []rated {
	st, it := c.Study.Station, c.Assessment.Item
	gamma := st.Fluid.Density.SI * plant.GravityMS2
	worst := slices.MaxFunc(ran, func(a, b *plant.Stop) int { return compare(a.MostM(), b.MostM()) })
	atValve := gamma * (worst.MostM() - st.ValveAboveDatum())
	out := []rated{{name: c.say("Valve body"), rating: it.Rating, greatestPa: atValve, event: worst.Event.Title}}
	for _, o := range c.Configuration.Options {
		if o.Option.ID != catalog.EndsOption || o.Choice == nil {
			continue
		}
		r := it.Rating
		if by, known := catalog.StandardRating(o.Choice.Title, it.Size); known {
			r = by
		}
		for _, e := range it.Family.Ends {
			if e.Standard == o.Choice.Title && e.Covers(it.Size) && e.Rating.Known() {
				r = e.Rating
			}
		}
		out = append(out, rated{name: o.Choice.Title, rating: r, greatestPa: atValve, event: worst.Event.Title})
	}
	for i := range st.Branch.Runs {
		r := &st.Branch.Runs[i]
		out = append(out, rated{
			name: title1(r.Name), rating: r.Rating, extra: r.SurgeAllowance, greatestPa: atValve,
			event: worst.Event.Title,
		})
	}
	from := 0.0
	for i := range st.Main.Runs {
		r := &st.Main.Runs[i]
		to := from + r.Length.SI
		x := rated{name: title1(r.Name), rating: r.Rating, extra: r.SurgeAllowance, greatestPa: math.Inf(-1)}
		for _, s := range ran {
			for _, e := range s.Envelope {
				p := gamma * (e.MostM - e.ElevationM)
				if e.ChainageM >= from-1e-6 && e.ChainageM <= to+1e-6 && p > x.greatestPa {
					x.greatestPa, x.event = p, s.Event.Title
				}
			}
		}
		if !math.IsInf(x.greatestPa, 0) {
			out = append(out, x)
		}
		from = to
	}
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// title1 begins with a capital.
func title1(s string) string { return sentenceStart(s) }

// envelope lists max. and min. heads of all stops and starts along the main.
func (c *calc) envelope(ran []*plant.Stop) {
	first := ran[0].Envelope
	if len(first) == 0 {
		return
	}
	const places = 12
	head := func(m float64) Cell {
		return numeric(Cell{Text: minus(c.units().Number(quantity.Head, m))})
	}
	t := Table{
		ID: "envelope", Caption: c.say("Pressure envelope along the main, all stops and starts"),
		Columns: []Column{
			c.numbers("Chainage", quantity.Length), c.numbers("Axis", quantity.Head),
			c.numbers("Max. head", quantity.Head),
			c.numbers("Min. head", quantity.Head), c.numbers("Max. pressure head", quantity.Head),
			c.numbers("Allowed", quantity.Head), c.numbers("Min. pressure head", quantity.Head), c.column("", 0.14),
		},
	}
	for k := 0; k <= places; k++ {
		e := first[k*(len(first)-1)/places]
		most, least := math.Inf(-1), math.Inf(1)
		for _, s := range ran {
			p := nearestPlace(s.Envelope, e.ChainageM)
			most, least = math.Max(most, p.MostM), math.Min(least, p.LeastM)
		}
		allowed, said := Cell{Text: "–"}, Cell{}
		if !math.IsNaN(e.LimitM) {
			allowed = head(e.LimitM - e.ElevationM)
			if most > e.LimitM {
				said = Cell{Text: c.say("over rating"), Tone: Bad}
			}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			numeric(Cell{Text: c.units().Number(quantity.Length, e.ChainageM)}), head(e.ElevationM), head(most),
			head(least),
			head(most - e.ElevationM), allowed, head(least - e.ElevationM), said,
		}})
	}
	for i := range t.Columns {
		t.Columns[i].Width = 0.12
	}
	c.put(t)
	c.text(Source, "Heads and axis above {datum}. Allowed: rating and surge allowance of the pipe as head.", "datum", c.Trip.Datum)
	if c.Assessment.Separation != "" {
		c.put(Paragraph{Text: joined(" ", c.Assessment.Separation, c.separationNumbers(c.Assessment)), Tone: Bad})
	}
}

// nearestPlace is the point of an envelope nearest to the chainage.
func nearestPlace(all []plant.EnvelopePoint, chainageM float64) plant.EnvelopePoint {
	out := all[0]
	for _, e := range all {
		if math.Abs(e.ChainageM-chainageM) < math.Abs(out.ChainageM-chainageM) {
			out = e
		}
	}
	return out
}
