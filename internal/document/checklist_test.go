package document_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/quantity"
)

// sections lists what stands under each heading: texts, and first cells of rows.
func sections(d *document.Document) map[string][]string {
	out := map[string][]string{}
	at := ""
	put := func(s ...string) { out[at] = append(out[at], s...) }
	for _, b := range d.Blocks {
		switch x := b.(type) {
		case document.Heading:
			at = x.Text
		case document.Paragraph:
			put(x.Label, x.Text)
		case document.List:
			put(x.Items...)
		case document.Space:
			put(x.Title)
		case document.Figure:
			put(x.Caption)
		case document.Table:
			for _, r := range x.Rows {
				put(r.Cells[0].Text)
			}
		}
	}
	return out
}

var (
	point = regexp.MustCompile("`([^`]+)`(?: / (`[^`]+`(?:, `[^`]+`)*))?")
	named = regexp.MustCompile("`([^`]+)`")
)

// TestSubmittalChecklist: what the reviewer's checklist looks for stands in the submittals of
// four stations, in the section that it names.
func TestSubmittalChecklist(t *testing.T) {
	list, err := os.ReadFile("../../docs/submittal-checklist.md")
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range fourDossiers(t) {
		t.Run(name, func(t *testing.T) { checked(t, string(list), sections(made(t, d, "submittal"))) })
	}
}

// checked looks every point of the list up in the sections of a submittal.
func checked(t *testing.T, list string, has map[string][]string) {
	t.Helper()
	lines := 0
	for _, l := range strings.Split(list, "\n") {
		cells := strings.Split(l, "|")
		if len(cells) != 5 || !strings.Contains(cells[3], "`") {
			continue
		}
		lines++
		for _, p := range point.FindAllStringSubmatch(cells[3], -1) {
			if len(has[p[1]]) == 0 {
				t.Errorf("%s: the submittal has nothing under %q", strings.TrimSpace(cells[2]), p[1])
			}
			for _, n := range named.FindAllStringSubmatch(p[2], -1) {
				if !slices.Contains(has[p[1]], n[1]) {
					t.Errorf("%s: %q does not stand under %q: %q", strings.TrimSpace(cells[2]), n[1], p[1], has[p[1]])
				}
			}
		}
	}
	if lines < 38 {
		t.Errorf("the checklist has %d lines that can be checked", lines)
	}
}

// TestMatrixIsAnswered: every requirement has a status; what complies says by what, and
// each deviation of the matrix stands in the list of deviations.
func TestMatrixIsAnswered(t *testing.T) {
	k, _ := document.KindNamed("submittal")
	base := dossier(t, request(t, "study", quantity.US, true), "")
	for _, id := range []string{base.Assessment.Item.ID, "flap/6in", "ball-pocket/6in"} {
		d := dossier(t, request(t, "study", quantity.US, true), id).Make(k)
		deviates, listed, answered := []string{}, []string{}, 0
		for _, b := range d.Blocks {
			x, ok := b.(document.Table)
			if !ok {
				continue
			}
			for _, r := range x.Rows {
				switch {
				case x.ID == "matrix" && !r.Group:
					answered++
					status, offered := r.Cells[2].Text, r.Cells[3].Text
					if !slices.Contains([]string{"meets guide", "deviates", "not applicable", "open"}, status) ||
						offered == "" {
						t.Errorf("%s: paragraph %s has the status %q, offered %q", id, r.Cells[0].Text, status, offered)
					}
					if status == "deviates" {
						deviates = append(deviates, r.Cells[0].Text)
					}
				case x.ID == "deviations":
					listed = append(listed, r.Cells[0].Text)
				}
			}
		}
		if answered < 40 || !slices.Equal(deviates, listed) && (len(deviates) > 0 || len(listed) > 1) {
			t.Errorf("%s: %d paragraphs; those that deviate are %q, listed are %q", id, answered, deviates, listed)
		}
	}
}
