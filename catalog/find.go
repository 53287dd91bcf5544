package catalog

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
	"sync"

	"seatward/diag"
	"seatward/quantity"
)

//go:embed demo/*.yaml
var demoFiles embed.FS

var demo = sync.OnceValues(func() ([]*Catalog, diag.List) { return loadFS(demoFiles, "demo/*.yaml") })

// Demo is the catalog that comes with Seatward, invented for demonstration: ten
// families of "Demonstration Works". It is shared and must not be changed. The list
// is empty, as a test holds.
func Demo() ([]*Catalog, diag.List) { return demo() }

func loadFS(files fs.FS, pattern string) ([]*Catalog, diag.List) {
	names, err := fs.Glob(files, pattern)
	if err != nil {
		return nil, diag.List{{ID: "catalog-unreadable", Text: err.Error()}}
	}
	var all []*File
	var list diag.List
	for _, name := range names {
		data, err := fs.ReadFile(files, name)
		if err != nil {
			list.Add(diag.Message{ID: "catalog-unreadable", Place: diag.Place{File: name}, Text: err.Error()})
			continue
		}
		f, faults := Parse(name, data)
		list = append(list, faults...)
		all = append(all, f)
	}
	if list.Err() != nil {
		return nil, list
	}
	catalogs, faults := Resolve(all...)
	return catalogs, append(list, faults...)
}

// NotFoundError says that no item has an ID, and which the writer may have meant.
type NotFoundError struct {
	ID, Near string
	Families []string
}

// Error names the nearest ID, or the families.
func (e *NotFoundError) Error() string {
	text := fmt.Sprintf("no valve is called %q", e.ID)
	if e.Near != "" {
		return text + fmt.Sprintf("; did you mean %q?", e.Near)
	}
	return text + "; a valve is written family/size or family/size/variant with one of the families: " + strings.Join(e.Families, ", ")
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
	for _, x := range ids {
		if e.Near == "" && strings.HasPrefix(x, want+"/") {
			e.Near = x
		}
	}
	if e.Near == "" {
		e.Near = diag.DidYouMean(want, ids)
	}
	return nil, e
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
