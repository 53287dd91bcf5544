package trace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// well is a station of quarter hours: volume, outflow, and the inflow that the balance gives or
// that a meter with an error of 3 % reads.
func well(measured bool) (in, out, vol Named) {
	r := rand.New(rand.NewPCG(5, 5))
	var i, o, v Points
	volume := 1000.0
	for k := range 1500 {
		t := 900 * float64(k)
		real := 0.9 + 0.3*math.Sin(float64(k)/15) + 0.05*r.NormFloat64()
		pumped := 0.5 + 0.8*float64((k/3)%2)
		if measured {
			i.V = append(i.V, real*(1+0.03*r.NormFloat64()))
		} else {
			i.V = append(i.V, real)
		}
		i.T, o.T, v.T = append(i.T, t), append(o.T, t), append(v.T, t)
		volume += 900 * (real - pumped) // at the end of the interval
		o.V, v.V = append(o.V, pumped), append(v.V, volume)
	}
	return Named{Source: i, Name: "in"}, Named{Source: o, Name: "out"}, Named{Source: v, Name: "volume"}
}

func TestBalance(t *testing.T) {
	in, out, vol := well(false)
	if Balance(in, out, vol, true) == nil {
		t.Error("an inflow from the balance is not seen")
	}
	level := Named{Source: Scaled{vol.Source, 1.0 / 350, 0}, Name: "level"}
	if Balance(in, out, level, false) == nil {
		t.Error("an inflow from the balance of a level is not seen")
	}
	in, out, vol = well(true)
	if trap := Balance(in, out, vol, true); trap != nil {
		t.Errorf("a measured inflow is called computed: %s", trap.Text)
	}
}

// switched is a signal of 1 from 100 to 200 s of every 300, shifted.
func switched(shift, on float64) Points {
	var p Points
	for i := range 3000 {
		t := float64(i)
		v := 0.0
		if m := math.Mod(t-shift+3000, 300); m >= 100 && m < 200 {
			v = on
		}
		p.T, p.V = append(p.T, t), append(p.V, v)
	}
	return p
}

func TestTraps(t *testing.T) {
	run1, run2 := Named{switched(0, 1), "run 1", 1}, Named{switched(150, 1), "run 2", 2}
	kw1, kw2 := Named{switched(0, 11e3), "kW 1", 1}, Named{switched(150, 9e3), "kW 2", 2}
	flow, head := Named{switched(0, 0.02), "flow", 0}, Named{Scaled{switched(0, 1), 20, 5}, "head", 0}
	averaged := Named{Scaled{switched(0, 1), 0.5, 0.2}, "state", 1}
	shift := func(by float64) *Trap {
		return Shifted(Switching{"run 1", Switches(run1, "state", 1), 1},
			Switching{"kW 1", Switches(switched(by, 11e3), "power", 1), 1})
	}
	for _, tt := range []struct {
		name string
		trap *Trap
		want string
	}{
		{"right channels", Swapped([]Named{run1, run2}, []Named{kw1, kw2}), ""},
		{
			"swapped", Swapped([]Named{run1, run2}, []Named{{kw2.Source, "kW 1", 1}, {kw1.Source, "kW 2", 2}}),
			"channels-swapped",
		},
		{"power of a motor", WaterPower(flow, head, kw1), ""},
		{
			"flow in the wrong unit", WaterPower(Named{Scaled{flow.Source, 3.6, 0}, "flow", 0}, head, kw1),
			"power-impossible",
		},
		{"state", AveragedState(run1), ""},
		{"means", AveragedState(averaged), "state-averaged"},
		{"efficiency", Efficiency(Named{Scaled{run1.Source, 0.6, 0}, "eff", 0}, nil), ""},
		{
			"kW called efficiency", Efficiency(Named{Scaled{run1.Source, 11, 0}, "eff", 0}, nil),
			"efficiency-above-one",
		},
		{
			"copy of the power", Efficiency(Named{Scaled{run1.Source, 0.6, 0}, "eff", 0}, []Named{kw1}),
			"efficiency-is-power",
		},
		{"level in mm", TooDeep(Named{Scaled{run1.Source, 2500, 0}, "level", 0}), "level-unit"},
		{"one clock", shift(0), ""},
		{"two clocks", shift(40), "time-shift"},
		{"suction below", BelowSuction(Named{Scaled{head.Source, 0.1, 0}, "s", 0}, head), ""},
		{"suction above", BelowSuction(head, Named{Scaled{head.Source, 0.1, 0}, "s", 0}), "channels-swapped"},
	} {
		got := ""
		if tt.trap != nil {
			got = tt.trap.ID
		}
		if got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
