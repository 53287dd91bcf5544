package house

import (
	"bytes"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// word is a pattern that must not stand in the repository, and what to do about it.
type word struct {
	pattern *regexp.Regexp
	mend    string
}

// The patterns are put together here so that this file does not hold them.
var (
	foreignWords = []word{
		{
			regexp.MustCompile("(?i)" + "shared" + "/"),
			"the repository stands alone: name what is in it, or the published source",
		},
		{regexp.MustCompile("(?i)" + "physics" + `\.md`), "cite the author, year and equation instead"},
		{regexp.MustCompile(`(?i)\bf` + "arm"), "say it in the words of the pumping trade"},
	}
	unfinished = []word{
		{
			regexp.MustCompile(`\b(` + "TO" + "DO|FIX" + "ME|X" + `XX)\b`),
			"do it now, or file an issue and say in plain words what is not done",
		},
		{
			regexp.MustCompile(`\b[tbf]\.(` + "Ski" + "p|Ski" + "pf|Ski" + `pNow)\(`),
			"a test that is left out checks nothing: make it run everywhere, or remove it",
		},
	}
)

// TestForeignWords reads every text file.
func TestForeignWords(t *testing.T) {
	walk(t, func(name string) {
		if path.Base(name) == "go.sum" { // letters there are digits
			return
		}
		report(t, name, foreignWords)
	})
}

// TestNothingLeftOpen reads every Go file, tools included.
func TestNothingLeftOpen(t *testing.T) {
	walk(t, func(name string) {
		if strings.HasSuffix(name, ".go") {
			report(t, name, unfinished)
		}
	})
}

func report(t *testing.T, name string, words []word) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	if bytes.IndexByte(text, 0) >= 0 {
		return // no text
	}
	for _, w := range words {
		for _, at := range w.pattern.FindAllIndex(text, -1) {
			line := 1 + bytes.Count(text[:at[0]], []byte("\n"))
			t.Errorf("%s:%d: %q: %s", name, line, text[at[0]:at[1]], w.mend)
		}
	}
}

// TestWordsCatch shows that the patterns find what they are for.
func TestWordsCatch(t *testing.T) {
	for _, tt := range []struct {
		words []word
		text  string
		found bool
	}{
		{foreignWords, "see ../" + "shared" + "/x", true},
		{foreignWords, "a shared pipe", false},
		{foreignWords, "wind f" + "arms", true},
		{foreignWords, "a " + "physics" + ".md row", true},
		{unfinished, "// TO" + "DO: later", true},
		{unfinished, "t.Ski" + "p(\"slow\")", true},
		{unfinished, "skip the row", false},
	} {
		found := false
		for _, w := range tt.words {
			found = found || w.pattern.MatchString(tt.text)
		}
		if found != tt.found {
			t.Errorf("%q: found %v, want %v", tt.text, found, tt.found)
		}
	}
}
