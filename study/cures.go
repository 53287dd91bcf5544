package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatward/basis"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
)

// cure is a change of the station, as it is written into its file: what is run is what the file
// would hold.
type cure struct {
	name, what string
	edits      []station.Change
}

// The sizes of cures that the user did not size, to show their effect; common practice, no
// source.
const (
	usualFlywheel  = 2.0 // times the inertia that is there
	usualRampS     = 15
	reliefOver     = 1.1  // opens at so many times the pressure at the header at the shut-off head
	reliefShare    = 0.5  // of the bore of the main
	airInletShare  = 0.25 // of the bore of the main
	airOutletShare = 0.1  // of the inlet: the last of the air must leave slowly
)

// cures are the changes of the station that are tried.
func (s *TripStudy) cures(p *plant.Plant, opt TripOptions) []cure {
	out := []cure{s.flywheel(opt.Size.FlywheelKgM2), s.vessel(p, opt.Size.VesselM3)}
	if s.Station.Surge.Stop == "direct" {
		ramp := opt.Size.RampS
		if ramp == 0 {
			ramp = usualRampS
		}
		out = append(out, cure{
			"ramped stop", "normal stops by a speed ramp of " + s.show(quantity.Time, ramp),
			[]station.Change{set("surge.normal_stop", "speed ramp"), set("surge.ramp_time", s.written(quantity.Time, ramp))},
		})
	}
	if c, ok := s.relief(); ok {
		out = append(out, c)
	}
	if c, ok := s.airValve(); ok {
		out = append(out, c)
	}
	return out
}

func (s *TripStudy) show(kind quantity.Kind, si float64) string {
	return s.Station.Units.Format(kind, si)
}

// written is a number as it goes into the file: four digits, in the station's units.
func (s *TripStudy) written(kind quantity.Kind, si float64) string {
	sys := s.Station.Units
	x, _ := strconv.ParseFloat(strconv.FormatFloat(sys.In(kind, si), 'e', 3, 64), 64) // what it has just written
	return strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64) + " " + sys.Unit(kind))
}

// opening is a diameter as people order it: to half an inch, or to 5 mm.
func (s *TripStudy) opening(si float64) string {
	step := 0.005
	if s.Station.Units == quantity.US {
		step = 0.5 * 0.0254
	}
	return s.written(quantity.Diameter, step*math.Max(1, math.Round(si/step)))
}

func set(path, value string) station.Change { return station.Change{Path: path, Value: &value} }

// flywheel adds inertia to every pump.
func (s *TripStudy) flywheel(wheel float64) cure {
	if wheel == 0 {
		wheel = usualFlywheel * s.Station.Pumps[0].Inertia.SI
	}
	c := cure{name: "flywheel", what: "a flywheel of " + s.show(quantity.Inertia, wheel) + " on each pump"}
	for i := range s.Station.Pumps {
		p := &s.Station.Pumps[i]
		c.edits = append(c.edits, set(p.Path()+".inertia", s.written(quantity.Inertia, p.Inertia.SI+wheel)))
	}
	return c
}

// device is the path of the next device of the file.
func (s *TripStudy) device() string {
	n := 0
	for _, d := range s.Station.Surge.Devices {
		if !unlisted(d) {
			n++
		}
	}
	return fmt.Sprintf("surge.devices[%d]", n)
}

// vessel puts an air vessel at the header, or more air into the one that is there.
func (s *TripStudy) vessel(p *plant.Plant, air float64) cure {
	if air == 0 {
		air = p.Station().UsualAirM3()
	}
	for i, d := range s.Station.Surge.Devices {
		if !station.AtHeader(d) {
			continue
		}
		what := "the air vessel at the header with " + s.show(quantity.Volume, air) + " more air"
		whole := s.written(quantity.Volume, d.AirVolume.SI+air)
		if unlisted(d) {
			return cure{"larger air vessel", what, s.vesselOf(whole)}
		}
		return cure{
			"larger air vessel", what,
			[]station.Change{set(fmt.Sprintf("surge.devices[%d].air_volume", i), whole)},
		}
	}
	what := "an air vessel at the header with " + s.show(quantity.Volume, air) + " of air"
	return cure{"air vessel", what, s.vesselOf(s.written(quantity.Volume, air))}
}

// vesselOf lists a vessel at the header with the air.
func (s *TripStudy) vesselOf(air string) []station.Change {
	return []station.Change{
		set(s.device()+".kind", station.AirVessel), set(s.device()+".at", s.written(quantity.Length, 0)),
		set(s.device()+".air_volume", air),
	}
}

// unlisted is true for a vessel that the file does not list: its air is assumed.
func unlisted(d station.Device) bool {
	return d.Kind == station.AirVessel && d.AirVolume.Origin == basis.Assumed
}

// relief puts a relief valve at the header; none where one stands there.
func (s *TripStudy) relief() (cure, bool) {
	head := 0.0
	for i := range s.Station.Pumps {
		head = math.Max(head, s.Station.Pumps[i].ShutoffHead.SI)
	}
	opens := reliefOver * (head - s.Station.AxisAt(0)) * s.Station.Fluid.Density.SI * quantity.StandardGravity
	if opens <= 0 || s.has(station.ReliefValve) || len(s.Station.Main.Runs) == 0 {
		return cure{}, false
	}
	bore := s.opening(reliefShare * s.Station.Main.Runs[0].InnerDiameter.SI)
	return cure{
		"relief valve", "a relief valve of " + bore + " at the header that opens at " +
			s.show(quantity.Pressure, opens),
		[]station.Change{
			set(s.device()+".kind", station.ReliefValve),
			set(s.device()+".at", s.written(quantity.Length, 0)),
			set(s.device()+".opens_at", s.written(quantity.Pressure, opens)),
			set(s.device()+".bore", bore),
		},
	}, true
}

// has is true where a device of the kind stands on the main.
func (s *TripStudy) has(kind string) bool {
	for _, d := range s.Station.Surge.Devices {
		if d.Kind == kind {
			return true
		}
	}
	return false
}

// airValve puts an air valve where the pressure falls lowest in the worst stop; none where it
// stays above the air outside, or where the main runs below it before the event.
func (s *TripStudy) airValve() (cure, bool) {
	if s.has(station.AirValve) {
		return cure{}, false
	}
	var at plant.EnvelopePoint
	least := 0.0
	length := s.Station.Main.LengthM()
	for _, e := range s.Told().Envelope {
		inside := e.ChainageM > 0 && e.ChainageM < length && e.StartM > e.ElevationM
		if x := e.LeastM - e.ElevationM; x < least && inside {
			at, least = e, x
		}
	}
	if least >= 0 {
		return cure{}, false
	}
	diameter := airInletShare * s.Station.Main.Runs[0].InnerDiameter.SI
	inlet := s.opening(diameter)
	return cure{
		"air valve", "an air valve with an inlet of " + inlet + ", " +
			s.show(quantity.Length, at.ChainageM) + " along the main, where the pressure falls lowest",
		[]station.Change{
			set(s.device()+".kind", station.AirValve),
			set(s.device()+".at", s.written(quantity.Length, at.ChainageM)),
			set(s.device()+".inlet", inlet),
			set(s.device()+".outlet", s.written(quantity.Diameter, airOutletShare*diameter)),
		},
	}, true
}
