package chart

import (
	"cmp"
	"fmt"
	"slices"

	"seatward/internal/figure"
	"seatward/internal/program"
	"seatward/quantity"
	"seatward/study"
)

// ClosingsSchema names the machine form of Closings.
const ClosingsSchema = "seatward.closings/1"

// Closings are the closing curves of one valve of each family, of one size, on one chart.
type Closings struct {
	Schema    string          `json:"schema"`
	Program   program.Program `json:"program"`
	Size      string          `json:"size"`
	QuietMS   float64         `json:"quiet_below_m_s"`
	HarmfulMS float64         `json:"harmful_above_m_s"`
	Draws     int             `json:"draws" jsonschema_description:"Draws behind each median and band"`
	Curves    []KindCurve     `json:"curves" jsonschema_description:"The greatest reverse velocity first, at the middle deceleration"`
	Without   []string        `json:"families_without_the_size,omitempty"`
}

// KindCurve is the closing curve of one of them.
type KindCurve struct {
	Valve           string         `json:"valve"`
	Title           string         `json:"title"`
	Position        string         `json:"position"`
	Law             string         `json:"law" jsonschema_description:"How the valve's law at part opening was come by: computed, measured or assumed"`
	LawText         string         `json:"law_text"`
	StartVelocityMS study.BandJSON `json:"start_velocity_m_s"`
	Points          []ClosingPoint `json:"points"`
}

// median is that of the point in the middle.
func (k *KindCurve) median() float64 { return k.Points[len(k.Points)/2].MedianMS }

// NewClosings closes draws of each valve under each deceleration, as NewClosing does.
func NewClosings(size quantity.Size, valves []*Valve, ask Stop, sys quantity.System) (*Closings, error) {
	out := &Closings{
		Schema: ClosingsSchema, Program: program.This(), Size: size.Format(sys), QuietMS: ask.QuietMS,
		HarmfulMS: ask.HarmfulMS,
	}
	for _, v := range valves {
		c, err := NewClosing(v, ask, sys)
		if err != nil {
			return nil, err
		}
		out.Draws = c.Draws
		known := v.Mechanism.Known
		out.Curves = append(out.Curves, KindCurve{
			Valve: c.Valve, Title: v.Item.Family.Title, Position: c.Position, Law: known.Word, LawText: known.Text,
			StartVelocityMS: c.StartVelocityMS, Points: c.Points,
		})
	}
	slices.SortStableFunc(out.Curves, func(a, b KindCurve) int { return cmp.Compare(b.median(), a.median()) })
	return out, nil
}

// lawStyle is the ink of a law; dashes tell curves of one ink apart.
var lawStyle = map[string]figure.Style{"computed": figure.Water, "assumed": figure.Amber, "measured": figure.Rust}

// Figure draws the medians on logarithmic axes, each with its valve's name and its law.
func (c *Closings) Figure(sys quantity.System) *figure.Figure {
	speed := func(x float64) float64 { return sys.In(quantity.Velocity, x) }
	panel := figure.Panel{
		Title:  fmt.Sprintf("Median of %d draws, even deceleration between long pipes", c.Draws),
		XLabel: axis("Deceleration", quantity.Acceleration, sys),
		YLabel: axis("Reverse velocity", quantity.Velocity, sys), LogX: true, LogY: true,
		Levels: []figure.Level{
			{Y: speed(c.QuietMS), Text: "quiet below", Style: figure.Ink},
			{Y: speed(c.HarmfulMS), Text: "harmful above", Style: figure.Ink},
		},
	}
	drawn := map[string]int{}
	for i := range c.Curves {
		k := &c.Curves[i]
		s := figure.Series{Name: k.Valve + ": " + k.Law, Style: lawStyle[k.Law], Dash: drawn[k.Law]%2 == 1}
		drawn[k.Law]++
		for j := range k.Points {
			s.X, s.Y = append(s.X, sys.In(quantity.Acceleration, k.Points[j].DecelerationMS2)), append(s.Y,
				speed(k.Points[j].MedianMS))
		}
		panel.Series = append(panel.Series, s)
	}
	return &figure.Figure{
		Title:  "Closing curves of all families, " + c.Size,
		Note:   "Each stops from just above its full-open velocity. Law at part opening: computed, measured or assumed, as named. Preliminary, for review.",
		Panels: []figure.Panel{panel}, PanelHeight: 560, Width: 1000, NameRoom: 240,
	}
}
