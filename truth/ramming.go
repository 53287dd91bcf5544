package truth

import (
	"fmt"
	"math"

	"seatward/transient"
	"seatward/valve"
)

// failing is a supply whose head falls evenly from the steady one to none.
type failing struct{ headM, overS float64 }

// HeadAt is the head, whatever the flow.
func (f failing) HeadAt(timeS, _, _ float64) float64 {
	return f.headM * math.Max(0, 1-timeS/f.overS)
}

// Draw takes nothing from it.

// The line in which a valve closes, is lifted by the wave, and slams again: 60 m from a
// supply that fails in 1.7 s to a tank at 25 m.
const (
	rammingV0, rammingTankM, rammingFrictionFactor = 1.0, 25.0, 0.02
	rammingLengthM, rammingWaveMS, rammingReaches  = 60.0, 1000.0, 24
	rammingFallS, rammingWindowS                   = 1.7, 4.0
	rammingBoreM                                   = 0.15
)

// cagedBall is the caged ball of the reference valves, floating in the flow before the
// failure, with the head that it costs there, m.
func cagedBall() (*valve.InLine, float64, error) {
	typ, err := valve.TypeNamed("ball-cage")
	if err != nil {
		return nil, 0, err
	}
	m, err := typ.Build(typ.Numbers(referenceValves["C"].values, "reference valve"),
		valve.Setting{DensityKgM3: 1000, GravityMS2: roundGravity, InclinationRad: math.Pi / 2})
	if err != nil {
		return nil, 0, err
	}
	line := valve.NewInLine(m, m.Settle(rammingV0).Xi, rammingV0)
	return line, line.DropM(rammingV0 * m.AreaM2()), nil
}

// ramming is the line with the check valve, which costs so much head, at its beginning.
func ramming(check transient.Device, dropM float64) (*transient.Network, transient.Pipe, error) {
	p := transient.Pipe{
		Name: "pipe", From: "from", To: "to", LengthM: rammingLengthM, DiameterM: rammingBoreM,
		WaveSpeedMS: rammingWaveMS, FrictionFactor: rammingFrictionFactor,
	}
	p.FlowM3S = rammingV0 * p.AreaM2()
	p.HeadM = rammingTankM + p.FrictionFactor*p.LengthM/p.DiameterM*rammingV0*rammingV0/(2*roundGravity)
	n, err := transient.New(transient.Model{
		GravityMS2: roundGravity, StepS: p.TravelS() / rammingReaches, Pipes: []transient.Pipe{p},
		Nodes: map[string]transient.Boundary{
			"from": &transient.Branch{
				Supply: failing{p.HeadM + dropM, rammingFallS},
				Chain:  &transient.Chain{Device: check},
			},
			"to": transient.Level{HeadM: rammingTankM},
		},
	})
	return n, p, err
}

var (
	_ = evaluator("failing-supply/caged ball", "transient.Branch, valve.InLine", func(in Inputs) (float64, error) {
		line, drop, err := cagedBall()
		if err != nil {
			return 0, err
		}
		n, _, err := ramming(line, drop)
		if err != nil {
			return 0, err
		}
		// Of each closing, as it happens; one that does not come is none at all.
		nth, read, seated, got := int(in.F("closing")), in.S("read"), 0, 0.0
		err = until(n, rammingWindowS, func() {
			if line.Motion.Seatings == seated {
				return
			}
			if seated = line.Motion.Seatings; seated == nth {
				got = map[string]float64{
					"reverse": line.Motion.Last().ReverseMS,
					"time":    line.Motion.Last().TimeS,
				}[read]
			}
		})
		return got, err
	})
	_ = evaluator("failing-supply/ideal check", "transient.Branch, transient.IdealCheck",
		func(in Inputs) (float64, error) {
			check := &transient.IdealCheck{}
			n, _, err := ramming(check, 0)
			if err != nil {
				return 0, err
			}
			most, reopened, shut, at := 0.0, 0, false, head(n, 0)
			err = until(n, rammingWindowS, func() {
				most = math.Max(most, at())
				if shut && !check.Shut {
					reopened++
				}
				shut = check.Shut
			})
			switch read := in.S("read"); {
			case err != nil:
				return 0, err
			case read == "shuts":
				return check.ShutS, nil
			case read == "most-head":
				return most, nil
			case read == "reopened":
				return float64(reopened), nil
			default:
				return 0, fmt.Errorf("nothing of an ideal check is called %q", read)
			}
		})
)
