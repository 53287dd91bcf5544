package papers

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// rows finds the cells of a sheet by what names their row: column letters to numbers.
func rows(t *testing.T, all []sheet, title string) map[string]map[string]float64 {
	t.Helper()
	out := map[string]map[string]float64{}
	for _, s := range all {
		if s.Title != title {
			continue
		}
		for at, c := range s.Cells {
			x, isNumber := c[0].(float64)
			name, named := s.Cells["A"+at[1:]]
			if label, isText := name[0].(string); named && isNumber && isText {
				if out[label] == nil {
					out[label] = map[string]float64{}
				}
				out[label][at[:1]] = x
			}
		}
		return out
	}
	t.Fatalf("no sheet %q", title)
	return nil
}

// cost is the life-cycle cost of one valve, worked out here from the inputs alone.
func cost(money, valve map[string]map[string]float64, column string) map[string]float64 {
	in := func(row string) float64 { return money[row]["B"] }
	own := func(row string) float64 { return valve[row][column] }
	power := own("Normal flow through one valve") * own("Head loss at normal flow") *
		in("Power to raise one unit of flow by one unit of head") / own("Efficiency of pump and motor") / 10
	energy := power * in("Running time of one pump per year")
	lost := energy * in("Price of electricity")
	factor, worth := 0.0, 1.0
	for range int(in("Years")) { // year by year, not by the closed formula
		worth /= 1 + in("Interest")/100
		factor += worth
	}
	return map[string]float64{
		"Power lost": power, "Energy lost per year": energy, "Annual energy cost": lost, "Present-worth factor": factor,
		"Price, energy and maintenance, present worth": own("Purchase price") + (own("Annual maintenance")+lost)*factor,
	}
}

// TestInputsMove: each input of the comparison is changed in turn; LibreOffice works the
// workbook out anew, what depends on the input changes, and all is what the inputs give.
func TestInputsMove(t *testing.T) {
	var book string
	for _, f := range files(t, "letter", "xlsx") {
		if strings.HasPrefix(filepath.Base(f), "comparison") {
			book = f
		}
	}
	const energy, yearly, factor = "Energy lost per year", "Annual energy cost", "Present-worth factor"
	const total = "Price, energy and maintenance, present worth"
	folder := t.TempDir()
	before := rows(t, books(t, book)[book], "Life-cycle cost")
	for i, c := range []struct {
		sheet, cell, row string
		to               float64
		moves            []string
	}{
		{"Money and time", "B3", "Price of electricity", 0.31, []string{yearly, total}},
		{"Money and time", "B4", "Interest", 7.5, []string{factor, total}},
		{"Money and time", "B4", "Interest", 0, []string{factor, total}},
		{"Money and time", "B5", "Years", 12, []string{factor, total}},
		{"Money and time", "B6", "Running time of one pump per year", 4800, []string{energy, yearly, total}},
		{"Life-cycle cost", "C4", "Purchase price", 5000, []string{total}},
		{"Life-cycle cost", "C5", "Annual maintenance", 120, []string{total}},
		{"Life-cycle cost", "C7", "Head loss at normal flow", 3.5, []string{"Power lost", energy, yearly, total}},
	} {
		changed := filepath.Join(folder, fmt.Sprintf("changed%d.xlsx", i))
		reads(t, python, "book.py", "set", book, changed, c.sheet, c.cell, fmt.Sprint(c.to))
		made := filepath.Join(office(t, "xlsx", changed), filepath.Base(changed))
		again := books(t, made)[made]
		money, valves := rows(t, again, "Money and time"), rows(t, again, "Life-cycle cost")
		set := money
		if c.sheet != "Money and time" {
			set = valves
		}
		if set[c.row][c.cell[:1]] != c.to {
			t.Fatalf("%s is not in %s of %q", c.row, c.cell, c.sheet)
		}
		for column := range valves["Normal flow through one valve"] {
			for row, want := range cost(money, valves, column) {
				if got := valves[row][column]; math.Abs(got-want) > 1e-9*math.Abs(want) {
					t.Errorf("%s to %g: %s in column %s is %g, want %g", c.row, c.to, row, column, got, want)
				}
			}
		}
		for _, row := range c.moves {
			if math.Abs(valves[row]["C"]-before[row]["C"]) < 1e-6*before[row]["C"] {
				t.Errorf("%s to %g: %s stays at %g", c.row, c.to, row, before[row]["C"])
			}
		}
	}
	if err := os.RemoveAll(folder); err != nil {
		t.Error(err)
	}
}
