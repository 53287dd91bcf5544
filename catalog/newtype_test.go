package catalog

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
)

// listed are tests that hold the list of types as text, and this walk itself.
const listed = "^(TestANewTypeIsOneGoFileAndOneDataFile|TestBadCatalogs)$"

// TestANewTypeIsOneGoFileAndOneDataFile lays a made-up valve type over the source, as
// valve/plug.go, with nothing else changed. A data file of that type is then read, checked,
// built and closed, its papers are written, and the tests of the valve package that range
// over every type hold it as well. SEATWARD_LONG=1 runs all tests of every package that
// judges, writes or shows valves, with the type laid in.
func TestANewTypeIsOneGoFileAndOneDataFile(t *testing.T) {
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	overlay := layIn(t, root)
	test := func(run string, packages ...string) {
		args := []string{"test", "-timeout", "40m", "-overlay", overlay, "-skip", listed}
		if run != "" {
			args = append(args, "-v", "-run", "^"+run+"$")
		}
		c := exec.Command("go", append(args, packages...)...)
		c.Dir, c.Env = root, append(os.Environ(), "SEATWARD_UPDATE=")
		out, err := c.CombinedOutput()
		if err != nil {
			t.Errorf("go %v %v: %v\n%s", args, packages, err, out)
		}
		if run != "" && !regexp.MustCompile(`(?m)^--- PASS: `+run+` `).Match(out) {
			t.Errorf("%s of the new type did not run:\n%s", run, out)
		}
	}
	test("", "./valve")
	test("TestPlug", "./catalog")
	test("TestPlugPapers", "./internal/document")
	if os.Getenv("SEATWARD_LONG") != "" {
		test("", "./catalog", "./rules", "./standards", "./fit", "./judge", "./study", "./internal/exchange",
			"./internal/chart", "./internal/document", "./internal/render/text", "./internal/desk")
	}
}

// layIn writes the overlay that puts the type and its tests in their places.
func layIn(t *testing.T, root string) string {
	t.Helper()
	from := filepath.Join(root, "catalog", "testdata", "newtype")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{
		filepath.Join(root, "valve", "plug.go"):                            filepath.Join(from, "plug.go"),
		filepath.Join(root, "catalog", "plug_file_test.go"):                filepath.Join(from, "plug_check.go"),
		filepath.Join(root, "internal", "document", "plug_papers_test.go"): filepath.Join(from, "plug_papers.go"),
	}})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "overlay.json")
	if err := os.WriteFile(name, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}
