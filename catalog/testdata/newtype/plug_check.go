package catalog

import (
	"math"
	"os"
	"testing"

	"seatward/valve"
)

// TestPlug walks the whole road of a product of the new type: read, joined, checked,
// built, settled, closed.
func TestPlug(t *testing.T) {
	catalogs, list := LoadFiles(os.DirFS("testdata/newtype"), "plug.yaml")
	if list = append(list, Check(catalogs)...); len(list) > 0 {
		t.Fatalf("%v", list)
	}
	it, err := Find(catalogs, "sliding-plug/DN150")
	if err != nil {
		t.Fatal(err)
	}
	m, err := it.Build(valve.In(998.2, valve.Horizontal))
	if err != nil {
		t.Fatal(err)
	}
	if rest := m.Settle(0.6); rest.Standing != valve.Floating || !(rest.HeadM > 0) {
		t.Errorf("at 0.6 m/s: %+v", rest)
	}
	if rest := m.Settle(1.4); rest.Standing != valve.FullOpen || math.Abs(rest.Loss-2) > 0.02 {
		t.Errorf("at 1.4 m/s: %+v", rest)
	}
	c, err := m.Close(valve.Deceleration{StartMS: 2, RateMS2: 4})
	if err != nil || !(c.ReverseVelocityMS > 0) {
		t.Errorf("closing: %+v, %v", c, err)
	}
}
