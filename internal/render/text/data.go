package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/basis"
	"seatward/catalog"
	"seatward/fluid"
	"seatward/quantity"
	"seatward/rules"
	"seatward/valve"
)

// Catalogs lists the families of catalogs, each with its sizes.
func Catalogs(w io.Writer, catalogs []*catalog.Catalog, opt Options) error {
	p := newPage(opt)
	for _, c := range catalogs {
		p.heading(c.Maker + " " + c.Version)
		p.paraIn(faint, "  ", fmt.Sprintf("Source: %s. Licence: %s.", c.Source, c.Licence))
		for _, f := range c.Families {
			p.gap()
			p.put("  " + p.paint(strong, p.fit(f.ID, 30)) + "  " + p.fit(f.Title, Width-4-min(width(Clean(f.ID)), 30)))
			p.labeledLine("  type", f.Type.Title)
			p.labeledLine("  sizes", sizes(f, opt.Units))
			p.labeledLine("  positions", valve.PositionWords(f.Positions, ", "))
			p.labeledLine("  services", strings.Join(fluid.ServiceWords(f.Services), ", "))
			if v := variants(f); v != "" {
				p.labeledLine("  variants", v)
			}
			if len(f.Items) > 0 {
				p.labeledLine("  write", "--valve "+f.Items[0].ID)
			}
		}
	}
	return p.flush(w)
}

// sizes lists the sizes of a family, each once.
func sizes(f *catalog.Family, sys quantity.System) string {
	var out []string
	last := quantity.Size{}
	for _, it := range f.Items {
		if it.Size != last {
			last = it.Size
			name := it.Size.Format(sys)
			if sys == quantity.US {
				name = strings.TrimSuffix(name, " in")
			}
			out = append(out, name)
		}
	}
	text := strings.Join(out, ", ")
	if sys == quantity.US && len(out) > 0 {
		text += " in"
	}
	return text
}

// variants lists the variants of a family, each once.
func variants(f *catalog.Family) string {
	var out []string
	for _, it := range f.Items {
		if it.Variant != "" {
			out = append(out, fmt.Sprintf("%s (%s; %s)", it.Variant, it.VariantTitle,
				valve.PositionWords(it.Positions, ", ")))
		}
	}
	return strings.Join(distinct(out), "; ")
}

// Checked says that catalogs were checked and hold no fault.
func Checked(w io.Writer, catalogs []*catalog.Catalog, opt Options) error {
	p := newPage(opt)
	for _, c := range catalogs {
		valves := 0
		for _, f := range c.Families {
			valves += len(f.Items)
		}
		families := "families"
		if len(c.Families) == 1 {
			families = "family"
		}
		p.para("", fmt.Sprintf("%s %s: %d %s, %s, no fault found", c.Maker, c.Version, len(c.Families), families,
			plural(valves, "valve")))
	}
	return p.flush(w)
}

// Rules lists the limits of a book, each with its source and how sure it is.
func Rules(w io.Writer, book *rules.Book, opt Options) error {
	p := newPage(opt)
	for _, id := range book.IDs() {
		l := book.Limit(id)
		p.put(p.paint(strong, p.fit(id, 40)) + "  " + p.val(l.Value))
		p.para("    ", sentence(l.Title))
		source := basis.Cite(l.Value.Source)
		if l.Edition != "" {
			source += ", " + l.Edition
		}
		text := "Source: " + source
		if l.Status != source {
			text += "; " + l.Status
		}
		if l.Note != "" {
			text += "; " + l.Note
		}
		p.paraIn(faint, "    ", sentenceEnd(text))
	}
	return p.flush(w)
}
