package study

import (
	"fmt"
	"sync"

	"seatward/pump"
	"seatward/station"
	"seatward/steady"
	"seatward/valve"
)

// plant is a station made ready for the solver, but for the valve.
type plant struct {
	st     *station.Station
	units  []unit
	branch []steady.Element
	main   []steady.Reach
	levels []steady.Level

	quadrants []*pump.Quadrants // of each group of pumps; nil until a run asks for them
	usualFlow float64           // of one pump at the middle level, m³/s, where runs start from rest
	rested    *sync.Map         // by name of an operating point: what it rests on, whatever the valve
}

// forRuns makes ready what runs in time need beside the steady station.
func (p *plant) forRuns() error {
	if p.quadrants != nil {
		return nil
	}
	op, err := p.system(nil, false).Solve([]int{0}, p.middle())
	if err != nil {
		return err
	}
	p.usualFlow = op.FlowM3S
	p.quadrants, err = newQuadrants(p.st)
	return err
}

// unit is one pump at one speed.
type unit struct {
	group int // index in Station.Pumps
	full  pump.Performance
	slow  pump.Performance // at least speed; the same as full for fixed speed
}

// Names of the two levels.
const (
	levelHigh = "high level" // wet well high: least static head
	levelLow  = "low level"
)

// newPlant prepares the station. The error says what cannot be computed.
func newPlant(st *station.Station) (*plant, error) {
	p := &plant{st: st, rested: new(sync.Map), branch: elements(st.Branch, st.Fluid), main: reaches(st)}
	for g, group := range st.Pumps {
		slow := group.Performance
		if group.LeastSpeed.SI < group.Speed.SI {
			c, err := group.Performance.AtSpeed(group.LeastSpeed.SI / group.Speed.SI)
			if err != nil {
				return nil, fmt.Errorf("pump %s at its least speed: %w", group.Name, err)
			}
			slow = c
		}
		for range group.Count - group.Standby {
			p.units = append(p.units, unit{group: g, full: group.Performance, slow: slow})
		}
	}
	// Elevations count from the wet well's high level, so that one profile serves both.
	p.levels = []steady.Level{
		{Name: levelHigh, WetWellM: 0, OutletM: st.StaticLow.SI},
		{Name: levelLow, WetWellM: st.StaticLow.SI - st.StaticHigh.SI, OutletM: st.StaticLow.SI},
	}
	return p, nil
}

// system is the plant with a valve in every branch, at full or at least speed.
func (p *plant) system(m *valve.Mechanism, slow bool) *steady.System {
	sys := &steady.System{Main: p.main, Levels: p.levels}
	for i, u := range p.units {
		performance := u.at(slow)
		group := p.st.Pumps[u.group]
		elements := append([]steady.Element{check{m}}, p.branch...)
		sys.Branches = append(sys.Branches, steady.Branch{
			Name: fmt.Sprintf("%s %d", group.Name, i+1), Alike: fmt.Sprint(u.group), Source: performance.Source(), Elements: elements,
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
func (p *plant) varies() bool {
	for _, g := range p.st.Pumps {
		if g.LeastSpeed.SI < g.Speed.SI {
			return true
		}
	}
	return false
}
