package study

import (
	"encoding/json"
	"math"

	"seatward/basis"
	"seatward/judge"
	"seatward/station"
)

// Schema names the machine form of a Study. It changes only when a key changes
// its meaning.
const Schema = "seatward.study/1"

// JSON is the machine form of a Study, as `select --json` prints it. All numbers
// are SI; the unit stands in the key. A number that is unknown is left out.
type JSON struct {
	Schema          string          `json:"schema" jsonschema_description:"Name and version of this form"`
	Station         StationJSON     `json:"station"`
	Assumed         []AssumedJSON   `json:"assumed" jsonschema_description:"Every value that the program filled in"`
	OperatingPoints []PointJSON     `json:"operating_points" jsonschema_description:"All pump combinations at both levels, with the first-ranked valve in place"`
	Stops           []StopJSON      `json:"stops" jsonschema_description:"Pump stops that were looked at for slam"`
	Candidates      []CandidateJSON `json:"candidates"`
	NotMade         []NotMadeJSON   `json:"not_made" jsonschema_description:"Families that do not exist in the sizes looked at"`
	Rank            []string        `json:"rank" jsonschema_description:"IDs of the candidates that can be used, best first"`
	RankingRule     string          `json:"ranking_rule"`
	DecisiveFact    string          `json:"decisive_fact,omitempty" jsonschema_description:"The missing fact that would move the verdict most"`
	Warnings        []string        `json:"warnings"`
	References      []string        `json:"references"`
	Cautions        []CautionJSON   `json:"cautions"`
}

// StationJSON names the station.
type StationJSON struct {
	Name     string `json:"name"`
	Place    string `json:"place,omitempty"`
	Depth    string `json:"depth" jsonschema:"enum=first call,enum=layout,enum=study"`
	Fluid    string `json:"fluid"`
	Size     string `json:"size"`
	Position string `json:"position"`
	Hash     string `json:"hash" jsonschema_description:"Names the station's content; the same hash gives the same answer"`
}

// AssumedJSON is one assumed value.
type AssumedJSON struct {
	Path   string  `json:"path"`
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Reason string  `json:"reason"`
	Source string  `json:"source"`
}

// PointJSON is one operating point of the station.
type PointJSON struct {
	PumpsRunning int       `json:"pumps_running"`
	Pumps        string    `json:"pumps"`
	Level        string    `json:"level"`
	Valve        string    `json:"valve"`
	FlowM3S      float64   `json:"flow_m3_s"`
	HeadM        float64   `json:"head_m"`
	StaticHeadM  float64   `json:"static_head_m"`
	PowerKW      *float64  `json:"power_kw,omitempty"`
	Efficiency   *float64  `json:"efficiency,omitempty"`
	MainVelocity float64   `json:"main_velocity_m_s"`
	ValveFlow    []float64 `json:"valve_flow_m3_s"`
	ValveLoss    []float64 `json:"valve_loss_m"`
	Notes        []string  `json:"notes,omitempty"`
}

// StopJSON is one pump stop.
type StopJSON struct {
	Name            string   `json:"name"`
	Level           string   `json:"level"`
	Method          string   `json:"method"`
	DecelerationMS2 BandJSON `json:"deceleration_m_s2"`
}

// BandJSON is a low, best and high estimate.
type BandJSON struct {
	Low  float64 `json:"low"`
	Best float64 `json:"best"`
	High float64 `json:"high"`
}

// CandidateJSON is one valve judged.
type CandidateJSON struct {
	ID                 string        `json:"id"`
	Family             string        `json:"family"`
	Size               string        `json:"size"`
	Variant            string        `json:"variant,omitempty"`
	Verdict            string        `json:"verdict" jsonschema:"enum=suitable,enum=suitable with conditions,enum=cannot say,enum=unsuitable"`
	Rank               int           `json:"rank,omitempty"`
	RankReason         string        `json:"rank_reason,omitempty"`
	WhyNot             string        `json:"why_not,omitempty"`
	Findings           []FindingJSON `json:"findings"`
	LossM              *float64      `json:"loss_m,omitempty"`
	VelocityMS         *float64      `json:"velocity_m_s,omitempty"`
	Opening            *float64      `json:"opening,omitempty"`
	FullOpenVelocityMS *float64      `json:"full_open_velocity_m_s,omitempty"`
	CrackingHeadM      *float64      `json:"cracking_head_m,omitempty"`
	SubmergedWeightN   *float64      `json:"submerged_weight_n,omitempty"`
	LeastBackHeadM     *float64      `json:"least_back_head_m,omitempty"`
	EnergyKWhPerYear   *float64      `json:"energy_kwh_per_year,omitempty"`
	LifeCycleCost      *float64      `json:"life_cycle_cost,omitempty"`
	Slam               *SlamJSON     `json:"slam,omitempty"`
}

// FindingJSON is one checked point.
type FindingJSON struct {
	ID       string   `json:"id"`
	Severity string   `json:"severity" jsonschema:"enum=pass,enum=note,enum=condition,enum=unchecked,enum=rejects"`
	Text     string   `json:"text"`
	Value    *float64 `json:"value,omitempty"`
	Limit    *float64 `json:"limit,omitempty"`
	Unit     string   `json:"unit,omitempty"`
	Basis    string   `json:"basis"`
	Mend     string   `json:"mend,omitempty"`
	Missing  string   `json:"missing,omitempty"`
}

// SlamJSON is the slam verdict of one valve.
type SlamJSON struct {
	Class             string    `json:"class" jsonschema:"enum=quiet,enum=audible,enum=harmful,enum=unknown"`
	Method            string    `json:"method"`
	Event             string    `json:"event"`
	DecelerationMS2   *float64  `json:"deceleration_m_s2,omitempty"`
	ReverseVelocityMS *BandJSON `json:"reverse_velocity_m_s,omitempty"`
	HeadRiseM         *BandJSON `json:"head_rise_m,omitempty"`
	ClosedForm        *BandJSON `json:"closed_form_reverse_velocity_m_s,omitempty"`
	DecisiveInput     string    `json:"decisive_input,omitempty"`
}

// NotMadeJSON is a family that does not exist in the sizes looked at.
type NotMadeJSON struct {
	Family string `json:"family"`
	Why    string `json:"why"`
}

// CautionJSON is a caution that goes with the answer.
type CautionJSON struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// MarshalJSON gives the machine form of the study.
func (s *Study) MarshalJSON() ([]byte, error) { return json.Marshal(s.JSON()) }

// JSON builds the machine form.
func (s *Study) JSON() JSON {
	out := JSON{
		Schema:      Schema,
		Station:     stationJSON(s.Station),
		RankingRule: judge.RankingRule, DecisiveFact: s.DecisiveFact, References: s.References,
		Assumed: []AssumedJSON{}, OperatingPoints: []PointJSON{}, Stops: []StopJSON{}, Candidates: []CandidateJSON{},
		NotMade: []NotMadeJSON{}, Rank: []string{}, Warnings: []string{}, Cautions: []CautionJSON{},
	}
	for _, a := range s.Assumed {
		out.Assumed = append(out.Assumed, assumedJSON(a))
	}
	for _, p := range s.Points {
		out.OperatingPoints = append(out.OperatingPoints, p.json())
	}
	for _, st := range s.Stops.All {
		out.Stops = append(out.Stops, StopJSON{st.Name, st.Level, st.Method, *band(st.Deceleration)})
	}
	for i := range s.Assessments {
		a := &s.Assessments[i]
		out.Candidates = append(out.Candidates, candidateJSON(a))
		if a.Rank > 0 {
			out.Rank = append(out.Rank, a.Item.ID)
		}
	}
	for _, n := range s.NotMade {
		out.NotMade = append(out.NotMade, NotMadeJSON{n.Family.ID, n.Why})
	}
	for _, w := range s.Station.Warnings {
		out.Warnings = append(out.Warnings, w.Error())
	}
	for _, c := range s.Cautions {
		out.Cautions = append(out.Cautions, CautionJSON{c.ID, c.Text})
	}
	return out
}

func candidateJSON(a *judge.Assessment) CandidateJSON {
	c := CandidateJSON{
		ID: a.Item.ID, Family: a.Item.Family.ID, Size: a.Item.Size.String(), Variant: a.Item.Variant,
		Verdict: a.Verdict.String(), Rank: a.Rank, RankReason: a.RankReason, Findings: []FindingJSON{},
		LossM: known(a.Governing.Loss), VelocityMS: known(a.Governing.Velocity), Opening: known(a.Governing.Opening),
		FullOpenVelocityMS: known(a.FullOpenVelocity), CrackingHeadM: known(a.CrackingHead), SubmergedWeightN: known(a.SubmergedWeight),
		LeastBackHeadM: known(a.BackHead), LifeCycleCost: known(a.LifeCycleCost),
	}
	if e := known(a.EnergyPerYear); e != nil {
		kwh := *e / 3.6e6
		c.EnergyKWhPerYear = &kwh
	}
	if a.Verdict == judge.Unsuitable {
		c.WhyNot = judge.WhyNot(*a)
	}
	for _, f := range a.Findings {
		c.Findings = append(c.Findings, findingJSON(f))
	}
	if a.Slam.Method != "" {
		c.Slam = &SlamJSON{
			Class: a.Slam.Class, Method: a.Slam.Method, Event: a.Slam.Event, DecelerationMS2: known(a.Slam.Deceleration),
			ReverseVelocityMS: band(a.Slam.ReverseVelocity), HeadRiseM: band(a.Slam.HeadRise), ClosedForm: band(a.Slam.ClosedForm), DecisiveInput: a.Slam.DecisiveInput,
		}
		if c.Slam.Class == "" {
			c.Slam.Class = "unknown"
		}
	}
	return c
}

func stationJSON(st *station.Station) StationJSON {
	return StationJSON{
		Name: st.Name, Place: st.Place, Depth: st.Depth.String(), Fluid: st.Fluid.Kind,
		Size: st.Valve.Size.String(), Position: st.Valve.Position, Hash: st.Hash,
	}
}

func assumedJSON(a Assumed) AssumedJSON {
	v := a.Value
	return AssumedJSON{a.Path, v.Name, v.SI, v.Kind.Symbol(), v.Low, v.High, v.Reason, basis.Cite(v.Source)}
}

func findingJSON(f judge.Finding) FindingJSON {
	j := FindingJSON{ID: f.ID, Severity: f.Severity.String(), Text: f.Text, Value: known(f.Value), Limit: known(f.Limit), Basis: basis.Cite(f.Basis), Mend: f.Mend, Missing: f.Missing}
	if j.Value != nil {
		j.Unit = f.Value.Kind.Symbol()
	}
	return j
}

// known gives the number of a value, or nil where it is not known.
func known(v basis.Value) *float64 {
	if !v.Known() || math.IsNaN(v.SI) || math.IsInf(v.SI, 0) {
		return nil
	}
	return &v.SI
}

func band(v basis.Value) *BandJSON {
	if known(v) == nil {
		return nil
	}
	return &BandJSON{v.Low, v.SI, v.High}
}
