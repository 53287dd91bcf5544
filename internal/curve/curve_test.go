package curve

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/quantity"
)

const us, si = quantity.US, quantity.SI

// Tables as spreadsheets, mails and papers give them.
func TestTables(t *testing.T) {
	for _, c := range []struct {
		name, text string
		sys        quantity.System
		want       string // the points of the head
	}{
		{"tabs, no heading", "0\t90\n300\t76\n450\t62\n", us, "[[0 gpm, 90 ft], [300 gpm, 76 ft], [450 gpm, 62 ft]]"},
		{"tabs, heading with units", "Flow (gpm)\tHead (ft)\n0\t90\n450\t62\n", si, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"units in a row of their own", "Q\tH\nL/s\tm\n0\t27\n28\t19\n", us, "[[0 L/s, 27 m], [28 L/s, 19 m]]"},
		{"units in cells", "0 gpm\t90 ft\n450 gpm\t62 ft\n", si, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"commas", "flow,head\n0,90\n450,62\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"semicolons and decimal commas", "Q [m3/h];H [m]\n0;27,5\n100,8;19,25\n", si, "[[0 m3/h, 27.5 m], [100.8 m3/h, 19.25 m]]"},
		{"decimal commas settle the doubt", "Q\tH\n0\t27,5\n1,046\t19,2\n", si, "[[0 L/s, 27.5 m], [1.046 L/s, 19.2 m]]"},
		{"thousands", "gpm\tft\n0\t210\n1,250\t180\n2,500\t120\n", us, "[[0 gpm, 210 ft], [1250 gpm, 180 ft], [2500 gpm, 120 ft]]"},
		{"head first", "Head, ft\tFlow, gpm\n90\t0\n62\t450\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"order down", "450\t62\n0\t90\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"columns of blanks", "Flow   Head\n  0     90\n450     62\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"one blank", "0 90\n450 62\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"points of an editor", "0 gpm, 90 ft\n450 gpm, 62 ft", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"bars", "| Flow | Head |\n| 0 | 90 |\n| 450 | 62 |\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"a column of no use", "Point\tFlow\tHead\tNPSHr\n1\t0\t90\t4\n2\t450\t62\t7\n", us, "[[0 gpm, 90 ft], [450 gpm, 62 ft]]"},
		{"feet and inches", "0\t46' 6\"\n450\t30'\n", us, "[[0 gpm, 46.5 ft], [450 gpm, 30 ft]]"},
	} {
		got, list := Read(c.text, quantity.For(c.sys))
		if list.Err() != nil || len(got.Bad) > 0 {
			t.Errorf("%s: %v %+v", c.name, list, got)
			continue
		}
		if points := got.Points(quantity.Head); points != c.want {
			t.Errorf("%s: %s, want %s (%+v)", c.name, points, c.want, got.Columns)
		}
	}
}

func TestEfficiencyAndPower(t *testing.T) {
	got, list := Read("Flow (gpm)\tHead (ft)\tEff (%)\tBHP (hp)\n0\t90\t0\t4\n450\t62\t71\t10,5\n", quantity.For(us))
	if list.Err() != nil {
		t.Fatal(list)
	}
	if p := got.Points(quantity.Power); len(got.Bad) > 0 || p != "[[0 gpm, 4 hp], [450 gpm, 10.5 hp]]" {
		t.Errorf("a decimal comma with horsepower: %s, %+v", p, got.Bad)
	}
	got, _ = Read("Flow\tHead\tEfficiency\tPower (kW)\n0\t27\t0\t4\n28\t19\t0.71\t7.5\n", quantity.For(si))
	if e, p := got.Points(quantity.Fraction), got.Points(quantity.Power); e != "[[0 L/s, 0 %], [28 L/s, 71 %]]" ||
		p != "[[0 L/s, 4 kW], [28 L/s, 7.5 kW]]" {
		t.Errorf("%s %s %+v", e, p, got)
	}
}

// Rows that are no points are reported with their line; what may mean two things is asked.
func TestBadRows(t *testing.T) {
	got, list := Read("Q (m3/h)\tH (m)\n0\t27\nn/a\t25\n50\t\n1,046\t19\n-3\t12\n0\t26\n", quantity.For(si))
	if list.Err() != nil {
		t.Fatal(list)
	}
	var lines []string
	for _, b := range got.Bad {
		lines = append(lines, fmt.Sprint(b.Line, len(b.Choices)))
	}
	if s := strings.Join(lines, " "); s != "3 0 4 0 5 2 6 0 7 0" || len(got.Rows) != 1 {
		t.Errorf("%s: %+v", s, got)
	}
	reading := quantity.For(si)
	reading.Comma = quantity.CommaThousands
	if got, _ = Read("Q (m3/h)\tH (m)\n0\t27\n1,046\t19\n", reading); got.Points(quantity.Head) != "[[0 m3/h, 27 m], [1046 m3/h, 19 m]]" {
		t.Errorf("told that commas group thousands: %+v", got)
	}
	for _, text := range []string{"", "\n\n", "hello", "1\n2\n3\n", strings.Repeat("1\t2\n", MostBytes)} {
		if _, list := Read(text, quantity.For(us)); list.Err() == nil {
			t.Errorf("%.20q was read", text)
		}
	}
}

// What is written as points is read back as the same points.
func TestPointsAreReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]quantity.System{us, si}).Draw(t, "system")
		n := rapid.IntRange(2, 9).Draw(t, "points")
		by := rapid.SampledFrom([]string{"\t", ";", "   "}).Draw(t, "by")
		var lines []string
		var flows, headsM []float64
		for i := range n {
			q := float64(i)*100 + float64(rapid.IntRange(0, 990).Draw(t, "flow"))/10
			h := float64(rapid.IntRange(1, 5000).Draw(t, "head")) / 10
			flows, headsM = append(flows, q), append(headsM, h)
			lines = append(lines, fmt.Sprintf("%.1f%s%.1f", q, by, h))
		}
		got, list := Read(strings.Join(lines, "\n"), quantity.For(sys))
		if list.Err() != nil || len(got.Rows) != n {
			t.Fatalf("%q: %v %+v", lines, list, got)
		}
		for i, r := range got.Rows {
			if math.Abs(r.Values[0]-flows[i]) > 1e-8 || math.Abs(r.Values[1]-headsM[i]) > 1e-8 {
				t.Fatalf("%q: row %d is %v", lines, i, r.Values)
			}
		}
		again, list := Read(strings.ReplaceAll(strings.Trim(got.Points(quantity.Head), "[]"), "], [", "\n"), quantity.For(si))
		if list.Err() != nil || again.Points(quantity.Head) != got.Points(quantity.Head) {
			t.Fatalf("%s is read back as %+v, %v", got.Points(quantity.Head), again, list)
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"0\t90\n450\t62", "Q [m3/h];H [m]\n0;27,5", "| a | b |\n1,2", "\"1\n", "0 gpm, 90 ft\n1 gpm, 2 ft"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, list := Read(text, quantity.For(us))
		if (c == nil) != (list.Err() != nil) {
			t.Fatalf("%q: %v, %v", text, c, list)
		}
		if c == nil {
			return
		}
		for i, r := range c.Rows {
			if len(r.SI) != len(c.Columns) || i > 0 && r.SI[0] <= c.Rows[i-1].SI[0] || math.IsNaN(r.Values[1]) {
				t.Fatalf("%q: %+v", text, c)
			}
		}
	})
}
