package papers

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// worked are stations whose calculations are worked again: examples, and stations that stand
// here alone.
var worked = []struct{ file, units, valve string }{
	{"examples/study.station.yaml", "US", "flap/6in"},
	{"examples/booster.station.yaml", "SI", ""},
	{"test/papers/stations/metric.station.yaml", "SI", ""},
	{"test/papers/stations/metric.station.yaml", "US", "swing/8in"},
	{"test/papers/stations/us.station.yaml", "US", ""},
	{"test/papers/stations/us.station.yaml", "SI", "swing/8in"},
}

// wanted are results that every calculation must have, by how their names begin.
var wanted = []string{
	"Kinematic viscosity", "Velocity, branch", "Velocity, main", "Reynolds number, branch",
	"Friction factor (Darcy), branch",
	"Friction loss, branch", "Friction loss, main", "Loss of fittings, branch", "Sum of K, branch",
	"Loss of the valve",
	"System head", "Pump head", "Balance of pump head and system head", "Pump efficiency", "Water power",
	"Shaft power",
	"Electrical power at the motor", "Energy per volume pumped", "Inertia time", "Wave speed, branch",
	"Wave speed, main",
	"Time of a wave along the branch and back", "Head rise of the sudden stop (Joukowsky)", "The same as pressure",
}

// again is what the independent script makes of a paper.
type again struct {
	Results []struct {
		Name, Printed string
		Low, High     float64
		OK            bool
	}
	Left []string // equations that it has no formula for
}

func recalculated(t *testing.T, papers ...string) map[string]again {
	t.Helper()
	var found map[string]again
	if err := json.Unmarshal([]byte(reads(t, python, append([]string{"recalculate.py"}, papers...)...)),
		&found); err != nil {
		t.Fatal(err)
	}
	return found
}

// workedPapers are the calculations that the tests share, by station, units and valve.
var workedPapers = map[string]string{}

// calculation writes that of a station once, as PDF and as workbook, and gives its file in
// one of the two formats.
func calculation(t *testing.T, file, units, valve, format string) string {
	t.Helper()
	key := strings.Join([]string{file, units, valve}, " ")
	to, done := workedPapers[key]
	if !done {
		to = filepath.Join(folder, "worked", strconv.Itoa(len(workedPapers)))
		args := []string{
			"write", "calculation", file, "--units", units, "--format", "pdf", "--format", "xlsx", "-o",
			filepath.Join("artifacts/papers/worked", filepath.Base(to)), "--force",
		}
		if valve != "" {
			args = append(args, "--valve", valve)
		}
		if out, err := output("../..", program, args...); err != nil {
			t.Fatalf("%s: %v", out, err)
		}
		workedPapers[key] = to
	}
	made, err := filepath.Glob(filepath.Join(to, "*."+format))
	if err != nil || len(made) != 1 {
		t.Fatalf("%d calculations, %v", len(made), err)
	}
	return made[0]
}

// TestRecalculation: a script that shares nothing with the program works every equation of
// the calculations again, from the numbers that a reader of the PDF has, and comes to the
// printed results within their digits.
func TestRecalculation(t *testing.T) {
	for _, w := range worked {
		t.Run(filepath.Base(w.file)+" "+w.units+" "+w.valve, func(t *testing.T) {
			paper := calculation(t, w.file, w.units, w.valve, "pdf")
			got := recalculated(t, paper)[paper]
			var names []string
			for _, r := range got.Results {
				names = append(names, r.Name)
				if !r.OK {
					t.Errorf("%s: the paper prints %s, its own numbers give %g to %g", r.Name, r.Printed, r.Low,
						r.High)
				}
			}
			if len(got.Left) > 0 {
				t.Errorf("the script has no formula for %q", got.Left)
			}
			all := "\n" + strings.Join(names, "\n")
			for _, want := range wanted {
				if !strings.Contains(all, "\n"+want) {
					t.Errorf("%s was not worked again", want)
				}
			}
		})
	}
}

// TestCalculationWorkbook: each equation of a calculation is a live formula of its workbook,
// and LibreOffice computes from it what the calculation says.
func TestCalculationWorkbook(t *testing.T) {
	for _, w := range worked[2:] {
		t.Run(filepath.Base(w.file)+" "+w.units, func(t *testing.T) {
			if _, n := computes(t, []string{calculation(t, w.file, w.units, w.valve, "xlsx")}); n < 50 {
				t.Errorf("%d live formulas", n)
			}
		})
	}
}

// result is a line of an equation with its result.
var result = regexp.MustCompile(`(?m)^( +\(\d+\) +\S.*? {2,})([-−]?[0-9.]+)((?: {2,}\S.*)?)$`)

// TestRecalculationNotices: a result that is off by one in its third figure is noticed, so
// that the agreement means something.
func TestRecalculationNotices(t *testing.T) {
	paper := calculation(t, "test/papers/stations/us.station.yaml", "US", "swing/8in", "pdf")
	text := reads(t, "pdftotext", "-layout", paper, "-")
	spoiled := map[string]string{} // by file, the line that is wrong in it
	var files []string
	folder := t.TempDir()
	for i, at := range result.FindAllStringSubmatchIndex(text, -1) {
		line := text[at[0]:at[1]]
		if !strings.Contains(line, " = ") {
			continue // a number that is put in
		}
		name := filepath.Join(folder, strconv.Itoa(i)+".txt")
		wrong := text[:at[4]] + offByOne(text[at[4]:at[5]]) + text[at[5]:]
		if err := os.WriteFile(name, []byte(wrong), 0o600); err != nil {
			t.Fatal(err)
		}
		files, spoiled[name] = append(files, name), strings.TrimSpace(line)
	}
	for name, got := range recalculated(t, files...) {
		bad := 0
		for _, r := range got.Results {
			if !r.OK {
				bad++
			}
		}
		if bad == 0 {
			t.Errorf("a wrong result goes unseen: %s", spoiled[name])
		}
	}
	if len(files) < 40 {
		t.Errorf("only %d results were spoiled", len(files))
	}
}

// offByOne raises the third figure of a number by one, the last where it has fewer.
func offByOne(s string) string {
	b, figures := []byte(s), 0
	last := -1
	for i, c := range b {
		if c >= '0' && c <= '9' && (c != '0' || figures > 0) {
			figures++
			last = i
			if figures == 3 {
				break
			}
		}
	}
	if last < 0 {
		return s + "1"
	}
	if b[last] == '9' {
		b[last] = '8'
	} else {
		b[last]++
	}
	return string(b)
}
