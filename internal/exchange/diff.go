package exchange

import (
	"slices"
	"strings"

	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

// Change is one difference between two versions of a catalog file.
type Change struct {
	Sheet, Row, Column string // Row names what changed: swing 6 in; Column is "" for a whole row
	Before, After      string // "" for what is new, or gone
}

// named are the columns that name a row within what it belongs to.
var named = []string{"id", "size", "standard", "position", "kind", "require", "variant", "from", "maker"}

// Diff lists what differs between two catalog files, row by row and cell by cell. Order
// does not count.
func Diff(before, after *yamlfile.Tree) []Change {
	var out []Change
	old, now := Export(before), Export(after)
	for _, s := range old {
		i := slices.IndexFunc(now, func(x table.Sheet) bool { return x.Name == s.Name })
		if i < 0 {
			out = append(out, compare(s, table.Sheet{Name: s.Name})...)
			continue
		}
		out = append(out, compare(s, now[i])...)
	}
	for _, s := range now {
		if !slices.ContainsFunc(old, func(x table.Sheet) bool { return x.Name == s.Name }) {
			out = append(out, compare(table.Sheet{Name: s.Name}, s)...)
		}
	}
	return out
}

// record is a row by its columns.
type record struct {
	name  string
	cells map[string]string
	heads []string
}

func records(s table.Sheet) []record {
	var out []record
	if len(s.Rows) == 0 {
		return nil
	}
	for _, row := range s.Rows[1:] {
		r := record{cells: map[string]string{}}
		var name []string
		for i, c := range row {
			head := s.Rows[0][i].Text
			r.heads = append(r.heads, head)
			r.cells[head] = c.Text
			link := s.Name != catalogSheet && (head == "family" || head == "option" || slices.Contains(named, head))
			if link && c.Text != "" {
				name = append(name, c.Text)
			}
		}
		r.name = strings.Join(name, " ")
		out = append(out, r)
	}
	return out
}

func compare(before, after table.Sheet) []Change {
	var out []Change
	old, now := records(before), records(after)
	met := make([]bool, len(now))
	for _, r := range old {
		i := -1
		for j := range now {
			if !met[j] && now[j].name == r.name {
				i = j
				break
			}
		}
		if i < 0 {
			out = append(out, Change{before.Name, r.name, "", "there", ""})
			continue
		}
		met[i] = true
		heads := r.heads
		for _, h := range now[i].heads {
			if !slices.Contains(heads, h) {
				heads = append(heads, h)
			}
		}
		for _, h := range heads {
			if a, b := r.cells[h], now[i].cells[h]; a != b {
				out = append(out, Change{before.Name, r.name, h, a, b})
			}
		}
	}
	for j, r := range now {
		if !met[j] {
			out = append(out, Change{after.Name, r.name, "", "", "there"})
		}
	}
	return out
}
