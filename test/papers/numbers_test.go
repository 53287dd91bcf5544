package papers

import (
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// point is an operating point as the program gives it to machines, in SI.
type point struct {
	Running int       `json:"pumps_running"`
	Level   string    `json:"level"`
	FlowM3S []float64 `json:"valve_flow_m3_s"`
	LossM   []float64 `json:"valve_loss_m"`
}

// row is a row of the duty table as it is printed: flow, velocity, opening and loss.
var row = regexp.MustCompile(`(?m)^ *(\d) pumps?, (\w+ level) +([\d.]+) +([\d.]+) +[\d.]+ +[a-z ]+? +([\d.]+) *$`)

// catalogID is the row of a data sheet that names the valve.
var catalogID = regexp.MustCompile(`Catalog ID +(\S+)`)

// perUnit is how much of SI the unit of a paper is.
var perUnit = map[string]struct{ flow, loss float64 }{
	"US": {231 * math.Pow(0.0254, 3) / 60, 0.3048},
	"SI": {1e-3, 1},
}

// TestNumbersAreThoseOfTheMachine: the duty rows on the page of a data sheet are the numbers
// that the program gives to machines for the same station, to the last digit printed.
func TestNumbersAreThoseOfTheMachine(t *testing.T) {
	for _, s := range sets[:3] {
		t.Run(s.name, func(t *testing.T) {
			sheet, err := filepath.Glob(filepath.Join(folder, s.name, "datasheet-*.pdf"))
			if err != nil || len(sheet) != 1 {
				t.Fatalf("%v, %v", sheet, err)
			}
			text := reads(t, "pdftotext", "-layout", sheet[0], "-")
			valve := catalogID.FindStringSubmatch(text)
			if valve == nil {
				t.Fatal("the sheet names no valve")
			}
			out, err := output("../..", program, "select", s.station, "--quick", "--json", "--valve", valve[1])
			if err != nil {
				t.Fatal(out)
			}
			var answer struct {
				Points []point `json:"operating_points"`
			}
			if err := json.Unmarshal([]byte(out), &answer); err != nil {
				t.Fatal(err)
			}
			rows := row.FindAllStringSubmatch(text, -1)
			if len(rows) != len(answer.Points) || len(rows) < 5 {
				t.Fatalf("%d rows for %d points", len(rows), len(answer.Points))
			}
			for i, r := range rows {
				p := answer.Points[i]
				if r[1] != strconv.Itoa(p.Running) || r[2] != p.Level {
					t.Fatalf("row %d is %q, the point is %+v", i+1, r[0], p)
				}
				printed(t, r[0], r[3], p.FlowM3S[0]/perUnit[s.units].flow)
				printed(t, r[0], r[5], p.LossM[0]/perUnit[s.units].loss)
			}
		})
	}
}

// printed: a number stands on the page as it rounds to the digits shown there.
func printed(t *testing.T, where, shown string, want float64) {
	t.Helper()
	got, err := strconv.ParseFloat(shown, 64)
	if err != nil {
		t.Fatal(err)
	}
	last := 1.0
	if _, digits, found := strings.Cut(shown, "."); found {
		last = math.Pow(10, -float64(len(digits)))
	}
	if math.Abs(got-want) > last*(0.5+1e-9) {
		t.Errorf("%q shows %s, the machine form has %.6g", strings.Join(strings.Fields(where), " "), shown, want)
	}
}
