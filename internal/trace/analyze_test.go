package trace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// facts is a main of 500 m with 4 L/a of 2 s.
var facts = Facts{LengthM: 500, WaveMS: 1000, WaveLow: 900, WaveHigh: 1100, BoreM: 0.2, StaticM: 20}

// stop is the head at a valve: 30 m while the pump runs, a stop at 20 s, a fall to -2 m, and a
// closing at 21.5 s on the reverse velocity v. Behind it stands the exact wave of a main without
// friction whose head rises in a straight line from the valve to a tank at 20 m while it flows
// back evenly: a triangle of 22 m and a square of a v/g, both of period 4 L/a; it fades.
func stop(t, v float64) float64 {
	step := 1000 * v / 9.80665
	switch {
	case t < 20:
		return 30
	case t < 21.5:
		return 30 - 32*(t-20)/1.5
	}
	n := math.Floor(t - 21.5)
	sign := 1.0
	if math.Mod(n, 2) == 1 {
		sign = -1
	}
	return 20 + math.Pow(0.95, n)*sign*(-22*(1-2*(t-21.5-n))+step)
}

// logged reads a head every stepS for so long, with noise, to the nearest quantum.
func logged(head func(float64) float64, stepS, forS, noise, quantum float64) Points {
	r := rand.New(rand.NewPCG(3, 9))
	var p Points
	for i := 0; float64(i)*stepS < forS; i++ {
		t := float64(i) * stepS
		v := head(t) + noise*r.NormFloat64()
		if quantum > 0 {
			v = math.Round(v/quantum) * quantum
		}
		p.T, p.V = append(p.T, t), append(p.V, v)
	}
	return p
}

func TestSlamOfAStop(t *testing.T) {
	for _, v := range []float64{0.1, 0.3, 0.6} {
		p := logged(func(t float64) float64 { return stop(t, v) }, 0.01, 80, 0.05, 0.01)
		r := Analyze(p, facts, Options{Operations: []Operation{{AtNS: 20e9, By: "power", Pump: 1}}})
		if len(r.Slams) != 1 {
			t.Fatalf("V_R %g: %d slams", v, len(r.Slams))
		}
		s := r.Slams[0]
		if s.Reverse == nil || s.Reverse.Low > v || s.Reverse.High < v || s.LowerBound || s.After == nil || s.Later {
			t.Errorf("V_R %g: %+v, after %v, lower bound %v", v, s.Reverse, s.After, s.Why)
		}
		if s.Wave == nil || math.Abs(s.Wave.PeriodS-2) > 0.01 || math.Abs(s.Wave.Speed.Best-1000) > 10 {
			t.Errorf("V_R %g: wave %+v", v, s.Wave)
		}
		if want := 9.80665 * (20 + 2) / 500; s.Braking == nil || math.Abs(*s.Braking-want) > 0.02 {
			t.Errorf("V_R %g: deceleration %v, want %g", v, s.Braking, want)
		}
		if r.Unseen.Verdict != Seen || len(r.Flutter) != 0 || len(r.Clipped) != 0 {
			t.Errorf("V_R %g: %s, %v, %v", v, r.Unseen.Verdict, r.Flutter, r.Clipped)
		}
	}
}

// TestOrderInTime: a stop without a step shows no slam when the logger is fast, and nothing at
// all when it is slow.
func TestNothingFound(t *testing.T) {
	soft := func(t float64) float64 {
		if t < 20 {
			return 30
		}
		return 20 + 10*math.Exp(-(t-20)/4)
	}
	ops := []Operation{{AtNS: 20e9, By: "state"}}
	for _, tt := range []struct {
		step float64
		mean bool
		want Verdict
	}{
		{0.005, false, None},
		{0.2, false, None}, // 2 L/a of 1 s holds five readings
		{5, false, Cannot},
		{60, false, Cannot},
		{1, true, Cannot},
	} {
		r := Analyze(logged(soft, tt.step, math.Max(100, 30*tt.step), 0.02, 0), facts, Options{
			Operations: ops,
			Mean:       tt.mean,
		})
		if len(r.Slams) != 0 || r.Unseen.Verdict != tt.want {
			t.Errorf("step %g s, mean %v: %q with %d slams, want %q", tt.step, tt.mean, r.Unseen.Verdict,
				len(r.Slams), tt.want)
		}
	}
	// Without the length of the main even 0.1 s is too slow to exclude a short slam.
	if r := Analyze(logged(soft, 0.1, 100, 0.02, 0), Facts{}, Options{Operations: ops}); r.Unseen.Verdict != Cannot {
		t.Errorf("%q without a length", r.Unseen.Verdict)
	}
	// A minute's means of a slam are never quiet.
	hard := func(t float64) float64 { return stop(math.Mod(t, 600), 0.6) }
	if r := Analyze(logged(hard, 60, 36000, 0, 0), facts, Options{Mean: true}); r.Unseen.Verdict != Cannot ||
		r.Unseen.SpikeInMeanM == 0 {
		t.Errorf("means: %+v", r.Unseen)
	}
}

func TestSlowLoggerGivesALowerBound(t *testing.T) {
	spike := func(t float64) float64 {
		if d := math.Mod(t, 50) - 25; d >= 0 && d < 0.03 {
			return 60
		}
		return 20
	}
	r := Analyze(logged(spike, 0.02, 400, 0.02, 0), Facts{WaveMS: 1000}, Options{})
	if len(r.Slams) < 6 {
		t.Fatalf("%d slams", len(r.Slams))
	}
	for _, s := range r.Slams {
		if !s.LowerBound {
			t.Errorf("slam at %d ns, %d readings: no lower bound", s.AtNS, s.Readers)
		}
	}
}

func TestStartIsNoSlam(t *testing.T) {
	start := func(t float64) float64 {
		if t < 60 {
			return 20
		}
		return 20 + 10*(1-math.Exp(-(t-60)/0.1))
	}
	r := Analyze(logged(start, 0.01, 150, 0.03, 0), facts, Options{})
	if len(r.Slams) != 0 {
		t.Errorf("a start is called a slam: %+v", r.Slams)
	}
	if len(r.Operations) != 1 || !r.Operations[0].Start {
		t.Errorf("operations %+v", r.Operations)
	}
}

func TestColumnSeparation(t *testing.T) {
	head := func(t float64) float64 {
		switch {
		case t < 20:
			return 30
		case t < 21:
			return 30 - 40*(t-20)
		case t < 26.1: // a floor for 5.1 s
			return -10.1
		case t < 26.6:
			return 92
		}
		return 20
	}
	r := Analyze(logged(head, 0.01, 80, 0.03, 0), facts, Options{Operations: []Operation{{AtNS: 20e9}}})
	if len(r.Cavities) != 1 || math.Abs(r.Cavities[0].LifeS-5.1) > 0.05 || math.Abs(r.Cavities[0].RejoinM-92) > 0.2 {
		t.Fatalf("%+v", r.Cavities)
	}
	if len(r.Slams) == 0 || r.Slams[0].Cause != "rejoining of the column" {
		t.Errorf("%+v", r.Slams)
	}
	// A sensor that ends at 0 makes a floor too, and no cavity.
	r = Analyze(logged(func(t float64) float64 { return math.Max(0, head(math.Mod(t, 60))) }, 0.01, 240, 0.0, 0),
		facts, Options{})
	if len(r.Cavities) != 0 {
		t.Errorf("a clipped sensor is called column separation: %+v", r.Cavities)
	}
}

func TestTrappedAir(t *testing.T) {
	period := PocketPeriod(998, 500, 0.4, 1.2, 101325+20*998*9.80665, math.Pi/4*0.04)
	head := func(t float64) float64 {
		switch {
		case t < 20:
			return 30
		case t < 21:
			return 30 - 15*(t-20)
		case t < 21.2:
			return 15 + 50*(t-21)
		}
		return 20 + 5*math.Exp(-(t-21.2)/(10*period))*math.Cos(2*math.Pi*(t-21.2)/period)
	}
	r := Analyze(logged(head, 0.02, 200, 0.02, 0), facts, Options{Operations: []Operation{{AtNS: 20e9}}})
	if len(r.Slams) == 0 || r.Slams[0].Air == nil {
		t.Fatalf("period %g: %+v", period, r.Slams)
	}
	if v := r.Slams[0].Air.Volume; v == nil || v.Low > 0.4 || v.High < 0.4 || math.Abs(v.Best-0.4) > 0.02 {
		t.Errorf("volume %+v, want 0.4", v)
	}
}

func TestFlutter(t *testing.T) {
	r := Analyze(logged(func(t float64) float64 { return 30 + 0.8*math.Sin(2*math.Pi*3.1*t) }, 0.02, 120, 0.05, 0),
		facts, Options{})
	if len(r.Flutter) == 0 || math.Abs(r.Flutter[0].Hz-3.1) > 0.05 || math.Abs(r.Flutter[0].HeightM-1.6) > 0.15 {
		t.Errorf("%+v", r.Flutter)
	}
	if r := Analyze(logged(func(float64) float64 { return 30 }, 0.02, 120, 0.3, 0), facts,
		Options{}); len(r.Flutter) != 0 || len(r.Slams) != 0 {
		t.Errorf("noise is called flutter or slam: %+v %+v", r.Flutter, r.Slams)
	}
}

func TestClipped(t *testing.T) {
	head := func(t float64) float64 { return math.Min(40, stop(math.Mod(t, 60), 0.6)) }
	r := Analyze(logged(head, 0.01, 240, 0, 0.01), facts, Options{})
	if len(r.Clipped) != 1 || !r.Clipped[0].High || r.Clipped[0].LevelM != 40 {
		t.Fatalf("%+v", r.Clipped)
	}
	for _, s := range r.Slams {
		if s.PeakM >= 40 && !s.LowerBound {
			t.Errorf("the peak of a clipped sensor is taken for the peak: %+v", s)
		}
	}
}

func TestSwitches(t *testing.T) {
	p := Points{T: []float64{0, 10, 20, 30, 40, 50}, V: []float64{0, 12, 11.5, math.NaN(), 0.1, 12}}
	got := Switches(p, "power", 2)
	if len(got) != 2 || !got[0].Start || got[0].AtNS != 10e9 || !got[1].Start || got[1].AtNS != 50e9 {
		t.Errorf("%+v: the stop in the silence is not known, and no time is made up for it", got)
	}
}

// TestLaterSlam: a valve that opens again and closes on a larger flow.
func TestLaterSlam(t *testing.T) {
	head := func(t float64) float64 {
		return stop(t, 0.1) + map[bool]float64{true: 30, false: 0}[t > 40 && t < 40.4]
	}
	r := Analyze(logged(head, 0.01, 80, 0.03, 0), facts, Options{Operations: []Operation{{AtNS: 20e9}}})
	if len(r.Slams) != 2 || r.Slams[0].Later || !r.Slams[1].Later {
		t.Errorf("%d slams: %+v", len(r.Slams), r.Slams)
	}
}
