package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestGallery: docs/gallery holds every kind of document of the example station, as the
// program writes it today. make gallery renews it and the pictures beside it.
func TestGallery(t *testing.T) {
	t.Chdir("../..")
	made, kept := t.TempDir(), filepath.Join("docs", "gallery")
	if _, errOut, code := called(t,
		"seatward write all examples/study.station.yaml --valve flap/6in --profile examples/profile.yaml -o "+
			made); code != answered {
		t.Fatal(errOut)
	}
	if _, errOut, code := called(t,
		"seatward write submittal examples/study.station.yaml --valve flap/6in --profile examples/profile.yaml --format xlsx -o "+made); code != answered {
		t.Fatal(errOut)
	}
	names, err := filepath.Glob(filepath.Join(made, "*"))
	if err != nil || len(names) < 12 {
		t.Fatalf("%d documents, %v", len(names), err)
	}
	for _, name := range names {
		got, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(kept, filepath.Base(name))
		if os.Getenv("SEATWARD_UPDATE") != "" {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the program writes (%v): make gallery, and look at the pages", file, err)
		}
	}
}
