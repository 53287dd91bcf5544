package catalog

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatward/valve"
)

// TestWhatPassesCanBeUsed: with any line of a good catalog taken out, the file either fails
// the check, or each of its families can be configured, found and built: no later command
// stops at what the check let pass.
func TestWhatPassesCanBeUsed(t *testing.T) {
	plug, err := os.ReadFile(filepath.Join("demo", "swing-cushioned.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	passed, refused := 0, 0
	for name, text := range map[string]string{"good.yaml": good(t), "swing-cushioned.yaml": string(plug)} {
		lines := strings.Split(text, "\n")
		for i := range lines {
			without := strings.Join(append(append([]string{}, lines[:i]...), lines[i+1:]...), "\n")
			catalogs, list := loaded(without)
			if list.Err() != nil {
				refused++
				continue
			}
			passed++
			if err := usable(catalogs); err != nil {
				t.Errorf("%s without line %d, %q, passes the check: %v", name, i+1, lines[i], err)
			}
		}
	}
	if passed < 20 || refused < 20 {
		t.Errorf("%d files passed, %d were refused", passed, refused)
	}
}

// usable does with the catalogs what commands do.
func usable(catalogs []*Catalog) (err error) {
	defer func() {
		if x := recover(); x != nil {
			err = fmt.Errorf("panic: %v", x)
		}
	}()
	for _, c := range catalogs {
		for _, f := range c.Families {
			made, err := f.Configure(nil, Circumstances{TemperatureK: 290, PressurePa: 1e5})
			if err != nil {
				return fmt.Errorf("%s: %w", f.ID, err)
			}
			if made.Item == nil {
				return fmt.Errorf("%s: configured to nothing", f.ID)
			}
			for _, it := range f.Items {
				if found, err := Find(catalogs, it.ID); err != nil || found != it {
					return fmt.Errorf("%s is not found: %w", it.ID, err)
				}
				if _, err := it.Build(valve.In(998.2, it.Positions[0])); err != nil {
					return fmt.Errorf("%s: %w", it.ID, err)
				}
			}
		}
	}
	return nil
}
