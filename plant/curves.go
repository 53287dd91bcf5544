package plant

import (
	"fmt"

	"seatward/steady"
	"seatward/valve"
)

// Curves are the pump curves and system curves of a station with one valve in every
// branch, as head at the header over the joint flow. Where a pump curve cuts a system
// curve, the station runs.
type Curves struct {
	Pumps   []HeadCurve // of 1, 2, … equal pumps, behind branch and valve
	Bare    HeadCurve   // of one pump, without the valve: the gap is what the valve costs
	Systems []HeadCurve // of the main at the high and the low level of the wet well
}

// HeadCurve is one curve; heads are above the level in the wet well.
type HeadCurve struct {
	Name    string
	Level   WellLevel // of a curve of the system
	FlowM3S []float64
	HeadM   []float64
}

// curvePoints is how many points a curve is drawn through.
const curvePoints = 80

// curveMargin is how far beyond the greatest operating flow a curve is drawn.
const curveMargin = 1.25

// Curves reads the curves that the operating points rest on, up to some more than the
// greatest flow. Pumps that are not all alike have a curve only for the first, and for all
// together.
func (p *Plant) Curves(m *valve.Mechanism, mostM3S float64) (*Curves, error) {
	flows := make([]float64, curvePoints)
	for i := range flows {
		flows[i] = mostM3S * curveMargin * float64(i) / (curvePoints - 1)
	}
	out := &Curves{}
	sys := p.system(m, false)
	for _, l := range p.levels {
		samples, err := sys.MainCurve(l, flows)
		if err != nil {
			return nil, err
		}
		c := HeadCurve{Name: "system, " + l.Name, Level: WellLevel(l.Mark)}
		for _, x := range samples {
			c.FlowM3S, c.HeadM = append(c.FlowM3S, x.FlowM3S), append(c.HeadM, x.HeadM)
		}
		out.Systems = append(out.Systems, c)
	}
	for n := range p.units {
		c, err := joint(sys, n+1, p.levels[0], mostM3S*curveMargin)
		if err != nil {
			return nil, err
		}
		out.Pumps = append(out.Pumps, c)
	}
	var err error
	out.Bare, err = joint(p.system(nil, false), 1, p.levels[0], mostM3S*curveMargin)
	out.Bare.Name = "1 pump, no valve"
	return out, err
}

// joint is the curve of the first n branches together, up to the flow.
func joint(sys *steady.System, n int, level steady.Level, mostM3S float64) (HeadCurve, error) {
	running := make([]int, n)
	for i := range running {
		running[i] = i
	}
	c := HeadCurve{Name: plural(n, "pump")}
	shut, err := sys.BranchCurve(0, []float64{0})
	if err != nil {
		return c, err
	}
	heads := make([]float64, 2*curvePoints)
	for i := range heads {
		heads[i] = shut[0].SourceHeadM * (1 - float64(i)/float64(len(heads)))
	}
	samples, err := sys.CombinedCurve(running, level, heads)
	if err != nil {
		return c, err
	}
	for _, x := range samples {
		if x.Cut || x.FlowM3S > mostM3S {
			break
		}
		c.FlowM3S, c.HeadM = append(c.FlowM3S, x.FlowM3S), append(c.HeadM, x.HeadM)
	}
	return c, nil
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
