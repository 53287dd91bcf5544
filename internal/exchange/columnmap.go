package exchange

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"seatward/diag"
	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

// MapForm names the form of a column map. It changes only when a file that was legal no longer is.
const MapForm = "seatward.map/1"

// MapFile is a column map: what the columns of a table of any form mean, and what the table
// does not say.
type MapFile struct {
	Catalog   CatalogPart     `yaml:"catalog" need:"true" doc:"Maker, version, date, source and licence of the data"`
	Sheet     yamlfile.Word   `yaml:"sheet" doc:"Sheet of the workbook; the only one, or the first, where left out"`
	Heading   yamlfile.Num    `yaml:"heading_row" min:"1" whole:"true" doc:"Row of the headings; 1 where left out"`
	Delimiter yamlfile.Word   `yaml:"delimiter" doc:"Delimiter of a CSV file, such as ;  found by itself where left out"`
	Encoding  yamlfile.Word   `yaml:"encoding" one:"utf-8|latin-1" doc:"Encoding of a CSV file; found by itself where left out"`
	Family    yamlfile.Word   `yaml:"family" doc:"Column that names the family; may be left out where there is one family"`
	Names     []yamlfile.Pair `yaml:"names" doc:"What the table calls each family: its id"`
	Columns   []ColumnFile    `yaml:"columns" need:"true" doc:"What the columns mean"`
	Families  yamlfile.Raw    `yaml:"families" need:"true" doc:"The families, as in a catalog file, without their sizes"`
}

// CatalogPart is the head of a catalog file.
type CatalogPart struct {
	Maker    yamlfile.Word `yaml:"maker" need:"true" doc:"Maker's name"`
	Version  yamlfile.Word `yaml:"version" need:"true" doc:"Version of the data"`
	Date     yamlfile.Word `yaml:"date" need:"true" doc:"Date of the data, year-month-day"`
	Source   yamlfile.Word `yaml:"source" need:"true" doc:"Where the data come from"`
	Licence  yamlfile.Word `yaml:"licence" need:"true" doc:"Licence of the data"`
	Invented yamlfile.Word `yaml:"invented" one:"yes|no" doc:"yes for data made up for demonstration"`
}

// ColumnFile says what one column means.
type ColumnFile struct {
	Column yamlfile.Word `yaml:"column" need:"true" doc:"Heading of the column, as the table has it"`
	To     yamlfile.Word `yaml:"to" doc:"Key of a size that it fills, such as face_to_face or mechanics.disc_mass; not read where left out"`
	Unit   yamlfile.Word `yaml:"unit" doc:"Unit of bare numbers in it"`
}

// ReadMap reads a column map. The list holds every fault.
func ReadMap(filename string, data []byte) (*MapFile, diag.List) {
	m := &MapFile{}
	return m, yamlfile.Decode(filename, data, m)
}

// Options are how the table of the map is read.
func (m *MapFile) Options() (table.Options, diag.List) {
	o := table.Options{Encoding: m.Encoding.Text}
	var list diag.List
	if m.Delimiter.Set {
		word := m.Delimiter.Text
		if word == "tab" || word == `\t` {
			word = "\t"
		}
		r, n := utf8.DecodeRuneInString(word)
		if n != len(word) || n == 0 {
			list.Add(diag.Message{
				ID: "delimiter-unusable", Place: m.Delimiter.Place, Path: "delimiter",
				Text: fmt.Sprintf("%q is not one character",
					m.Delimiter.Text), Expected: "one character, or the word tab", Mend: "mend it",
			})
		}
		o.Delimiter = r
	}
	return o, list
}

// mapped is one import by a map.
type mapped struct {
	m      *MapFile
	file   string
	sizes  []key
	at     []ColumnFile // by column of the table; zero where it is not read
	family int          // column that names the family; −1 without one
	rows   map[string][]*yamlfile.Tree
	list   told
}

// ImportBy makes a catalog file of one table by the map: every row is a size of a family.
// The list holds every fault, at the cell or in the map.
func ImportBy(m *MapFile, filename string, sheets []table.Sheet) (*yamlfile.Tree, diag.List) {
	families, _ := find(catalogKeys, "families")
	sizes, _ := find(families.of, "sizes")
	x := &mapped{
		m: m, file: filename, sizes: sizes.of, family: -1, rows: map[string][]*yamlfile.Tree{},
		list: told{count: map[string]int{}},
	}
	s := x.sheet(sheets)
	if s == nil || !x.heads(s) {
		return nil, x.list.done()
	}
	for _, row := range s.Rows[x.heading():] {
		if len(row) > 0 {
			x.row(s, row)
		}
	}
	tree := x.tree()
	return tree, x.list.done()
}

func (x *mapped) heading() int {
	if x.m.Heading.Set {
		return int(x.m.Heading.Value)
	}
	return 1
}

func (x *mapped) sheet(sheets []table.Sheet) *table.Sheet {
	if len(sheets) == 0 {
		x.list.add("", diag.Message{
			ID: "table-empty", Place: diag.Place{File: x.file, Line: 1, Col: 1},
			Text: "the file holds no table", Expected: "rows and columns", Mend: "check the file",
		})
		return nil
	}
	if !x.m.Sheet.Set {
		for _, s := range sheets[1:] {
			if len(s.Rows) > 0 {
				x.list.add("", diag.Message{
					ID: "sheet-not-read", Severity: diag.Warning,
					Place: diag.Place{
						File: x.file, Line: 1,
						Col: 1,
					}, Text: fmt.Sprintf("the sheet %q is not read: the map names no sheet, and the first is taken", s.Name), Mend: "name the sheet in the map, or import the others with maps of their own",
				})
			}
		}
		return &sheets[0]
	}
	var names []string
	for i := range sheets {
		if sheets[i].Name == x.m.Sheet.Text {
			return &sheets[i]
		}
		names = append(names, sheets[i].Name)
	}
	x.list.add("", diag.Message{
		ID: "sheet-missing", Place: x.m.Sheet.Place, Path: "sheet",
		Text: fmt.Sprintf("%s has no sheet %q", x.file, x.m.Sheet.Text), Expected: "one of: " + strings.Join(names,
			", "), Mend: "mend the name",
	})
	return nil
}

// heads finds the columns of the map in the table.
func (x *mapped) heads(s *table.Sheet) bool {
	if x.heading() > len(s.Rows) || len(s.Rows[x.heading()-1]) == 0 {
		x.list.add("", diag.Message{
			ID: "headings-missing", Place: diag.Place{File: x.file, Line: x.heading(), Col: 1},
			Text: "no headings stand in this row", Expected: "the headings that the map names", Mend: "mend heading_row in the map",
		})
		return false
	}
	heads := s.Rows[x.heading()-1]
	var have []string
	for _, h := range heads {
		have = append(have, oneLine(h.Text))
	}
	x.at = make([]ColumnFile, len(heads))
	find := func(w yamlfile.Word) int {
		at := slices.Index(have, oneLine(w.Text))
		if at < 0 {
			mend := "mend the name in the map"
			if near := diag.DidYouMean(w.Text, have); near != "" {
				mend = fmt.Sprintf("did you mean %q?", near)
			}
			x.list.add("", diag.Message{
				ID: "column-missing", Place: w.Place, Path: w.Path,
				Text: fmt.Sprintf("%s has no column %q", x.file, w.Text), Expected: "one of: " + strings.Join(have,
					", "), Mend: mend,
			})
		}
		return at
	}
	if x.m.Family.Set {
		x.family = find(x.m.Family)
	}
	named := map[int]bool{x.family: true}
	for _, c := range x.m.Columns {
		at := find(c.Column)
		if at < 0 {
			continue
		}
		named[at] = true
		if !c.To.Set {
			continue
		}
		if _, _, ok := column(x.sizes, c.To.Text); !ok {
			x.list.add("", diag.Message{
				ID: "key-unknown", Place: c.To.Place, Path: c.To.Path,
				Text: fmt.Sprintf("a size has no %q", c.To.Text), Expected: "one of: " + strings.Join(headings(x.sizes),
					", "), Mend: "mend the key",
			})
			continue
		}
		x.at[at] = c
	}
	for i, h := range heads {
		if !named[i] && have[i] != "" {
			x.list.add("", diag.Message{
				ID: "column-not-read", Severity: diag.Warning,
				Place: diag.Place{
					File: x.file, Line: h.Row,
					Col: h.Col,
				}, Text: fmt.Sprintf("the column %q is not in the map and not read", have[i]),
				Mend: "add it to the map, without to if it is not wanted",
			})
		}
	}
	return x.list.list.Err() == nil
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// row makes a size of one row.
func (x *mapped) row(s *table.Sheet, row []table.Cell) {
	heads := s.Rows[x.heading()-1]
	id := ""
	if x.family >= 0 {
		if x.family >= len(row) || strings.TrimSpace(row[x.family].Text) == "" {
			x.list.add("", diag.Message{
				ID: "family-missing",
				Place: diag.Place{
					File: x.file, Line: row[0].Row,
					Col: x.family + 1,
				}, Text: "the row names no family", Expected: "a name in this column",
				Mend: "fill the cell, or remove the row",
			})
			return
		}
		id = x.id(row[x.family])
		if id == "" {
			return
		}
	}
	size := &yamlfile.Tree{Shape: yamlfile.KeyedTree, Place: diag.Place{File: x.file, Line: row[0].Row, Col: 1}}
	for i, c := range row {
		text := strings.TrimSpace(c.Text)
		if text != "" && (i >= len(x.at) || oneLine(heads[i].Text) == "") {
			x.list.add("", withoutColumn(diag.Place{File: x.file, Line: c.Row, Col: c.Col}, text))
			continue
		}
		if text == "" || !x.at[i].To.Set {
			continue
		}
		if unit := x.at[i].Unit.Text; unit != "" {
			if _, err := strconv.ParseFloat(text, 64); err == nil {
				text += " " + unit
			}
		}
		k, sub, _ := column(x.sizes, x.at[i].To.Text)
		fill(size, k, sub, text, diag.Place{File: x.file, Line: c.Row, Col: c.Col})
	}
	x.rows[id] = append(x.rows[id], size)
}

// id is the family's id of what the table calls it; "" with a fault told.
func (x *mapped) id(c table.Cell) string {
	name := oneLine(c.Text)
	var known []string
	for _, p := range x.m.Names {
		if p.Key.Text == name {
			return p.Value.Text
		}
		known = append(known, p.Key.Text)
	}
	for _, f := range x.m.Families.Tree.Items {
		if id := f.Get("id"); id != nil {
			if id.Text == name {
				return name
			}
			known = append(known, id.Text)
		}
	}
	mend := "add it to names in the map, or mend the cell"
	if near := diag.DidYouMean(name, known); near != "" {
		mend = fmt.Sprintf("did you mean %q?", near)
	}
	x.list.add("", diag.Message{
		ID: "family-unknown", Place: diag.Place{File: x.file, Line: c.Row, Col: c.Col},
		Text: fmt.Sprintf("the map has no family %q", name), Expected: "one of: " + strings.Join(known,
			", "), Mend: mend,
	})
	return ""
}

// tree joins the families of the map with the sizes of the table.
func (x *mapped) tree() *yamlfile.Tree {
	root := &yamlfile.Tree{Shape: yamlfile.KeyedTree}
	for _, w := range []struct {
		key  string
		word yamlfile.Word
	}{{"maker", x.m.Catalog.Maker}, {"version", x.m.Catalog.Version}, {"date", x.m.Catalog.Date}, {
		"source",
		x.m.Catalog.Source,
	}, {"licence", x.m.Catalog.Licence}, {"invented", x.m.Catalog.Invented}} {
		if w.word.Set {
			root.Set(w.key, yamlfile.NewText(w.word.Text, w.word.Place))
		}
	}
	families := x.m.Families.Tree
	if families.Shape != yamlfile.ListTree || len(families.Items) == 0 {
		x.list.add("", diag.Message{
			ID: "families-missing", Place: families.Place, Path: "families",
			Text: "no list of families", Expected: "families as in a catalog file, without sizes", Mend: "write them",
		})
		return root
	}
	if x.family < 0 && len(families.Items) > 1 {
		x.list.add("", diag.Message{
			ID: "family-column-missing", Place: families.Place, Path: "family",
			Text: "there are several families, and no column says which row is of which", Expected: "family: the heading of that column", Mend: "add it to the map",
		})
		return root
	}
	for _, f := range families.Items {
		id := ""
		if v := f.Get("id"); v != nil && x.family >= 0 {
			id = v.Text
		}
		sizes := x.rows[id]
		if len(sizes) == 0 {
			x.list.add("", diag.Message{
				ID: "family-without-rows", Place: f.Place, Path: "families",
				Text: fmt.Sprintf("the table has no row of the family %q",
					id), Expected: "at least one", Mend: "mend names in the map, or remove the family",
			})
			continue
		}
		f.Set("sizes", &yamlfile.Tree{Shape: yamlfile.ListTree, Items: sizes, Place: sizes[0].Place})
	}
	root.Set("families", families)
	return root
}
