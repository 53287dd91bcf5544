package truth

import (
	"fmt"
	"math"

	"seatward/leakback"
	"seatward/pump"
)

// universal is a published pump of the specific speed, rated point of ones where it can be.
func universal(in Inputs) (*pump.Quadrants, error) {
	return pump.NewUniversal(pump.Rated{FlowM3S: 1, HeadM: 1, TorqueNM: 1, SpeedRadS: in.F("n_s") * 2 * math.Pi / 60})
}

// readState picks what a row reads of a state.
func readState(in Inputs, s leakback.State) (float64, error) {
	switch read := in.S("read"); read {
	case "speed":
		return s.Speed, nil
	case "flow":
		return s.Flow, nil
	case "head":
		return s.Head, nil
	default:
		return 0, fmt.Errorf("read=%s is not speed, flow or head", read)
	}
}

// readCourse picks what a row reads of a power failure with the valve stuck open.
func readCourse(in Inputs, c *leakback.Course) (float64, error) {
	values := map[string]float64{
		"reversed": c.ReversedS, "slope": c.SlopeS, "speed-at-reversal": c.SpeedAtRev, "stands": c.StandsS,
		"flow-stands": c.FlowStands, "fastest": c.Fastest.Speed, "end": c.End.Speed,
	}
	v, ok := values[in.S("read")]
	if !ok {
		return 0, fmt.Errorf("read=%s is not known", in.S("read"))
	}
	return v, nil
}

var (
	_ = evaluator("run-back", "leakback.Runaway", func(in Inputs) (float64, error) {
		q, err := universal(in)
		if err != nil {
			return 0, err
		}
		return readState(in, leakback.Runaway(q, leakback.Line{Static: in.F("static"), Friction: in.F("friction")}))
	})
	_ = evaluator("run-back/held", "leakback.Held", func(in Inputs) (float64, error) {
		q, err := universal(in)
		if err != nil {
			return 0, err
		}
		return leakback.Held(q, leakback.Line{Static: in.F("static"), Friction: in.F("friction")}).Flow, nil
	})
	_ = evaluator("run-back/trip", "leakback.StuckOpen", func(in Inputs) (float64, error) {
		q, err := universal(in)
		if err != nil {
			return 0, err
		}
		c := leakback.StuckOpen(q, leakback.Line{Static: in.F("static"), Friction: in.F("friction")},
			leakback.Spin{RotorS: in.F("T_a"), WaterS: in.F("tau")})
		return readCourse(in, &c)
	})
	_ = evaluator("restart-heat", "leakback.RestartHeat", func(in Inputs) (float64, error) {
		return leakback.RestartHeat(in.F("alpha")), nil
	})
	_ = evaluator("fill-error", "leakback.FillError", func(in Inputs) (float64, error) {
		n := 1 + math.Floor(in.F("lasts")/in.F("every")+1e-9)
		return leakback.FillError(in.F("A"), in.F("noise"), n, in.F("every")), nil
	})
	_ = evaluator("leak-orifice", "leakback.OrificeLeak", func(in Inputs) (float64, error) {
		return leakback.OrificeLeak(in.F("d"), in.F("H"), in.F("C_d")), nil
	})
	_ = evaluator("leak-hole", "leakback.LeakHole", func(in Inputs) (float64, error) {
		return leakback.LeakHole(in.F("Q"), in.F("H"), in.F("C_d")), nil
	})
	_ = evaluator("leak-starts", "leakback.StartsPerDay", func(in Inputs) (float64, error) {
		return leakback.StartsPerDay(in.F("V"), in.F("q_in"), in.F("q_leak"), in.F("Q")), nil
	})
	_ = evaluator("leak-returned", "leakback.Returned", func(in Inputs) (float64, error) {
		return leakback.Returned(in.F("V"), in.F("q_in"), in.F("q_leak"), in.F("Q")), nil
	})
	_ = evaluator("drained-volume", "leakback.DrainedVolume", func(in Inputs) (float64, error) {
		return leakback.DrainedVolume(in.F("D"), in.F("L")), nil
	})
)
