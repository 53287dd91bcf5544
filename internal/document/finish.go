package document

import "seatward/internal/figure"

// finish goes over every text of a document that is made: computed texts get the user's
// words.
func (w *sheet) finish() {
	d := w.d
	if !w.Wording.foreign() {
		return
	}
	f := func(s *string) { *s = w.Wording.finish(*s) }
	for _, s := range []*string{
		&d.Title, &d.Subject, &d.Mark,
		&d.Words.Contents, &d.Words.Page, &d.Words.Figure, &d.Words.Foot, &d.Words.Undrawn,
	} {
		f(s)
	}
	for i := range d.Missing {
		f(&d.Missing[i])
	}
	for name, s := range d.Words.Labels {
		f(&s)
		d.Words.Labels[name] = s
	}
	for i, b := range d.Blocks {
		if p, is := b.(Paragraph); is && p.Tone == Warning && p.Label == "" {
			p.Label = w.say("Warning") // formats would write it in English
			b = p
		}
		d.Blocks[i] = finished(b, f)
	}
}

// finished is a block with every text gone over. Tables, lists and figures are copied: the
// study's own stay as they are.
func finished(b Block, f func(*string)) Block {
	all := func(texts []string) []string {
		out := append([]string{}, texts...)
		for i := range out {
			f(&out[i])
		}
		return out
	}
	switch x := b.(type) {
	case Heading:
		f(&x.Text)
		return x
	case Paragraph:
		f(&x.Label)
		f(&x.Text)
		return x
	case List:
		x.Items = all(x.Items)
		return x
	case Table:
		return finishedTable(x, f)
	case Figure:
		f(&x.Caption)
		f(&x.Text)
		if x.Figure != nil {
			x.Figure = finishedFigure(*x.Figure, f)
		}
		return x
	case Clause:
		f(&x.Text)
		return x
	case Listing:
		x.Lines = all(x.Lines)
		return x
	case Code:
		f(&x.Text)
		f(&x.Caption)
		return x
	case Space:
		f(&x.Title)
		x.Lines = all(x.Lines)
		return x
	}
	return b
}

func finishedTable(x Table, f func(*string)) Table {
	f(&x.Caption)
	x.Columns, x.Rows = append([]Column{}, x.Columns...), append([]Row{}, x.Rows...)
	for i := range x.Columns {
		f(&x.Columns[i].Title)
		f(&x.Columns[i].Unit)
	}
	for i := range x.Rows {
		cells := append([]Cell{}, x.Rows[i].Cells...)
		for j := range cells {
			f(&cells[j].Text)
		}
		x.Rows[i].Cells = cells
	}
	return x
}

func finishedFigure(x figure.Figure, f func(*string)) *figure.Figure {
	f(&x.Title)
	f(&x.Note)
	x.Panels = append([]figure.Panel{}, x.Panels...)
	for i := range x.Panels {
		p := &x.Panels[i]
		f(&p.Title)
		f(&p.XLabel)
		f(&p.YLabel)
		p.Series, p.Marks = append([]figure.Series{}, p.Series...), append([]figure.Mark{}, p.Marks...)
		p.Points, p.Shades = append([]figure.Point{}, p.Points...), append([]figure.Shade{}, p.Shades...)
		p.Levels = append([]figure.Level{}, p.Levels...)
		for j := range p.Series {
			f(&p.Series[j].Name)
		}
		for j := range p.Marks {
			f(&p.Marks[j].Text)
		}
		for j := range p.Points {
			f(&p.Points[j].Text)
		}
		for j := range p.Shades {
			f(&p.Shades[j].Text)
		}
		for j := range p.Levels {
			f(&p.Levels[j].Text)
		}
	}
	return &x
}
