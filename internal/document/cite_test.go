package document

import (
	"slices"
	"strings"
	"testing"
)

// TestCite: a source has one number, its place stands behind it, and what was not read again
// is on the list and nowhere else.
func TestCite(t *testing.T) {
	for _, c := range []struct{ source, want, listed, confirm string }{
		{"iec-60534-2-1", "[1]", "IEC 60534-2-1:2011, Industrial-process control valves, flow capacity", ""},
		{"wylie-streeter-1993 ch. 2", "[1], ch. 2", "Wylie E.B. and Streeter V.L., Fluid Transients in Systems, Prentice Hall, 1993", ""},
		{"common-practice", "common practice, no source", "", ""},
		{"derived", "first principles", "", ""},
		{"AWWA C151/A21.51-17 (from memory)", "[1]", "AWWA C151/A21.51-17", "Wall: AWWA C151/A21.51-17."},
		{"AWWA C900-16 (seen)", "[1]", "AWWA C900-16", ""},
		{
			"HI Engineering Data Book table 3.A.1 (seen; range from memory)", "[1], table 3.A.1", "HI Engineering Data Book",
			"Wall: HI Engineering Data Book table 3.A.1.",
		},
		{"from-memory", "to be confirmed", "", "Wall: its source."},
		{
			"tp410 appendix A (bend of r/d = 1), from memory", "[1], appendix A (bend of r/d = 1)",
			"Technical Paper 410, Flow of Fluids through Valves, Fittings and Pipe, 2009 ed.", "Wall: Technical Paper 410",
		},
	} {
		var got citations
		if said := got.cite(c.source, "wall"); said != c.want {
			t.Errorf("%s is cited as %q, want %q", c.source, said, c.want)
		}
		if c.listed != "" && !slices.Contains(got.sources, c.listed) {
			t.Errorf("%s is listed as %q, want %q", c.source, got.sources, c.listed)
		}
		if all := strings.Join(got.confirm, "\n"); (c.confirm == "") != (all == "") || !strings.HasPrefix(all, c.confirm) {
			t.Errorf("%s: to be confirmed %q, want %q", c.source, all, c.confirm)
		}
		if again := got.cite(c.source, "wall"); again != c.want || len(got.sources) > 1 {
			t.Errorf("%s, a second time, is cited as %q", c.source, again)
		}
	}
}

// TestPrinted: five figures, a sixth where that makes it exact, fewer where the number has no
// more.
func TestPrinted(t *testing.T) {
	for v, want := range map[float64]string{
		6: "6", 1760: "1760", 0.15: "0.15", 9.80665: "9.80665", 32.17404855643: "32.174", 586.6204: "586.62",
		267412.7: "267410", -0.06346154: "−0.063462", 0.1 + 0.2: "0.3", 1.00000004: "1.0000", 0: "0", 1.2345678e-7: "1.2346e−07",
	} {
		if got := printed(v); got != want {
			t.Errorf("%v is printed %q, want %q", v, got, want)
		}
	}
}

// TestEquationText: an equation stands with its symbols and with its numbers, and in a
// workbook with its cells.
func TestEquationText(t *testing.T) {
	w := &sheet{Dossier: &Dossier{Request: Request{Wording: NewWording()}}, d: &Document{}}
	e := w.equations()
	e.input("k", "K", "levels", "k", 2, -1.5)
	e.begin("point", "")
	e.add(equation{id: "v", name: "Velocity", symbol: "V", value: 2, unit: "m/s", note: "given"})
	e.add(equation{id: "h", name: "Loss", symbol: "h", value: -0.3, formula: "{k} * {v}^2 / (2 * 9.8066500000) - SQRT({v})"})
	row := e.t.Rows[1].Cells
	if want := "Loss: h = K V² / (2 9.80665) − √V = (−1.5) × 2² / (2 × 9.80665) − √2"; row[1].Text != want {
		t.Errorf("the equation reads %q, want %q", row[1].Text, want)
	}
	if want := "{levels.k:2} * {point.v}^2 / (2 * 9.8066500000) - SQRT({point.v})"; row[2].Formula != want {
		t.Errorf("the formula is %q, want %q", row[2].Formula, want)
	}
	if row[0].Text != "(2)" || row[2].Text != "−0.3" {
		t.Errorf("number %s, result %s", row[0].Text, row[2].Text)
	}
}
