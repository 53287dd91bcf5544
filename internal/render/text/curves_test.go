package text

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/catalog"
	"seatward/internal/chart"
	"seatward/quantity"
	"seatward/valve"
)

// TestAnyPlotFits: whatever the ranges, the picture fits the page, and its axes begin
// and end at labeled numbers.
func TestAnyPlotFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := newPage(Options{Units: rapid.SampledFrom([]quantity.System{quantity.US, quantity.SI}).Draw(t, "units")})
		span := func(name string) (low, high float64) {
			low = math.Pow(10, rapid.Float64Range(-5, 4).Draw(t, name))
			return low, low * math.Pow(10, rapid.Float64Range(0, 6).Draw(t, name+" span"))
		}
		x0, x1 := span("x")
		y0, y1 := span("y")
		g := newPlot(&p, axis{kind: quantity.Flow, low: x0, high: x1}, axis{kind: quantity.Velocity, low: y0, high: y1})
		for range 20 {
			x, y := rapid.Float64Range(-1, 2*x1).Draw(t, "at x"), rapid.Float64Range(-1, 2*y1).Draw(t, "at y")
			g.dot(x, y, '●')
			g.bar(x, y, 2*y, '░')
			g.level(y, "a level")
		}
		g.print("reverse velocity", "flow")
		for _, l := range strings.Split(p.out.String(), "\n") {
			if width(l) > Width {
				t.Fatalf("%d columns: %q", width(l), l)
			}
		}
		for _, a := range []axis{g.x, g.y} {
			first, okFirst := a.cell(a.low)
			last, okLast := a.cell(a.high)
			if !okFirst || !okLast || first != 0 || last != a.cells-1 {
				t.Fatalf("axis from %g to %g: cells %d and %d", a.low, a.high, first, last)
			}
		}
	})
}

// placed is a valve of the demonstration catalog in cold water.
func placed(t *testing.T, id string, p valve.Position) *chart.Valve {
	t.Helper()
	all, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	it, err := catalog.Find(all, id)
	if err != nil {
		t.Fatal(err)
	}
	v := &chart.Valve{Item: it, Position: p, Setting: valve.In(999, p)}
	if v.Mechanism, err = it.Family.Type.Build(it.Params, v.Setting); err != nil {
		t.Fatal(err)
	}
	return v
}

// TestLossBends: part open the curve lies above the line that it has full open, and
// joins it at the full-open velocity.
func TestLossBends(t *testing.T) {
	v := placed(t, "swing/6in", valve.Horizontal)
	var out bytes.Buffer
	if err := Loss(&out, v, chart.NewLoss(v, nil, quantity.US), Options{Units: quantity.US}); err != nil {
		t.Fatal(err)
	}
	var field [][]rune
	for _, l := range strings.Split(out.String(), "\n") {
		if r := []rune(l); len(r) > plotLabel+1 && (r[plotLabel+1] == '│' || r[plotLabel+1] == '┤') {
			field = append(field, r[plotLabel+2:])
		}
	}
	if len(field) != plotHigh {
		t.Fatalf("the picture has %d lines", len(field))
	}
	top := func(column int, mark rune) int {
		for row := range field {
			if column < len(field[row]) && field[row][column] == mark {
				return row
			}
		}
		return -1
	}
	both := 0
	for column := range plotWide {
		open, line := top(column, '○'), top(column, '·')
		if open < 0 || line < 0 {
			continue // the full-open line runs below the picture at little flow
		}
		both++
		if open > line {
			t.Errorf("in column %d the curve stands in line %d, the full-open line in %d:\n%s", column, open, line,
				out.String())
		}
	}
	if both < 10 {
		t.Errorf("the full-open line stands beside the curve in %d columns:\n%s", both, out.String())
	}
	last := plotWide - 1
	if open, part := top(last, '●'), top(last, '○'); open < 0 || part >= 0 {
		t.Errorf("at the greatest flow: full open in line %d, part open in %d", open, part)
	}
}

// TestClosingPicture: the band stands round the median, between the limits'
// names; a curve of few points is not drawn out.
func TestClosingPicture(t *testing.T) {
	v := placed(t, "flap/6in", valve.FlowUp)
	draw := func(rates []float64) string {
		c, err := chart.NewClosing(v, chart.Stop{RatesMS2: rates, QuietMS: 0.15, HarmfulMS: 0.3}, quantity.SI)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := Closing(&out, v, c, Options{Units: quantity.SI}); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	full := draw(nil)
	for _, want := range []string{
		"┄harmful above┄", "┄audible above┄", "░●", "● median  ░ 5 to 95 %  · best numbers",
		"Without pull:",
	} {
		if !strings.Contains(full, want) {
			t.Errorf("%q is not there:\n%s", want, full)
		}
	}
	if few := draw([]float64{2, 8}); strings.Contains(few, "░") || !strings.Contains(few, "at seat") {
		t.Errorf("two points are drawn out:\n%s", few)
	}
}
