package exchange

import (
	"fmt"
	"slices"
	"strings"

	"seatward/diag"
	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

// Import makes a catalog file of sheets as Export lays them out. The list holds every
// fault, at the cell.
func Import(filename string, sheets []table.Sheet) (*yamlfile.Tree, diag.List) {
	m := &importer{file: filename, byName: map[string]*table.Sheet{}}
	for i := range sheets {
		m.byName[sheets[i].Name] = &sheets[i]
	}
	if m.byName[catalogSheet] == nil || m.byName["families"] == nil {
		var names []string
		for _, s := range sheets {
			names = append(names, s.Name)
		}
		m.list.Add(diag.Message{ID: "sheets-missing", Place: diag.Place{File: filename, Line: 1, Col: 1}, Text: "no sheets called catalog and families", Found: strings.Join(names, ", "), Expected: "sheets as seatward catalog export writes them", Mend: "for a table of another form, write a column map and give it with --map"})
		return nil, m.list
	}
	root := m.rows(catalogSheet, catalogKeys, nil)
	m.spare()
	m.list.Sort()
	if len(root) == 0 {
		return nil, m.list
	}
	return root[0], m.list
}

type importer struct {
	file   string
	byName map[string]*table.Sheet
	used   map[string]map[int]bool // rows that found what they belong to, by sheet
	list   diag.List
}

func (m *importer) place(sheet string, row, col int) diag.Place {
	return diag.Place{File: m.file + ", sheet " + sheet, Line: row, Col: col}
}

// rows reads the rows of a sheet that belong to what the links name.
func (m *importer) rows(name string, keys []key, links []link) []*yamlfile.Tree {
	s := m.byName[name]
	if s == nil || len(s.Rows) == 0 {
		return nil
	}
	if m.used == nil {
		m.used = map[string]map[int]bool{}
	}
	if m.used[name] == nil {
		m.used[name] = map[int]bool{}
		m.heads(name, s, keys, links)
	}
	var out []*yamlfile.Tree
	for i, row := range s.Rows[1:] {
		if len(row) == 0 || !belongs(s.Rows[0], row, links) {
			if len(row) == 0 {
				m.used[name][i+1] = true
			}
			continue
		}
		m.used[name][i+1] = true
		out = append(out, m.row(name, s.Rows[0], row, keys, links))
	}
	return out
}

// belongs is true when the row names what the links name.
func belongs(heads, row []table.Cell, links []link) bool {
	for _, l := range links {
		at := slices.IndexFunc(heads, func(c table.Cell) bool { return c.Text == l.head })
		if at < 0 || at >= len(row) || strings.TrimSpace(row[at].Text) != l.text {
			return false
		}
	}
	return true
}

// heads tells columns that a catalog does not know.
func (m *importer) heads(name string, s *table.Sheet, keys []key, links []link) {
	known := headings(keys)
	for _, l := range links {
		known = append(known, l.head)
	}
	seen := map[string]bool{}
	for _, h := range s.Rows[0] {
		text := strings.TrimSpace(h.Text)
		_, _, ok := column(keys, text)
		isLink := slices.ContainsFunc(links, func(l link) bool { return l.head == text })
		switch {
		case text == "":
		case seen[text]:
			m.list.Add(diag.Message{ID: "column-twice", Place: m.place(name, h.Row, h.Col), Text: fmt.Sprintf("the column %q stands twice", text), Expected: "each column once", Mend: "remove one"})
		case !ok && !isLink:
			mend := "rename or remove the column"
			if near := diag.DidYouMean(text, known); near != "" {
				mend = fmt.Sprintf("did you mean %q?", near)
			}
			m.list.Add(diag.Message{ID: "column-unknown", Place: m.place(name, h.Row, h.Col), Text: fmt.Sprintf("a catalog has no %q here", text), Expected: "one of: " + strings.Join(known, ", "), Mend: mend})
		}
		seen[text] = true
	}
}

// row makes the mapping of one row.
func (m *importer) row(name string, heads, row []table.Cell, keys []key, links []link) *yamlfile.Tree {
	t := &yamlfile.Tree{Shape: yamlfile.KeyedTree, Place: m.place(name, row[0].Row, 1)}
	for i, c := range row {
		text := strings.TrimSpace(c.Text)
		if i >= len(heads) || text == "" {
			if i >= len(heads) && text != "" {
				m.list.Add(diag.Message{ID: "cell-without-column", Place: m.place(name, c.Row, c.Col), Text: fmt.Sprintf("%q stands under no heading", text), Expected: "a heading over every cell", Mend: "give the column a heading, or clear the cell"})
			}
			continue
		}
		k, sub, ok := column(keys, strings.TrimSpace(heads[i].Text))
		if ok {
			fill(t, k, sub, text, m.place(name, c.Row, c.Col))
		}
	}
	for _, k := range keys {
		if k.form != sheet {
			continue
		}
		below := slices.Clone(links)
		if name != catalogSheet {
			id := ""
			if v := t.Get("id"); v != nil {
				id = v.Text
			}
			below = append(below, link{belongsTo(name), id})
		}
		if items := m.rows(k.name, k.of, below); len(items) > 0 {
			t.Set(k.name, &yamlfile.Tree{Shape: yamlfile.ListTree, Items: items, Place: items[0].Place})
		}
	}
	return t
}

// fill gives a mapping what a cell says.
func fill(t *yamlfile.Tree, k key, sub, text string, place diag.Place) {
	list := func(make func(line string) *yamlfile.Tree) *yamlfile.Tree {
		out := &yamlfile.Tree{Shape: yamlfile.ListTree, Place: place}
		for _, line := range strings.Split(text, "\n") {
			if line = strings.TrimSpace(line); line != "" {
				out.Items = append(out.Items, make(line))
			}
		}
		return out
	}
	word := func(s string) *yamlfile.Tree { return yamlfile.NewText(strings.TrimSpace(s), place) }
	switch k.form {
	case cell:
		t.Set(k.name, word(text))
	case lines:
		t.Set(k.name, list(word))
	case rows:
		t.Set(k.name, list(func(line string) *yamlfile.Tree {
			point := &yamlfile.Tree{Shape: yamlfile.ListTree, Place: place}
			for _, x := range strings.Split(line, ",") {
				point.Items = append(point.Items, word(x))
			}
			return point
		}))
	case keyed, group:
		of := t.Get(k.name)
		if of == nil {
			of = &yamlfile.Tree{Shape: yamlfile.KeyedTree, Place: place}
			t.Set(k.name, of)
		}
		of.Set(sub, word(text))
	}
}

// spare tells sheets that no catalog has, and rows that belong to nothing.
func (m *importer) spare() {
	for name, s := range m.byName {
		used, known := m.used[name]
		if !known {
			if len(s.Rows) > 1 && !anywhere(catalogKeys, name) {
				m.list.Add(diag.Message{ID: "sheet-unknown", Severity: diag.Warning, Place: m.place(name, 1, 1), Text: fmt.Sprintf("a catalog has no sheet %q: it is not read", name), Mend: "rename or remove it"})
				continue
			}
		}
		for i := range s.Rows {
			if i > 0 && len(s.Rows[i]) > 0 && !used[i] && anywhere(catalogKeys, name) {
				m.list.Add(diag.Message{ID: "row-without-parent", Place: m.place(name, i+1, 1), Text: "the row belongs to no family (or option) of the other sheets", Found: s.Rows[i][0].Text, Expected: "an id that stands there", Mend: "mend the first columns of the row"})
			}
		}
	}
}

// anywhere is true when a list of mappings of that name stands anywhere below the keys.
func anywhere(keys []key, name string) bool {
	for _, k := range keys {
		if k.form == sheet && (k.name == name || anywhere(k.of, name)) {
			return true
		}
	}
	return name == catalogSheet
}
