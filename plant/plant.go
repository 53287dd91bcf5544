// Package plant runs a station in time: the pumps in four quadrants, the waves in branch
// and main, and the check valves moved by the flow, for every stop and start that can
// happen there. It gives one Stop for each event and one Answer for each valve; whatever is
// said of slam, heads, ratings and vapor is read from these and from nowhere else.
package plant

import (
	"fmt"
	"sync"

	"seatward/basis"
	"seatward/pipe"
	"seatward/pump"
	"seatward/station"
	"seatward/steady"
	"seatward/valve"
)

// Plant is a station made ready for the solvers, but for the valve.
type Plant struct {
	st     *station.Station
	units  []unit
	branch []steady.Element
	main   []steady.Reach
	levels []steady.Level

	quadrants []*pump.Quadrants // of each group of pumps; nil until a run asks for them
	usualFlow float64           // of one pump at the middle level, m³/s, where runs start from rest
	ready     sync.Once
	fault     error     // why nothing can be run
	rested    *sync.Map // by name of an operating point: what it rests on, whatever the valve

	spreading  sync.Once
	flowSpread basis.Value
	turnings   sync.Map // by event: the flow without a valve, as it turns

	drawn sync.Once
	draws *draws
}

// Station is what the plant was made of.
func (p *Plant) Station() *station.Station { return p.st }

// forRuns makes ready what runs in time need beside the steady station.
func (p *Plant) forRuns() error {
	p.ready.Do(func() {
		if p.usualFlow, p.fault = p.flowAtRest(); p.fault != nil {
			return
		}
		p.quadrants, p.fault = newQuadrants(p.st)
	})
	return p.fault
}

// flowAtRest is a flow to tell friction by where a run starts from rest: of the first pump
// alone, or of all pumps where that one does not lift by itself; of a velocity of 1 m/s in
// the main where none lifts.
func (p *Plant) flowAtRest() (float64, error) {
	all := make([]int, len(p.units))
	for i := range all {
		all[i] = i
	}
	for _, running := range [][]int{{0}, all} {
		op, err := p.system(nil, false).Solve(running, p.middle())
		if err != nil {
			return 0, err
		}
		if op.FlowM3S > 0 {
			return op.FlowM3S, nil
		}
	}
	return pipe.AreaM2(p.st.Main.Runs[0].InnerDiameter.SI), nil
}

// unit is one pump at one speed.
type unit struct {
	group int // index in Station.Pumps
	kind  int // the first group of physically equal pumps
	full  pump.Performance
	slow  pump.Performance // at least speed; the same as full for fixed speed
}

// WellLevel is a level of the wet well at which the station is looked at.
type WellLevel int

// The levels.
const (
	WellHigh   WellLevel = iota // least static head
	WellMiddle                  // of normal operation, half way between the two
	WellLow
)

// key names the level in the IDs of events, and in their titles.
func (l WellLevel) key() string { return [...]string{"high", "middle", "low"}[l] }

// String names the level as reports print it.
func (l WellLevel) String() string { return l.key() + " level" }

// at is the level for the solver.
func (l WellLevel) at(wellM, outletM float64) steady.Level {
	return steady.Level{Name: l.String(), Mark: int(l), WetWellM: wellM, OutletM: outletM}
}

// New prepares the station. The error says what cannot be computed.
func New(st *station.Station) (*Plant, error) {
	p := &Plant{st: st, rested: new(sync.Map), branch: elements(st.Branch, st.Fluid), main: reaches(st)}
	for g := range st.Pumps {
		group := &st.Pumps[g]
		slow := group.Performance
		if group.LeastSpeed.SI < group.Speed.SI {
			c, err := group.Performance.AtSpeed(group.LeastSpeed.SI / group.Speed.SI)
			if err != nil {
				return nil, fmt.Errorf("pump %s at its least speed: %w", group.Name, err)
			}
			slow = c
		}
		for range group.Count - group.Standby {
			p.units = append(p.units, unit{group: g, kind: st.KindOf(g), full: group.Performance, slow: slow})
		}
	}
	// Heads count from the suction's head line at the wet well's high level, so that one
	// profile serves both levels.
	p.levels = []steady.Level{
		WellHigh.at(0, st.OutletHeadM()),
		WellLow.at(st.WellLowM(), st.OutletHeadM()),
	}
	return p, nil
}

// middle is the level of normal operation, half way between the two.
func (p *Plant) middle() steady.Level {
	high, low := p.levels[0], p.levels[1]
	return WellMiddle.at((high.WetWellM+low.WetWellM)/2, high.OutletM)
}

// system is the plant with a valve in every branch, at full or at least speed.
func (p *Plant) system(m *valve.Mechanism, slow bool) *steady.System {
	sys := &steady.System{Main: p.main, Levels: p.levels}
	valves := check{m, p.reducers(m)}
	for i, u := range p.units {
		performance := u.at(slow)
		group := p.st.Pumps[u.group]
		elements := append([]steady.Element{valves}, p.branch...)
		sys.Branches = append(sys.Branches, steady.Branch{
			Name: fmt.Sprintf("%s %d", group.Name, i+1), Alike: fmt.Sprint(u.kind), Source: performance.Source(),
			Elements: elements,
		})
	}
	return sys
}

func (u unit) at(slow bool) pump.Performance {
	if slow {
		return u.slow
	}
	return u.full
}

// varies is true when a pump runs at more than one speed.
func (p *Plant) varies() bool {
	for i := range p.st.Pumps {
		if p.st.Pumps[i].LeastSpeed.SI < p.st.Pumps[i].Speed.SI {
			return true
		}
	}
	return false
}
