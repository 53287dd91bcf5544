package judge

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// textsFile holds every text that the cases of the findings bring about. Wordings in other
// languages are held to it: internal/document.
const textsFile = "testdata/texts.txt"

// TestTexts keeps the texts of all findings in one file; SEATWARD_UPDATE=1 renews it.
func TestTexts(t *testing.T) {
	seen := map[string]bool{}
	add := func(s string) {
		if s != "" {
			seen[s] = true
		}
	}
	for _, c := range findingCases {
		a := c.assessed(t)
		for _, f := range a.Findings {
			if f.Kind.Point == OnRules {
				continue // rules of places are quoted as their packs have them
			}
			add(f.Text)
			add(f.Mend)
			add(f.Lacks())
			add(f.Kind.Head)
		}
		add(a.Separation)
		add(a.Slam.Method)
		add(a.Slam.DecisiveInput)
	}
	for _, k := range Kinds() {
		add(k.Head)
	}
	var all []string
	for s := range seen {
		all = append(all, strings.ReplaceAll(s, "\n", " "))
	}
	slices.Sort(all)
	text := strings.Join(all, "\n") + "\n"
	if os.Getenv("SEATWARD_UPDATE") == "1" {
		if err := os.WriteFile(textsFile, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(textsFile)
	if err != nil || string(kept) != text {
		t.Errorf("%s is not what the findings say (%v): SEATWARD_UPDATE=1 go test -run TestTexts ./judge renews it, and internal/document/words may need the new texts", textsFile, err)
	}
}
