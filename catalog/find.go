package catalog

import (
	"embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"seatward/diag"
	"seatward/quantity"
)

//go:embed demo/*.yaml
var demoFiles embed.FS

var demo = sync.OnceValues(func() ([]*Catalog, diag.List) { return LoadFiles(demoFiles, "demo/*.yaml") })

// Demo is the catalog that comes with Seatward, invented for demonstration: ten
// families of "Demonstration Works". It is shared and must not be changed. The list
// is empty, as a test holds.
func Demo() ([]*Catalog, diag.List) { return demo() }

// NotFoundError says that no item has an ID, and which the writer may have meant.
type NotFoundError struct {
	ID, Near string
	Families []string // every family, where the ID names none
	Made     []string // the IDs of the family that the ID names
}

// Error names the nearest ID, and what there is.
func (e *NotFoundError) Error() string {
	text := fmt.Sprintf("no valve is called %q", e.ID)
	if e.Near != "" {
		text += fmt.Sprintf("; did you mean %q?", e.Near)
	}
	switch {
	case len(e.Made) > 0:
		return text + "; there are " + strings.Join(e.Made, ", ")
	case e.Near != "":
		return text
	}
	return text + "; a valve is written family/size or family/size/variant with one of the families: " +
		strings.Join(e.Families, ", ")
}

// Find looks an item up by its ID, such as swing/6in or ball-cage/DN150/sinking. A
// family with variants needs one. The error is a *NotFoundError.
func Find(catalogs []*Catalog, id string) (*Item, error) {
	want := canonical(id)
	e := &NotFoundError{ID: id}
	var ids []string
	for _, c := range catalogs {
		for _, f := range c.Families {
			e.Families = append(e.Families, f.ID)
			for _, it := range f.Items {
				if it.ID == want {
					return it, nil
				}
				ids = append(ids, it.ID)
			}
		}
	}
	family, rest, _ := strings.Cut(want, "/")
	for _, x := range ids {
		if strings.HasPrefix(x, family+"/") {
			e.Made = append(e.Made, x)
		}
	}
	if len(e.Made) == 0 {
		e.Near = diag.DidYouMean(want, ids)
	} else {
		e.Families, e.Near = nil, nearestMade(e.Made, rest)
	}
	return nil, e
}

// nearestMade picks the ID whose size is nearest to the one that was asked for; of
// equal ones that whose variant is.
func nearestMade(made []string, rest string) string {
	size, variant, _ := strings.Cut(rest, "/")
	inches, ok := inchesOf(size)
	if !ok {
		return ""
	}
	best, least := "", math.Inf(1)
	for _, id := range made {
		_, of, _ := strings.Cut(id, "/")
		ofSize, ofVariant, _ := strings.Cut(of, "/")
		has, _ := inchesOf(ofSize)
		apart := math.Abs(has - inches)
		if ofVariant != variant {
			apart += 1e-3
			if near := diag.DidYouMean(variant, []string{ofVariant}); near != "" {
				apart -= 5e-4
			}
		}
		if apart < least {
			best, least = id, apart
		}
	}
	return best
}

// inchesOf reads the size of an ID, nominal or not.
func inchesOf(size string) (float64, bool) {
	text, metric := strings.CutPrefix(size, "dn")
	text = strings.TrimSpace(strings.TrimSuffix(text, "in"))
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(x > 0) || math.IsInf(x, 0) {
		return 0, false
	}
	if metric {
		return x / 25, true
	}
	return x, true
}

// canonical writes the size of an ID as IDs have it.
func canonical(id string) string {
	parts := strings.Split(strings.ToLower(strings.TrimSpace(id)), "/")
	if len(parts) > 1 {
		if s, err := quantity.ParseSize(parts[1]); err == nil {
			parts[1] = sizeID(s)
		} else if s, err := quantity.ParseSize(strings.TrimSuffix(parts[1], "in") + " in"); err == nil {
			parts[1] = sizeID(s)
		}
	}
	return strings.Join(parts, "/")
}
