package plant

import (
	"context"
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/station"
	"seatward/valve"
)

// Knob is one number of the station or of the valve that is not known, and that a measured
// trace may tell. It is turned by its standard deviate z: 0 is the best estimate, ±1.645 are
// the ends of its range.
type Knob struct {
	Name  string
	Value basis.Value // with its range
	Key   string      // of the valve's number; "" for the station's
	Paths []string    // where a station file holds it; none where it does not

	axis axis
}

// farOut is how far a knob of the station is turned: a measured number may lie outside the
// range that was thought, but not that far.
const farOut = 4.0

// rangeDeviate is the standard deviate of the ends of a range.
var rangeDeviate = draw.Normal(0.95)

// At is the value at the deviate.
func (k *Knob) At(z float64) float64 {
	if k.axis.spec != nil {
		return k.axis.at(0.5 * math.Erfc(-z/math.Sqrt2))
	}
	v, end := k.Value, k.Value.High
	z = math.Max(-farOut, math.Min(farOut, z)) / rangeDeviate
	if z < 0 {
		z, end = -z, v.Low
	}
	if k.axis.log && v.SI > 0 && end > 0 {
		return v.SI * math.Pow(end/v.SI, z)
	}
	return v.SI + z*(end-v.SI)
}

// Knobs are what a trace of a stop may tell of the station and of the valve in it. The wave
// speeds of branch and main are one: a logger hears the main, and pipes of one station are off
// in one way. Lengths and diameters are taken as drawn, and so are losses of fittings, which no
// trace tells from friction: FrictionDoubtM says what that leaves open.
func (p *Plant) Knobs(it *catalog.Item) ([]Knob, error) {
	own, err := valveAxes(it)
	if err != nil {
		return nil, err
	}
	var out []Knob
	for _, a := range append(p.stationAxes(), own...) {
		k := Knob{Name: a.name, Value: named(a), Key: a.key, axis: a}
		switch {
		case a.key != "":
		case slices.Contains(untold, a.name):
			continue
		case a.name == "wave speed of the main":
			k.axis.set = withBranch(a)
			k.Paths = runPaths("main", p.st.Main, "wave_speed", func(r *station.Run) bool { return r.WaveSpeed.Ranged() })
		case a.name == frictionNames[0]:
			k.Paths = runPaths("main", p.st.Main, "roughness", func(r *station.Run) bool { return r.Roughness.Ranged() })
		case a.name == frictionNames[1]:
			k.Paths = runPaths("main", p.st.Main, "hazen_williams", func(r *station.Run) bool { return r.HazenWilliams.Ranged() })
		case a.name == "free gas":
			k.Paths = []string{"fluid.free_gas"}
		default:
			k.Paths = p.inertiaPaths(a.name)
		}
		out = append(out, k)
	}
	return out, nil
}

// untold are the numbers that a trace of a stop does not tell from others.
var untold = []string{
	"wave speed of the branch", "length of the branch", "length of the main", "inner diameter of the branch",
	"inner diameter of the main", "roughness of the branch", "local losses of the branch", "local losses of the main",
	"Hazen-Williams C of the branch", "elevation of the main",
}

// frictionNames are the numbers that take the friction of the main, and blamed are those that the
// same loss of head may come from.
var (
	frictionNames = []string{"roughness of the main", "Hazen-Williams C of the main"}
	blamed        = []string{"inner diameter of the main", "length of the main", "local losses of the main"}
)

// Friction is the head that the main loses at the flow of one pump, m, with a friction number at the
// deviate z; NaN for a number of another kind.
func (p *Plant) Friction(k *Knob, z float64) float64 {
	if !slices.Contains(frictionNames, k.Name) || p.forRuns() != nil {
		return math.NaN()
	}
	return p.mainLossM(k, z)
}

// FrictionDoubtM is the standard deviation of that loss for what bore, length and fittings leave open
// within their ranges: a trace tells the loss of all of them together.
func (p *Plant) FrictionDoubtM() float64 {
	if p.forRuns() != nil {
		return 0
	}
	sum := 0.0
	for _, a := range p.stationAxes() {
		if slices.Contains(blamed, a.name) {
			k := &Knob{Value: a.value, axis: a}
			sum = math.Hypot(sum, p.mainLossM(k, 0.5)-p.mainLossM(k, -0.5))
		}
	}
	return sum
}

func (p *Plant) mainLossM(k *Knob, z float64) float64 {
	st, sum := k.axis.set(apart(p.st), k.At(z)), 0.0
	for _, e := range elements(st.Main, st.Fluid) {
		sum += e.Settle(p.usualFlow)
	}
	return sum
}

// withBranch moves the wave speed of the branch by the factor of the main's.
func withBranch(a axis) func(st *station.Station, x float64) *station.Station {
	return func(st *station.Station, x float64) *station.Station {
		st = a.set(st, x)
		for i := range st.Branch.Runs {
			st.Branch.Runs[i].WaveSpeed.SI *= x / a.value.SI
		}
		return st
	}
}

func runPaths(line string, of station.Line, key string, moves func(r *station.Run) bool) []string {
	var out []string
	for i := range of.Runs {
		if moves(&of.Runs[i]) {
			out = append(out, fmt.Sprintf("%s.runs[%d].%s", line, i, key))
		}
	}
	return out
}

// inertiaPaths are the places of the inertia of all pumps of the kind that the name tells.
func (p *Plant) inertiaPaths(name string) []string {
	var out []string
	for _, unit := range p.kinds() {
		if name != p.ofPump("inertia of pump and motor", unit) {
			continue
		}
		for g := range p.st.Pumps {
			if p.st.KindOf(g) == p.units[unit].kind {
				out = append(out, fmt.Sprintf("pumps[%d].inertia", p.st.Pumps[g].Index))
			}
		}
	}
	return out
}

// Traced is the head that a sensor would show in an event, m above the datum, and what the
// valve did.
type Traced struct {
	TimeS, HeadM []float64
	Closing      Closing
	Rest         Rest
	BranchS      float64 // time of a wave along the branch
	CycleS       float64 // 4L/a of branch and main
}

// Where stands for the place and the conditions of a trace.
type Where struct {
	Event  Event
	Header bool    // the sensor is at the header, not behind the valve
	Well   float64 // level of the wet well at the stop: 0 high, 1 low
	UntilS float64 // the run ends there; 0: as long as runs are followed
	Fine   bool    // on a grid twice as fine
}

// Turned is the station with its knobs turned, and the valve's numbers.
func (p *Plant) Turned(knobs []Knob, z []float64) (*Plant, map[string]float64, error) {
	st, at := apart(p.st), map[string]float64{}
	for i := range knobs {
		if k := &knobs[i]; k.Key != "" {
			at[k.Key] = k.At(z[i])
		} else {
			st = k.axis.set(st, k.At(z[i]))
		}
	}
	q, err := New(st)
	return q, at, err
}

// Trace runs an event of this plant with the valve and reads off what a sensor would show.
func (p *Plant) Trace(ctx context.Context, m *valve.Mechanism, w Where) (*Traced, error) {
	ev, ok := p.same(w.Event)
	if !ok {
		return nil, fmt.Errorf("the station has no event %s", w.Event.ID)
	}
	ev.level.WetWellM = w.Well * p.st.WellLowM()
	opt := Options{Record: true, untilS: w.UntilS}
	if w.Fine {
		opt.fine = 2
	}
	s, err := p.whole(ctx, m, ev, opt)
	if err != nil {
		return nil, err
	}
	_, main, _ := joined(p.st.Main)
	out := &Traced{Closing: s.Closing, Rest: s.Rest, BranchS: s.BranchS, CycleS: 4 * (s.BranchS + main)}
	name := ReadDown
	if w.Header {
		name = ReadHeader
	}
	at := slices.Index(s.Names, name)
	for _, r := range s.Rows {
		out.TimeS, out.HeadM = append(out.TimeS, r.TimeS), append(out.HeadM, r.Now[at])
	}
	if len(out.TimeS) < 2 {
		return nil, fmt.Errorf("the run of %s has no readings", ev.ID)
	}
	return out, nil
}

// Braking is the deceleration of the flow at the valve in an event as it turns, without the
// valve: the axis of closing curves. NaN where the flow does not turn.
func (p *Plant) Braking(ctx context.Context, m *valve.Mechanism, w Where) float64 {
	ev, ok := p.same(w.Event)
	if !ok {
		return math.NaN()
	}
	ev.level.WetWellM = w.Well * p.st.WellLowM()
	return p.DecelerationMS2(ctx, ev, m.AreaM2(), m.FullOpenVelocity().VelocityMS)
}
