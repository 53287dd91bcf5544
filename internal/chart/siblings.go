package chart

import (
	"slices"

	"seatward/internal/fieldlog"
	"seatward/internal/trace"
)

// siblings compares the pumps that the log numbers, each by what it logs of it.
func (x *Log) siblings() {
	logged := func(c *fieldlog.Channel) *trace.Logged { return &trace.Logged{Source: c, Held: c.Held()} }
	var pumps []trace.PumpLog
	of := func(n int) *trace.PumpLog {
		i := slices.IndexFunc(pumps, func(p trace.PumpLog) bool { return p.Number == n })
		if i < 0 {
			pumps = append(pumps, trace.PumpLog{Number: n})
			i = len(pumps) - 1
		}
		return &pumps[i]
	}
	var flow, level *trace.Logged
	flows, levels := 0, 0
	for _, c := range x.read.Channels {
		switch m := c.Measures; {
		case m == fieldlog.Level:
			level = logged(c)
			levels++
		case (m == fieldlog.Flow || m == fieldlog.Outflow) && c.Pump == 0:
			flow = logged(c)
			flows++
		case c.Pump == 0:
		case m == fieldlog.State:
			of(c.Pump).State = logged(c)
		case m == fieldlog.Power:
			of(c.Pump).Power = logged(c)
		case m == fieldlog.Flow || m == fieldlog.Outflow:
			of(c.Pump).Flow = logged(c)
		}
	}
	if flows > 1 {
		flow = nil // which of them the pumps make is not known
	}
	if levels > 1 {
		level = nil
	}
	all, apart := trace.Siblings(pumps, flow, level, x.Switches)
	x.Siblings, x.Apart = append(x.Siblings, all...), append(x.Apart, trace.Clearest(apart)...)
}
