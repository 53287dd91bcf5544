package calibrate_test

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"seatward/catalog"
	"seatward/internal/calibrate"
	"seatward/internal/trace"
	"seatward/plant"
	"seatward/station"
	"seatward/valve"
)

// points are readings at times in s.
type points struct{ T, V []float64 }

func (p points) Len() int                 { return len(p.T) }
func (p points) Time(i int) int64         { return int64(math.Round(p.T[i] * 1e9)) }
func (p points) At(i int) (float64, bool) { return p.V[i], true }

// hidden is a stop that the program made at numbers that the fit does not know.
type hidden struct {
	model *calibrate.Model
	knobs []plant.Knob
	z     []float64
	run   *plant.Traced
	brake float64
	stops []calibrate.Stop
}

// logger is how a stop was logged.
type logger struct {
	rateHz, noiseM, driftM, quantumM, clipM float64
}

// stopS is when a hidden stop is, s from the start of its log.
const stopS = 40.0

// everyStepS is how long a run may last of which every step is kept: a logger meets the run
// as it is, and not a thinned record of it.
const everyStepS = 75.0

// within is a standard deviate within the range of a number.
func within(r *rand.Rand) float64 {
	for {
		if z := r.NormFloat64(); math.Abs(z) <= 1.645 {
			return z
		}
	}
}

// withBranch is the plant with the wave speed of the branch so many deviates off its own estimate;
// the fit turns it with that of the main.
func withBranch(t testing.TB, p *plant.Plant, given *station.Station, z float64) *plant.Plant {
	t.Helper()
	st := p.Station() // of the turned plant alone
	for i := range st.Branch.Runs {
		v := given.Branch.Runs[i].WaveSpeed
		end := v.High
		if z < 0 {
			end = v.Low
		}
		st.Branch.Runs[i].WaveSpeed.SI = v.SI * math.Pow(end/v.SI, math.Abs(z)/1.645)
	}
	q, err := plant.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func stationAt(t testing.TB, name string) *station.Station {
	t.Helper()
	data, err := os.ReadFile("../../examples/" + name + ".station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(name, data)
	if st == nil {
		t.Fatal(list)
	}
	return st
}

// eventsOf are the stops that a log of the station may hold, each once: at which level is found.
func hide(t testing.TB, st *station.Station, id, event string, l logger, r *rand.Rand, gas float64) *hidden {
	t.Helper()
	catalogs, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	it, err := catalog.Find(catalogs, id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plant.New(st)
	if err != nil {
		t.Fatal(err)
	}
	h := &hidden{model: &calibrate.Model{Station: st, Item: it}}
	if h.knobs, err = p.Knobs(it); err != nil {
		t.Fatal(err)
	}
	for range h.knobs {
		h.z = append(h.z, within(r))
	}
	for k := range h.knobs {
		if h.knobs[k].Name == "free gas" {
			h.z[k] = gas
		}
	}
	h.model.Events, err = p.FindEvents(event)
	if err != nil {
		t.Fatal(err)
	}
	h.model.Events = h.model.Events[:1]
	q, at, err := p.Turned(h.knobs, h.z)
	if err != nil {
		t.Fatal(err)
	}
	q = withBranch(t, q, st, within(r))
	m, err := it.VariedAll(valve.In(st.Fluid.Density.SI, st.Valve.Position), at)
	if err != nil {
		t.Fatal(err)
	}
	w := plant.Where{Event: h.model.Events[0], Well: r.Float64(), UntilS: everyStepS}
	if h.run, err = q.Trace(context.Background(), m, w); err != nil {
		t.Fatal(err)
	}
	h.brake = q.Braking(context.Background(), m, w)
	h.log(st, l, r)
	return h
}

// facts are those of the main, for the search for events.
func facts(st *station.Station) trace.Facts {
	f := trace.Facts{
		DensityKgM3: st.Fluid.Density.SI, AirPressurePa: st.Site.AirPressure.SI, VaporPa: st.Fluid.VaporPressure.SI,
		StaticM: st.OutletHeadM() - st.ValveAboveDatum(), LengthM: st.Main.LengthM(),
	}
	for i := range st.Main.Runs {
		v := st.Main.Runs[i].WaveSpeed
		f.WaveMS, f.WaveLow, f.WaveHigh, f.BoreM = v.SI, v.Low, v.High, st.Main.Runs[i].InnerDiameter.SI
	}
	return f
}

// log reads the hidden run as the logger does.
func (h *hidden) log(st *station.Station, l logger, r *rand.Rand) {
	var p points
	phase, zero := r.Float64(), 0.5*r.NormFloat64()
	last := h.run.TimeS[len(h.run.TimeS)-1]
	for i := 0; ; i++ {
		at := (float64(i) + phase) / l.rateHz
		if at > stopS+last {
			break
		}
		v := headAt(h.run, at-stopS) - st.ValveAboveDatum() + zero + l.driftM*(at/(stopS+last)-0.5)
		v += l.noiseM * r.NormFloat64()
		if l.clipM != 0 {
			v = math.Max(v, l.clipM)
		}
		if l.quantumM > 0 {
			v = math.Round(v/l.quantumM) * l.quantumM
		}
		p.T, p.V = append(p.T, at), append(p.V, v)
	}
	rep := trace.Analyze(p, facts(st), trace.Options{Operations: []trace.Operation{
		{AtNS: int64((stopS + 0.5*r.NormFloat64()) * 1e9), Pump: 1, By: "state"},
	}})
	h.stops = calibrate.Stops(p, rep)
}

// seated is the seating that the log shows.
func (h *hidden) seated() valve.Slam {
	c := h.run.Closing
	at := float64(h.stops[0].AtNS)*1e-9 + h.stops[0].ClosingS - stopS
	if math.Abs(c.Worst.TimeS-at) < math.Abs(c.First.TimeS-at) {
		return c.Worst
	}
	return c.First
}

func headAt(run *plant.Traced, t float64) float64 {
	k := 0
	for k+1 < len(run.TimeS) && run.TimeS[k+1] <= t {
		k++
	}
	if k+1 == len(run.TimeS) || t <= run.TimeS[k] {
		return run.HeadM[k]
	}
	return run.HeadM[k] + (run.HeadM[k+1]-run.HeadM[k])*(t-run.TimeS[k])/(run.TimeS[k+1]-run.TimeS[k])
}

// kinds are the stops from which cases are drawn: station, valve, event, logger.
var kinds = []struct {
	station, valve, event string
	logger                logger
}{
	{"layout", "swing/6in", "stop", logger{rateHz: 25, noiseM: 0.1, quantumM: 0.05}},
	{"layout", "swing/6in", "one-trips", logger{rateHz: 100, noiseM: 0.1, driftM: 0.3}},
	{"study", "flap/6in", "power-failure", logger{rateHz: 25, noiseM: 0.05, driftM: 0.3, quantumM: 0.02}},
	{"booster", "swing/6in", "stop", logger{rateHz: 100, noiseM: 0.2, quantumM: 0.05}},
	{"study", "swing/6in", "power-failure", logger{rateHz: 10, noiseM: 0.05, clipM: -3}},
	{"layout", "dual-plate/6in", "one-trips", logger{rateHz: 50, noiseM: 0.2, driftM: -0.3}},
}

// longCases are the cases of the long form.
const longCases = 200

func long() bool { return os.Getenv("SEATWARD_LONG") != "" }

// promised is the share of the cases in which each promise holds.
const promised = 0.95

// leastOf is how many of n cases must keep a promise. In the long form it is the promised share of
// them itself. Fewer cases are a sample: where the promise is just kept, fewer than this keep it once
// in 20 samples at the most (binomial; 10 of 12 cases).
func leastOf(n int, all bool) int {
	if all {
		return int(math.Ceil(promised * float64(n)))
	}
	below, each := 0.0, math.Pow(1-promised, float64(n)) // that none keeps it
	for k := range n {
		if below += each; below > 0.05 {
			return k
		}
		each *= float64(n-k) / float64(k+1) * promised / (1 - promised)
	}
	return n
}

// TestHiddenNumbers: stops made by the program at numbers that the fit is not given come back
// from logs with noise, drift, few readings and a clipped range: inertia within 5 %, wave speed
// within 1 %, and the reverse velocity within its 95 % interval, each in 95 % of the cases; a fit that
// calls itself poor keeps none of the three. SEATWARD_LONG=1 has all 200 cases.
func TestHiddenNumbers(t *testing.T) {
	cases := 12
	if long() {
		cases = longCases
	}
	if n, err := strconv.Atoi(os.Getenv("SEATWARD_FITS")); err == nil {
		cases = n
	}
	var inertia, wave, inside, poor, measured, held int
	for n := range cases {
		kind := kinds[n%len(kinds)]
		h := hide(t, stationAt(t, kind.station), kind.valve, kind.event, kind.logger,
			rand.New(rand.NewPCG(uint64(n), 11)), 0)
		if len(h.stops) == 0 {
			t.Errorf("case %d: the stop is not seen", n)
			continue
		}
		f, err := calibrate.Of(context.Background(), h.model, h.stops[:1], calibrate.Options{})
		if err != nil {
			t.Errorf("case %d: %v", n, err)
			continue
		}
		if f.Poor { // nothing is taken from it, and it says so
			t.Logf("case %d, %v: poor, %.3f astray, left %.2f m", n, kind, f.Points[0].Astray, f.Points[0].LeftM)
			poor++
			continue
		}
		for _, x := range f.Numbers {
			k := slices.IndexFunc(h.knobs, func(k plant.Knob) bool { return k.Name == x.Name })
			is := h.knobs[k].At(h.z[k])
			off := x.Value.SI/is - 1
			if x.Measured() && len(x.Paths) > 0 { // what a station file takes
				measured++
				if x.Low <= is && is <= x.High {
					held++
				} else {
					t.Logf("case %d: %s %.4g, stated %.4g to %.4g", n, x.Name, is, x.Low, x.High)
				}
			}
			switch {
			case x.Name == "inertia of pump and motor" && math.Abs(off) <= 0.05:
				inertia++
			case x.Name == "wave speed of the main" && math.Abs(off) <= 0.01:
				wave++
			case x.Name == "inertia of pump and motor" || x.Name == "wave speed of the main":
				t.Logf("case %d, %v: %s off by %.1f %%", n, kind, x.Name, 100*off)
			}
		}
		v, true0 := f.Points[0].Reverse, h.seated().ReverseMS
		if v.Low <= true0 && true0 <= v.High {
			inside++
		} else {
			t.Logf("case %d, %v: reverse velocity %.4f, stated %.4f to %.4f", n, kind, true0, v.Low, v.High)
		}
		t.Logf("case %d: %d runs, astray %.3f, left %.2f m, V_R %.3f (%.3f to %.3f), grid %.3f, true %.3f", n, f.Runs,
			f.Points[0].Astray, f.Points[0].LeftM, v.Best, v.Low, v.High, f.Points[0].GridMS, true0)
	}
	t.Logf("of %d measured numbers %d lie within their intervals", measured, held)
	t.Logf("of %d: inertia %d, wave speed %d, reverse velocity %d; %d poor", cases, inertia, wave, inside, poor)
	for _, x := range []struct {
		name   string
		got, n int
	}{
		{"inertia within 5 %", inertia, cases},
		{"wave speed within 1 %", wave, cases},
		{"reverse velocity within its interval", inside, cases},
		{"measured numbers within their intervals", held, measured},
	} {
		if least := leastOf(x.n, cases >= longCases); x.got < least {
			t.Errorf("%s: %d of %d, at least %d expected", x.name, x.got, x.n, least)
		}
	}
}
