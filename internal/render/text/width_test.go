package text

import (
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// TestWidth: columns of texts whose width Unicode Standard Annex 11 and the combining
// marks settle.
func TestWidth(t *testing.T) {
	for _, tt := range []struct {
		text string
		want int
	}{
		{"", 0},
		{"450 gpm", 7},
		{"ft/s² ±30 °F", 12},
		{"● ◐ ✕ → ░ ─", 11},
		{"北海", 4},        // wide letters
		{"ｗ", 2},         // full width
		{"e\u0301te", 3}, // a combining accent
		{"a\u200bb", 2},  // a zero-width space
		{"\x1b[31mx", 5}, // the escape character takes no column
		{"Kläranlage", 10},
	} {
		if got := width(tt.text); got != tt.want {
			t.Errorf("width(%q) = %d, want %d", tt.text, got, tt.want)
		}
	}
}

// TestWrap: no line is wider than asked for, and nothing but blanks is lost.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		n := rapid.IntRange(2, 100).Draw(t, "n")
		lines := Wrap(text, n)
		for _, l := range lines {
			if width(l) > n {
				t.Fatalf("%q is wider than %d", l, n)
			}
			if strings.ContainsFunc(l, unicode.IsControl) {
				t.Fatalf("%q holds a control character", l)
			}
		}
		bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := bare(strings.Join(lines, "")), bare(Clean(text)); got != want {
			t.Fatalf("wrapped to %q, want %q", got, want)
		}
	})
}

// TestWrapBreaksAtBlanks: words that fit stay whole; one that does not is broken where
// a reader would.
func TestWrapBreaksAtBlanks(t *testing.T) {
	for _, tt := range []struct {
		text string
		n    int
		want string
	}{
		{"the valve closes late", 10, "the valve|closes|late"},
		{"swing-assisted-weight/6in", 18, "swing-assisted-|weight/6in"},
		{"a swing-assisted-weight/6in", 18, "a|swing-assisted-|weight/6in"},
		{"abcdefghij", 4, "abcd|efgh|ij"},
		{"  ", 10, ""},
		{"one\ttwo\nthree", 80, "one two three"},
	} {
		if got := strings.Join(Wrap(tt.text, tt.n), "|"); got != tt.want {
			t.Errorf("Wrap(%q, %d) = %q, want %q", tt.text, tt.n, got, tt.want)
		}
	}
}

// TestClean: nothing that a terminal obeys comes through.
func TestClean(t *testing.T) {
	if got, want := Clean("a\x1b[2Jb\x07\u202ec\u200d\xffd\ne"), "a [2Jb cd e"; got != want {
		t.Errorf("Clean gives %q, want %q", got, want)
	}
}
