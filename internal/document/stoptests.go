package document

import (
	"cmp"
	"slices"

	"seatward/internal/trace"
	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
)

// stopTest is a stop that a crew makes, with what must be agreed on before it is made.
type stopTest struct {
	*plant.Stop
	agree []string // what it is predicted to bring; empty for one that needs no agreement
}

// milder are the kinds of stop, the mildest first.
var milder = []string{plant.NormalStop, plant.OneTrips, plant.Schedule, plant.PowerFailure}

// stopTests are the stops that were run, from mild to severe: by what they are predicted to
// bring, then normal stops before trips and trips before power failures, then by the
// greatest head at the valve and the reverse velocity.
func (w *sheet) stopTests() []stopTest {
	if w.Assessment.Answer == nil {
		return nil
	}
	var out []stopTest
	for _, x := range w.Assessment.Answer.Stops {
		if x.Event.Stops() && !x.Idle && x.Fault == "" {
			out = append(out, stopTest{x, w.threats(x)})
		}
	}
	slices.SortStableFunc(out, func(a, b stopTest) int {
		return cmp.Or(cmp.Compare(len(a.agree), len(b.agree)),
			cmp.Compare(slices.Index(milder, a.Event.Kind), slices.Index(milder, b.Event.Kind)),
			cmp.Compare(a.MostM(), b.MostM()), cmp.Compare(a.SlamMS(), b.SlamMS()))
	})
	return out
}

// threats are what a stop is predicted to bring that somebody must agree to.
func (w *sheet) threats(x *plant.Stop) []string {
	var out []string
	if x.Separates() {
		out = append(out, "vapor in the main")
	}
	p := w.valvePressure(x)
	if r := judge.WeakestRating(w.Assessment.Item); r.Known() && p > r.SI {
		out = append(out, "more pressure than the valve is rated for")
	}
	if b := w.Study.Station.Branch.Runs[0]; b.Rating.Known() && p > b.Rating.SI+b.SurgeAllowance.SI {
		out = append(out, "more pressure than the branch is rated for")
	}
	if _, over := x.OverRating(); over {
		out = append(out, "more pressure than the main is rated for")
	}
	if !x.Cushioned() && x.SlamMS() > w.Rules.Limit("slam-harmful").Value.SI {
		out = append(out, "a harmful slam")
	}
	switch x.Rest {
	case plant.NotClosed, plant.NeverRests, plant.SlamsOn:
		out = append(out, "a valve that does not come to rest")
	}
	return out
}

// valvePressure is the greatest gauge pressure at the axis of the valve in the stop, Pa.
func (w *sheet) valvePressure(x *plant.Stop) float64 {
	st := w.Study.Station
	return st.Fluid.Density.SI * quantity.StandardGravity * (x.MostM() - st.ValveAboveDatum())
}

// testPressure is valvePressure as it is printed.
func (w *sheet) testPressure(x *plant.Stop) Cell {
	return Cell{Text: w.quote("trip "+x.Event.ID+" greatest_pressure", quantity.Pressure, w.valvePressure(x))}
}

// caughtShare is the part of a pressure pulse that the readings shall catch.
const caughtShare = 0.95

// readings are the rates of recorders that are asked for, a second.
var readings = []int{100, 200, 500, 1000, 2000, 5000, 10000}

// sampling is the rate at which readings catch most of a triangular pulse as short as the wave
// makes it along the branch and back, and that time, s; 0 where no stop was run.
func sampling(tests []stopTest) (perSecond int, pulseS float64) {
	for _, x := range tests {
		if x.BranchS > 0 && (pulseS == 0 || 2*x.BranchS < pulseS) {
			pulseS = 2 * x.BranchS
		}
	}
	if pulseS == 0 {
		return 0, 0
	}
	for _, r := range readings {
		if trace.CaughtTriangle(pulseS, 1/float64(r)) >= caughtShare {
			return r, pulseS
		}
	}
	return readings[len(readings)-1], pulseS
}

// swingS is the time 4L/a in which the pressure of the whole main swings, s.
func (w *sheet) swingS() float64 {
	sum := 0.0
	for _, r := range w.Study.Station.Main.Runs {
		sum += r.Length.SI / r.WaveSpeed.SI
	}
	return 4 * sum
}
