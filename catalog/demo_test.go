package catalog

import (
	"fmt"
	"strings"
	"testing"

	"seatward/quantity"
)

func demoCatalogs(t testing.TB) []*Catalog {
	t.Helper()
	catalogs, faults := Demo()
	if len(faults) > 0 {
		t.Fatalf("the demonstration catalog has faults:\n%v", faults)
	}
	return catalogs
}

func TestDemoIsOneInventedCatalog(t *testing.T) {
	catalogs := demoCatalogs(t)
	if len(catalogs) != 1 || !catalogs[0].Invented || catalogs[0].Maker != "Demonstration Works" {
		t.Fatalf("want one invented catalog of Demonstration Works, got %d", len(catalogs))
	}
	types := map[string]bool{}
	least, most := quantity.Size{DN: 1 << 20}, quantity.Size{}
	for _, f := range catalogs[0].Families {
		types[f.Type.Key] = true
		for _, it := range f.Items {
			least.DN, most.DN = min(least.DN, it.Size.DN), max(most.DN, it.Size.DN)
		}
	}
	if len(types) < 9 || least.NPS() != 2 || most.NPS() != 36 {
		t.Errorf("%d types from %v to %v; want 9 from 2 in to 36 in", len(types), least, most)
	}
}

func TestFind(t *testing.T) {
	catalogs := demoCatalogs(t)
	for id, want := range map[string]string{
		"swing/6in": "swing/6in", "swing/DN150": "swing/6in", " Swing/6in ": "swing/6in", "ball-cage/6in/sinking": "ball-cage/6in/sinking",
		"ball-pocket/2.5in": "ball-pocket/2.5in",
	} {
		it, err := Find(catalogs, id)
		if err != nil || it.ID != want {
			t.Errorf("%q: %v, %v", id, it, err)
		}
	}
	for id, hint := range map[string]string{"swng/6in": "swing/6in", "ball-cage/6in": "ball-cage/6in/", "zebra": "families", "": "families"} {
		if _, err := Find(catalogs, id); err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("%q: %v lacks %q", id, err, hint)
		}
	}
}

func TestEveryIDFindsItsItem(t *testing.T) {
	catalogs := demoCatalogs(t)
	for _, f := range catalogs[0].Families {
		for _, it := range f.Items {
			if got, err := Find(catalogs, it.ID); err != nil || got != it {
				t.Errorf("%s finds %v, %v", it.ID, got, err)
			}
			metric := strings.Replace(it.ID, sizeID(it.Size), fmt.Sprintf("DN%d", it.Size.DN), 1)
			if got, err := Find(catalogs, metric); err != nil || got != it {
				t.Errorf("%s finds %v, %v", metric, got, err)
			}
		}
	}
}

func BenchmarkDemo(b *testing.B) {
	for b.Loop() {
		if _, faults := LoadFiles(demoFiles, "demo/*.yaml"); len(faults) > 0 {
			b.Fatal(faults)
		}
	}
}
