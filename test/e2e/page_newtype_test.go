package e2e

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// A made-up valve type, laid in as one Go file and one data file, has its row on the page, with
// a symbol and findings, and nobody had to tell the page of it.
func TestARowOfANewType(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	from := filepath.Join(root, "catalog", "testdata", "newtype")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{
		filepath.Join(root, "valve", "plug.go"): filepath.Join(from, "plug.go"),
	}})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	laid := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(laid, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	built := filepath.Join(dir, "seatward")
	build := exec.Command("go", "build", "-overlay", laid, "-o", built, "./cmd/seatward")
	build.Dir = root
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	usual := program
	program = built
	t.Cleanup(func() { program = usual })
	address, _ := serveAt(t, "127.0.0.1:0", filepath.Join(dir, "studies.db"),
		"--catalog", filepath.Join(from, "plug.yaml"))
	b := newTab(t, desktop)
	b.open(address)
	row := "[...document.querySelectorAll('#rows .row-title strong')].find((e) => e.textContent.includes('Plug check'))"
	b.await("its row", row)
	if !value[bool](b, row+".closest('.row-head').querySelector('svg') !== null") {
		t.Error("its row has no symbol")
	}
	b.press(row)
	b.await("its findings", "document.querySelectorAll('#rows .finding').length > 2")
	b.run(chromedp.Evaluate(row+".scrollIntoView()", nil))
	b.shot("new-type")
	b.axe("new-type")
}
