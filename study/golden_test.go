package study

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var examples = []string{"first-call", "layout", "study", "booster"}

// TestRankListsStay holds the rank lists of the examples: ID, verdict and slam class of
// each valve, best first. SEATWARD_UPDATE=1 renews them.
func TestRankListsStay(t *testing.T) {
	for _, name := range examples {
		t.Run(name, func(t *testing.T) {
			var got strings.Builder
			for _, c := range answer(t, example(t, name), options(t)).JSON().Candidates {
				class := "none"
				if c.Slam != nil {
					class = c.Slam.Class
				}
				fmt.Fprintf(&got, "%2d  %-24s  %-24s  %s\n", c.Rank, c.ID, c.Verdict, class)
			}
			path := filepath.Join("testdata", name+".golden")
			if os.Getenv("SEATWARD_UPDATE") == "1" {
				if err := os.WriteFile(path, []byte(got.String()), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Errorf("-golden +now\n%s", diff)
			}
		})
	}
}

// numbers visits every number of a decoded JSON value.
func numbers(path string, v any, visit func(path string, x float64)) {
	switch v := v.(type) {
	case float64:
		visit(path, v)
	case []any:
		for i, e := range v {
			numbers(fmt.Sprintf("%s[%d]", path, i), e, visit)
		}
	case map[string]any:
		for k, e := range v {
			numbers(path+"."+k, e, visit)
		}
	}
}

// TestNumbersAreFiniteAndBandsOrdered: no number of the answer is infinite or none, also
// of those that JSON leaves out when they are, and every band runs from low to high.
func TestNumbersAreFiniteAndBandsOrdered(t *testing.T) {
	for _, name := range examples {
		s := answer(t, example(t, name), options(t))
		for _, n := range s.Values() {
			for _, x := range []float64{n.Value.SI, n.Value.Low, n.Value.High} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Errorf("%s: %s is %g, %g to %g", name, n.Path, n.Value.SI, n.Value.Low, n.Value.High)
				}
			}
			// A run at best estimates may be a lucky one, outside its own likely interval.
			drawn := strings.HasSuffix(n.Path, " reverse_velocity") || strings.HasSuffix(n.Path, " sudden_stop") ||
				strings.HasSuffix(n.Path, " head_rise")
			if n.Value.Low > n.Value.High || !drawn && (n.Value.Low > n.Value.SI || n.Value.SI > n.Value.High) {
				t.Errorf("%s: %s is %g, outside %g to %g", name, n.Path, n.Value.SI, n.Value.Low, n.Value.High)
			}
		}
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var decoded any
		if err := json.Unmarshal(text, &decoded); err != nil {
			t.Fatal(err)
		}
		count := 0
		numbers(name, decoded, func(path string, x float64) {
			count++
			if math.Abs(x) > 1e15 {
				t.Errorf("%s is %g", path, x)
			}
		})
		if count < 500 {
			t.Errorf("%s: only %d numbers", name, count)
		}
	}
}
