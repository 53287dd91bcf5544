package document

import (
	"math"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// siteLimits are what a specification asks of any valve in this station: from what the
// station needs, with a margin, rounded. None is a number of the valve that was chosen, so
// that others can be held to them. 0 where the station does not say.
type siteLimits struct {
	rating                  float64 // Pa
	shellTest, seatTest     float64 // Pa, as multiples of the rating asked for
	loss                    float64 // m, at the normal flow
	fullOpen                float64 // m/s
	backHead                float64 // m
	reverse, deceleration   float64 // m/s, m/s²
	rise                    float64 // m: sudden stop of that reverse velocity in the branch
	clearance, layingLength float64 // m, of the place
}

// The margins of the specification: common practice, no source.
const (
	ratingMargin   = 1.1  // over the pressure at pump shut-off
	lossShare      = 0.05 // of the pump's head at normal flow
	backHeadShare  = 0.5  // of the least static head on the valve
	velocityMargin = 0.9  // of the normal velocity, by which the element must be open
	stopMargin     = 1.1  // over the deceleration of the worst stop
)

// Factors of the tests at the works on the rating asked for, as EN 12266-1 and MSS SP-61
// have them.
const (
	shellFactor = 1.5
	seatFactor  = 1.1
)

func (w *sheet) limits() siteLimits {
	st, a := w.Study.Station, w.Assessment
	sys := w.units()
	var l siteLimits
	if l.rating = st.Valve.Rating.SI; !st.Valve.Rating.Known() {
		for _, f := range a.Findings {
			if f.Kind.Point == judge.OnRating && f.Value.Known() && f.Kind != judge.RatingBelowCalled {
				l.rating = ratingAbove(sys, ratingMargin*f.Value.SI)
			}
		}
	}
	l.shellTest, l.seatTest = shellFactor*l.rating, seatFactor*l.rating
	for _, x := range w.Points {
		if x.Running == a.Governing.PumpsHeld && x.Head.Known() && l.loss == 0 {
			l.loss = roundedDown(sys, quantity.Head, lossShare*x.Head.SI)
		}
	}
	if v := a.Governing.Velocity; v.Known() {
		l.fullOpen = roundedDown(sys, quantity.Velocity, velocityMargin*v.SI)
	}
	if h := st.StaticLow; h.Known() && h.SI > 0 {
		l.backHead = roundedDown(sys, quantity.Head, backHeadShare*h.SI)
	}
	l.reverse = nearest(sys, quantity.Velocity, w.Rules.Limit("slam-quiet").Value.SI)
	if d := a.Slam.Deceleration; d.Known() && d.SI > 0 {
		l.deceleration = roundedUp(sys, quantity.Acceleration, stopMargin*d.SI)
	}
	if run := st.Branch.Runs[0]; run.WaveSpeed.Known() && run.InnerDiameter.SI > 0 {
		share := st.Valve.Size.NominalM() / run.InnerDiameter.SI
		l.rise = roundedUp(sys, quantity.Head, run.WaveSpeed.SI*l.reverse*share*share/quantity.StandardGravity)
	}
	l.clearance, l.layingLength = known(st.Valve.Clearance), known(st.Valve.LayingLength)
	return l
}

func known(v basis.Value) float64 {
	if v.Known() {
		return v.SI
	}
	return 0
}

// ratingAbove is the next rating of the usual ones; a number rounded up above them.
func ratingAbove(sys quantity.System, pa float64) float64 {
	one, series := 6894.757293168361, []float64{125, 150, 200, 250, 300, 400}
	if sys == quantity.SI {
		one, series = 1e5, []float64{6, 10, 16, 25, 40}
	}
	for _, r := range series {
		if r*one >= pa {
			return r * one
		}
	}
	return roundedUp(sys, quantity.Pressure, pa)
}

// roundedUp and roundedDown are the next number of two figures whose second is 0 or 5, in
// the unit of the paper.
func roundedUp(sys quantity.System, kind quantity.Kind, si float64) float64 {
	return roundedBy(sys, kind, si, func(x float64) float64 { return math.Ceil(x - 1e-9) })
}

func roundedDown(sys quantity.System, kind quantity.Kind, si float64) float64 {
	return roundedBy(sys, kind, si, func(x float64) float64 { return math.Floor(x + 1e-9) })
}

func nearest(sys quantity.System, kind quantity.Kind, si float64) float64 {
	return roundedBy(sys, kind, si, math.Round)
}

func roundedBy(sys quantity.System, kind quantity.Kind, si float64, round func(float64) float64) float64 {
	if !(si > 0) || math.IsInf(si, 0) {
		return 0
	}
	one := si / sys.In(kind, si)
	x := sys.In(kind, si)
	step := math.Pow(10, math.Floor(math.Log10(x))) / 2
	return round(x/step) * step * one
}

// asked prints a limit, without the noughts of a measured number: it is one of the
// specification, not of the study.
func (w *sheet) asked(kind quantity.Kind, si float64) string {
	if si == 0 {
		return w.say("[value]")
	}
	number, unit, _ := strings.Cut(w.units().Format(kind, si), " ")
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	return joined(" ", number, unit)
}

// atMost answers by a number of the study against a limit.
func (w *sheet) atMost(path string, v basis.Value, limit float64) func() answer {
	return w.within(path, v, limit, func(x float64) bool { return x <= limit*1.001 })
}

// atLeast is atMost the other way.
func (w *sheet) atLeast(path string, v basis.Value, limit float64) func() answer {
	return w.within(path, v, limit, func(x float64) bool { return x >= limit*0.999 })
}

func (w *sheet) within(path string, v basis.Value, limit float64, holds func(float64) bool) func() answer {
	return func() answer {
		switch {
		case !v.Known():
			return answer{status: ToSee, text: w.say("not given: ask the maker")}
		case limit == 0:
			return answer{status: ToSee, text: w.say("offered: {v}; the station does not fix a limit", "v", w.number(path, v))}
		case holds(v.SI):
			return answer{status: Complies, text: w.number(path, v)}
		}
		return answer{status: Deviates, text: w.number(path, v)}
	}
}
