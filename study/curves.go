package study

import (
	"fmt"
	"math"

	"seatward/catalog"
	"seatward/valve"
)

// LossPoint is one flow of a loss curve.
type LossPoint struct {
	FlowM3S    float64 `json:"flow_m3_s"`
	VelocityMS float64 `json:"velocity_m_s"`
	Opening    float64 `json:"opening"`
	State      string  `json:"state"`
	K          float64 `json:"loss_coefficient"`
	LossM      float64 `json:"loss_m"`
}

// LossTable is the head that a valve loses over its flows.
type LossTable struct {
	Valve              string      `json:"valve"`
	FullOpenVelocityMS float64     `json:"full_open_velocity_m_s"`
	FullOpenMeaning    string      `json:"full_open_meaning"`
	CrackingHeadM      float64     `json:"cracking_head_m"`
	Points             []LossPoint `json:"points"`
}

// lossVelocities are the velocities of a loss table, m/s: even on a logarithmic axis.
var lossVelocities = []float64{0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.7, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 4, 5}

// LossCurve is what the valve loses from flows that hardly open it to the greatest.
func LossCurve(it *catalog.Item, m *valve.Mechanism) LossTable {
	open := m.FullOpenVelocity()
	out := LossTable{Valve: it.ID, FullOpenVelocityMS: open.VelocityMS, FullOpenMeaning: open.Meaning.String(), CrackingHeadM: m.CrackingHeadM()}
	for _, v := range lossVelocities {
		r := m.Settle(v)
		out.Points = append(out.Points, LossPoint{FlowM3S: v * m.AreaM2(), VelocityMS: v, Opening: r.Share, State: r.Standing.String(), K: r.Loss, LossM: r.HeadM})
	}
	return out
}

// ClosingPoint is one deceleration of a closing curve.
type ClosingPoint struct {
	DecelerationMS2   float64 `json:"deceleration_m_s2"`
	ReverseVelocityMS float64 `json:"reverse_velocity_m_s"`
	BoundMS           float64 `json:"reverse_velocity_without_pull_m_s"`
	TimeS             float64 `json:"closing_time_s"`
	SeatingSpeed      float64 `json:"seating_speed"`
	Outcome           string  `json:"outcome"`
	Station           bool    `json:"station,omitempty"`
}

// ClosingTable is a valve's computed closing curve.
type ClosingTable struct {
	Valve           string         `json:"valve"`
	StartVelocityMS float64        `json:"start_velocity_m_s"`
	StartOpening    float64        `json:"start_opening"`
	Rotary          bool           `json:"seating_speed_in_rad_s"`
	Event           string         `json:"event,omitempty"`
	Points          []ClosingPoint `json:"points"`
}

// ClosingCurve closes the valve under each deceleration, from the velocity given, or
// that before the station's worst stop, or the one that opens it in full. The
// station's own point is put in its place among the decelerations.
func ClosingCurve(it *catalog.Item, m *valve.Mechanism, s *Study, startMS float64, rates []float64) (ClosingTable, error) {
	out := ClosingTable{Valve: it.ID, StartVelocityMS: startMS, Rotary: m.Rotary}
	own := math.NaN()
	if s != nil && s.Assessments[0].Slam.Deceleration.Known() {
		own = s.Assessments[0].Slam.Deceleration.SI
		out.Event = s.Assessments[0].Slam.Event
		rates = insert(rates, own)
		if startMS == 0 {
			stop, _ := s.Stops.Worst()
			out.StartVelocityMS = stop.Velocity.SI * math.Pow(s.Stops.Bore.SI/m.BoreM, 2)
		}
	}
	if out.StartVelocityMS == 0 {
		out.StartVelocityMS = math.Max(m.FullOpenVelocity().VelocityMS, 0.5)
	}
	rest := m.Settle(out.StartVelocityMS)
	if rest.Standing == valve.Closed {
		return out, fmt.Errorf("a velocity of %.2f m/s does not open %s", out.StartVelocityMS, it.ID)
	}
	out.StartOpening = rest.Share
	points, err := m.ClosingCurve(out.StartVelocityMS, rates)
	if err != nil {
		return out, err
	}
	for _, p := range points {
		out.Points = append(out.Points, ClosingPoint{
			DecelerationMS2: p.DecelerationMS2, ReverseVelocityMS: p.Closing.ReverseVelocityMS, BoundMS: p.BoundMS,
			TimeS: p.Closing.TimeS, SeatingSpeed: p.Closing.SeatingSpeed, Outcome: p.Closing.Outcome.String(), Station: p.DecelerationMS2 == own,
		})
	}
	return out, nil
}

func insert(rates []float64, x float64) []float64 {
	var out []float64
	for _, r := range rates {
		if x < r && (len(out) == 0 || out[len(out)-1] < x) {
			out = append(out, x)
		}
		if r != x {
			out = append(out, r)
		}
	}
	if len(out) == 0 || out[len(out)-1] < x {
		out = append(out, x)
	}
	return out
}
