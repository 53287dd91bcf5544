package station

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"seatward/basis"
	"seatward/internal/root"
	"seatward/quantity"
)

// drawnCall is a first call as text: a duty point, what is known of the lift, and a size
// that keeps the velocity usual.
func drawnCall(t *rapid.T) string {
	flow := math.Exp(rapid.Float64Range(math.Log(1.5e-3), math.Log(0.6)).Draw(t, "flow"))
	velocity := rapid.Float64Range(0.8, 3.5).Draw(t, "velocity")
	size := quantity.Sizes()[0]
	for _, s := range quantity.Sizes() {
		if size = s; flow/(math.Pi/4*s.NominalM()*s.NominalM()) <= velocity {
			break
		}
	}
	head := rapid.Float64Range(6, 90).Draw(t, "head")
	share := rapid.Float64Range(0.2, 0.97).Draw(t, "static share")
	duty := fmt.Sprintf("flow: %.5g L/s", 1000*flow)
	levels := ""
	switch rapid.SampledFrom([]string{"head and static", "head alone", "static alone", "levels", "pressure"}).Draw(t,
		"lift") {
	case "head and static":
		duty += fmt.Sprintf(", head: %.4g m, static_head: %.4g m", head, share*head)
	case "head alone":
		duty += fmt.Sprintf(", head: %.4g m", head)
	case "static alone":
		duty += fmt.Sprintf(", static_head: %.4g m", share*head)
	case "levels":
		duty += fmt.Sprintf(", head: %.4g m", head)
		levels = fmt.Sprintf("levels: {wet_well_high: 2 m, outlet: %.4g m}\n", 1+share*head)
	case "pressure":
		duty += fmt.Sprintf(", head: %.4g m", head)
		levels = fmt.Sprintf("levels: {outlet_pressure: %.4g bar}\n", 0.098*share*head)
	}
	if n := rapid.IntRange(1, 3).Draw(t, "pumps"); n > 1 {
		duty += fmt.Sprintf(", pumps_in_service: %d", n)
	}
	kind := rapid.SampledFrom([]string{"raw sewage", "effluent", "raw water", "drinking water"}).Draw(t, "kind")
	units := rapid.SampledFrom([]string{"US", "SI"}).Draw(t, "units")
	return fmt.Sprintf("station: X\nunits: %s\nfluid: {kind: %s}\nvalve: {size: DN%d, position: horizontal}\nduty: {%s}\n%s", units, kind, size.DN, duty, levels)
}

// systemM is the head that the estimated layout asks for at the flow and the middle level,
// without the check valve.
func systemM(st *Station, flowM3S float64) float64 {
	r := resolver{st: st}
	sum := (st.StaticLow.SI + st.StaticHigh.SI) / 2
	for _, line := range []Line{st.Branch, st.Main} {
		for i := range line.Runs {
			sum += r.lossM(&line.Runs[i], flowM3S, best)
		}
	}
	return sum
}

// A first call resolves to a station that can be run: every number that a pump trip needs
// is there with a range, and the estimated layout flows at the duty point to 1 %.
func TestFirstCallCanRun(t *testing.T) {
	canRun(t, short)
	canRun(t, "station: X\nunits: SI\nvalve: {size: DN25, position: horizontal}\nduty: {flow: 1.5 L/s, static_head: 1.758 m}\n")
	rapid.Check(t, func(t *rapid.T) { canRun(t, drawnCall(t)) })
}

func canRun(t rapid.TB, text string) {
	t.Helper()
	st := resolved(t, text)
	p := &st.Pumps[0]
	balance := func(q float64) float64 { return p.Performance.Head(q).SI - systemM(st, q) }
	_, end := p.Performance.Range()
	low, high := 1e-6*end, 3*end
	if a, b := balance(low), balance(high); !(a > 0 && b < 0) {
		t.Fatalf("nothing flows: %g m too much at rest, %g m beyond the end\n%s", a, b, text)
	}
	q := root.Find(balance, root.Point{X: low, Y: balance(low)}, root.Point{X: high, Y: balance(high)}, 0)
	if math.Abs(q/p.DutyFlow.SI-1) > 0.01 {
		t.Errorf("flows %.4g L/s at a duty of %.4g (main %.4g m of %s, duty head %.4g m, asked %.4g m)\n%s", 1000*q,
			1000*p.DutyFlow.SI, st.Main.LengthM(), st.Main.Runs[0].Size, p.DutyHead.SI, systemM(st,
				p.DutyFlow.SI), text)
	}
	complete(t, st)
}

// complete holds a first call to what a run needs.
func complete(t rapid.TB, st *Station) {
	p := &st.Pumps[0]
	ranged := map[string]float64{}
	for name, v := range map[string]struct{ low, best, high float64 }{
		"inertia": {p.Inertia.Low, p.Inertia.SI, p.Inertia.High}, "speed": {p.Speed.Low, p.Speed.SI, p.Speed.High},
		"branch": {st.Branch.Runs[0].Length.Low, st.Branch.Runs[0].Length.SI, st.Branch.Runs[0].Length.High},
		"branch wave": {
			st.Branch.Runs[0].WaveSpeed.Low, st.Branch.Runs[0].WaveSpeed.SI,
			st.Branch.Runs[0].WaveSpeed.High,
		},
		"main":         {st.Main.Runs[0].Length.Low, st.Main.Runs[0].Length.SI, st.Main.Runs[0].Length.High},
		"main wave":    {st.Main.Runs[0].WaveSpeed.Low, st.Main.Runs[0].WaveSpeed.SI, st.Main.Runs[0].WaveSpeed.High},
		"efficiency":   {p.Efficiency.Low, p.Efficiency.SI, p.Efficiency.High},
		"valve height": {st.ValveElevation.Low + 1e3, st.ValveElevation.SI + 1e3, st.ValveElevation.High + 1e3},
	} {
		ranged[name] = v.best
		if !(0 < v.low && v.low <= v.best && v.best <= v.high && v.low < v.high) {
			t.Errorf("%s: %g to %g about %g", name, v.low, v.high, v.best)
		}
	}
	if main := st.Main.Runs[0]; !main.InnerDiameter.Known() || !main.Wall.Known() || main.Material == "" {
		t.Errorf("the main is not complete: %+v", main)
	}
	if _, end := p.Performance.Range(); !(end > p.DutyFlow.SI) || !(p.ShutoffHead.SI > st.StaticHigh.SI) {
		t.Errorf("the curve ends at %g m³/s, shut-off %g m, static head to %g m", end, p.ShutoffHead.SI,
			st.StaticHigh.SI)
	}
	if rise := st.OutletAboveDatum() - st.ValveAboveDatum() - endBelowM; st.Main.LengthM()+st.Branch.LengthM() < rise {
		t.Errorf("the estimated pipe of %g m does not reach up %g m", st.Main.LengthM(), rise)
	}
	assumed := strings.Builder{}
	for _, v := range assumedNames(st) {
		assumed.WriteString(v + "\n")
	}
	for _, name := range []string{
		"length of the main", "length of the branch", "speed of pump",
		"elevation of the check valve",
	} {
		if !strings.Contains(assumed.String(), name) {
			t.Errorf("%s is not among the assumptions", name)
		}
	}
}

func assumedNames(st *Station) (out []string) {
	Walk(st, func(_ string, v basis.Value) {
		if v.Origin == basis.Assumed {
			out = append(out, v.Name)
		}
	})
	return out
}
