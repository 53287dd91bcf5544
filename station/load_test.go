package station

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/quantity"
)

// Stations of which each leaves other facts out.
const (
	bareUS     = "station: x\nunits: US\nduty: {flow: 500 gpm, head: 62 ft}\nvalve: {size: 6 in}\n"
	bareSludge = "station: x\nunits: SI\nfluid: {kind: sludge}\nduty: {flow: 20 L/s}\nvalve: {size: DN150}\nlevels: {wet_well_high: 2 m, outlet: 10 m}\n" +
		"pumps: [{curve: [[0 L/s, 30 m], [20 L/s, 24 m], [40 L/s, 10 m]]}]\nmain: {runs: [{length: 900 m}]}\nsurge: {normal_stop: soft stop}\n"
	bareBooster = "station: x\nunits: SI\nfluid: {kind: drinking water}\nvalve: {size: DN150}\nlevels: {outlet_pressure: 1 bar}\n" +
		"pumps: [{curve: [[0 L/s, 30 m], [20 L/s, 24 m], [40 L/s, 10 m]]}]\n"
)

// A fact that is stated is taken as it is, with its range, and is not assumed.
func TestWhatIsStatedIsTaken(t *testing.T) {
	text := strings.Replace(bareUS, "units: US\n",
		"units: US\nfluid: {kind: raw sewage, temperature: 283.15..287.15 K, solids: 2 in}\nsite: {elevation: 50 m}\noperation: {tariff: 0.36 /kWh, years: 15..25}\n", 1)
	values := walked(t, text)
	for path, want := range map[string][3]float64{
		"fluid.temperature": {285.15, 283.15, 287.15},
		"fluid.solids":      {0.0508, 0.0508, 0.0508},
		"site.elevation":    {50, 50, 50},
		"operation.tariff":  {1e-7, 1e-7, 1e-7},
		"operation.years":   {20, 15, 25},
	} {
		v := values[path]
		if v.Origin != basis.Given || !strings.HasPrefix(v.Place, "test.yaml:") {
			t.Errorf("%s: %s at %q", path, v.Origin, v.Place)
		}
		for i, x := range []float64{v.SI, v.Low, v.High} {
			if math.Abs(x-want[i]) > 1e-9*want[i] {
				t.Errorf("%s is %g in %g to %g, want %v", path, v.SI, v.Low, v.High, want)
			}
		}
	}
}

// The more is known, the narrower what is computed from it.
func TestRangesNarrowWithDepth(t *testing.T) {
	data := examples(t)
	for _, path := range []string{"main.runs[0].wave_speed", "pumps[0].inertia_time"} {
		before := math.Inf(1)
		for _, depth := range []string{"first-call", "layout", "study"} {
			v := walked(t, string(data[depth]))[path]
			width := (v.High - v.Low) / v.SI
			if !(width > 0 && width < before) {
				t.Errorf("%s: %g wide at the %s, %g before", path, width, depth, before)
			}
			before = width
		}
	}
}

// A file gives the same station, value for value, each time.
func TestLoadIsTheSameEachTime(t *testing.T) {
	for name, data := range examples(t) {
		first, _ := Load(name, data)
		again, _ := Load(name, data)
		if first.Hash != again.Hash || listing(first) != listing(again) {
			t.Errorf("%s differs from itself", name)
		}
	}
}

var (
	number   = regexp.MustCompile(`\d+(\.\d+)?`)
	oddities = []string{
		"0", "-1", "1e-30", "1e30", "1e308", "1e999", "NaN", "Inf", "-0", "00012", "0x1F", "1_000",
		"1,5",
	}
)

// Whatever numbers stand in a file, it gives faults or a sound station.
func TestAnyNumbersGiveFaultsOrASoundStation(t *testing.T) {
	texts := []string{Starter(quantity.US), Starter(quantity.SI), good, bareSludge, bareBooster}
	for _, data := range examples(t) {
		texts = append(texts, string(data))
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(t, "text")
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			at := rapid.SampledFrom(number.FindAllStringIndex(text, -1)).Draw(t, "where")
			text = text[:at[0]] + mutant(t, text[at[0]:at[1]]) + text[at[1]:]
		}
		st, list := Load("mutant.yaml", []byte(text))
		if (st == nil) != (list.Err() != nil) {
			t.Fatalf("a station: %v, with %v", st != nil, list)
		}
		if st == nil {
			return
		}
		if fault := unsound(st); fault != "" {
			t.Fatalf("%s\n%s", fault, text)
		}
	})
}

// mutant is another number in place of one.
func mutant(t *rapid.T, was string) string {
	switch rapid.IntRange(0, 3).Draw(t, "how") {
	case 0:
		return rapid.SampledFrom(oddities).Draw(t, "odd")
	case 1:
		return fmt.Sprintf("%.6g", rapid.Float64Range(-1e4, 1e4).Draw(t, "number"))
	case 2:
		return fmt.Sprintf("%.6g", math.Pow(10, rapid.Float64Range(-12, 12).Draw(t, "power")))
	}
	var x float64
	if _, err := fmt.Sscan(was, &x); err != nil {
		return was
	}
	return fmt.Sprintf("%.6g", x*rapid.Float64Range(0.3, 3).Draw(t, "times"))
}

// unsound tells the first value that is not finite, not in its range, or assumed
// without a reason and a source.
func unsound(st *Station) string {
	fault := ""
	Walk(st, func(path string, v basis.Value) {
		ordered := v.Low <= v.SI && v.SI <= v.High && v.Low > math.Inf(-1) && v.High < math.Inf(1)
		if fault == "" && (!ordered || v.Origin == basis.Assumed && (v.Reason == "" || v.Source == "")) {
			fault = fmt.Sprintf("%s: %g in %g to %g, %s, reason %q, source %q", path, v.SI, v.Low, v.High, v.Origin,
				v.Reason, v.Source)
		}
	})
	return fault
}

// walked loads a station that has no faults and gives its values by path.
func walked(t *testing.T, text string) map[string]basis.Value {
	t.Helper()
	out := map[string]basis.Value{}
	Walk(must(t, text), func(path string, v basis.Value) { out[path] = v })
	return out
}

// listing writes the values of a station, one a line.
func listing(st *Station) string {
	var b strings.Builder
	Walk(st, func(path string, v basis.Value) {
		fmt.Fprintf(&b, "%s %v %v %v %s\n", path, v.SI, v.Low, v.High, v.Reason)
	})
	return b.String()
}
