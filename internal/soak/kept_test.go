package soak

import (
	"os"
	"strings"
	"testing"

	"seatward/station"
)

// refusedFiles have an error, with the message that each must have.
var refusedFiles = map[string]string{
	"panic-trip-schedule": "events[4].steps[0].pump",
}

// TestKept: each of the stations that once broke the answer is read, or refused with a
// message that names the place.
func TestKept(t *testing.T) {
	names, err := kept()
	if err != nil || len(names) < 30 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			text, err := keptText(name)
			if err != nil {
				t.Fatal(err)
			}
			st, list := station.Load(name, []byte(text))
			wanted, faulty := refusedFiles[name]
			switch {
			case !faulty && st == nil:
				t.Errorf("refused: %v", list)
			case faulty && st != nil:
				t.Errorf("read, and the file has an error at %s", wanted)
			case faulty && !strings.Contains(list.Error(), wanted):
				t.Errorf("%v, which does not name %s", list, wanted)
			}
		})
	}
}

// TestKeptAreDescribed: what each once broke stands in the folder's README.
func TestKeptAreDescribed(t *testing.T) {
	readme, err := os.ReadFile(folder + "/README.md")
	if err != nil {
		t.Fatal(err)
	}
	names, err := kept()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if short := strings.TrimSuffix(name, ".station"); !strings.Contains(string(readme), short) {
			t.Errorf("%s is not in the README", short)
		}
	}
}
