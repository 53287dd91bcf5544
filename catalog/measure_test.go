package catalog

import (
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// benchTests are what three bench tests of the valve would give if it were the best one that
// its numbers describe, as catalogs hold them.
func benchTests(t *testing.T, it *Item) map[string]Measured {
	t.Helper()
	m := built(t, it)
	floating, torque, back := Measured{
		Kind: openingCurve, Position: valve.Horizontal,
		Placed: true,
	}, Measured{Kind: pushCurve}, Measured{Kind: backCurve}
	loss := Measured{Kind: lossCurve, X: []float64{20 * math.Pi / 180 / m.Stroke, 1}}
	for _, share := range loss.X {
		s := m.At(share * m.Stroke)
		loss.Y = append(loss.Y, s.Loss(1))
	}
	for _, share := range []float64{0.15, 0.3, 0.5, 0.75, 1} {
		floating.X, floating.Y = append(floating.X, m.FloatingVelocityMS(share*m.Stroke)), append(floating.Y, share)
		s, lever := m.At(share*m.Stroke), math.Pow(m.BoreM, 3)
		if share == 0.5 {
			continue
		}
		torque.X, torque.Y = append(torque.X, share), append(torque.Y, s.Push(2, 1)/lever)
		back.X, back.Y = append(back.X, share), append(back.Y, -s.Push(2, -1)/lever)
	}
	return map[string]Measured{"floating": floating, "torque": torque, "torque back": back, "loss": loss}
}

// width is how far the 5 and 95 % points of the reverse velocity at 6 m/s² lie apart, m/s,
// with the bench tests named.
func width(t *testing.T, it *Item, tests ...string) float64 {
	t.Helper()
	tested, all := *it, benchTests(t, it)
	for _, name := range tests {
		tested.Measured = append(tested.Measured, all[name])
	}
	draws, err := tested.Draw(valve.In(testWaterKgM3, valve.Horizontal), valve.CurveDraws)
	if err != nil {
		t.Fatal(err)
	}
	start := basis.NewGiven("start", quantity.Velocity, 2.5, "test")
	band, err := draws.Close(valve.Duty{
		Start:        start,
		Deceleration: basis.NewGiven("deceleration", quantity.Acceleration, 6, "test"),
	})
	if err != nil {
		t.Fatal(err)
	}
	return band.High - band.Low
}

// TestMeasureAValveEntry: the entry that the page shows stands in a catalog without a fault.
func TestMeasureAValveEntry(t *testing.T) {
	page, err := os.ReadFile("../docs/measure-a-valve.md")
	if err != nil {
		t.Fatal(err)
	}
	family, err := os.ReadFile("demo/swing.yaml")
	if err != nil {
		t.Fatal(err)
	}
	_, entry, _ := strings.Cut(string(page), "```yaml\n")
	entry, _, _ = strings.Cut(entry, "```")
	catalogs, faults := LoadFiles(fstest.MapFS{"swing.yaml": {Data: append(family, entry...)}}, "swing.yaml")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if list := Check(catalogs); len(list) > 0 {
		t.Errorf("%v", list)
	}
	it, err := Find(catalogs, "swing/8in")
	if err != nil || !it.MeasuredSteady() {
		t.Errorf("the tests do not reach the valve: %v", err)
	}
}

// TestMeasureAValve: docs/measure-a-valve.md prints how wide the band of a reverse velocity is
// before and after each test. The numbers of its tables are those of these runs.
func TestMeasureAValve(t *testing.T) {
	page, err := os.ReadFile("../docs/measure-a-valve.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		id, line string
		tests    []string
	}{
		{"swing/8in", "swing, no test", nil},
		{"swing/8in", "swing, 1", []string{"floating"}},
		{"swing/8in", "swing, 3", []string{"loss"}},
		{"swing/8in", "swing, 1 and 3", []string{"floating", "loss"}},
		{"swing/8in", "swing, 2 and 3", []string{"torque", "torque back", "loss"}},
		{"flap/8in", "flap, no test", nil},
		{"flap/8in", "flap, 1", []string{"floating"}},
		{"flap/8in", "flap, 3", []string{"loss"}},
		{"flap/8in", "flap, 1 and 3", []string{"floating", "loss"}},
		{"flap/8in", "flap, 2 and 3", []string{"torque", "torque back", "loss"}},
	} {
		it, err := Find(demoCatalogs(t), tt.id)
		if err != nil {
			t.Fatal(err)
		}
		got := width(t, it, tt.tests...)
		if row := "| " + tt.line + " | " + quantity.Figures(got, 2) + " |"; !strings.Contains(string(page), row) {
			t.Errorf("the page lacks %q", row)
		}
	}
}
