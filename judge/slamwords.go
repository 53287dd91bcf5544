package judge

import (
	"fmt"
	"math"
	"strings"

	"seatward/quantity"
)

// What stands in place of a slam class where there is none.
const (
	ToRun  = "to be run" // the stops are still to be run
	NotRun = "not run"   // they cannot be
)

// SlamWords is the slam class that the verdict goes by, with its chance: "harmful 45%".
// Where no chances were drawn, or the valve does not come to rest, it is the class alone.
func (a *Assessment) SlamWords() string {
	class, chance := a.verdictClass()
	if math.IsNaN(chance) {
		return class
	}
	return class + " " + Percent(chance)
}

// VerdictClass is the class of SlamWords without its chance; "" where there is none.
func (a *Assessment) VerdictClass() string {
	if a.Pending() || a.Slam.Class == "" {
		return ""
	}
	class, _ := a.verdictClass()
	return class
}

// verdictClass is the class by which slam decides, and its chance; NaN where it has none.
func (a *Assessment) verdictClass() (class string, chance float64) {
	s := &a.Slam
	switch {
	case a.Pending():
		return ToRun, math.NaN()
	case s.Class == "":
		return NotRun, math.NaN()
	case !s.AtRest || s.Runs == 0:
		return s.Class, math.NaN()
	}
	switch s.Risk {
	case WillHarm, MayHarm:
		return Harmful, s.Chances.Harmful
	case WillBeHeard:
		return Audible, s.Chances.Audible + s.Chances.Harmful
	}
	return Quiet, s.Chances.Quiet
}

// ChancesWords names all three classes with their chances.
func (s *Slam) ChancesWords() string {
	return fmt.Sprintf("quiet %s, audible %s, harmful %s", Percent(s.Chances.Quiet), Percent(s.Chances.Audible),
		Percent(s.Chances.Harmful))
}

// Percent prints a chance; what is not quite certain is not called so.
func Percent(x float64) string {
	switch p := math.Round(100 * x); {
	case p == 0 && x > 0:
		return "<1%"
	case p == 100 && x < 1:
		return ">99%"
	default:
		return fmt.Sprintf("%.0f%%", p)
	}
}

// ThresholdNumber prints a value of the fact on which the class depends. Shares below a
// hundredth of a percent, as of free gas, are read in parts per million.
func (s *Slam) ThresholdNumber(sys quantity.System, si float64) string {
	t := s.Threshold
	if t.Fact.Kind == quantity.Fraction && t.At.SI < 1e-4 {
		return quantity.Figures(1e6*si, 2) + " ppm"
	}
	return sys.Format(t.Fact.Kind, si)
}

// ThresholdRange prints the range that the fact has now.
func (s *Slam) ThresholdRange(sys quantity.System) string {
	f := s.Threshold.Fact
	low, high := s.ThresholdNumber(sys, f.Low), s.ThresholdNumber(sys, f.High)
	if f.Kind != quantity.Time { // its unit depends on its size
		low = strings.TrimRight(strings.TrimSuffix(low, unitOf(high)), " ")
	}
	return low + " to " + high
}

// unitOf is what stands behind the number.
func unitOf(text string) string { return strings.TrimLeft(text, "-0123456789.e+ ") }
