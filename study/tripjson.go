package study

import (
	"encoding/json"
	"math"
	"slices"

	"github.com/invopop/jsonschema"

	"seatward/internal/program"
	"seatward/plant"
	"seatward/quantity"
	"seatward/transient"
)

// TripSchema names the machine form of a trip.
const TripSchema = "seatward.trip/2"

// TripJSON is the machine form of a TripStudy. Heads are above the wet well's high level.
type TripJSON struct {
	Schema   string           `json:"schema"`
	Program  program.Program  `json:"program"`
	Station  StationJSON      `json:"station"`
	Valve    string           `json:"valve"`
	WhatIf   []WhatIfJSON     `json:"what_if"` // numbers that are other than in the station file and the catalog
	Datum    string           `json:"datum"`
	Event    string           `json:"event"`
	Closing  *TripClosingJSON `json:"closing,omitempty"`
	Events   []TripEventJSON  `json:"events"`
	Timeline []TripMomentJSON `json:"timeline"`
	Envelope []EnvelopeJSON   `json:"envelope"`
	History  *HistoryJSON     `json:"history,omitempty"`
	Cavities []CavityJSON     `json:"cavities"`
	Findings []FindingJSON    `json:"findings"`
	Remedies []RemedyJSON     `json:"remedies"`
	Assumed  []AssumedJSON    `json:"assumed"`
	Cautions []CautionJSON    `json:"cautions"`
	Notes    []string         `json:"notes"`
	Grid     TripGridJSON     `json:"grid"`
	ByHand   *TripByHandJSON  `json:"by_hand,omitempty"`
}

// WhatIfJSON is one number that was tried.
type WhatIfJSON struct {
	Path  string  `json:"path"`
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Text  string  `json:"text"`
}

// TripClosingJSON is the slam of the worst stop, as select tells it, and how the valve closed.
type TripClosingJSON struct {
	SlamJSON
	Closed           bool            `json:"closed"`
	TimeS            float64         `json:"time_s"`
	ReversalS        float64         `json:"reversal_s"`
	First            *TripSeatingMS  `json:"first,omitempty"`
	HeadFallM        float64         `json:"head_fall_before_m"`
	WithoutPullMS    *float64        `json:"first_reverse_velocity_without_pull_m_s,omitempty"`
	SeatingSpeedMS   *float64        `json:"seating_speed_m_s,omitempty"`
	SeatingSpeedRadS *float64        `json:"seating_speed_rad_s,omitempty"`
	Finer            *TripSeatingMS  `json:"on_finer_grid,omitempty"`
	Shares           []InfluenceJSON `json:"shares"`
}

// TripSeatingMS is one seating.
type TripSeatingMS struct {
	TimeS     float64 `json:"time_s"`
	ReverseMS float64 `json:"reverse_velocity_m_s"`
	HeadRiseM float64 `json:"head_rise_m"`
}

// InfluenceJSON is the part of the variance that one uncertain number explains.
type InfluenceJSON struct {
	Input string  `json:"input"`
	Share float64 `json:"share"`
}

// TripByHandJSON is what hand formulas say: a check on the run, never in its place.
type TripByHandJSON struct {
	Event     string   `json:"event"`
	ReverseMS BandJSON `json:"reverse_velocity_m_s"`
	Doubt     string   `json:"doubt,omitempty"`
}

// TripEventJSON is one event that was run through.
type TripEventJSON struct {
	ID             string  `json:"id"`
	Title          string  `json:"title"`
	Fault          string  `json:"not_run,omitempty"`
	Idle           bool    `json:"nothing_flows,omitempty"`
	Closed         bool    `json:"closed"`
	TimeS          float64 `json:"closing_time_s"`
	ReverseMS      float64 `json:"reverse_velocity_m_s"`
	FirstMS        float64 `json:"first_reverse_velocity_m_s"`
	HeadRiseM      float64 `json:"head_rise_m"`
	MostHeadM      float64 `json:"greatest_head_at_valve_m"`
	LeastPressureM float64 `json:"least_pressure_head_m"`
	MostPressureM  float64 `json:"greatest_pressure_head_m"`
	Reopenings     int     `json:"reopenings"`
	Later          int     `json:"later_slams"`
	Resolved       bool    `json:"resolved"`
	AtRest         bool    `json:"comes_to_rest"`
	Bounces        int     `json:"bounces"`
	Vapor          bool    `json:"vapor"`
}

// TripMomentJSON is one thing that happened.
type TripMomentJSON struct {
	TimeS float64 `json:"time_s"`
	Text  string  `json:"text"`
}

// EnvelopeJSON is a place of the main.
type EnvelopeJSON struct {
	ChainageM  float64  `json:"x_m"`
	ElevationM float64  `json:"elevation_m"`
	LeastM     float64  `json:"head_min_m"`
	MostM      float64  `json:"head_max_m"`
	StartM     float64  `json:"head_start_m"`
	LimitM     *float64 `json:"head_limit_m,omitempty"`
}

// HistoryJSON are readings in time; each row's least and greatest hold every step since
// the row before.
type HistoryJSON struct {
	Names []string    `json:"names"`
	Units []string    `json:"units"`
	TimeS []float64   `json:"time_s"`
	Now   [][]float64 `json:"values"`
	Least [][]float64 `json:"least"`
	Most  [][]float64 `json:"greatest"`
}

// CavityJSON is a vapor cavity.
type CavityJSON struct {
	Pipe      string  `json:"pipe"`
	ChainageM float64 `json:"x_m"`
	OpensS    float64 `json:"opens_s"`
	ShutsS    float64 `json:"shuts_s,omitempty"`
	MostM3    float64 `json:"greatest_m3"`
}

// RemedyJSON is a what-if.
type RemedyJSON struct {
	Name           string   `json:"name"`
	What           string   `json:"what"`
	ReverseMS      *float64 `json:"reverse_velocity_m_s,omitempty"`
	HeadRiseM      *float64 `json:"head_rise_m,omitempty"`
	MostHeadM      *float64 `json:"greatest_head_at_valve_m,omitempty"`
	LeastPressureM *float64 `json:"least_pressure_head_m,omitempty"`
	Separates      bool     `json:"column_separation"`
	Cures          bool     `json:"recommended"`
	Fault          string   `json:"fault,omitempty"`

	Event string     `json:"worst_event,omitempty"` // the worst stop with it
	Valve string     `json:"valve,omitempty"`       // that takes the place of the one looked at
	Edits []EditJSON `json:"edits,omitempty"`       // that take it into the station file
}

// EditJSON is what a remedy writes into the station file.
type EditJSON struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// TripGridJSON tells how the run was made.
type TripGridJSON struct {
	StepS        float64 `json:"step_s"`
	Steps        int     `json:"steps"`
	DurationS    float64 `json:"duration_s"`
	MostAdjusted float64 `json:"greatest_wave_speed_adjustment"`
}

// TripsSchema names the machine form of several trips side by side.
const TripsSchema = "seatward.trips/2"

// TripsJSON is the machine form of several valves in the same events.
type TripsJSON struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Trips   []TripJSON      `json:"trips"`
}

// Compared is the machine form of several valves.
func Compared(all []*TripStudy) TripsJSON {
	out := TripsJSON{Schema: TripsSchema, Program: program.This(), Trips: []TripJSON{}}
	for _, s := range all {
		out.Trips = append(out.Trips, s.JSON())
	}
	return out
}

// TripsJSONSchema is the JSON Schema (draft 2020-12) of several trips.
func TripsJSONSchema() ([]byte, error) {
	r := &jsonschema.Reflector{Anonymous: true, ExpandedStruct: true}
	s := r.Reflect(&TripsJSON{})
	s.Title = "Answer of seatward trip for several valves, form " + TripsSchema
	return json.MarshalIndent(s, "", "  ")
}

// TripJSONSchema is the JSON Schema (draft 2020-12) of the machine form of a trip.
func TripJSONSchema() ([]byte, error) {
	r := &jsonschema.Reflector{Anonymous: true, ExpandedStruct: true}
	s := r.Reflect(&TripJSON{})
	s.Title = "Answer of seatward trip, form " + TripSchema
	return json.MarshalIndent(s, "", "  ")
}

// JSON builds the machine form.
func (s *TripStudy) JSON() TripJSON {
	t := s.Told()
	out := TripJSON{
		Schema: TripSchema, Program: program.This(), Valve: s.Item.ID, WhatIf: []WhatIfJSON{}, Datum: s.Datum,
		Event:   t.Event.ID,
		Station: stationJSON(s.Station),
		Events:  []TripEventJSON{}, Timeline: []TripMomentJSON{}, Envelope: []EnvelopeJSON{}, Cavities: []CavityJSON{},
		Findings: []FindingJSON{},
		Remedies: []RemedyJSON{}, Assumed: []AssumedJSON{}, Cautions: []CautionJSON{},
		Notes: append([]string{}, t.Notes...),
		Grid:  TripGridJSON{t.StepS, t.Steps, t.TimeS, t.Adjusted},
	}
	out.Closing = s.closingJSON(t)
	if h := s.ByHand; h.Reverse.Known() {
		out.ByHand = &TripByHandJSON{h.Event, *band(h.Reverse), h.Doubt}
	}
	for _, x := range s.Answer.Stops {
		out.Events = append(out.Events, eventJSON(x))
	}
	for _, m := range t.Moments {
		out.Timeline = append(out.Timeline, TripMomentJSON{m.TimeS, m.Text})
	}
	for _, e := range t.Envelope {
		j := EnvelopeJSON{
			ChainageM: e.ChainageM, ElevationM: e.ElevationM, LeastM: e.LeastM, MostM: e.MostM,
			StartM: e.StartM,
		}
		if !math.IsNaN(e.LimitM) {
			j.LimitM = &e.LimitM
		}
		out.Envelope = append(out.Envelope, j)
	}
	out.History = History(t, mostHistory)
	for _, c := range t.Cavities {
		out.Cavities = append(out.Cavities, CavityJSON{c.Pipe, c.ChainageM, c.OpensS, c.ShutsS, c.MostM3})
	}
	s.restJSON(&out)
	return out
}

func (s *TripStudy) restJSON(out *TripJSON) {
	for _, w := range s.WhatIfs() {
		out.WhatIf = append(out.WhatIf,
			WhatIfJSON{w.Path, w.Value.Name, w.Value.SI, w.Value.Kind.Symbol(), w.Tell(s.Station.Units)})
	}
	for _, f := range s.Findings {
		out.Findings = append(out.Findings, FindingOf(f))
	}
	out.Remedies = s.RemediesJSON()
	for _, a := range s.Assumed {
		out.Assumed = append(out.Assumed, assumedJSON(a))
	}
	for _, c := range s.Cautions {
		out.Cautions = append(out.Cautions, CautionJSON{c.ID, c.Text})
	}
}

// RemediesJSON is the machine form of the remedies.
func (s *TripStudy) RemediesJSON() []RemedyJSON {
	out := []RemedyJSON{}
	for i := range s.Remedies {
		r := &s.Remedies[i]
		j := RemedyJSON{Name: r.Name, What: r.What, Fault: r.Fault, Cures: r.Cures, Valve: r.Valve}
		for _, e := range r.Edits {
			j.Edits = append(j.Edits, EditJSON{e.Path, *e.Value})
		}
		if r.Answer != nil && r.Answer.Worst != nil {
			least, most, reverse, rise := r.LeastPressureM(), r.MostM(), r.Answer.Worst.SlamMS(), r.Answer.Worst.RiseM()
			j.ReverseMS, j.HeadRiseM, j.MostHeadM, j.LeastPressureM, j.Separates = &reverse, &rise, &most, &least,
				r.Separates()
			j.Event = r.Answer.Worst.Event.ID
		}
		out = append(out, j)
	}
	return out
}

func (s *TripStudy) closingJSON(t *plant.Stop) *TripClosingJSON {
	slam := slamJSON(&s.Judged)
	if slam == nil {
		return nil
	}
	c := t.Closing
	out := &TripClosingJSON{
		SlamJSON: *slam, Closed: c.Closed, TimeS: c.First.TimeS, ReversalS: c.ReversedS,
		HeadFallM: c.FallM, Shares: []InfluenceJSON{},
	}
	if c.Closed {
		out.First = &TripSeatingMS{c.First.TimeS, c.First.ReverseMS, c.FirstRiseM}
	}
	if f := t.Finer; f != nil {
		out.Finer = &TripSeatingMS{f.Worst.TimeS, f.Worst.ReverseMS, f.RiseM}
	}
	speed := c.Worst.SeatingSpeed
	if c.Rotary {
		out.SeatingSpeedRadS = &speed
	} else {
		out.SeatingSpeedMS = &speed
	}
	if b := s.WithoutPull; b != nil {
		out.WithoutPullMS = &b.First.ReverseMS
	}
	for _, x := range s.Judged.Slam.Inputs {
		out.Shares = append(out.Shares, InfluenceJSON{x.Value.Name, x.Share})
	}
	return out
}

func eventJSON(t *plant.Stop) TripEventJSON {
	out := TripEventJSON{ID: t.Event.ID, Title: t.Event.Title, Fault: t.Fault, Idle: t.Idle}
	if t.Fault != "" {
		return out
	}
	c := t.Closing
	out.Closed, out.TimeS, out.ReverseMS, out.FirstMS, out.HeadRiseM = c.Closed, c.First.TimeS, t.SlamMS(),
		c.First.ReverseMS, t.RiseM()
	out.MostHeadM, out.LeastPressureM, out.MostPressureM = t.MostM(), t.LeastPressureM(), t.MostPressureM()
	out.Reopenings, out.Later, out.Bounces, out.Vapor = c.Reopened, c.Later, c.Bounces, t.Separates()
	out.Resolved, out.AtRest = t.Resolved(), t.Rest != plant.NeverRests
	return out
}

// ReadingKind is the kind of quantity of a reading.
func ReadingKind(name string) quantity.Kind {
	switch name {
	case plant.ReadFlow, plant.ReadOther:
		return quantity.Flow
	case plant.ReadOpening, plant.ReadSpeed:
		return quantity.Fraction
	}
	return quantity.Head
}

// History are the readings in at most so many rows; nil where none were taken.
func History(t *plant.Stop, most int) *HistoryJSON {
	if len(t.Rows) == 0 {
		return nil
	}
	h := &HistoryJSON{Names: t.Names}
	for _, n := range t.Names {
		h.Units = append(h.Units, ReadingKind(n).Symbol())
	}
	stride := (len(t.Rows) + most - 1) / most
	for from := 0; from < len(t.Rows); from += stride {
		r := joinRows(t.Rows[from:min(len(t.Rows), from+stride)])
		h.TimeS, h.Now, h.Least, h.Most = append(h.TimeS, r.TimeS), append(h.Now, r.Now), append(h.Least,
			r.Least), append(h.Most, r.Most)
	}
	return h
}

// mostHistory is how many rows a machine is given.
const mostHistory = 2000

// joinRows is the last of the rows with the extremes of all.
func joinRows(rows []transient.Row) transient.Row {
	out := rows[len(rows)-1]
	out.Least, out.Most = slices.Clone(out.Least), slices.Clone(out.Most)
	for _, r := range rows {
		for i := range r.Least {
			out.Least[i], out.Most[i] = math.Min(out.Least[i], r.Least[i]), math.Max(out.Most[i], r.Most[i])
		}
	}
	return out
}
