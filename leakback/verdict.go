package leakback

import (
	"cmp"
	"math"
)

// Meaning says what follows from the cause, in a sentence.
func (c Cause) Meaning() string {
	return map[Cause]string{
		NotSeen:   "The level rose no faster with the isolating valve open, within what this test could show.",
		SeatLeak:  "The level rose faster all the time that the isolating valve was open: water comes back through the check valve.",
		Drains:    "The extra rise came to an end: that is a main that empties, and not only a leak. A tight check valve holds a main full; it closed late, stayed open or leaks at a low back head, and air was let in.",
		Fading:    "The extra rise slowed down but did not end: a leak out of a main that is losing head, or an inflow that fell at the same time. Measure again for longer.",
		Inflow:    "The inflow changed by more than the difference between the fills. Nothing can be said of the valve; measure again at night, shut, open and shut.",
		NotPaired: "One fill cannot show a leak: it takes one with the isolating valve open and one with it shut, within the same hour.",
	}[c]
}

// Cause is what paired fills point to.
type Cause string

// The causes.
const (
	NotSeen   Cause = "no leak seen"
	SeatLeak  Cause = "leak through the check valve"
	Drains    Cause = "main draining back"
	Fading    Cause = "leak that fades"
	Inflow    Cause = "changing inflow"
	NotPaired Cause = "no pair"
)

// Pairing is what a set of fills says, as rates over the area of the well.
type Pairing struct {
	Cause                Cause
	OpenM, OpenS         float64 // the open fill
	ShutM, ShutS         float64 // what the shut fills say at the time of the open one
	OpenError, ShutError float64 // standard errors of the rates, m/s
	InflowM              float64 // half the difference of the shut rates before and after, m/s
	Bracketed            bool    // there are shut fills before and after
	ExcessM              float64 // level gained over the shut rate while the rise lasted
	EndsS                float64 // time at which it had gained all that

	open, shut      Fill    // those whose errors stand for the pair's
	drift           float64 // of the shut rate, m/s per s
	earlyMS, lateMS float64 // rates at which the open fill gained in its halves, m/s
}

// Pair sets the open fills against the shut ones. Of several open fills the longest is taken.
func Pair(fills []Fill) Pairing {
	open, ok := longest(fills)
	before, after := around(fills, open)
	if !ok || before == nil && after == nil {
		return Pairing{Cause: NotPaired}
	}
	p := Pairing{OpenM: open.RiseM, OpenS: open.LastsS, OpenError: rateError(&open), open: open}
	p.shut = *cmp.Or(before, after)
	switch {
	case before != nil && after != nil:
		p.Bracketed = true
		share := (open.middle() - before.middle()) / (after.middle() - before.middle())
		rate := before.RateMS() + share*(after.RateMS()-before.RateMS())
		p.ShutS = before.LastsS + after.LastsS
		p.ShutM = rate * p.ShutS
		p.ShutError = math.Hypot((1-share)*rateError(before), share*rateError(after))
		p.drift = (after.RateMS() - before.RateMS()) / (after.middle() - before.middle())
		p.InflowM = math.Abs(after.RateMS()-before.RateMS()) / 2
		if 2*p.InflowM <= 3*math.Hypot(rateError(before), rateError(after)) {
			p.InflowM, p.drift = 0, 0 // no more than the readings' own error
		}
	case before != nil:
		p.ShutM, p.ShutS, p.ShutError = before.RiseM, before.LastsS, rateError(before)
	default:
		p.ShutM, p.ShutS, p.ShutError = after.RiseM, after.LastsS, rateError(after)
	}
	p.ends(&open)
	p.Cause = p.cause(&open)
	return p
}

// leak is the rate over the area, m/s, and three standard errors of it.
func (p *Pairing) leak() (rate, least float64) {
	return p.OpenM/p.OpenS - p.ShutM/p.ShutS, 3 * math.Hypot(p.OpenError, p.ShutError)
}

// twoSteps is how many standard errors of a reading are two steps of it: a bend must be larger,
// because errors of a slow ramp in steps do not average out as independent ones do.
const twoSteps = 7

// cause weighs the rates: a rise that ends is a main that empties, whatever the mean says.
func (p *Pairing) cause(open *Fill) Cause {
	rate, least := p.leak()
	half := 3 * rateErrorOf(open, open.N/2)
	fall := p.earlyMS - p.lateMS
	bends := open.N >= minHalves && fall > half*math.Sqrt2 && fall*open.LastsS/2 > twoSteps*open.NoiseM
	switch {
	case bends && p.lateMS <= math.Hypot(half, 3*p.ShutError)+p.InflowM:
		return Drains
	case bends && rate > least+p.InflowM:
		return Fading
	case p.InflowM > 0 && math.Abs(rate) <= least+p.InflowM, rate < -least:
		return Inflow
	case rate > least+p.InflowM:
		return SeatLeak
	}
	return NotSeen
}

// ends finds how far the level of an open fill gained on the shut rate, at which rates in its
// first and second half, and when that ended. The shut rate is taken to change evenly from the
// fill before to that after: a falling inflow bends the level too.
func (p *Pairing) ends(open *Fill) {
	if open.N < minHalves {
		return
	}
	start := open.levels[0]
	gain := make([]Reading, open.N)
	for i, r := range open.levels {
		t := r.TimeS - start.TimeS
		gain[i] = Reading{TimeS: t, LevelM: r.LevelM - start.LevelM - p.ShutM/p.ShutS*t -
			p.drift*t*(t-open.LastsS)/2}
		p.ExcessM = math.Max(p.ExcessM, gain[i].LevelM)
	}
	p.earlyMS, _ = line(gain[:open.N/2])
	p.lateMS, _ = line(gain[open.N/2:])
	for _, g := range gain {
		if g.LevelM >= p.ExcessM-open.NoiseM {
			p.EndsS = g.TimeS
			return
		}
	}
}

// longest is the longest open fill.
func longest(fills []Fill) (out Fill, ok bool) {
	for _, f := range fills {
		if f.Open && f.LastsS > out.LastsS {
			out, ok = f, true
		}
	}
	return out, ok
}

// around are the shut fills next before and after the open one; nil where there is none.
func around(fills []Fill, open Fill) (before, after *Fill) {
	for i := range fills {
		f := &fills[i]
		switch {
		case f.Open || !(f.LastsS > 0):
		case f.FromS <= open.FromS:
			before = f
		case after == nil:
			after = f
		}
	}
	return before, after
}

// rateError is the standard error of the rate of a fill, m/s.
func rateError(f *Fill) float64 { return FillError(1, f.NoiseM, float64(f.N), f.EveryS()) }

// rateErrorOf is that of n of its readings.
func rateErrorOf(f *Fill, n int) float64 {
	return FillError(1, f.NoiseM, float64(max(2, n)), f.EveryS())
}
