package truth

import (
	"fmt"
	"math"
	"strings"
	"time"

	"seatward/internal/fieldlog"
	"seatward/internal/trace"
	"seatward/quantity"
)

var (
	_ = evaluator("caught-flat", "trace.CaughtFlat", func(in Inputs) (float64, error) {
		return trace.CaughtFlat(in.F("w"), in.F("Ts")), nil
	})
	_ = evaluator("caught-triangle", "trace.CaughtTriangle", func(in Inputs) (float64, error) {
		return trace.CaughtTriangle(in.F("w"), in.F("Ts")), nil
	})
	// The measured shares are of the peak at the base rate, which is no true peak either.
	_ = evaluator("caught-slam", "trace.CaughtSlam", func(in Inputs) (float64, error) {
		rise, half := in.F("rise"), in.F("half")
		return trace.CaughtSlam(rise, half, 1/in.F("rate")) / trace.CaughtSlam(rise, half, 1/in.F("base")), nil
	})
	_ = evaluator("left-in-mean", "trace.LeftInMean", func(in Inputs) (float64, error) {
		return trace.LeftInMean(in.F("A"), in.F("w"), in.F("T")), nil
	})
	_ = evaluator("alias", "trace.AliasHz", func(in Inputs) (float64, error) {
		return trace.AliasHz(in.F("f"), in.F("fs")), nil
	})
	_ = evaluator("timing-error", "trace.TimingError", func(in Inputs) (float64, error) {
		u := trace.TimingError(in.F("Ts"), in.F("n"), in.F("T"))
		if in.Has("L") {
			u = math.Hypot(u, in.F("L"))
		}
		return u, nil
	})
	_ = evaluator("wave-from-period", "trace.WaveFromPeriod", func(in Inputs) (float64, error) {
		return trace.WaveFromPeriod(in.F("L"), in.F("T")), nil
	})
	_ = evaluator("reverse-from-step", "trace.ReverseFromStep", func(in Inputs) (float64, error) {
		return trace.ReverseFromStep(in.F("dH"), in.F("a"), in.F("g")), nil
	})
	_ = evaluator("deceleration-from-heads", "trace.DecelerationFromHeads", func(in Inputs) (float64, error) {
		return trace.DecelerationFromHeads(in.F("Hs"), in.F("hf"), in.F("Hv"), in.F("L"), in.F("g")), nil
	})
	_ = evaluator("cavity-life", "trace.CavityLife", func(in Inputs) (float64, error) {
		// The rows have another g.
		return trace.CavityLife(in.F("V"), in.F("L"), in.F("dH")) * quantity.StandardGravity / in.F("g"), nil
	})
	_ = evaluator("pocket-period", "trace.PocketPeriod", func(in Inputs) (float64, error) {
		d := in.F("D")
		return trace.PocketPeriod(in.F("rho"), in.F("L"), in.F("V"), in.F("n"), in.F("p"), math.Pi/4*d*d), nil
	})
	_ = evaluator("pocket-volume", "trace.PocketVolume", func(in Inputs) (float64, error) {
		d := in.F("D")
		return trace.PocketVolume(in.F("rho"), in.F("L"), in.F("T"), in.F("n"), in.F("p"), math.Pi/4*d*d), nil
	})
	_ = evaluator("share-apart", "trace.ShareApart", func(in Inputs) (float64, error) {
		share, half := trace.ShareApart(trace.Mean{Value: in.F("x"), Error: in.F("u_x")},
			trace.Mean{Value: in.F("y"), Error: in.F("u_y")})
		if in.S("read") == "half" {
			return half, nil
		}
		return 1 + share, nil
	})
	_ = evaluator("log-time", "fieldlog.Read", logTime)
)

// logTime reads a log of one time, again and again, and gives that time in s since 1970.
func logTime(in Inputs) (float64, error) {
	stamp := in.S("stamp")
	text := "time;level (m)\n" + stamp + ";1\n" + stamp + ";2\n"
	l, list := fieldlog.Read("log.csv", strings.NewReader(text), nil)
	if err := list.Err(); err != nil {
		return 0, err
	}
	if len(l.Channels) == 0 || l.Channels[0].Len() == 0 {
		return 0, fmt.Errorf("no row is read of %q", stamp)
	}
	return float64(l.Channels[0].Time(0)) / float64(time.Second), nil
}
