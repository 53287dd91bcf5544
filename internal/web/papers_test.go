package web

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/internal/desk"
)

// TestPapersReadTheAnswer: papers and the comparison of revisions that are asked for after
// the answer run no study of their own, and their numbers are those of the rows.
func TestPapersReadTheAnswer(t *testing.T) {
	f := newFixture(t, nil)
	answer := into[desk.AnswerReply](t,
		f.good("POST", "/api/answer", asJSON(map[string]any{"text": layout, "valve": valve})))
	row := answer.Rows[slices.IndexFunc(answer.Rows, func(r desk.Row) bool { return r.ID == valve })]
	if row.Slam == nil || row.Slam.Likely == "" || row.Loss == nil {
		t.Fatalf("nothing to compare: %+v", row)
	}
	before := f.desk.Studies()
	if before == 0 {
		t.Fatal("the answer was no study: what is counted?")
	}
	paper := func(kind, valve string) string {
		return f.good("POST", "/api/document?preview=1",
			asJSON(map[string]any{"text": layout, "kind": kind, "valve": valve, "date": "2026-11-25"}))
	}
	sheet := paper("datasheet", valve)
	for what, number := range map[string]string{
		"reverse velocity": row.Slam.Text, "its range": row.Slam.Likely,
		"head loss": strings.Fields(row.Loss.Text)[0],
	} {
		if !strings.Contains(sheet, number) {
			t.Errorf("the data sheet lacks the %s of the row, %s", what, number)
		}
	}
	paper("fieldcard", valve)
	if now := f.desk.Studies(); now != before {
		t.Errorf("papers of an answered station ran %d studies", now-before)
	}
	f.good("POST", "/api/document", asJSON(map[string]any{
		"text": layout, "kind": "fieldcard", "valve": valve,
		"units": "SI",
	}))
	if now := f.desk.Studies(); now != before+1 {
		t.Errorf("other units ran %d studies, one is expected", now-before)
	}
}

// TestRevisionsReadTheAnswer: likewise for two revisions, quick or with every pump stop run.
func TestRevisionsReadTheAnswer(t *testing.T) {
	f := newFixture(t, func(c *Config) { // one family is enough, and fast
		own := *c.Catalogs[0]
		own.Families = slices.DeleteFunc(slices.Clone(own.Families),
			func(f *catalog.Family) bool { return !strings.HasPrefix(valve, f.ID+"/") })
		c.Catalogs = []*catalog.Catalog{&own}
	})
	for _, number := range []int{1, 2} {
		k := into[Kept](t, f.good("GET", fmt.Sprintf("/api/studies/%s/revisions/%d", f.id, number), ""))
		f.good("POST", "/api/answer?full=1", asJSON(map[string]any{"text": k.Text}))
	}
	before := f.desk.Studies()
	for _, full := range []bool{false, true} {
		f.good("POST", "/api/studies/"+f.id+"/compare", asJSON(map[string]any{"a": 1, "b": 2, "full": full}))
	}
	// The paper of the best valve asks for all stops, which have been run.
	f.good("POST", "/api/document", asJSON(map[string]any{"text": text, "kind": "comparison"}))
	if now := f.desk.Studies(); now != before {
		t.Errorf("papers and comparison of answered revisions ran %d studies", now-before)
	}
}
