package study

import (
	"encoding/json"
	"math"
	"slices"

	"github.com/invopop/jsonschema"

	"seatward/quantity"
	"seatward/transient"
)

// TripSchema names the machine form of a trip.
const TripSchema = "seatward.trip/1"

// TripJSON is the machine form of a TripStudy. Heads are above the wet well's high level.
type TripJSON struct {
	Schema   string            `json:"schema"`
	Station  StationJSON       `json:"station"`
	Valve    string            `json:"valve"`
	WhatIf   []WhatIfJSON      `json:"what_if"` // numbers that are other than in the station file and the catalog
	Datum    string            `json:"datum"`
	Event    string            `json:"event"`
	Closing  *TripClosingJSON  `json:"closing,omitempty"`
	Events   []TripEventJSON   `json:"events"`
	Timeline []TripMomentJSON  `json:"timeline"`
	Envelope []EnvelopeJSON    `json:"envelope"`
	History  *HistoryJSON      `json:"history,omitempty"`
	Cavities []CavityJSON      `json:"cavities"`
	Findings []FindingJSON     `json:"findings"`
	Remedies []RemedyJSON      `json:"remedies"`
	Sample   *SampleJSON       `json:"sample,omitempty"`
	Assumed  []AssumedJSON     `json:"assumed"`
	Cautions []CautionJSON     `json:"cautions"`
	Notes    []string          `json:"notes"`
	Grid     TripGridJSON      `json:"grid"`
	Closed   *TripClosedFormMS `json:"closed_form,omitempty"`
}

// WhatIfJSON is one number that was tried.
type WhatIfJSON struct {
	Path  string  `json:"path"`
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Text  string  `json:"text"`
}

// TripClosingJSON is what the valve did in the event.
type TripClosingJSON struct {
	Closed           bool     `json:"closed"`
	TimeS            float64  `json:"time_s"`
	ReversalS        float64  `json:"reversal_s"`
	DecelerationMS2  BandJSON `json:"deceleration_m_s2"`
	ReverseMS        BandJSON `json:"reverse_velocity_m_s"`
	HeadRiseM        BandJSON `json:"head_rise_m"`
	HeadFallM        float64  `json:"head_fall_before_m"`
	BoundMS          *float64 `json:"reverse_velocity_without_pull_m_s,omitempty"`
	SeatingSpeedMS   *float64 `json:"seating_speed_m_s,omitempty"`
	SeatingSpeedRadS *float64 `json:"seating_speed_rad_s,omitempty"`
	Class            string   `json:"class"`
	Method           string   `json:"method"`
	DecisiveInput    string   `json:"decisive_input,omitempty"`
	Shares           []Share  `json:"shares"`
}

// Share is what one uncertain number does to the reverse velocity.
type Share struct {
	Input  string  `json:"input"`
	LowMS  float64 `json:"at_low_end_m_s"`
	HighMS float64 `json:"at_high_end_m_s"`
}

// TripClosedFormMS is what closed formulas say in place of the run.
type TripClosedFormMS struct {
	Event     string   `json:"event"`
	ReverseMS BandJSON `json:"reverse_velocity_m_s"`
}

// TripEventJSON is one event that was run through.
type TripEventJSON struct {
	ID              string  `json:"id"`
	Title           string  `json:"title"`
	Closed          bool    `json:"closed"`
	TimeS           float64 `json:"closing_time_s"`
	DecelerationMS2 float64 `json:"deceleration_m_s2"`
	ReverseMS       float64 `json:"reverse_velocity_m_s"`
	HeadRiseM       float64 `json:"head_rise_m"`
	MostHeadM       float64 `json:"greatest_head_at_valve_m"`
	LeastPressureM  float64 `json:"least_pressure_head_m"`
	MostPressureM   float64 `json:"greatest_pressure_head_m"`
	Reopenings      int     `json:"reopenings"`
	Bounces         int     `json:"bounces"`
	Vapor           bool    `json:"vapor"`
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
	Fault          string   `json:"fault,omitempty"`
}

// SampleJSON is a sample of all ranges.
type SampleJSON struct {
	Runs        int              `json:"runs"`
	Failed      int              `json:"without_answer"`
	Seed        uint64           `json:"seed"`
	Percentiles []PercentileJSON `json:"percentiles"`
	Shares      []VarianceJSON   `json:"first_order_sensitivity"`
	LeftOut     []string         `json:"left_out,omitempty"`
}

// PercentileJSON is one of reverse velocity and head rise.
type PercentileJSON struct {
	Percent   float64 `json:"percent"`
	ReverseMS float64 `json:"reverse_velocity_m_s"`
	RiseM     float64 `json:"head_rise_m"`
}

// VarianceJSON is the share of one number.
type VarianceJSON struct {
	Input string  `json:"input"`
	Share float64 `json:"share"`
}

// TripGridJSON tells how the run was made.
type TripGridJSON struct {
	StepS        float64 `json:"step_s"`
	Steps        int     `json:"steps"`
	DurationS    float64 `json:"duration_s"`
	MostAdjusted float64 `json:"greatest_wave_speed_adjustment"`
}

// TripsSchema names the machine form of several trips side by side.
const TripsSchema = "seatward.trips/1"

// TripsJSON is the machine form of several valves in the same events.
type TripsJSON struct {
	Schema string     `json:"schema"`
	Trips  []TripJSON `json:"trips"`
}

// Compared is the machine form of several valves.
func Compared(all []*TripStudy) TripsJSON {
	out := TripsJSON{Schema: TripsSchema, Trips: []TripJSON{}}
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

// Told is the trip that is told in full: the worst for slam, or the first.
func (s *TripStudy) Told() *Trip { return s.Trips[max(s.Slam, 0)] }

// JSON builds the machine form.
func (s *TripStudy) JSON() TripJSON {
	t := s.Told()
	out := TripJSON{
		Schema: TripSchema, Valve: s.Item.ID, WhatIf: []WhatIfJSON{}, Datum: s.Datum, Event: t.Event.ID,
		Station: stationJSON(s.Station),
		Events:  []TripEventJSON{}, Timeline: []TripMomentJSON{}, Envelope: []EnvelopeJSON{}, Cavities: []CavityJSON{}, Findings: []FindingJSON{},
		Remedies: []RemedyJSON{}, Assumed: []AssumedJSON{}, Cautions: []CautionJSON{}, Notes: append([]string{}, t.Notes...),
		Grid: TripGridJSON{t.StepS, t.Steps, t.TimeS, t.Adjusted},
	}
	out.Closing = s.closingJSON(t)
	if c := s.Closed.ClosedForm; c.Known() {
		out.Closed = &TripClosedFormMS{s.Closed.ClosedEvent, *band(c)}
	}
	for _, x := range s.Trips {
		out.Events = append(out.Events, x.eventJSON())
	}
	for _, m := range t.Moments {
		out.Timeline = append(out.Timeline, TripMomentJSON(m))
	}
	for _, e := range t.Envelope {
		j := EnvelopeJSON{ChainageM: e.ChainageM, ElevationM: e.ElevationM, LeastM: e.LeastM, MostM: e.MostM, StartM: e.StartM}
		if !math.IsNaN(e.LimitM) {
			j.LimitM = &e.LimitM
		}
		out.Envelope = append(out.Envelope, j)
	}
	out.History = t.History(mostHistory)
	for _, c := range t.Cavities {
		out.Cavities = append(out.Cavities, CavityJSON{c.Pipe, c.ChainageM, c.OpensS, c.ShutsS, c.MostM3})
	}
	s.restJSON(&out)
	return out
}

func (s *TripStudy) restJSON(out *TripJSON) {
	for _, w := range s.WhatIfs() {
		out.WhatIf = append(out.WhatIf, WhatIfJSON{w.Path, w.Value.Name, w.Value.SI, w.Value.Kind.Symbol(), w.Tell(s.Station.Units)})
	}
	for _, f := range s.Findings {
		out.Findings = append(out.Findings, findingJSON(f))
	}
	for _, r := range s.Remedies {
		j := RemedyJSON{Name: r.Name, What: r.What, Fault: r.Fault}
		if r.Trip != nil {
			least := r.Trip.LeastPressureM()
			j.ReverseMS, j.HeadRiseM, j.MostHeadM, j.LeastPressureM = &r.Trip.Closing.ReverseMS, &r.Trip.Closing.RiseM, &r.Trip.Closing.MostM, &least
		}
		out.Remedies = append(out.Remedies, j)
	}
	if x := s.Sample; x != nil {
		j := &SampleJSON{Runs: x.Runs, Failed: x.Failed, Seed: x.Seed, LeftOut: x.LeftOut, Percentiles: []PercentileJSON{}, Shares: []VarianceJSON{}}
		for _, p := range x.Percentiles {
			j.Percentiles = append(j.Percentiles, PercentileJSON(p))
		}
		for _, v := range x.Shares {
			j.Shares = append(j.Shares, VarianceJSON{v.Name, v.Share})
		}
		out.Sample = j
	}
	for _, a := range s.Assumed {
		out.Assumed = append(out.Assumed, assumedJSON(a))
	}
	for _, c := range s.Cautions {
		out.Cautions = append(out.Cautions, CautionJSON{c.ID, c.Text})
	}
}

func (s *TripStudy) closingJSON(t *Trip) *TripClosingJSON {
	c := t.Closing
	point := func(x float64) BandJSON { return BandJSON{x, x, x} }
	out := &TripClosingJSON{
		Closed: c.Closed, TimeS: c.TimeS, ReversalS: c.ReversedS, DecelerationMS2: point(c.DecelerationMS2), ReverseMS: point(c.ReverseMS),
		HeadRiseM: point(c.RiseM), HeadFallM: c.FallM, Class: s.Closed.Class, Shares: []Share{},
	}
	speed := c.SeatingSpeed
	if c.Rotary {
		out.SeatingSpeedRadS = &speed
	} else {
		out.SeatingSpeedMS = &speed
	}
	if r := s.Run; r != nil {
		bound := s.Bound.ReverseMS
		out.BoundMS = &bound
		out.DecelerationMS2, out.ReverseMS, out.HeadRiseM = *band(r.Deceleration), *band(r.Reverse), *band(r.HeadRise)
		out.Method, out.DecisiveInput = r.Method, s.Closed.DecisiveInput
		for _, x := range s.Closed.Shares {
			out.Shares = append(out.Shares, Share{x.Input, x.LowMS, x.HighMS})
		}
	}
	return out
}

func (t *Trip) eventJSON() TripEventJSON {
	c := t.Closing
	return TripEventJSON{
		ID: t.Event.ID, Title: t.Event.Title, Closed: c.Closed, TimeS: c.TimeS, DecelerationMS2: c.DecelerationMS2, ReverseMS: c.ReverseMS, HeadRiseM: c.RiseM,
		MostHeadM: c.MostM, LeastPressureM: t.LeastPressureM(), MostPressureM: t.MostPressureM(), Reopenings: t.Reopened, Bounces: t.Bounces, Vapor: len(t.Cavities) > 0,
	}
}

// ReadingKind is the kind of quantity of a reading.
func ReadingKind(name string) quantity.Kind {
	switch name {
	case ReadFlow, ReadOther:
		return quantity.Flow
	case ReadOpening, ReadSpeed:
		return quantity.Fraction
	}
	return quantity.Head
}

// History are the readings in at most so many rows; nil where none were taken.
func (t *Trip) History(most int) *HistoryJSON {
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
		h.TimeS, h.Now, h.Least, h.Most = append(h.TimeS, r.TimeS), append(h.Now, r.Now), append(h.Least, r.Least), append(h.Most, r.Most)
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
