package table

import (
	"fmt"

	"seatward/diag"
)

// grid is a sheet that is being read. It grows to the cells that hold text and refuses
// to grow beyond the limits.
type grid struct {
	r     *reader
	sheet string // in the path of messages; empty for a CSV
	rows  [][]Cell
	told  map[string]int // faults by ID
	width int
}

func (r *reader) grid(sheet string) *grid {
	return &grid{r: r, sheet: sheet, told: map[string]int{}}
}

// set stores one cell and reports whether reading can go on. Blank text is no cell:
// spreadsheets keep formats of blank cells down to the last row there can be.
func (g *grid) set(row, col int, text string) bool {
	if text == "" {
		return true
	}
	if fault := g.r.overLimit(row, col, text); fault.ID != "" {
		g.fault(row, col, fault)
		return false
	}
	for len(g.rows) < row {
		g.rows = append(g.rows, nil)
	}
	line := g.rows[row-1]
	if more := col - len(line); more > g.r.cellsLeft {
		g.fault(row, col, diag.Message{
			ID: "cells-too-many", Text: "the file has too many cells",
			Expected: fmt.Sprintf("at most %d cells in a file", g.r.mostCells()), Mend: "split the table into several files",
		})
		return false
	} else if more > 0 {
		g.r.cellsLeft -= more
	}
	for len(line) < col {
		line = append(line, Cell{Row: row, Col: len(line) + 1})
	}
	line[col-1].Text = text
	g.rows[row-1] = line
	g.width = max(g.width, col)
	return true
}

// overLimit gives the limit that a cell breaks, or a message without ID.
func (r *reader) overLimit(row, col int, text string) diag.Message {
	rows := MaxRows
	if r.options.Long {
		rows = longRows
	}
	switch {
	case row > rows:
		return diag.Message{
			ID: "rows-too-many", Text: fmt.Sprintf("there is text in row %d", row),
			Expected: fmt.Sprintf("at most %d rows", rows), Mend: "split the table into several files",
		}
	case col > MaxColumns:
		return diag.Message{
			ID: "columns-too-many", Text: fmt.Sprintf("there is text in column %d", col),
			Expected: fmt.Sprintf("at most %d columns", MaxColumns),
			Mend:     "remove the columns that the table does not need",
		}
	case len(text) > MaxCellBytes:
		return diag.Message{
			ID: "cell-too-long", Text: fmt.Sprintf("the cell has %d bytes", len(text)),
			Expected: fmt.Sprintf("at most %d bytes", MaxCellBytes), Mend: "shorten the text",
		}
	}
	return diag.Message{}
}

// fault tells a fault of a cell. Of one kind only the first few are listed: a column of
// formulas would bury everything else.
func (g *grid) fault(row, col int, m diag.Message) {
	g.told[m.ID]++
	if g.told[m.ID] > maxListed {
		return
	}
	m.Place = diag.Place{Line: row, Col: col}
	if g.sheet != "" {
		m.Path = g.sheet + "!" + Cell{Row: row, Col: col}.Ref()
	}
	g.r.fault(m)
}

// counted are the faults that a sheet can have many of, with the words of their count.
func counted() []diag.Message {
	return []diag.Message{
		{ID: "cells-merged", Text: "%d ranges are merged", Mend: "unmerge"},
		{ID: "cell-formula", Text: "%d cells hold a formula", Mend: "paste as values"},
		{ID: "cell-error", Text: "%d cells hold an error value", Mend: "mend or clear the cells"},
		{ID: "cell-unreadable", Text: "%d cells cannot be read", Mend: "type the values again"},
	}
}

// done tells the counts of what fault held back and gives the sheet.
func (g *grid) done(name string) Sheet {
	for _, m := range counted() {
		if n := g.told[m.ID]; n > maxListed {
			m.Text = fmt.Sprintf(m.Text+" in this sheet; the first %d are listed above", n, maxListed)
			m.Path = g.sheet
			g.r.fault(m)
		}
	}
	return Sheet{Name: name, Rows: g.rows}
}

// mostCells is how many cells the file may have.
func (r *reader) mostCells() int {
	if r.options.Long {
		return longCells
	}
	return maxCells
}
