package desk

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"seatward/plant"
	"seatward/station"
	"seatward/study"
)

// TripRequest asks what a pump stop does with one valve.
type TripRequest struct {
	Text   string             `json:"text"`
	Valve  string             `json:"valve,omitempty"` // the first-ranked without it
	Event  string             `json:"event,omitempty"` // the worst for slam of all without it
	Units  string             `json:"units,omitempty"`
	Vary   map[string]float64 `json:"vary,omitempty"` // what if: values of the station, or mechanics of the valve, in SI, by the paths that a film lists
	Change TripChange         `json:"change,omitzero"`
	Frames int                `json:"frames,omitempty"` // of the film, at most 600
	Quick  bool               `json:"quick,omitempty"`  // one event, until the valve has shut; no band, no remedies

	NoRemedies bool `json:"no_remedies,omitempty"` // leave them out: /api/remedies has them for all stops
}

// TripChange is a what-if in the station: what is added, or done differently.
type TripChange struct {
	FlywheelKgM2 float64 `json:"flywheel_kg_m2,omitempty"` // added inertia of each pump
	VesselM3     float64 `json:"vessel_m3,omitempty"`      // air of a vessel at the header
	RampS        float64 `json:"ramp_s,omitempty"`         // stops take this long
}

// TripReply is the run and its film.
type TripReply struct {
	Trip study.TripJSON `json:"trip"` // without its history, which the film has
	Film Film           `json:"film"`
}

// usualFrames are those of a film for which no number is asked.
const usualFrames = 240

// Trip runs pump stops through with one valve in the station, or in the station as it
// would be with what-ifs.
func (d *Desk) Trip(ctx context.Context, in TripRequest) (*TripReply, error) {
	return d.TripTold(ctx, in, nil)
}

// TripTold is Trip that tells how many hundredths are done; progress may be nil.
func (d *Desk) TripTold(ctx context.Context, in TripRequest, progress func(done, total int)) (*TripReply, error) {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	if in.Valve == "" {
		s, valve, err := d.Study(ctx, AnswerRequest{Text: in.Text, Units: in.Units}, RunsShown, nil)
		if err != nil {
			return nil, err
		}
		place, err := shown(s, valve)
		if err != nil {
			return nil, err
		}
		in.Valve = s.Assessments[place].Item.ID
	}
	ofStation, mechanics := apart(in.Vary)
	if st, err = varied(st, ofStation); err != nil {
		return nil, err
	}
	if err := in.Change.possible(); err != nil {
		return nil, err
	}
	if in.Frames < 0 {
		return nil, &Error{
			ID: "frames-impossible", Text: fmt.Sprintf("a film of %d frames", in.Frames),
			Mend: fmt.Sprintf("ask for 2 to %d", plant.MostFrames),
		}
	}
	opt := study.TripOptions{
		Catalogs: d.catalogs, Rules: d.rules, Valve: in.Valve, Event: in.Event, With: plant.Change(in.Change),
		Mechanics: mechanics, Frames: in.Frames, Quick: in.Quick, Remedies: !in.Quick && !in.NoRemedies,
	}
	if opt.Frames == 0 {
		opt.Frames = usualFrames
	}
	if progress != nil {
		last := -1
		opt.Progress = func(done float64, _ string) {
			if p := int(100 * done); p > last {
				last = p
				progress(p, 100)
			}
		}
	}
	s, err := study.RunTrip(ctx, st, opt)
	if err != nil {
		return nil, NoAnswer(err)
	}
	events, err := plant.EventIDs(st)
	if err != nil {
		return nil, NoAnswer(err)
	}
	if t := s.Told(); t.Film == nil {
		return nil, &Error{
			ID: "not-run", Text: fmt.Sprintf("not run: %s: %s", t.Event.Title, t.Fault),
			Mend: "take another event",
		}
	}
	out := &TripReply{Trip: s.JSON(), Film: d.film(s, events)}
	out.Trip.History = nil
	return out, nil
}

// apart parts what is varied of the station from what is varied of the valve.
func apart(at map[string]float64) (ofStation, mechanics map[string]float64) {
	ofStation, mechanics = map[string]float64{}, map[string]float64{}
	for path, si := range at {
		if key, ok := strings.CutPrefix(path, study.MechanicsPath); ok {
			mechanics[key] = si
		} else {
			ofStation[path] = si
		}
	}
	return ofStation, mechanics
}

// varied is the station with values replaced, in the order of their paths.
func varied(st *station.Station, at map[string]float64) (*station.Station, error) {
	units := st.Units
	for _, path := range slices.Sorted(maps.Keys(at)) {
		next, err := st.Vary(path, at[path])
		if err != nil {
			e := NoAnswer(err)
			if told, ok := e.(*Error); ok && told.ID == "no-answer" {
				told.ID, told.Mend = "not-varied", "vary a value that the sheet lists"
			}
			return nil, e
		}
		st = next
	}
	if st.Units != units {
		out := *st
		out.Units = units
		st = &out
	}
	return st, nil
}

// The greatest what-ifs: beyond these a number is a slip of the pen, not a station.
const (
	mostFlywheelKgM2 = 1e5
	mostVesselM3     = 1e4
	mostRampS        = 3600
)

func (c TripChange) possible() error {
	for _, x := range []struct {
		name, unit string
		value      float64
		most       float64
	}{
		{"change.flywheel_kg_m2", "kg m²", c.FlywheelKgM2, mostFlywheelKgM2},
		{"change.vessel_m3", "m³", c.VesselM3, mostVesselM3},
		{"change.ramp_s", "s", c.RampS, mostRampS},
	} {
		if !(x.value >= 0 && x.value <= x.most) {
			return &Error{
				ID: "change-impossible", Text: fmt.Sprintf("%s is %g %s", x.name, x.value, x.unit),
				Mend: fmt.Sprintf("send a number from 0 to %g", x.most),
			}
		}
	}
	return nil
}
