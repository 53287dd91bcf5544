package generate

import (
	"math"
	"strings"

	"seatward/quantity"
)

// levels draws how the static head comes about, and the profile.
func (d dice) levels(s *Station, f frame) {
	switch {
	case d.chance(4, "shut-off just above static"):
		f.staticM = s.shutOff()/d.between(1.0005, 1.03, "just above") - f.wellM
		s.Make = "shut-off head just above static"
	case d.chance(2, "nothing lifted at low level"):
		f.staticM = s.shutOff() - f.wellM/2
		s.Make = "no flow at the low level"
	case d.chance(12, "booster"):
		d.booster(s, f)
		return
	}
	f.staticM = max(f.staticM, 0.2)
	d.elevations(s, f)
	if d.chance(50, "profile") {
		d.profile(s, f)
	}
	if s.Profile == nil && d.chance(5, "only a static head") {
		s.Levels = Levels{}
		s.Duty.StaticLowM, s.Duty.StaticHighM = d.round(quantity.Head, f.staticM), d.round(quantity.Head,
			f.staticM+f.wellM)
	}
}

// datum is an elevation that levels are counted from.
func (d dice) datum() float64 {
	if d.chance(30, "far datum") {
		return d.between(-30, 900, "datum")
	}
	return 0
}

// elevations draws wet-well levels, outlet and the valve's own.
func (d dice) elevations(s *Station, f frame) {
	high := d.round(quantity.Length, d.datum())
	l := &s.Levels
	*l = Levels{
		Given: true, HighM: high, LowM: high - d.round(quantity.Length, f.wellM),
		OutletM: high + d.round(quantity.Length, f.staticM),
	}
	if d.chance(50, "valve elevation") {
		at := l.LowM + d.round(quantity.Length, d.between(-1, 4, "valve above low level"))
		l.ValveM = &at
	}
}

// profile lays the main over the land, in one of four over a high point.
func (d dice) profile(s *Station, f frame) {
	l := &s.Levels
	start := l.LowM + d.round(quantity.Length, d.between(-0.5, 2, "start of the main"))
	if l.ValveM != nil {
		start = *l.ValveM
	}
	end := l.OutletM - d.round(quantity.Length, d.between(0, 2, "end below the outlet"))
	s.Profile = []Point{{0, min(start, end)}}
	inner := int(d.between(0, 4.99, "inner points"))
	top := 0
	if inner > 0 && d.chance(25, "high point") {
		top = 1 + int(d.between(0, float64(inner), "which"))
	}
	for i := 1; i <= inner; i++ {
		x := float64(i) / float64(inner+1)
		z := s.Profile[0].ElevationM + x*(end-s.Profile[0].ElevationM)
		z += d.between(-0.5, 0.3, "roll of the land") * math.Min(f.staticM, 0.02*f.lengthM)
		z = min(z, l.OutletM-0.1)
		if i == top {
			z = l.OutletM + min(d.between(0.5, 8, "height of the high point"), 0.1*f.lengthM,
				0.5*(s.shutOff()-f.staticM-f.wellM))
			s.Make = "high point"
		}
		s.Profile = append(s.Profile, Point{f.lengthM * x, d.round(quantity.Length, z)})
	}
	s.Profile = append(s.Profile, Point{f.lengthM, end})
	if s.steeper(mostSteep) { // a pipe no longer than it climbs: straight up, then
		s.Profile, s.Make = nil, strings.Replace(s.Make, "high point", "", 1)
	}
}

// mostSteep is the greatest rise over the length between two points of a profile.
const mostSteep = 0.9

// steeper reports whether the profile climbs or falls more than the share of its length
// anywhere.
func (s *Station) steeper(share float64) bool {
	for i := 1; i < len(s.Profile); i++ {
		a, b := s.Profile[i-1], s.Profile[i]
		if math.Abs(b.ElevationM-a.ElevationM) > share*(b.ChainageM-a.ChainageM) {
			return true
		}
	}
	return false
}

// booster draws a station between two pressures. The density is given, so that the same
// station can be written by levels.
func (d dice) booster(s *Station, f frame) {
	s.Make = "booster by pressures"
	s.Fluid = Fluid{Kind: "drinking water", DensityKgM3: Number{SI: 1000}}
	z := d.round(quantity.Length, d.datum())
	rise := d.round(quantity.Length, d.between(0, min(f.staticM, 20), "rise"))
	suction := d.round(quantity.Pressure, 1e5*d.between(0.3, 5, "suction pressure"))
	outlet := d.round(quantity.Pressure, suction+1000*gravity*(f.staticM-rise+f.wellM/2))
	s.Levels = Levels{
		Given: true, HighM: z, LowM: z, OutletM: z + rise, SuctionPa: &suction, DischargePa: &outlet,
		ValveM: &z,
	}
	s.Profile = []Point{{0, z}, {f.lengthM, z + rise}}
	for i := range s.Pumps {
		s.Pumps[i].Submersible = "no"
	}
}
