package document_test

import (
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/document"
	"seatward/quantity"
	"seatward/rules"
	"seatward/valve"
)

// spanishKinds are the papers that are complete in Spanish.
var spanishKinds = []string{"datasheet", "installation", "maintenance", "fieldcard", "commissioning"}

// spanish is the dossier with the Spanish wording.
func spanish(t testing.TB, d *document.Dossier) *document.Dossier {
	t.Helper()
	own := *d
	own.Wording = document.NewWording()
	if err := own.Wording.Speak("es"); err != nil {
		t.Fatal(err)
	}
	return &own
}

// spanishCases are stations and valves whose papers are made: every family of the
// demonstration in one station, and some in others, in both unit systems.
func spanishCases(t *testing.T) []*document.Dossier {
	t.Helper()
	var out []*document.Dossier
	add := func(r document.Request, id string) {
		d, err := document.NewDossier(t.Context(), r, id, false)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, d)
	}
	all := request(t, "layout", quantity.US, true)
	for _, id := range families(all) {
		add(all, id)
	}
	for name, id := range map[string]string{
		"booster": "swing-cushioned/6in", "first-call": "ball-pocket/6in", "study": "dual-plate/6in",
	} {
		add(request(t, name, quantity.SI, true), id)
	}
	return out
}

// lacking is what a wording file lacks, as YAML ready to be filled in.
func lacking(phrases, computed map[string]bool) string {
	var b strings.Builder
	list := func(head string, all map[string]bool) {
		fmt.Fprintf(&b, "%s:\n", head)
		for _, s := range slices.Sorted(maps.Keys(all)) {
			fmt.Fprintf(&b, "  - from: %q\n    to: \"\"\n", s)
		}
	}
	list("phrases", phrases)
	list("computed", computed)
	return b.String()
}

// TestSpanishIsComplete: in the five papers no phrase and no computed text stands in English,
// and every number stands as it does in English. What is missing is printed as YAML.
func TestSpanishIsComplete(t *testing.T) {
	phrases, computed := map[string]bool{}, map[string]bool{}
	for _, d := range spanishCases(t) {
		es := spanish(t, d)
		for _, kind := range spanishKinds {
			ours, theirs := crewPaper(t, d, kind), crewPaper(t, es, kind)
			if a, b := figures(ours), figures(theirs); !slices.Equal(a, b) {
				t.Errorf("%s of %s at %s: numbers differ\n%v\n%v", kind, d.Assessment.Item.ID, d.Study.Station.Name, a, b)
			}
			if text := outline(theirs); strings.ContainsFunc(text, private) {
				t.Errorf("%s of %s has a mark left", kind, d.Assessment.Item.ID)
			}
		}
		for _, s := range es.Wording.Unsaid() {
			phrases[s] = true
		}
		data := userData(d)
		for _, s := range es.Wording.Untold() {
			if english(s, data) {
				computed[s] = true
			}
		}
	}
	if len(phrases)+len(computed) > 0 {
		t.Errorf("internal/document/words/es.yaml lacks:\n%s", lacking(phrases, computed))
	}
}

func private(r rune) bool { return r >= 0xE000 && r <= 0xF8FF }

var figureOf = regexp.MustCompile(`\d+(?:[.,]\d+)*`)

// figures are the numbers of a document, sorted, without the hash in its foot. A number that
// a language writes in another place counts the same.
func figures(d *document.Document) []string {
	out := figureOf.FindAllString(outline(d), -1)
	slices.Sort(out)
	return out
}

// TestSpanishFindings: every text that a finding may have, whatever the station, has its
// Spanish words; so has every number of a valve type that may decide a slam.
func TestSpanishFindings(t *testing.T) {
	w := document.NewWording()
	if err := w.Speak("es"); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("../../judge/testdata/texts.txt")
	if err != nil {
		t.Fatal(err)
	}
	texts := strings.Split(strings.TrimSpace(string(data)), "\n")
	for _, typ := range valve.Types() {
		for _, p := range typ.Params {
			if p.Title != "color" {
				texts = append(texts, p.Title)
			}
		}
	}
	texts = append(texts, catalogs(t)...)
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	for _, c := range book.CautionsWhen(map[string]bool{
		"always": true, "surge": true, "sewage": true, "vault": true, "heavy": true, "drinking water": true,
	}) {
		texts = append(texts, c.Text+" "+c.Defers)
	}
	for _, s := range texts {
		w.Told(s)
	}
	computed := map[string]bool{}
	for _, s := range w.Untold() {
		if english(s, nil) {
			computed[s] = true
		}
	}
	if len(computed) > 0 {
		t.Errorf("internal/document/words/es.yaml lacks:\n%s", lacking(nil, computed))
	}
}

// catalogs are the names of the demonstration catalog that papers print.
func catalogs(t *testing.T) []string {
	t.Helper()
	all, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	var out []string
	for _, c := range all {
		for i := range c.Families {
			f := c.Families[i]
			out = append(out, f.Title, f.Body.Material, f.Element.Material, f.Seat.Material, f.Bolting.Material,
				f.Coating.Material, f.Indication, f.DrinkingWater)
			out = append(out, f.Spares...)
		}
	}
	return out
}

// userData are texts of the user and of the catalog that no language changes.
func userData(d *document.Dossier) []string {
	st, it := d.Study.Station, d.Assessment.Item
	out := []string{
		st.Name, st.Place, it.ID, it.Family.ID, it.Family.Catalog.Maker, it.Family.Catalog.Version,
		d.Configuration.Code(), d.Program,
	}
	for _, p := range st.Pumps {
		out = append(out, p.Name)
	}
	for _, r := range slices.Concat(st.Branch.Runs, st.Main.Runs) {
		out = append(out, r.Name)
	}
	p := d.Profile
	out = append(out, p.Company.Text, p.Author.Text, p.Project.Text, p.Tag.Text, p.Number.Text)
	for _, f := range d.Assessment.Findings {
		out = append(out, basis.Cite(f.Basis))
	}
	hash := d.Study.Station.Hash[:12]
	return append(out, basis.Cite(d.LiftLimit.Source), hash, "seatward:"+hash)
}

var (
	units = `(?:in|ft|mm|µm|mils?|psi|kPa|gpm|L/s|m³/h|m/s²?|ft/s²?|lbf ft|lb ft²|lbf?|kg m²|N m|kg|kWh?|hp|` +
		`Cv|Kv|Shore A|ed|SG|DN|[mshNJ]|°[CF]?|%)`
	measures   = regexp.MustCompile(`[-−<>~]?\d[\d.,]*(?: ?` + units + `)?(?:[^\pL]|$)|^` + units + `$`)
	designated = regexp.MustCompile(`\b[A-Z]{2,}[A-Z0-9./-]*\b|\b[A-Z]\d[\w.-]*`)
)

// english is true for a text with a word of letters that is neither the user's, nor a unit, nor
// the designation of a standard.
func english(s string, data []string) bool {
	for _, d := range data {
		if len([]rune(s)) > 7 && strings.Contains(d, s) {
			return false // a part of a name, or of a citation
		}
		if slices.Contains(strings.FieldsFunc(d, func(r rune) bool { return strings.ContainsRune(" ,;:.", r) }), s) &&
			strings.Contains(d, s+".") {
			return false // an abbreviation in a citation: "sec."
		}
	}
	slices.SortFunc(data, func(a, b string) int { return len(b) - len(a) })
	for _, d := range data {
		if d != "" {
			s = strings.ReplaceAll(s, d, " ")
		}
	}
	s = designated.ReplaceAllString(measures.ReplaceAllString(s, " "), " ")
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if len([]rune(word)) > 1 {
			return true
		}
	}
	return false
}
