package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// TestFieldCardIsOnePage: a card that goes over is no card, whatever the valve, its verdict,
// the language and the sheet.
func TestFieldCardIsOnePage(t *testing.T) {
	t.Chdir("../..")
	pages := regexp.MustCompile(`/Type /Pages\b[^>]*/Count (\d+)`)
	for _, how := range []string{"--language en --paper A4", "--language es --paper letter --units SI"} {
		folder := t.TempDir()
		if _, errOut, code := called(t, "seatward write fieldcard examples/layout.station.yaml --quick "+how+
			" --valve swing-cushioned/6in --valve dual-plate/6in --valve ball-pocket/6in"+
			" --valve swing-assisted-weight/6in -o "+folder); code != answered {
			t.Fatal(errOut)
		}
		files, err := filepath.Glob(filepath.Join(folder, "*.pdf"))
		if err != nil || len(files) != 4 {
			t.Fatalf("%d cards, %v", len(files), err)
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if m := pages.FindSubmatch(data); m == nil || string(m[1]) != "1" {
				t.Errorf("%s, %s: pages %q", filepath.Base(f), how, m)
			}
		}
	}
}
