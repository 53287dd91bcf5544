package main

import (
	"seatward/basis"
	"seatward/internal/program"
	"seatward/internal/site"
)

// leakSchema names the machine form of a leak test.
const leakSchema = "seatward.leak/1"

// leakForm is the machine form of a leak test. A number that is unknown is left out.
type leakForm struct {
	Schema     string          `json:"schema"`
	Program    program.Program `json:"program"`
	Cause      string          `json:"cause" jsonschema:"enum=no leak seen,enum=leak through the check valve,enum=main draining back,enum=leak that fades,enum=changing inflow,enum=no pair"`
	Meaning    string          `json:"meaning"`
	Leak       *ranged         `json:"leak_m3_s,omitempty"`
	Least      *ranged         `json:"least_leak_seen_m3_s,omitempty"`
	Inflow     *ranged         `json:"inflow_m3_s,omitempty"`
	Hole       *ranged         `json:"hole_diameter_m,omitempty"`
	Gained     *ranged         `json:"volume_come_back_m3,omitempty"`
	Drains     *ranged         `json:"volume_that_can_drain_m3,omitempty"`
	StartsNow  *ranged         `json:"starts_per_day,omitempty"`
	StartsDry  *ranged         `json:"starts_per_day_without_leak,omitempty"`
	Returned   *ranged         `json:"pumped_again_m3_per_day,omitempty"`
	Cost       *ranged         `json:"energy_cost_per_year,omitempty"`
	PumpFlow   *ranged         `json:"pump_flow_m3_s,omitempty"`
	CurveFlow  *ranged         `json:"pump_flow_by_curve_m3_s,omitempty"`
	RunBack    *ranged         `json:"run_back_speed_rad_s,omitempty"`
	RunHeat    *ranged         `json:"restart_heat_ratio,omitempty"`
	Doubts     []string        `json:"doubts" jsonschema_description:"What in the readings does not fit"`
	References []string        `json:"references"`
}

// ranged is a number with its range.
type ranged struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Basis string  `json:"basis"`
}

// rangedOf is nil for a value that is not known.
func rangedOf(v basis.Value) *ranged {
	if !v.Known() {
		return nil
	}
	return &ranged{v.SI, v.Low, v.High, v.Origin.String()}
}

func leakJSON(l *site.Leak) leakForm {
	x := l.Answer
	out := leakForm{
		Schema: leakSchema, Program: program.This(), Cause: string(x.Cause), Meaning: x.Cause.Meaning(),
		Leak: rangedOf(x.Leak), Least: rangedOf(x.Least), Inflow: rangedOf(x.Inflow), Hole: rangedOf(x.Hole),
		Gained: rangedOf(x.Gained), Drains: rangedOf(l.Test.Site.Drains), StartsNow: rangedOf(x.StartsNow),
		StartsDry: rangedOf(x.StartsDry), Returned: rangedOf(x.Returned), Cost: rangedOf(x.Cost),
		PumpFlow: rangedOf(x.PumpFlow), CurveFlow: rangedOf(l.Test.Site.PumpFlow),
		Doubts:     append([]string{}, l.Doubts()...),
		References: l.References(),
	}
	if l.Site != nil && l.Site.RunBack != nil {
		out.RunBack, out.RunHeat = rangedOf(l.Site.RunBack.Speed), rangedOf(l.Site.RunBack.Heat)
	}
	return out
}
