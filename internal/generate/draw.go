package generate

import (
	"math"

	"pgregory.net/rapid"

	"seatward/pipe"
	"seatward/quantity"
)

// Stations draws legal stations of all makes.
func Stations() *rapid.Generator[Station] {
	return rapid.Custom(func(t *rapid.T) Station {
		d := dice{t: t}
		d.units = of(d, "units", quantity.SI, quantity.US)
		return d.station()
	})
}

// Seeded is the station of the seed.
func Seeded(seed uint64) Station {
	s := Stations().Example(int(seed)) // rapid takes the bits of an int as they are
	s.Seed = seed
	return s
}

// Text is the file of the station of the seed.
func Text(seed uint64) string { return Seeded(seed).Text() }

// frame is what the parts of a station are drawn to: one flow and one head.
type frame struct {
	flow     float64 // of one pump, m³/s
	together float64 // of the pumps that run together
	lengthM  float64 // of the main
	staticM  float64 // least static head
	wellM    float64 // between the two levels
	lossM    float64 // of branch and main at duty
}

// station draws a whole station.
func (d dice) station() Station {
	s := Station{Units: d.units, Fluid: d.fluid(), Valve: d.valve()}
	s.Depth = of(d, "depth", "layout", "layout", "study", "layout", "study", "first call")
	if d.chance(25, "site") {
		s.SiteM = Number{SI: d.round(quantity.Length, d.scaled(5, 2500, "site elevation"))}
	}
	pumps := of(d, "pumps", 1, 2, 2, 3, 1, 4, 5, 6)
	f := frame{flow: pipe.AreaM2(float64(s.Valve.DN)/1000) * d.between(0.9, 3, "branch velocity")}
	f.together = f.flow * math.Pow(float64(pumps), 0.8) // on one main each delivers less
	f.lengthM, f.staticM = d.scaled(10, 15000, "main length"), d.scaled(2, 80, "static head")
	f.wellM = d.between(0.3, 3, "depth of the well")
	s.Branch = d.branch(s.Valve.DN)
	s.Main = d.main(f.together, f.lengthM, d.scaled(3, 60, "friction"), s.Valve.DN)
	f.lengthM = 0
	for _, r := range s.Main {
		f.lengthM += r.LengthM.SI
	}
	f.lossM = losses(s.Branch, f.flow) + losses(s.Main, f.together)
	d.surge(&s)
	if s.Depth == "first call" {
		return d.firstCall(s, f, pumps)
	}
	d.pumps(&s, f, pumps)
	d.levels(&s, f)
	d.events(&s)
	if s.Depth == "study" {
		s.HoursSec = d.number(quantity.Time, 3600*d.scaled(200, 6000, "hours"), "hours")
		s.Tariff = Number{SI: d.round(quantity.Tariff, d.between(0.06, 0.4, "tariff")/3.6e6)}
		if s.Profile == nil && (s.Pumps[0].InertiaKgM2 == Number{}) {
			s.Pumps[0].InertiaKgM2 = d.inertia(&s.Pumps[0], f)
		}
	}
	return s
}

// fluid draws the service, clean or foul.
func (d dice) fluid() Fluid {
	f := Fluid{Kind: of(d, "fluid", "raw water", "raw sewage", "drinking water", "effluent", "sludge", "raw sewage")}
	if d.chance(50, "temperature") {
		f.TemperatureK = Number{SI: 273.15 + math.Round(d.between(4, 28, "degrees"))}
	}
	if d.chance(25, "free gas") {
		f.FreeG = d.number(quantity.Fraction, d.scaled(1e-5, 0.01, "gas"), "gas")
	}
	foul := f.Kind == "raw sewage" || f.Kind == "sludge"
	if foul && d.chance(60, "foul") {
		f.Rags, f.Grit = of(d, "rags", "none", "light", "heavy"), of(d, "grit", "none", "some", "heavy")
		f.Oil, f.Sulfide = of(d, "oil", "none", "trace"), of(d, "sulfide", "none", "some", "high")
	}
	if foul && d.chance(30, "solids") {
		f.SolidsM = Number{SI: d.round(quantity.Diameter, d.between(0.02, 0.05, "sphere"))}
	}
	if f.Kind == "sludge" && d.chance(60, "friction multiplier") {
		f.Friction = d.number(quantity.Number, d.between(1, 3, "multiplier"), "multiplier")
		if f.Friction.Spread > 0 { // a multiplier below 1 is refused
			f.Friction.SI = max(f.Friction.SI, 1.5)
		}
	}
	return f
}

// valve draws the place of the check valve.
func (d dice) valve() Valve {
	v := Valve{
		DN: of(d, "size", 150, 100, 200, 250, 80, 300, 150, 200, 350, 400, 500, 600),
		Position: of(d, "position", "horizontal", "flow up", "horizontal", "flow up", "horizontal", "flow up",
			"flow down"),
	}
	if d.chance(60, "place") {
		v.Place = of(d, "place of the valve", "dry pit", "valve vault", "above ground", "pump house")
	}
	if d.chance(40, "straight pipe") {
		v.StraightM = Number{SI: d.round(quantity.Length, d.between(0, 3, "straight"))}
	}
	if d.chance(40, "clearance") {
		v.ClearanceM = Number{SI: d.round(quantity.Length, d.between(0.3, 2.5, "clear"))}
	}
	return v
}

// surge draws how pumps are stopped and what holds the pressure.
func (d dice) surge(s *Station) {
	s.Vessel = d.chance(8, "air vessel")
	if !d.chance(40, "stop given") {
		return
	}
	s.Stop = of(d, "stop", "direct", "soft stop", "speed ramp")
	if s.Stop != "direct" && d.chance(80, "ramp given") {
		s.RampS = d.number(quantity.Time, d.scaled(3, 60, "ramp"), "ramp")
	}
}

// events draws events of the file's own.
func (d dice) events(s *Station) {
	if !d.chance(25, "own events") {
		return
	}
	running := s.Running()
	for range int(d.between(1, 4, "events")) {
		e := Event{Kind: of(d, "kind of event", "normal stop", "power failure", "start", "schedule", "one pump trips")}
		switch {
		case e.Kind == "schedule":
			e.Name, e.Steps = "own "+string(rune('a'+len(s.Events))), d.steps(running)
		case d.chance(50, "event has a name"):
			e.Name = "own " + string(rune('a'+len(s.Events)))
		}
		if e.Kind == "normal stop" && d.chance(50, "event has a ramp") {
			e.RampS = d.number(quantity.Time, d.scaled(2, 40, "ramp of the event"), "ramp of the event")
		}
		s.Events = append(s.Events, e)
	}
}

// steps draws what a schedule does: pumps stop, trip and start again.
func (d dice) steps(running int) []Step {
	var out []Step
	at := 0.0
	for range int(d.between(1, 4, "steps")) {
		at += d.round(quantity.Time, d.between(0, 15, "wait"))
		out = append(out, Step{
			AtS:  d.round(quantity.Time, at),
			Pump: 1 + int(d.between(0, float64(running), "which pump")), Does: of(d, "does", "trips", "stops",
				"starts"),
		})
	}
	return out
}

// firstCall keeps what somebody says on the telephone: a duty point, a static head or
// levels, the size, and perhaps the main.
func (d dice) firstCall(s Station, f frame, pumps int) Station {
	head := f.staticM + f.wellM + f.lossM
	s.Branch = nil
	if !d.chance(40, "main known") {
		s.Main = nil
	}
	s.Duty.FlowM3S = d.number(quantity.Flow, f.flow, "duty flow")
	s.Duty.HeadM = d.number(quantity.Head, head, "duty head")
	if d.chance(50, "pumps in service") {
		s.Duty.InService = pumps
	}
	if d.chance(25, "shut-off head") {
		s.Duty.ShutOffM = Number{SI: d.round(quantity.Head, head*d.between(1.15, 1.7, "shut-off over duty"))}
		s.Duty.HeadM.Spread = 0
	}
	switch {
	case d.chance(30, "levels"):
		d.elevations(&s, f)
	case d.chance(80, "static head known"):
		s.Duty.StaticLowM = d.round(quantity.Head, f.staticM)
		s.Duty.StaticHighM = s.Duty.StaticLowM
		if d.chance(40, "static head is a span") {
			s.Duty.StaticHighM = d.round(quantity.Head, f.staticM+f.wellM)
		}
	}
	return s
}
