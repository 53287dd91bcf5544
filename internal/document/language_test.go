package document_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/internal/document"
	"seatward/quantity"
)

// TestSpeak: a region takes the words of its language, an unknown language is an error that
// names the known ones, and the user's own words go before those of the program.
func TestSpeak(t *testing.T) {
	for tag, want := range map[string]string{"es": "Tarjeta de campo", "es-MX": "Tarjeta de campo", "en": "Field card"} {
		w := document.NewWording()
		if err := w.Speak(tag); err != nil {
			t.Fatal(err)
		}
		if got := w.Told("Field card"); got != want || w.Language != tag {
			t.Errorf("%s: %q, language %s", tag, got, w.Language)
		}
	}
	if err := document.NewWording().Speak("fr"); err == nil || !strings.Contains(err.Error(), "en or es") {
		t.Errorf("fr: %v", err)
	}
	w := document.NewWording()
	own := "phrases:\n  - {from: Field card, to: Ficha}\ncomputed:\n  - {from: 'It is {own} long and fits the gap.', to: 'Cabe: {own}.'}\n"
	if list := w.ParseWording("own.yaml", []byte(own)); list.Err() != nil {
		t.Fatal(list)
	}
	if err := w.Speak("es"); err != nil {
		t.Fatal(err)
	}
	for from, to := range map[string]string{
		"Field card": "Ficha", "It is 14.0 in long and fits the gap.": "Cabe: 14.0 in.",
	} {
		if got := w.Told(from); got != to {
			t.Errorf("%q became %q", from, got)
		}
	}
}

// TestTold: whole texts, parts, capitals, stops, numbers, and what nobody has words for.
func TestTold(t *testing.T) {
	w := document.NewWording()
	if err := w.Speak("es"); err != nil {
		t.Fatal(err)
	}
	for from, to := range map[string]string{
		"": "", "12.5": "12.5", "6 in": "6 in", "CV-101": "CV-101",
		"Power failure, both pumps, wet well high": "Corte de energía, ambas bombas, cárcamo alto",
		"Static head 38.0 ft seals it; minimum back head to seal is 2.00 ft.": "La carga estática 38.0 ft la sella; " +
			"la contracarga mínima para sellar es 2.00 ft.",
		"Line size. Not certified for drinking water.": "Tamaño de la línea. No certificada para agua potable.",
		"one of three pumps trips, the others keep running, Jockey, wet well low": "falla una de tres bombas, " +
			"las otras siguen en marcha, Jockey, cárcamo bajo",
		"one of 18 pumps trips, the others keep running, wet well high": "falla una de 18 bombas, " +
			"las otras siguen en marcha, cárcamo alto",
		"drinking water; Dune Road":      "agua potable; Dune Road",
		"ASME B16.42 Class 150 flanges":  "bridas ASME B16.42 Clase 150",
		"{n} pumps":                      "{n} pumps", // a name in braces is no number
		"a tag {with} braces, low level": "a tag {with} braces, nivel bajo",
	} {
		if got := w.Told(from); got != to {
			t.Errorf("%q became %q, want %q", from, got, to)
		}
	}
	if all := w.Untold(); !slices.Contains(all, "Dune Road") || slices.Contains(all, "drinking water") {
		t.Errorf("left over: %q", all)
	}
}

// TestOnlyWholeKindsAreSpoken: a kind that is not complete in Spanish is English throughout,
// and says so; the five are Spanish and say so.
func TestOnlyWholeKindsAreSpoken(t *testing.T) {
	d := dossier(t, request(t, "layout", quantity.US, true), "flap/6in")
	es := spanish(t, d)
	for _, k := range document.Kinds() {
		ours, theirs := d.Make(k), es.Make(k)
		whole := slices.Contains(spanishKinds, k.ID)
		if k.Spoken != whole || (theirs.Language == "es") != whole || (outline(ours) == outline(theirs)) == whole {
			t.Errorf("%s: spoken %v, language %s", k.ID, k.Spoken, theirs.Language)
		}
	}
}

// TestStarterIsRead: the file that --phrases prints after a Spanish paper says the same again.
func TestStarterIsRead(t *testing.T) {
	d := spanish(t, dossier(t, request(t, "layout", quantity.US, true), "flap/6in"))
	want := outline(crewPaper(t, d, "commissioning"))
	again := *d
	again.Wording = document.NewWording()
	if list := again.Wording.ParseWording("starter.yaml", []byte(d.Wording.Starter())); list.Err() != nil {
		t.Fatal(list)
	}
	if got := outline(crewPaper(t, &again, "commissioning")); got != want {
		t.Errorf("the starter says\n%s\nnot\n%s", got, want)
	}
}

// TestToldKeepsData: whatever a text is, no mark is left in it, no digit is lost, and without
// words of one's own it stays as it is.
func TestToldKeepsData(t *testing.T) {
	w := document.NewWording()
	if err := w.Speak("es"); err != nil {
		t.Fatal(err)
	}
	digits := regexp.MustCompile(`\d`)
	known := []string{
		"power failure, both pumps", ", wet well low", "It is ", " long; the gap is ", "Column separation (", "): ", ". ", "; ",
		"12.5 ft", "{v}", "{", "}", "$1", `\`, "raw sewage", "ñ", "(", ")",
	}
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.OneOf(rapid.SampledFrom(known), rapid.StringN(0, 6, 12))
		s := strings.Join(rapid.SliceOfN(part, 0, 8).Draw(t, "parts"), "")
		s = strings.Map(func(r rune) rune {
			if private(r) {
				return -1
			}
			return r
		}, s)
		got := w.Told(s)
		if strings.ContainsFunc(got, private) {
			t.Fatalf("%q has a mark left: %q", s, got)
		}
		a, b := digits.FindAllString(s, -1), digits.FindAllString(got, -1)
		slices.Sort(a)
		slices.Sort(b)
		if !slices.Equal(a, b) {
			t.Fatalf("%q became %q", s, got)
		}
		if plain := document.NewWording().Told(s); plain != s {
			t.Fatalf("%q became %q without any words", s, plain)
		}
	})
}

var inBraces = regexp.MustCompile(`\{\w+\}`)

// TestSpanishTerms: where a phrase has a term of docs/languages.md, its Spanish has one of the
// Spanish terms, and the table names a source or asks for a review.
func TestSpanishTerms(t *testing.T) {
	page, err := os.ReadFile("../../docs/languages.md")
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("words/es.yaml")
	if err != nil {
		t.Fatal(err)
	}
	pairs := regexp.MustCompile(`(?m)^  - from: "(.*)"\n    to: "(.*)"$`).FindAllStringSubmatch(string(data), -1)
	if len(pairs) < 600 {
		t.Fatalf("%d phrases", len(pairs))
	}
	rows := 0
	for _, l := range strings.Split(string(page), "\n") {
		cells := strings.Split(l, "|")
		if len(cells) != 5 || strings.Contains(cells[1], "---") || strings.TrimSpace(cells[1]) == "English" {
			continue
		}
		rows++
		theirs := strings.Split(cells[2], ",")
		if strings.TrimSpace(cells[3]) == "" {
			t.Errorf("%s has no source", cells[1])
		}
		used := 0
		for _, english := range strings.Split(cells[1], ",") {
			word := regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(strings.TrimSpace(english)) + `s?\b`)
			for _, p := range pairs {
				words := strings.ReplaceAll(inBraces.ReplaceAllString(p[1], " "), "wet-well", "wet well")
				if !word.MatchString(words) {
					continue
				}
				used++
				if !slices.ContainsFunc(theirs, func(s string) bool {
					return strings.Contains(strings.ToLower(p[2]), strings.TrimSpace(s))
				}) {
					t.Errorf("%q became %q, without%s", p[1], p[2], cells[2])
				}
			}
		}
		if used == 0 {
			t.Errorf("no phrase has%s", cells[1])
		}
	}
	if rows < 15 {
		t.Errorf("%d terms", rows)
	}
}
