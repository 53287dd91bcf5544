package chart

import (
	"math"
	"slices"

	"seatward/internal/program"
	"seatward/quantity"
	"seatward/valve"
)

// LossSchema names the machine form of a Loss.
const LossSchema = "seatward.loss/1"

// LossPoint is one flow of a loss curve.
type LossPoint struct {
	FlowM3S    float64 `json:"flow_m3_s"`
	VelocityMS float64 `json:"velocity_m_s"`
	Opening    float64 `json:"opening" jsonschema_description:"0 closed, 1 at the end of the stroke"`
	State      string  `json:"state" jsonschema:"enum=closed,enum=floating,enum=parked,enum=full open"`
	PartOpen   bool    `json:"part_open" jsonschema_description:"The flow does not open the valve in full: the loss does not fall with the square of the flow"`
	K          float64 `json:"loss_coefficient" jsonschema_description:"On the velocity head in the valve's bore"`
	LossM      float64 `json:"loss_m"`
	Duty       string  `json:"duty,omitempty" jsonschema_description:"The station's operating point, where this is one"`
}

// Loss is the head that a valve loses over its flows.
type Loss struct {
	Schema             string          `json:"schema"`
	Program            program.Program `json:"program"`
	Valve              string          `json:"valve"`
	Position           string          `json:"position"`
	Station            string          `json:"station,omitempty"`
	BoreM              float64         `json:"bore_m"`
	DensityKgM3        float64         `json:"density_kg_m3"`
	FullOpenVelocityMS float64         `json:"full_open_velocity_m_s"`
	FullOpenMeaning    string          `json:"full_open_meaning"`
	FullOpenK          float64         `json:"full_open_loss_coefficient"`
	CrackingHeadM      float64         `json:"cracking_head_m"`
	Points             []LossPoint     `json:"points"`
	Line               []LossPoint     `json:"-"` // dense, for drawing
}

// The velocities in the bore that a loss curve spans unless flows are asked for, m/s:
// from hardly open to the greatest that pump piping is made for.
const (
	slowMS = 0.15
	fastMS = 4.6
)

// justAbove puts the point that opens a valve in full on the side where it is open.
const justAbove = 1 + 1e-6

// linePoints is how many points a line is drawn through.
const linePoints = 200

// NewLoss works out the loss at the flows, m³/s and rising; at round flows of the
// system where none are asked for. The flow that opens the valve in full and the
// station's operating points are put in between.
func NewLoss(v *Valve, flowsM3S []float64, sys quantity.System) *Loss {
	m := v.Mechanism
	open := m.FullOpenVelocity()
	out := &Loss{
		Schema: LossSchema, Program: program.This(), Valve: v.Item.ID, Position: v.Position.String(),
		Station: v.station(), BoreM: m.BoreM, DensityKgM3: m.DensityKgM3,
		FullOpenVelocityMS: open.VelocityMS, FullOpenMeaning: open.Meaning.String(), FullOpenK: open.Loss,
		CrackingHeadM: m.CrackingHeadM(),
	}
	if len(flowsM3S) == 0 {
		flowsM3S = Round(sys, quantity.Flow, slowMS*m.AreaM2(), fastMS*m.AreaM2())
	}
	flowsM3S = slices.Clone(flowsM3S)
	low, high := flowsM3S[0], flowsM3S[len(flowsM3S)-1]
	if q := open.VelocityMS * justAbove * m.AreaM2(); q > low && q < high {
		flowsM3S = insert(flowsM3S, q)
	}
	duties := map[float64]string{}
	if a := v.Assessment(); a != nil {
		for _, d := range a.Duties {
			if q := d.Flow.SI; q > 0 && duties[q] == "" {
				duties[q] = d.Name
				flowsM3S = insert(flowsM3S, q)
			}
		}
	}
	for _, q := range flowsM3S {
		p := lossAt(m, q)
		p.Duty = duties[q]
		out.Points = append(out.Points, p)
	}
	low, high = flowsM3S[0], flowsM3S[len(flowsM3S)-1]
	for i := range linePoints {
		out.Line = append(out.Line, lossAt(m, low*math.Pow(high/low, float64(i)/(linePoints-1))))
	}
	return out
}

func lossAt(m *valve.Mechanism, flowM3S float64) LossPoint {
	v := flowM3S / m.AreaM2()
	r := m.Settle(v)
	p := LossPoint{
		FlowM3S: flowM3S, VelocityMS: v, Opening: r.Share, State: r.Standing.String(), K: r.Loss,
		LossM: r.HeadM,
	}
	// An element that parks is taken as open from the velocity that parks it clear.
	p.PartOpen = r.Standing != valve.FullOpen &&
		(r.Standing != valve.Parked || v < m.FullOpenVelocity().VelocityMS*(1-1e-9))
	return p
}
