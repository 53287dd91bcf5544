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
	m := &importer{
		file: filename, byName: map[string]*table.Sheet{}, used: map[string]map[int]bool{},
		by: map[string]map[string][]int{}, list: told{count: map[string]int{}},
	}
	for i := range sheets {
		name := sheets[i].Name
		if m.byName[name] != nil {
			m.list.add(name, diag.Message{
				ID: "sheet-twice", Place: m.place(name, 1, 1),
				Text: fmt.Sprintf("two sheets, or two files, are called %q",
					name), Expected: "each sheet once", Mend: "rename or remove one",
			})
			continue
		}
		m.byName[name] = &sheets[i]
	}
	if m.byName[catalogSheet] == nil || m.byName["families"] == nil {
		var names []string
		for _, s := range sheets {
			names = append(names, s.Name)
		}
		m.list.add("", diag.Message{
			ID: "sheets-missing", Place: diag.Place{File: filename, Line: 1, Col: 1},
			Text: "no sheets called catalog and families", Found: strings.Join(names,
				", "), Expected: "sheets as seatward catalog export writes them",
			Mend: "for a table of another form, write a column map and give it with --map",
		})
		return nil, m.list.done()
	}
	root := m.rows(catalogSheet, catalogKeys, nil)
	m.spare()
	if len(root) > 1 {
		second := root[1].Place
		m.list.add(catalogSheet, diag.Message{
			ID: "catalog-rows", Place: second,
			Text: fmt.Sprintf("the sheet %s has %d rows below the headings", catalogSheet,
				len(root)), Expected: "one row: maker, version, date and so on",
			Mend: "keep the row that is right, or import each catalog by itself",
		})
	}
	list := m.list.done()
	if len(root) == 0 {
		return nil, list
	}
	return root[0], list
}

type importer struct {
	file   string
	byName map[string]*table.Sheet
	used   map[string]map[int]bool     // rows that found what they belong to, by sheet
	by     map[string]map[string][]int // rows of a sheet by what they belong to
	list   told
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
	if m.used[name] == nil {
		m.used[name] = map[int]bool{}
		m.by[name] = parted(s, links)
		m.heads(name, s, keys, links)
	}
	var out []*yamlfile.Tree
	ids := map[string]bool{}
	for _, i := range m.by[name][owner(links)] {
		m.used[name][i] = true
		t := m.row(name, s.Rows[0], s.Rows[i], keys, links)
		out = append(out, t)
		m.below(name, t, keys, links, ids)
	}
	return out
}

// owner is what the links name, as one text.
func owner(links []link) string {
	texts := make([]string, len(links))
	for i, l := range links {
		texts[i] = l.text
	}
	return strings.Join(texts, "\x00")
}

// parted sorts the rows of a sheet by what they belong to, so that a long sheet is read once
// and not anew for each of many families.
func parted(s *table.Sheet, links []link) map[string][]int {
	at := make([]int, len(links))
	for i, l := range links {
		if at[i] = slices.IndexFunc(s.Rows[0], func(c table.Cell) bool { return c.Text == l.head }); at[i] < 0 {
			return nil
		}
	}
	out := map[string][]int{}
	texts := make([]string, len(links))
	for n, row := range s.Rows[1:] {
		named := len(row) > 0
		for i, col := range at {
			if named = named && col < len(row); named {
				texts[i] = strings.TrimSpace(row[col].Text)
			}
		}
		if named {
			key := strings.Join(texts, "\x00")
			out[key] = append(out[key], n+1)
		}
	}
	return out
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
			m.list.add(name, diag.Message{
				ID: "column-twice", Place: m.place(name, h.Row, h.Col),
				Text: fmt.Sprintf("the column %q stands twice",
					text), Expected: "each column once", Mend: "remove one",
			})
		case !ok && !isLink:
			mend := "rename or remove the column"
			if near := diag.DidYouMean(text, known); near != "" {
				mend = fmt.Sprintf("did you mean %q?", near)
			}
			m.list.add(name, diag.Message{
				ID: "column-unknown", Place: m.place(name, h.Row, h.Col),
				Text: fmt.Sprintf("a catalog has no %q here", text), Expected: "one of: " + strings.Join(known,
					", "), Mend: mend,
			})
		}
		seen[text] = true
	}
}

// row makes the mapping of one row.
func (m *importer) row(name string, heads, row []table.Cell, keys []key, links []link) *yamlfile.Tree {
	t := &yamlfile.Tree{Shape: yamlfile.KeyedTree, Place: m.place(name, row[0].Row, 1)}
	for i, c := range row {
		text := strings.TrimSpace(c.Text)
		if text == "" {
			continue
		}
		if i >= len(heads) || strings.TrimSpace(heads[i].Text) == "" {
			m.list.add(name, withoutColumn(m.place(name, c.Row, c.Col), text))
			continue
		}
		head := strings.TrimSpace(heads[i].Text)
		if slices.ContainsFunc(links, func(l link) bool { return l.head == head }) {
			continue // it says what the row belongs to, also where a row has a key of that name
		}
		if k, sub, ok := column(keys, head); ok {
			fill(t, k, sub, text, m.place(name, c.Row, c.Col))
		}
	}
	return t
}

func withoutColumn(at diag.Place, text string) diag.Message {
	return diag.Message{
		ID: "cell-without-column", Place: at, Text: fmt.Sprintf("%.40q stands under no heading", text),
		Expected: "a heading over every cell", Mend: "give the column a heading, or clear the cell",
	}
}

// below gives a row what belongs to it in other sheets. Of two rows of one id, which a
// catalog does not allow, the second gets nothing: many of them would have it many times.
func (m *importer) below(name string, t *yamlfile.Tree, keys []key, links []link, ids map[string]bool) {
	if !slices.ContainsFunc(keys, func(k key) bool { return k.form == sheet }) {
		return
	}
	below := slices.Clone(links)
	id := ""
	if name != catalogSheet {
		if v := t.Get("id"); v != nil {
			id = v.Text
		}
		below = append(below, link{belongsTo(name), id})
	}
	if ids[id] {
		if name != catalogSheet {
			m.list.add(name, diag.Message{
				ID: "id-twice", Place: t.Place,
				Text: fmt.Sprintf("another row above has the id %q",
					id), Expected: "an id of its own", Mend: "rename or remove one of the rows",
			})
		}
		return
	}
	ids[id] = true
	for _, k := range keys {
		if k.form != sheet {
			continue
		}
		if items := m.rows(k.name, k.of, below); len(items) > 0 {
			t.Set(k.name, &yamlfile.Tree{Shape: yamlfile.ListTree, Items: items, Place: items[0].Place})
		}
	}
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
				m.list.add(name, diag.Message{
					ID: "sheet-unknown", Severity: diag.Warning, Place: m.place(name, 1, 1),
					Text: fmt.Sprintf("a catalog has no sheet %q: it is not read", name), Mend: "rename or remove it",
				})
				continue
			}
		}
		for i := range s.Rows {
			if i > 0 && len(s.Rows[i]) > 0 && !used[i] && anywhere(catalogKeys, name) {
				m.list.add(name, diag.Message{
					ID: "row-without-parent", Place: m.place(name, i+1, 1),
					Text: "the row belongs to no family (or option) of the other sheets", Found: s.Rows[i][0].Text, Expected: "an id that stands there", Mend: "mend the first columns of the row",
				})
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
