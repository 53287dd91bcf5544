package exchange

import (
	"fmt"
	"slices"
	"strings"

	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

// catalogSheet is the sheet of the catalog's own keys: one row.
const catalogSheet = "catalog"

// Export lays a catalog file out in sheets: one row for the catalog, one for each family,
// size, end and so on, with columns by key. Rows of a list name what they belong to: the
// family by its id, choices also their option. Import makes the same file of them again.
func Export(tree *yamlfile.Tree) []table.Sheet {
	e := &exporter{}
	e.mapping(catalogSheet, nil, catalogKeys, tree)
	out := make([]table.Sheet, len(e.sheets))
	for i, s := range e.sheets {
		out[i] = s.table()
	}
	return out
}

// exporter gathers sheets in the order in which they are first met.
type exporter struct{ sheets []*laid }

// laid is a sheet at work.
type laid struct {
	name    string
	links   []string // heads of the columns that say what a row belongs to
	columns []string
	rows    []map[string]string
}

func (e *exporter) sheet(name string, links []string) *laid {
	for _, s := range e.sheets {
		if s.name == name {
			return s
		}
	}
	s := &laid{name: name, links: links}
	e.sheets = append(e.sheets, s)
	return s
}

// link is a column that says what a row belongs to.
type link struct{ head, text string }

// mapping lays out one mapping as a row of its sheet, and its lists of mappings on theirs.
func (e *exporter) mapping(sheetName string, links []link, keys []key, t *yamlfile.Tree) {
	var heads []string
	row := map[string]string{}
	for _, l := range links {
		heads = append(heads, l.head)
		row[l.head] = l.text
	}
	s := e.sheet(sheetName, heads)
	s.rows = append(s.rows, row)
	put := func(head, text string) {
		s.column(head)
		row[head] = text
	}
	for _, k := range keys {
		v := t.Get(k.name)
		if v == nil {
			continue
		}
		switch k.form {
		case cell:
			put(k.name, v.Text)
		case lines:
			put(k.name, joined(v.Items))
		case rows:
			var text []string
			for _, r := range v.Items {
				text = append(text, strings.Join(texts(r.Items), ", "))
			}
			put(k.name, strings.Join(text, "\n"))
		case keyed, group:
			for i, sub := range v.Keys {
				put(k.name+"."+sub, v.Items[i].Text)
			}
		case sheet:
			name := k.name
			below := slices.Clone(links)
			if sheetName != catalogSheet {
				id := t.Get("id")
				if id == nil {
					id = &yamlfile.Tree{}
				}
				below = append(below, link{belongsTo(sheetName), id.Text})
			}
			for _, item := range v.Items {
				e.mapping(name, below, k.of, item)
			}
		}
	}
}

// belongsTo heads the column that names the row of a sheet which other rows belong to.
func belongsTo(sheet string) string {
	if sheet == "families" {
		return "family"
	}
	return strings.TrimSuffix(sheet, "s")
}

func texts(items []*yamlfile.Tree) []string {
	out := make([]string, len(items))
	for i, t := range items {
		out[i] = t.Text
	}
	return out
}

func joined(items []*yamlfile.Tree) string { return strings.Join(texts(items), "\n") }

// column makes sure that the sheet has the column.
func (s *laid) column(head string) {
	if !slices.Contains(s.columns, head) && !slices.Contains(s.links, head) {
		s.columns = append(s.columns, head)
	}
}

// table is the sheet as cells, links first.
func (s *laid) table() table.Sheet {
	heads := append(slices.Clone(s.links), s.columns...)
	out := table.Sheet{Name: s.name}
	line := func(texts []string) {
		var row []table.Cell
		for i, text := range texts {
			row = append(row, table.Cell{Text: text, Row: len(out.Rows) + 1, Col: i + 1})
		}
		out.Rows = append(out.Rows, row)
	}
	line(heads)
	for _, r := range s.rows {
		var cells []string
		for _, h := range heads {
			cells = append(cells, r[h])
		}
		line(cells)
	}
	return out
}

// Lossless says what of a catalog file a table cannot carry; nil where nothing is lost:
// a text with a line break in a list, a list entry that is empty, or one with a comma in a
// list of points.
func Lossless(tree *yamlfile.Tree) error { return carried(catalogKeys, tree) }

func carried(keys []key, t *yamlfile.Tree) error {
	for _, k := range keys {
		v := t.Get(k.name)
		if v == nil {
			continue
		}
		for _, item := range v.Items {
			switch {
			case k.form == sheet:
				if err := carried(k.of, item); err != nil {
					return err
				}
			case k.form == lines && (item.Text == "" || strings.Contains(item.Text, "\n")):
				return fmt.Errorf("%s: an entry of %s is empty or has a line break, which no table carries", item.Place,
					k.name)
			case k.form == rows && slices.ContainsFunc(item.Items,
				func(x *yamlfile.Tree) bool { return strings.ContainsAny(x.Text, ",\n") }):
				return fmt.Errorf("%s: a point of %s has a comma in a number, which no table carries", item.Place,
					k.name)
			}
		}
	}
	return nil
}
