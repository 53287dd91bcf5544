package study_test

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// Where the closed formulas behind the slam verdict do not reach, a finding says so and
// the verdict is not "suitable".
func TestSlamDoubtsAreTold(t *testing.T) {
	text := layout(t)
	old := "pumps:\n  - {name: old, speed: 1760 rpm, submersible: no, curve: [[0 gpm, 90 ft], [400 gpm, 70 ft], [800 gpm, 30 ft]]}\n"
	for _, c := range []struct {
		name, id string
		edit     *strings.Replacer
		want     bool
	}{
		{"waves return first", "slam-waves", strings.NewReplacer("count: 2", "count: 1", "outlet: 46 ft", "outlet: 72 ft"), true},
		{"the column is rigid enough", "slam-waves", strings.NewReplacer("count: 2", "count: 1"), false},
		{"unequal pumps", "slam-other-pumps", strings.NewReplacer("pumps:\n", old), true},
		{"equal pumps", "slam-other-pumps", strings.NewReplacer(), false},
	} {
		a := judged(t, c.edit.Replace(text), "flap/6in")[0]
		got, told := severityOf(a, c.id)
		if told != c.want || (told && (got != judge.Unchecked || a.Verdict == judge.Suitable)) {
			t.Errorf("%s: told %v as %s, verdict %s", c.name, told, got, a.Verdict)
		}
	}
}

// The slam of one pump beside running ones stands on the head that those hold in the
// header, which is above the static head.
func TestSlamStandsOnTheHeadersHead(t *testing.T) {
	a := judged(t, layout(t), "ball-pocket/8in")[0]
	for _, f := range a.Findings {
		if f.ID != "rating-surge" {
			continue
		}
		const weight = 9.80665 * 999.1 // N/m3 of water at 59 °F, IAPWS-IF97
		below := f.Value.SI/weight - a.Slam.HeadRise.SI
		// The pump gives some 73 ft with both running, less a few feet in its branch.
		if static := 42 * 0.3048; below < static+5 || math.Abs(below-72*0.3048) > 1.5 {
			t.Errorf("the rise stands on %.1f m; the static head is %.1f m", below, static)
		}
		return
	}
	t.Error("no pressure with slam was told")
}

// Ends weaker than the body hold the rating down, however many better ones are offered.
func TestTheWeakestEndsCount(t *testing.T) {
	data, err := os.ReadFile("../catalog/demo/flap.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(data), "    ends:\n", "    ends:\n      - {standard: weak, rating: 100 psi, from: 2 in, to: 24 in}\n", 1)
	file, list := catalog.Parse("weak.yaml", []byte(text))
	if list.Err() != nil {
		t.Fatal(list)
	}
	weak, list := catalog.Resolve(file)
	book, more := rules.Base()
	st, faults := station.Load("layout", []byte(layout(t)))
	if list.Err() != nil || more.Err() != nil || st == nil {
		t.Fatal(list, more, faults)
	}
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: weak, Rules: book, Valve: "flap/6in", Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Assessments[0].Findings {
		if f.ID == "rating" {
			if psi := f.Limit.SI / 6894.757; math.Abs(psi-100) > 0.1 {
				t.Errorf("weighed against %.1f psi; the weakest ends hold 100 psi", psi)
			}
			return
		}
	}
	t.Error("the rating was not weighed")
}
