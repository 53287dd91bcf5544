package catalog

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
)

// passed is what go test prints when the road of the new type was walked.
var passed = regexp.MustCompile(`(?m)^--- PASS: TestPlug `)

// TestANewTypeIsOneGoFileAndOneDataFile lays a made-up valve type over the source, as
// valve/plug.go, with nothing else changed: a data file of that type is then read,
// checked, built and closed, and the tests of the valve package that range over every
// type hold it as well.
func TestANewTypeIsOneGoFileAndOneDataFile(t *testing.T) {
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	from := filepath.Join(root, "catalog", "testdata", "newtype")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{
		filepath.Join(root, "valve", "plug.go"):             filepath.Join(from, "plug.go"),
		filepath.Join(root, "catalog", "plug_file_test.go"): filepath.Join(from, "plug_check.go"),
	}})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "overlay.json")
	if err := os.WriteFile(name, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"test", "-overlay", name, "-run", "^TestPlug$", "-v", "./catalog"},
		{"test", "-overlay", name, "./valve"},
	} {
		c := exec.Command("go", args...)
		c.Dir = root
		out, err := c.CombinedOutput()
		if err != nil {
			t.Errorf("go %v: %v\n%s", args, err, out)
		}
		if args[3] == "-run" && !passed.Match(out) {
			t.Errorf("the test of the new type did not run:\n%s", out)
		}
	}
}
