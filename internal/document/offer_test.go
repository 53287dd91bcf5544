package document_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/internal/document"
	"seatward/judge"
	"seatward/quantity"
	"seatward/rules"
	"seatward/standards"
	"seatward/station"
	"seatward/study"
)

// unseen are invented stations that the papers were not tuned to: metric with three
// submersible pumps, US with little known, US drinking water.
var unseen = []string{"gull-slip", "saltmill", "heron-road"}

// unseenDossier is that of the best valve of such a station, or of a named one, made once.
func unseenDossier(t *testing.T, name, id string) *document.Dossier {
	t.Helper()
	key := "unseen " + name + " " + id
	if d, made := asked[key]; made {
		return d
	}
	data, err := os.ReadFile(filepath.Join("testdata/stations", name+".station.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(name+".station.yaml", data)
	if st == nil {
		t.Fatal(list)
	}
	catalogs, _ := catalog.Demo()
	book, _ := rules.Base()
	s, err := study.Run(t.Context(), st, study.Options{Catalogs: catalogs, Rules: book, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	if id == "" {
		id = document.Best(s, 1)[0]
	}
	d, err := document.NewDossier(t.Context(), document.Request{
		Study: s, Rules: book, Profile: profile(t), Program: "Seatward (test)",
	}, id, true)
	if err != nil {
		t.Fatal(err)
	}
	asked[key] = d
	return d
}

// fourDossiers are the example station and the unseen ones.
func fourDossiers(t *testing.T) map[string]*document.Dossier {
	t.Helper()
	out := map[string]*document.Dossier{"study": dossier(t, request(t, "study", quantity.US, true), "flap/6in")}
	for _, name := range unseen {
		out[name] = unseenDossier(t, name, "")
	}
	return out
}

func made(t *testing.T, d *document.Dossier, kind string) *document.Document {
	t.Helper()
	k, err := document.KindNamed(kind)
	if err != nil {
		t.Fatal(err)
	}
	return d.Make(k)
}

// inside are words that belong to the program, not to a paper for a customer.
var inside = regexp.MustCompile(`\.ya?ml\b|\.go\b|[(,;] ?from memory|are from memory|documentation of the function|\b[a-z]+_[a-z]+=|[a-z]+=[a-z]`)

// TestNothingIsClaimed: without a specification nothing complies, what people have to give is
// open, and no paper of an offer has the program's own words.
func TestNothingIsClaimed(t *testing.T) {
	for name, d := range fourDossiers(t) {
		text := outline(made(t, d, "submittal"))
		matrix, _, _ := strings.Cut(text[strings.Index(text, "# Compliance matrix"):], "\n# Deviations")
		if !strings.Contains(matrix, "answers Seatward's own guide section") || strings.Contains(matrix, "| complies ") {
			t.Errorf("%s: the matrix does not say whose section it answers, or claims that something complies", name)
		}
		for _, blank := range []string{"arrant", "ertificates of tests", "Dimension drawing", "Procedures of shell"} {
			for _, line := range strings.Split(matrix, "\n") {
				if strings.Contains(line, blank) && !strings.Contains(line, "| open |") {
					t.Errorf("%s: %s", name, line)
				}
			}
		}
		if a := d.Assessment; a.Separation != "" || a.Verdict == judge.Unsuitable {
			head, _, _ := strings.Cut(text, "\n# ")
			if !strings.Contains(head, "[3] ") && !strings.Contains(head, "[6] ") {
				t.Errorf("%s: what threatens the station does not stand before the first heading:\n%s", name, head)
			}
		}
		for _, kind := range []string{"submittal", "datasheet", "specification", "request"} {
			for _, line := range strings.Split(outline(made(t, d, kind)), "\n") {
				if found := inside.FindString(line); found != "" && !strings.Contains(line, " form=") {
					t.Errorf("%s, %s: %q in %s", name, kind, found, line)
				}
			}
		}
	}
}

// clausesOf are the texts of a specification's clauses, and those of its list of references.
func clausesOf(d *document.Document) (all, references []string) {
	in := false
	for _, b := range d.Blocks {
		if c, is := b.(document.Clause); is {
			if c.Level == 1 {
				in = c.Text == "REFERENCES"
			}
			if in && c.Level == 3 {
				references = append(references, c.Text)
			} else {
				all = append(all, c.Text)
			}
		}
	}
	return all, references
}

// TestSpecificationStandsAlone: limits follow from the station, not from the valve that was
// chosen; tests follow the rating; every standard that is listed is cited; nothing of another
// type of valve is forbidden; contents and verdict stand before the section.
func TestSpecificationStandsAlone(t *testing.T) {
	base, all := standardsBase(t)
	limits := regexp.MustCompile(`^(?:Pressure rating|Head loss|Drop-tight|Nominal size|Shell test|Seat test)`)
	of := func(d *document.Dossier) (out []string) {
		texts, _ := clausesOf(made(t, d, "specification"))
		for _, c := range texts {
			if limits.MatchString(c) {
				out = append(out, flow.ReplaceAllString(c, ""))
			}
		}
		return out
	}
	flap := dossier(t, request(t, "study", quantity.US, true), "flap/6in")
	ball := dossier(t, request(t, "study", quantity.US, true), "ball-pocket/6in")
	if a, b := of(flap), of(ball); !slices.Equal(a, b) || len(a) < 7 {
		t.Errorf("limits change with the valve:\n%q\n%q", a, b)
	}
	for name, d := range fourDossiers(t) {
		spec := made(t, d, "specification")
		texts, references := clausesOf(spec)
		whole := strings.Join(texts, "\n")
		for _, r := range references {
			id, _, _ := strings.Cut(strings.TrimSuffix(r, "."), ", edition")
			id, _, _ = strings.Cut(id, ": ")
			cited := strings.Contains(whole, id)
			for i := range all {
				cited = cited || all[i].ID == id && all[i].NamedIn(whole) != ""
			}
			if !cited {
				t.Errorf("%s: %q is listed and not cited", name, r)
			}
		}
		if len(references) == 0 || base == 0 {
			t.Errorf("%s: no references", name)
		}
		if style := d.Assessment.Item.Family.Type.Traits.Style; style != "ball" && strings.Contains(whole, "ball skin") {
			t.Errorf("%s: a ball skin is forbidden for a %s", name, style)
		}
		for _, part := range []string{
			"SUMMARY", "REFERENCES", "SUBMITTALS", "QUALITY ASSURANCE", "DELIVERY, STORAGE AND HANDLING", "WARRANTY",
			"MANUFACTURERS", "PERFORMANCE", "MATERIALS", "SOURCE QUALITY CONTROL", "EXAMINATION", "INSTALLATION",
			"FIELD QUALITY CONTROL",
		} {
			if !slices.Contains(texts, part) && part != "REFERENCES" {
				t.Errorf("%s: no article %s", name, part)
			}
		}
		section := false
		for _, b := range spec.Blocks {
			switch x := b.(type) {
			case document.Clause:
				section = true
			case document.Contents:
				if section {
					t.Errorf("%s: the contents stand in the section", name)
				}
			case document.Heading:
				if section {
					t.Errorf("%s: the heading %q stands behind the section", name, x.Text)
				}
			}
		}
	}
}

// flow is the normal flow, which moves with the valve that is in place.
var flow = regexp.MustCompile(` at \d+ gpm.*`)

func standardsBase(t *testing.T) (int, []standards.Standard) {
	t.Helper()
	all, list := standards.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return len(all), all
}

// TestRequestKeepsMoneyOut: a vendor gets the limits of the duty, and nothing of the
// owner's money or of what the study assumed of the pipes.
func TestRequestKeepsMoneyOut(t *testing.T) {
	for name, d := range fourDossiers(t) {
		text := strings.ToLower(outline(made(t, d, "request")))
		for _, never := range []string{"tariff", "interest", "electricity", "modulus", "restraint", "polytropic", "life-cycle", "kwh", "running time"} {
			if strings.Contains(text, never) {
				t.Errorf("%s: the request says %q", name, never)
			}
		}
		for _, want := range []string{"reverse velocity at closing | not more than", "reply by |", "deviation from this request", "full-open velocity | not more than"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the request does not say %q", name, want)
			}
		}
	}
}
