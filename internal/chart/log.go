package chart

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"time"

	"seatward/diag"
	"seatward/internal/fieldlog"
	"seatward/internal/program"
	"seatward/internal/trace"
	"seatward/quantity"
	"seatward/station"
)

// LogSchema names the machine form of a Log.
const LogSchema = "seatward.log/1"

// Log is what a log of a logger or control system holds.
type Log struct {
	Schema    string              `json:"schema"`
	Program   program.Program     `json:"program"`
	File      string              `json:"file"`
	Station   string              `json:"station,omitempty"`
	Rows      int                 `json:"rows"`
	Clock     bool                `json:"clock" jsonschema_description:"Times are ns since 1970 by the clock of the log; else ns since its start"`
	Zoned     bool                `json:"time_zone_given"`
	Zone      string              `json:"time_zone,omitempty" jsonschema_description:"Of the clock that wrote the log; the times here are UTC then"`
	From      string              `json:"from"`
	To        string              `json:"to"`
	Channels  []LogChannel        `json:"channels"`
	Notes     []string            `json:"notes"`
	Questions []fieldlog.Question `json:"questions"`
	Traps     []trace.Trap        `json:"traps"`
	Switches  []trace.Operation   `json:"operations" jsonschema_description:"Starts and stops by state, power, current or flow"`
	Traces    []LogTrace          `json:"traces"`
	Siblings  []trace.Sibling     `json:"pumps" jsonschema_description:"What each pump does, where there are several with numbers"`
	Apart     []trace.Apart       `json:"pumps_apart" jsonschema_description:"Differences of pumps of like power, the clear ones first"`

	read *fieldlog.Log
}

// LogChannel is one channel of the log.
type LogChannel struct {
	Name     string  `json:"name"`
	Measures string  `json:"measures"`
	Unit     string  `json:"unit"`
	Sample   string  `json:"sample"`
	Pump     int     `json:"pump,omitempty"`
	Readings int     `json:"readings"`
	StepS    float64 `json:"step_s"`
	Held     bool    `json:"held" jsonschema_description:"Only changes are stored; a value holds until the next one"`
	Low      float64 `json:"low" jsonschema_description:"In the unit of the log"`
	High     float64 `json:"high"`
	Gaps     int     `json:"gaps"`
	LongestS float64 `json:"longest_gap_s"`
	Skipped  int     `json:"cells_left_out"`
}

// LogTrace is what was found in one channel of pressure or head.
type LogTrace struct {
	Channel string `json:"channel"`
	Fast    bool   `json:"looked_for_slam" jsonschema_description:"False for means and extremes of an interval"`
	*trace.Report
	source trace.Source
}

// heads are the measures that are read as a head over the gauge.
var heads = []fieldlog.Measure{fieldlog.Pressure, fieldlog.Absolute, fieldlog.Head}

// FactsOf are what a station says of its main; none for a nil station.
func FactsOf(st *station.Station) trace.Facts {
	if st == nil {
		return trace.Facts{}
	}
	f := trace.Facts{
		DensityKgM3: st.Fluid.Density.SI, GravityMS2: quantity.StandardGravity, AirPressurePa: st.Site.AirPressure.SI,
		VaporPa: st.Fluid.VaporPressure.SI, StaticM: st.OutletHeadM() - st.ValveAboveDatum(),
	}
	var travel, low, high float64
	for i := range st.Main.Runs {
		r := &st.Main.Runs[i]
		if !(r.WaveSpeed.SI > 0) {
			return f
		}
		f.LengthM += r.Length.SI
		travel += r.Length.SI / r.WaveSpeed.SI
		low += r.Length.SI / math.Max(1, r.WaveSpeed.Low)
		high += r.Length.SI / math.Max(1, r.WaveSpeed.High)
		if i == 0 { // the pipe that the header feeds
			f.BoreM = r.InnerDiameter.SI
		}
	}
	f.Branch = branchOf(st)
	if travel > 0 {
		f.WaveMS, f.WaveLow, f.WaveHigh = f.LengthM/travel, f.LengthM/low, f.LengthM/high
	}
	return f
}

// branchOf are the facts of the pipe from the valve to the header; none where a wave speed is missing.
func branchOf(st *station.Station) trace.Branch {
	var b trace.Branch
	var travel, low, high float64
	for i := range st.Branch.Runs {
		r := &st.Branch.Runs[i]
		if !(r.WaveSpeed.SI > 0) {
			return trace.Branch{}
		}
		b.LengthM += r.Length.SI
		travel += r.Length.SI / r.WaveSpeed.SI
		low += r.Length.SI / math.Max(1, r.WaveSpeed.Low)
		high += r.Length.SI / math.Max(1, r.WaveSpeed.High)
		if i == 0 {
			b.BoreM = r.InnerDiameter.SI
		}
	}
	if travel > 0 {
		b.WaveMS, b.WaveLow, b.WaveHigh = b.LengthM/travel, b.LengthM/low, b.LengthM/high
	}
	return b
}

// NewLog looks for events and traps in a log that was read. The station may be nil.
func NewLog(l *fieldlog.Log, st *station.Station) *Log {
	x := &Log{
		Schema: LogSchema, Program: program.This(), File: l.File, Rows: l.Rows, Clock: l.Clock, Zoned: l.Zoned,
		Zone:     l.Zone,
		Channels: []LogChannel{}, Notes: append([]string{}, l.Notes...), read: l,
		Questions: append([]fieldlog.Question{}, l.Questions...), Traps: []trace.Trap{}, Traces: []LogTrace{},
		Switches: []trace.Operation{}, Siblings: []trace.Sibling{}, Apart: []trace.Apart{},
	}
	if st != nil {
		x.Station = st.Name
	}
	first, last := int64(math.MaxInt64), int64(math.MinInt64)
	for _, c := range l.Channels {
		if c.Len() > 0 {
			first, last = min(first, c.Whole().From), max(last, c.Whole().To)
		}
		x.Channels = append(x.Channels, channelOf(c))
	}
	x.From, x.To = x.When(first), x.When(last)
	groups := x.switches()
	f := FactsOf(st)
	for _, c := range l.Channels {
		if slices.Contains(heads, c.Measures) {
			x.trace(c, f)
		}
	}
	x.traps(f, groups)
	x.siblings()
	return x
}

// When writes a time of the log.
func (x *Log) When(ns int64) string {
	if x.Clock {
		return time.Unix(0, ns).UTC().Format("2006-01-02 15:04:05.000")
	}
	return fmt.Sprintf("%.3f s", float64(ns)/1e9)
}

func channelOf(c *fieldlog.Channel) LogChannel {
	step, _ := c.Step()
	out := LogChannel{
		Name: c.Name, Measures: string(c.Measures), Unit: c.Unit, Sample: string(c.Sample), Pump: c.Pump, StepS: step,
		Held: c.Held(), Skipped: c.Skipped, Low: math.Inf(1), High: math.Inf(-1),
	}
	for i := range c.Len() {
		if v, ok := c.Logged(i); ok {
			out.Readings++
			out.Low, out.High = math.Min(out.Low, v), math.Max(out.High, v)
		}
	}
	for _, g := range c.Gaps() {
		out.Gaps++
		out.LongestS = math.Max(out.LongestS, g.Seconds())
	}
	return out
}

// switched is what one channel shows of starts and stops.
type switched struct {
	c   *fieldlog.Channel
	ops []trace.Operation
}

// switches reads starts and stops from every channel that shows them.
func (x *Log) switches() []switched {
	var groups []switched
	var all []trace.Operation
	for _, m := range []fieldlog.Measure{
		fieldlog.State, fieldlog.Power, fieldlog.Current, fieldlog.Flow,
		fieldlog.Outflow,
	} {
		for _, c := range x.read.Channels {
			if c.Measures != m || c.Sample == fieldlog.Mean {
				continue
			}
			ops := trace.Switches(c, string(m), c.Pump)
			if (m == fieldlog.Flow || m == fieldlog.Outflow) && len(all) > 0 {
				continue // a flow follows what better signals show
			}
			groups, all = append(groups, switched{c, ops}), append(all, ops...)
		}
	}
	x.Switches = append(x.Switches, trace.Sorted(all, 10)...)
	return groups
}

// trace looks for events in a channel of pressure or head.
func (x *Log) trace(c *fieldlog.Channel, f trace.Facts) {
	var s trace.Source = c
	density, air := 998.0, 101_325.0
	if f.DensityKgM3 > 0 {
		density, air = f.DensityKgM3, f.AirPressurePa
	}
	weight := density * quantity.StandardGravity
	switch c.Measures {
	case fieldlog.Pressure:
		s = trace.Scaled{Source: c, Scale: 1 / weight}
	case fieldlog.Absolute:
		s = trace.Scaled{Source: c, Scale: 1 / weight, Offset: -air / weight}
	}
	o := trace.Options{
		Mean: c.Sample == fieldlog.Mean, Extreme: c.Sample == fieldlog.Max || c.Sample == fieldlog.Min,
		Operations: x.Switches,
	}
	if step, _ := c.Step(); c.Sample == fieldlog.Unsaid && step >= 10 || c.Held() {
		o.Mean = true // it may be a mean, or a value held: neither has the shape of an event
	}
	r := trace.Analyze(s, f, o)
	x.Traces = append(x.Traces, LogTrace{Channel: c.Name, Fast: !o.Mean && !o.Extreme, Report: r, source: s})
}

// named are the channels of some measures.
func (x *Log) named(measures ...fieldlog.Measure) []trace.Named {
	var out []trace.Named
	for _, c := range x.read.Channels {
		if slices.Contains(measures, c.Measures) {
			out = append(out, trace.Named{Source: c, Name: c.Name, Pump: c.Pump})
		}
	}
	return out
}

// traps looks for what would lead to a wrong conclusion.
func (x *Log) traps(f trace.Facts, groups []switched) {
	add := func(t *trace.Trap) {
		if t != nil {
			x.Traps = append(x.Traps, *t)
		}
	}
	in, out := x.named(fieldlog.Inflow), x.named(fieldlog.Outflow, fieldlog.Flow)
	powers, states, levels := x.named(fieldlog.Power), x.named(fieldlog.State), x.named(fieldlog.Level)
	for _, i := range in {
		for _, o := range out {
			for _, v := range x.named(fieldlog.Volume) {
				add(trace.Balance(i, o, v, true))
			}
			for _, l := range levels {
				add(trace.Balance(i, o, l, false))
			}
		}
	}
	for _, e := range x.named(fieldlog.Efficiency) {
		add(trace.Efficiency(e, powers))
	}
	for _, l := range levels {
		add(trace.TooDeep(l))
	}
	for _, s := range states {
		add(trace.AveragedState(s))
	}
	add(trace.Swapped(states, append(slices.Clone(powers), x.named(fieldlog.Current)...)))
	if len(out) == 1 && len(powers) == 1 && len(x.Traces) == 1 {
		head := trace.Named{Source: x.Traces[0].source, Name: x.Traces[0].Channel}
		add(trace.WaterPower(out[0], head, powers[0]))
	}
	for i := range x.Traces {
		for k := range x.Traces {
			if a, b := &x.Traces[i], &x.Traces[k]; isSuction(a.Channel) && !isSuction(b.Channel) {
				add(trace.BelowSuction(trace.Named{Source: a.source, Name: a.Channel}, trace.Named{
					Source: b.source,
					Name:   b.Channel,
				}))
			}
		}
	}
	for i := range groups {
		for k := i + 1; k < len(groups); k++ {
			a, b := groups[i], groups[k]
			if step, _ := b.c.Step(); a.c.Pump == b.c.Pump && a.c.Measures != b.c.Measures {
				add(trace.Shifted(trace.Switching{Name: a.c.Name, Operations: a.ops, StepS: step},
					trace.Switching{Name: b.c.Name, Operations: b.ops, StepS: step}))
			}
		}
	}
}

var suctionWords = regexp.MustCompile(`(?i)suction|inlet|saug`)

func isSuction(name string) bool { return suctionWords.MatchString(name) }

// NoEvents is the message for a log in which nothing can be looked for; nil where something can.
func (x *Log) NoEvents() *diag.Message {
	if len(x.Traces) > 0 || len(x.Switches) > 0 {
		return nil
	}
	return &diag.Message{
		ID: "log-no-pressure", Severity: diag.Warning, Place: diag.Place{File: x.File},
		Text: "no channel is known to be a pressure, a head, a state, a power or a flow; no events are looked for",
		Mend: "say in the map what the channels measure and in which unit",
	}
}
