package exchange

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"seatward/internal/table"
)

// made is the demonstration catalog of swing checks as sheets, by name.
func made(t *testing.T) (all []table.Sheet, at map[string]*table.Sheet) {
	t.Helper()
	data, err := os.ReadFile("../../catalog/demo/swing.yaml")
	if err != nil {
		t.Fatal(err)
	}
	all, at = Export(tree(t, "swing.yaml", data)), map[string]*table.Sheet{}
	for i := range all {
		at[all[i].Name] = &all[i]
	}
	return all, at
}

// TestNoRowIsDropped: what an import does not take over is reported.
func TestNoRowIsDropped(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(all *[]table.Sheet, at map[string]*table.Sheet)
		want   string
	}{
		"a second catalog row": {func(_ *[]table.Sheet, at map[string]*table.Sheet) {
			s := at["catalog"]
			s.Rows = append(s.Rows, s.Rows[1])
		}, "catalog-rows"},
		"a sheet twice": {
			func(all *[]table.Sheet, at map[string]*table.Sheet) { *all = append(*all, *at["sizes"]) },
			"sheet-twice",
		},
		"a family twice": {func(_ *[]table.Sheet, at map[string]*table.Sheet) {
			s := at["families"]
			s.Rows = append(s.Rows, s.Rows[1])
		}, "id-twice"},
		"a cell under a blank heading": {func(_ *[]table.Sheet, at map[string]*table.Sheet) {
			s := at["sizes"]
			s.Rows[0] = append(s.Rows[0][:len(s.Rows[0]):len(s.Rows[0])], table.Cell{}, table.Cell{Text: "price"})
			s.Rows[1] = append(s.Rows[1][:len(s.Rows[1]):len(s.Rows[1])], table.Cell{Text: "9"})
		}, "cell-without-column"},
		"sizes of nobody": {func(_ *[]table.Sheet, at map[string]*table.Sheet) {
			s := at["sizes"]
			for range 5000 {
				s.Rows = append(s.Rows, []table.Cell{{Text: "nobody"}, {Text: "6 in"}})
			}
		}, "row-without-parent"},
	} {
		all, at := made(t)
		tt.change(&all, at)
		_, list := Import("book.xlsx", all)
		if list.Err() == nil || !strings.Contains(list.Error(), "["+tt.want+"]") || len(list) > mostTold+3 {
			t.Errorf("%s: %d messages, %.300v", name, len(list), list)
		}
	}
}

// TestManyFamilies: the time that an import takes grows with the rows, not with rows times
// families.
func TestManyFamilies(t *testing.T) {
	all, at := made(t)
	const many = 4000
	for _, name := range []string{"families", "sizes"} {
		s := at[name]
		one := s.Rows[1]
		s.Rows = s.Rows[:1]
		for i := range many {
			row := append([]table.Cell(nil), one...)
			row[0].Text = fmt.Sprintf("f%d", i)
			s.Rows = append(s.Rows, row)
		}
	}
	root, _ := Import("book.xlsx", all)
	families := root.Get("families").Items
	if len(families) != many {
		t.Fatalf("%d families", len(families))
	}
	for _, f := range families {
		if n := len(f.Get("sizes").Items); n != 1 {
			t.Fatalf("%s has %d sizes", f.Get("id").Text, n)
		}
	}
}
