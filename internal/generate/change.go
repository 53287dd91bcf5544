package generate

import (
	"math"
	"slices"

	"seatward/quantity"
)

// Change makes of a station another that must have the same answer, or nearly. It gives
// false where the change cannot be made.
type Change struct {
	Name  string
	Near  bool // the answer may move a little, or say that it is near a limit
	Apply func(Station) (Station, bool)
}

// Changes are those that the answer is held to.
func Changes() []Change {
	return []Change{
		{"other units", false, Station.InOtherUnits},
		{"other datum", false, func(s Station) (Station, bool) { return s.Shifted(57.3) }},
		{"other order of pumps", false, Station.Reordered},
		{"a run in two", false, Station.Cut},
		{"equal pumps apart", false, Station.ListedApart},
		{"levels for pressures", false, Station.ByLevels},
		{"length 0.1 % more", true, func(s Station) (Station, bool) { return s.Nudged(NudgeLength, 0.001) }},
		{"head 0.1 % more", true, func(s Station) (Station, bool) { return s.Nudged(NudgeHead, 0.001) }},
		{"static head 0.1 % more", true, func(s Station) (Station, bool) { return s.Nudged(NudgeStatic, 0.001) }},
		{"inertia 0.1 % more", true, func(s Station) (Station, bool) { return s.Nudged(NudgeInertia, 0.001) }},
	}
}

// InOtherUnits is the same station written in the other system of units. Defaults follow
// the units of a file (speed by the mains frequency, class and material of pipe), so it is
// made only where those are given.
func (s Station) InOtherUnits() (Station, bool) {
	if len(s.Main) == 0 || len(s.Branch) == 0 || len(s.Pumps) == 0 {
		return s, false
	}
	out := s.clone()
	out.Units = quantity.SI + quantity.US - s.Units
	return out, true
}

// Shifted has all elevations above a datum that lies lower by so much, m. The elevation of
// the site is above the sea and stays.
func (s Station) Shifted(byM float64) (Station, bool) {
	if !s.Levels.Given {
		return s, false
	}
	out := s.clone()
	l := &out.Levels
	l.HighM, l.LowM, l.OutletM = l.HighM+byM, l.LowM+byM, l.OutletM+byM
	if l.ValveM != nil {
		*l.ValveM += byM
	}
	for i := range out.Profile {
		out.Profile[i].ElevationM += byM
	}
	return out, true
}

// Reordered has the list of pumps turned round; the steps of schedules follow their pumps.
func (s Station) Reordered() (Station, bool) {
	if len(s.Pumps) < 2 || s.Duty.FlowM3S != (Number{}) { // the duty is that of the first pump
		return s, false
	}
	out := s.clone()
	slices.Reverse(out.Pumps)
	var number []int // that each pump in service has afterwards
	total := s.Running()
	for _, p := range s.Pumps {
		n := p.Count - p.Standby
		total -= n
		for k := range n {
			number = append(number, total+k+1)
		}
	}
	for i := range out.Events {
		for k := range out.Events[i].Steps {
			out.Events[i].Steps[k].Pump = number[s.Events[i].Steps[k].Pump-1]
		}
	}
	return out, true
}

// Cut has the longest run of the main in two halves, each with half its fittings and losses.
func (s Station) Cut() (Station, bool) {
	longest := -1
	for i, r := range s.Main {
		stated := len(r.Fittings) > 0 || r.LossK != nil // what is not stated is assumed for each run
		if stated && (longest < 0 || r.LengthM.SI > s.Main[longest].LengthM.SI) {
			longest = i
		}
	}
	if longest < 0 {
		return s, false
	}
	out := s.clone()
	half := out.Main[longest]
	half.LengthM.SI /= 2
	half.Fittings = slices.Clone(half.Fittings)
	for i := range half.Fittings {
		half.Fittings[i].Count /= 2
	}
	if half.LossK != nil {
		k := *half.LossK / 2
		half.LossK = &k
	}
	out.Main[longest] = half
	out.Main = slices.Insert(out.Main, longest, half)
	return out, true
}

// ListedApart has an entry for each pump in place of one entry with a count.
func (s Station) ListedApart() (Station, bool) {
	out := s.clone()
	out.Pumps = nil
	for _, p := range s.Pumps {
		if p.Standby > 0 {
			return s, false // a standby pump alone in its entry would be refused
		}
		n := max(p.Count, 1)
		for k := range n {
			one := p
			one.Count = 1
			if n > 1 {
				one.Name += string(rune('a' + k))
			}
			out.Pumps = append(out.Pumps, one)
		}
	}
	return out, len(out.Pumps) > len(s.Pumps)
}

// ByLevels is a booster whose pressures are written as the levels that make them, its valve
// and its profile where they were.
func (s Station) ByLevels() (Station, bool) {
	l := s.Levels
	if l.SuctionPa == nil || l.DischargePa == nil || l.ValveM == nil || s.Profile == nil ||
		s.Fluid.DensityKgM3.SI == 0 {
		return s, false
	}
	out := s.clone()
	perPa := 1 / (s.Fluid.DensityKgM3.SI * gravity)
	out.Levels.HighM += *l.SuctionPa * perPa
	out.Levels.LowM += *l.SuctionPa * perPa
	out.Levels.OutletM += *l.DischargePa * perPa
	out.Levels.SuctionPa, out.Levels.DischargePa = nil, nil
	return out, true
}

// Nudge names the number that Nudged changes.
type Nudge int

// The numbers that can be nudged.
const (
	NudgeLength  Nudge = iota // of the whole main, with its profile
	NudgeHead                 // of every pump
	NudgeStatic               // by the level of the outlet
	NudgeInertia              // of every pump that has one given
)

// Nudged has one number greater by the share.
func (s Station) Nudged(what Nudge, share float64) (Station, bool) {
	out := s.clone()
	changed := false
	switch what {
	case NudgeLength:
		for i := range out.Main {
			out.Main[i].LengthM.SI *= 1 + share
			changed = true
		}
		for i := range out.Profile {
			out.Profile[i].ChainageM *= 1 + share
		}
	case NudgeHead:
		for i := range out.Pumps {
			for k := range out.Pumps[i].Curve {
				out.Pumps[i].Curve[k].Y *= 1 + share
				changed = true
			}
		}
	case NudgeStatic:
		if l := &out.Levels; l.Given && l.DischargePa == nil {
			l.OutletM += share * math.Abs(l.OutletM-l.HighM)
			changed = true
		}
	case NudgeInertia:
		for i := range out.Pumps {
			if n := &out.Pumps[i].InertiaKgM2; n.SI > 0 {
				n.SI *= 1 + share
				changed = true
			}
		}
	}
	return out, changed
}
