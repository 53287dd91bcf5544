package catalog

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"seatward/valve"
)

// items reads a catalog without a fault and gives its items by ID.
func items(t *testing.T, text string) map[string]*Item {
	t.Helper()
	catalogs, list := LoadFiles(fstest.MapFS{"catalog.yaml": {Data: []byte(text)}}, "catalog.yaml")
	if len(list) > 0 {
		t.Fatalf("%v", list)
	}
	out := map[string]*Item{}
	for _, f := range catalogs[0].Families {
		for _, it := range f.Items {
			out[it.ID] = it
		}
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g within %g of it", what, got, want, tolerance)
	}
}

// TestMeasuredReplacesComputed: where loss and floating were measured, the valve loses
// and floats as it was measured; the size without a test stays as computed.
func TestMeasuredReplacesComputed(t *testing.T) {
	all := items(t, good(t))
	it := all["hinged/6in"]
	m, err := it.Build(valve.In(testWaterKgM3, valve.Horizontal))
	if err != nil {
		t.Fatal(err)
	}
	for share, loss := range map[float64]float64{0.2: 7, 0.5: 1.5, 1: 1.1} {
		s := m.At(share * m.Stroke)
		near(t, "measured loss", s.Loss(1), loss, 1e-9)
		if m.Known.Word != "measured" {
			t.Errorf("the law is called %s", m.Known.Word)
		}
	}
	for velocity, share := range map[float64]float64{0.4: 0.25, 0.9: 0.6} {
		near(t, "measured opening", m.Settle(velocity).Share, share, 1e-3)
	}
	up, err := it.Build(valve.In(testWaterKgM3, valve.FlowUp))
	if err != nil {
		t.Fatal(err)
	}
	if s := up.At(0.5 * up.Stroke); s.Loss(1) != 1.5 {
		t.Errorf("a loss tested without a position is not used in every position: %g", s.Loss(1))
	}
	if share := up.Settle(0.9).Share; math.Abs(share-0.6) < 0.01 {
		t.Errorf("the opening tested in a horizontal line is taken over for flow up, where the weight acts otherwise: %g", share)
	}
	plain, err := all["hinged/8in"].Build(valve.In(testWaterKgM3, valve.Horizontal))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range plain.Notes {
		if n.Key == "measured" {
			t.Error("the size without a test is noted as measured")
		}
	}
}

// TestMeasuredKeepsItsRecord: source, licence and position of a curve stay with it, and
// the curve of the position goes before one that names none.
func TestMeasuredKeepsItsRecord(t *testing.T) {
	text := strings.Replace(good(t), "  - id: ball\n", `      - kind: reverse velocity against deceleration
        size: 6 in
        position: flow up
        source: second test
        licence: CC-BY-4.0
        closing: [[1 m/s2, 0.2 m/s], [4 m/s2, 0.5 m/s]]

  - id: ball
`, 1)
	it := items(t, text)["hinged/6in"]
	for position, want := range map[valve.Position]string{
		valve.Horizontal: "invented test",
		valve.FlowUp:     "second test",
	} {
		m, ok := it.MeasuredClosing(position)
		if !ok || m.Source != want || m.Licence == "" || m.Y[0] == 0 {
			t.Errorf("%s: %+v, %v", position, m, ok)
		}
	}
	if _, ok := items(t, good(t))["hinged/8in"].MeasuredClosing(valve.Horizontal); ok {
		t.Error("a size that was not tested has a curve")
	}
}

// TestMeasuredForceReplacesComputed: a load cell's test of the held element, in each
// direction of flow, gives the force that the water has on it.
func TestMeasuredForceReplacesComputed(t *testing.T) {
	text := good(t)
	from := strings.Index(text, "      - kind: opening against velocity")
	to := strings.Index(text, "      - kind: reverse velocity")
	it := items(t, text[:from]+`      - {kind: force against opening, size: 6 in, source: torque arm, licence: CC0-1.0, force: [[0.1, 0.6], [0.5, 0.3], [1, 0.2]]}
      - {kind: force against opening in reverse flow, size: 6 in, source: torque arm, licence: CC0-1.0, force: [[0.1, 0.9], [0.5, 0.6], [1, 0.5]]}
`+text[to:])["hinged/6in"]
	if !it.MeasuredSteady() {
		t.Error("the item does not say that it was measured")
	}
	for _, p := range valve.Positions() {
		m, err := it.Build(valve.In(testWaterKgM3, p))
		if err != nil {
			t.Fatal(err)
		}
		torque := func(share, sign float64) float64 {
			s := m.At(share * m.Stroke)
			return s.Push(2, sign) / math.Pow(m.BoreM, 3) // ½ρV² = 1
		}
		near(t, "torque", torque(0.5, 1), 0.3, 1e-9)
		near(t, "torque in reverse flow", torque(0.5, -1), -0.6, 1e-9)
	}
}
