package web

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// TestServeDoc: docs/serve.md lists every route as the table has it. SEATWARD_UPDATE=1
// writes the list anew.
func TestServeDoc(t *testing.T) {
	const name, head = "../../docs/serve.md", "| address | what it does |\n|---|---|\n"
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t, nil)
	var want strings.Builder
	for _, rt := range f.table {
		fmt.Fprintf(&want, "| `%s %s` | %s |\n", rt.method, rt.path, rt.summary)
	}
	before, rest, found := strings.Cut(string(data), head)
	if !found {
		t.Fatal("docs/serve.md has no table of routes")
	}
	list, after, _ := strings.Cut(rest, "\n\n")
	if list+"\n" == want.String() {
		return
	}
	if os.Getenv("SEATWARD_UPDATE") == "" {
		t.Fatalf("docs/serve.md lists\n%s\nthe table has\n%s", list, want.String())
	}
	if err := os.WriteFile(name, []byte(before+head+want.String()+"\n"+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
