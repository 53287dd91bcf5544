package study

import (
	"encoding/json"
	"math"

	"seatward/basis"
	"seatward/internal/program"
	"seatward/judge"
	"seatward/plant"
	"seatward/station"
)

// Schema names the machine form of a Study. It changes only when a key changes
// its meaning.
const Schema = "seatward.study/2"

// JSON is the machine form of a Study, as `select --json` prints it. All numbers
// are SI; the unit stands in the key. A number that is unknown is left out.
type JSON struct {
	Schema          string          `json:"schema" jsonschema_description:"Name and version of this form"`
	Program         program.Program `json:"program"`
	Station         StationJSON     `json:"station"`
	Assumed         []AssumedJSON   `json:"assumed" jsonschema_description:"Every value that the program filled in"`
	OperatingPoints []PointJSON     `json:"operating_points" jsonschema_description:"All pump combinations at both levels, with the first-ranked valve in place"`
	ByHand          []StopJSON      `json:"stops_by_hand" jsonschema_description:"Pump stops by hand formulas: a check on the runs"`
	Separation      string          `json:"column_separation,omitempty" jsonschema_description:"The risk beyond the valve, with the first-ranked valve in place"`
	Pending         int             `json:"pending,omitempty" jsonschema_description:"Valves whose stops are still to be run"`
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
	Severity string   `json:"severity" jsonschema:"enum=pass,enum=note,enum=confirm,enum=condition,enum=open,enum=rejects"`
	Head     string   `json:"head" jsonschema_description:"The finding in a few words, as a heading"`
	Section  string   `json:"section" jsonschema:"enum=liquid,enum=sealing,enum=slam,enum=pressure,enum=flow,enum=fit,enum=rules"`
	Text     string   `json:"text"`
	Value    *float64 `json:"value,omitempty"`
	Limit    *float64 `json:"limit,omitempty"`
	Unit     string   `json:"unit,omitempty"`
	Basis    string   `json:"basis"`
	Mend     string   `json:"mend,omitempty"`
	Missing  string   `json:"missing,omitempty"`
	Beyond   bool     `json:"beyond_valve,omitempty" jsonschema_description:"It threatens the station, whatever the valve"`
	Settles  string   `json:"settled_by,omitempty" jsonschema:"enum=site visit,enum=maker,enum=measurement,enum=owner" jsonschema_description:"Who or what settles a point that is open or to be confirmed"`
}

// SlamJSON is the slam verdict of one valve, from the record of its stops.
type SlamJSON struct {
	Class             string         `json:"class" jsonschema:"enum=quiet,enum=audible,enum=harmful,enum=not run"`
	NotRun            string         `json:"not_run,omitempty" jsonschema_description:"Why there is no number"`
	Method            string         `json:"method"`
	Event             string         `json:"event" jsonschema_description:"The stop that governs, as trip --event takes it"`
	EventTitle        string         `json:"event_title"`
	Pump              string         `json:"pump,omitempty" jsonschema_description:"Whose valve it is, where pumps differ"`
	DecelerationMS2   *float64       `json:"deceleration_m_s2,omitempty" jsonschema_description:"Of the flow at reversal, without the valve"`
	ReverseVelocityMS *BandJSON      `json:"reverse_velocity_m_s,omitempty" jsonschema_description:"Of the hardest seating: best is the run at best estimates, low and high the 5 and 95 % points"`
	MedianMS          *float64       `json:"median_m_s,omitempty"`
	HeadRiseM         *BandJSON      `json:"head_rise_m,omitempty"`
	Chances           *ChancesJSON   `json:"chances,omitempty"`
	Later             *LaterJSON     `json:"later,omitempty"`
	Threshold         *ThresholdJSON `json:"threshold,omitempty"`
	Resolved          bool           `json:"resolved"`
	AtRest            bool           `json:"comes_to_rest"`
	Runs              int            `json:"runs" jsonschema_description:"Draws of all uncertain numbers behind interval and chances"`
	Failed            int            `json:"runs_without_closing,omitempty"`
	DecisiveInput     string         `json:"decisive_input,omitempty"`
}

// ChancesJSON are the chances of the classes of slam over all uncertain numbers.
type ChancesJSON struct {
	Quiet   float64 `json:"quiet"`
	Audible float64 `json:"audible"`
	Harmful float64 `json:"harmful"`
}

// LaterJSON are the seatings after the first.
type LaterJSON struct {
	Count   int     `json:"count"`
	WorstMS float64 `json:"worst_m_s"`
	TimeS   float64 `json:"time_s"`
}

// ThresholdJSON is the value of one fact at which the class changes.
type ThresholdJSON struct {
	Fact   string  `json:"fact"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Milder string  `json:"milder" jsonschema:"enum=above,enum=below"`
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
		Program:     program.This(),
		Station:     stationJSON(s.Station),
		RankingRule: judge.RankingRule, DecisiveFact: s.DecisiveFact, Separation: s.Separation, Pending: s.Pending,
		References: s.References,
		Assumed:    []AssumedJSON{}, OperatingPoints: []PointJSON{}, ByHand: []StopJSON{},
		Candidates: []CandidateJSON{},
		NotMade:    []NotMadeJSON{}, Rank: []string{}, Warnings: []string{}, Cautions: []CautionJSON{},
	}
	for _, a := range s.Assumed {
		out.Assumed = append(out.Assumed, assumedJSON(a))
	}
	for i := range s.Points {
		out.OperatingPoints = append(out.OperatingPoints, pointJSON(&s.Points[i]))
	}
	for _, st := range s.ByHand.All {
		out.ByHand = append(out.ByHand, StopJSON{st.Name, st.Level, st.Method, bandOr(st.Deceleration)})
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
		FullOpenVelocityMS: known(a.FullOpenVelocity), CrackingHeadM: known(a.CrackingHead),
		SubmergedWeightN: known(a.SubmergedWeight),
		LeastBackHeadM:   known(a.BackHead), LifeCycleCost: known(a.LifeCycleCost),
	}
	if e := known(a.EnergyPerYear); e != nil {
		kwh := *e / 3.6e6
		c.EnergyKWhPerYear = &kwh
	}
	if a.Verdict == judge.Unsuitable {
		c.WhyNot = judge.WhyNot(*a)
	}
	for _, f := range a.Findings {
		c.Findings = append(c.Findings, FindingOf(f))
	}
	c.Slam = slamJSON(a)
	return c
}

// slamJSON is the slam of a judged valve; nil where its stops are still to be run.
func slamJSON(a *judge.Assessment) *SlamJSON {
	x := &a.Slam
	if x.NotRun != "" {
		return &SlamJSON{Class: "not run", NotRun: x.NotRun}
	}
	if a.Answer == nil || a.Answer.Worst == nil {
		return nil
	}
	out := &SlamJSON{
		Class: x.Class, Method: x.Method, Event: x.EventID, EventTitle: x.Event, Pump: x.Pump,
		DecelerationMS2:   known(x.Deceleration),
		ReverseVelocityMS: band(x.ReverseVelocity), MedianMS: &x.MedianMS, HeadRiseM: band(x.HeadRise),
		Chances: &ChancesJSON{x.Chances.Quiet, x.Chances.Audible, x.Chances.Harmful}, Resolved: x.Resolved,
		AtRest: x.AtRest,
		Runs:   x.Runs, Failed: x.Failed, DecisiveInput: x.DecisiveInput,
	}
	if l := x.Later; l.Count > 0 {
		out.Later = &LaterJSON{l.Count, l.WorstMS, l.TimeS}
	}
	if t := x.Threshold; t != nil {
		side := "below"
		if t.Above {
			side = "above"
		}
		out.Threshold = &ThresholdJSON{t.Fact.Name, t.At.SI, t.At.Kind.Symbol(), side}
	}
	return out
}

func stationJSON(st *station.Station) StationJSON {
	return StationJSON{
		Name: st.Name, Place: st.Place, Depth: st.Depth.String(), Fluid: string(st.Fluid.Kind),
		Size: st.Valve.Size.String(), Position: st.Valve.Position.String(), Hash: st.Hash,
	}
}

func assumedJSON(a Assumed) AssumedJSON {
	v := a.Value
	return AssumedJSON{a.Path, v.Name, v.SI, v.Kind.Symbol(), v.Low, v.High, v.Reason, basis.Cite(v.Source)}
}

// FindingOf is the machine form of a finding.
func FindingOf(f judge.Finding) FindingJSON {
	j := FindingJSON{
		ID: f.Kind.ID, Severity: f.Severity.String(), Head: f.Kind.Title(), Section: string(f.Kind.Point.Section),
		Text:  f.Text,
		Value: known(f.Value), Limit: known(f.Limit), Basis: basis.Cite(f.Basis), Mend: f.Mend, Missing: f.Missing,
		Settles: f.Settler(), Beyond: f.Kind.Beyond,
	}
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

// bandOr is the band of a value that may not be known: zeros then.
func bandOr(v basis.Value) BandJSON {
	if b := band(v); b != nil {
		return *b
	}
	return BandJSON{}
}

func pointJSON(pt *plant.Point) PointJSON {
	j := PointJSON{
		PumpsRunning: pt.Running, Pumps: pt.Pumps, Level: pt.Level.String(), Valve: pt.Valve, FlowM3S: pt.Flow.SI,
		HeadM:       pt.Head.SI,
		StaticHeadM: pt.StaticHead.SI, MainVelocity: pt.MainVelocity.SI, Efficiency: known(pt.Efficiency),
		Notes:     pt.Notes,
		ValveFlow: []float64{}, ValveLoss: []float64{},
	}
	if w := known(pt.Power); w != nil {
		kw := *w / 1000
		j.PowerKW = &kw
	}
	for i := range pt.ValveFlow {
		j.ValveFlow = append(j.ValveFlow, pt.ValveFlow[i].SI)
		j.ValveLoss = append(j.ValveLoss, pt.ValveLoss[i].SI)
	}
	return j
}
