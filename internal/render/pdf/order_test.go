package pdf

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"seatward/internal/document"
)

// TestOrder: lines are drawn in the order in which they are read, from the left.
func TestOrder(t *testing.T) {
	p := newWriter(&document.Document{}, 0)
	for in, want := range map[string]string{
		"valve 6 in":       "valve 6 in",
		"שלום":             "םולש",
		"שלום עולם":        "םלוע םולש",
		"tag שסתום 12 in":  "tag 12 םותסש in",
		"שסתום 150 psi":    "psi 150 םותסש",
		"שסתום (ראשי)":     "(ישאר) םותסש",
		"-6 °C, מים 1.5%":  "-6 °C, 1.5% םימ",
		"a אבג 12 דהו b":   "a והד 12 גבא b",
		"الصمام":           "ﻡﺎﻤﺼﻟﺍ",
		"لا":               "ﻻ",
		"صمام 6":           "6 ﻡﺎﻤﺻ",
		"station محطة end": "station ﺔﻄﺤﻣ end",
	} {
		if got := p.inOrder(p.clean(in)); got != want {
			t.Errorf("%q is drawn as %q, want %q", in, got, want)
		}
	}
}

// TestShaped: the forms of letters that join are those of the same letters, and the fonts
// have them all.
func TestShaped(t *testing.T) {
	p := newWriter(&document.Document{}, 0)
	letters := []rune("ابتثجحخدذرزسشصضطظعغفقكلمنهويءآأؤإئةىپچژگ \u064e\u0640")
	rapid.Check(t, func(t *rapid.T) {
		s := norm.NFC.String(rapid.StringOfN(rapid.SampledFrom(letters), 1, 12, -1).Draw(t, "word"))
		got := shaped(s)
		if back := norm.NFKC.String(got); back != norm.NFKC.String(s) {
			t.Fatalf("%q became %q, which is %q", s, got, back)
		}
		for _, r := range got {
			if !p.fonts.has(r) {
				t.Fatalf("%U of %q is not in the fonts", r, s)
			}
		}
	})
}

// TestJoining: a letter has the form of its place.
func TestJoining(t *testing.T) {
	for in, want := range map[string]string{
		"ب": "ﺏ", "بب": "ﺑﺐ", "ببب": "ﺑﺒﺐ", "باب": "ﺑﺎﺏ", "دب": "ﺩﺏ",
		"كلا": "ﻛﻼ", "بَب": "ﺑَﺐ", "ءب": "ﺀﺏ", "ab": "ab",
	} {
		if got := shaped(in); got != want {
			t.Errorf("%q is set as %q, want %q", in, got, want)
		}
	}
}

// TestLinesKeepTheirOrder: a text that runs leftward is wrapped before it is turned round.
func TestLinesKeepTheirOrder(t *testing.T) {
	p := newWriter(&document.Document{}, 0)
	p.font(sans, "", 9)
	text := strings.TrimSpace(strings.Repeat("אבג דהו ", 30))
	lines := p.wrap(p.clean(text), 60)
	if len(lines) < 3 {
		t.Fatalf("%d lines", len(lines))
	}
	var back []string
	for _, l := range lines {
		r := []rune(l)
		slices.Reverse(r)
		back = append(back, string(r))
	}
	if got := strings.Join(back, " "); got != text {
		t.Errorf("read from the right the lines are %q", got)
	}
}
