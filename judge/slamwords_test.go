package judge

import (
	"testing"

	"seatward/basis"
	"seatward/plant"
	"seatward/quantity"
)

// The class shown is the one that the verdict goes by, not that of the best estimate.
func TestSlamWords(t *testing.T) {
	drawn := Slam{
		Class: Audible, AtRest: true, Runs: 64,
		Chances: plant.Chances{Quiet: 0.23, Audible: 0.32, Harmful: 0.45},
	}
	with := func(change func(*Slam)) Slam {
		s := drawn
		change(&s)
		return s
	}
	for _, c := range []struct {
		want, class string
		a           Assessment
	}{
		{"harmful 45%", Harmful, Assessment{Slam: with(func(s *Slam) { s.Risk = MayHarm })}},
		{"audible 77%", Audible, Assessment{Slam: with(func(s *Slam) { s.Risk = WillBeHeard })}},
		{"quiet 23%", Quiet, Assessment{Slam: drawn}},
		{"audible", Audible, Assessment{Slam: with(func(s *Slam) { s.Runs = 0 })}},
		{"harmful", Harmful, Assessment{Slam: with(func(s *Slam) { s.Class, s.AtRest = Harmful, false })}},
		{ToRun, "", Assessment{Runs: true}},
		{NotRun, "", Assessment{Answer: &plant.Answer{}, Runs: true}},
	} {
		if got := c.a.SlamWords(); got != c.want || c.a.VerdictClass() != c.class && c.a.Answer != nil {
			t.Errorf("%q of class %q, want %q of %q", got, c.a.VerdictClass(), c.want, c.class)
		}
	}
	for x, want := range map[float64]string{0: "0%", 0.001: "<1%", 0.449: "45%", 0.999: ">99%", 1: "100%"} {
		if got := Percent(x); got != want {
			t.Errorf("a chance of %g is %q, want %q", x, got, want)
		}
	}
}

// A share of free gas that decides is read in parts per million, other facts in their units.
func TestThresholdNumbers(t *testing.T) {
	gas := basis.NewAssumed("free gas", quantity.Fraction, 0, 0, 5e-4, "", "")
	inertia := basis.NewAssumed("inertia", quantity.Inertia, 2, 1, 4, "", "")
	for _, c := range []struct {
		fact basis.Value
		at   float64
		want string
	}{{gas, 4.92e-6, "4.9 ppm, 0 to 500 ppm"}, {gas, 3e-4, "0.0300%, 0 to 0.0500%"}, {
		inertia, 3,
		"3.00 kg m², 1.00 to 4.00 kg m²",
	}} {
		at := c.fact
		at.SI = c.at
		s := Slam{Threshold: &plant.Threshold{Fact: c.fact, At: at}}
		if got := s.ThresholdNumber(quantity.SI, c.at) + ", " + s.ThresholdRange(quantity.SI); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
