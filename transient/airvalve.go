package transient

import (
	"errors"
	"math"

	"seatward/internal/root"
)

// AirValve lets air in at a node when the head falls below its elevation, and out again
// as water returns (Wylie and Streeter 1993, ch. 6). The air stays at the temperature of
// the water; it passes the orifices as a perfect gas, choked where the pressure ratio is
// below 0.5283, and without friction. While water stands at the valve it is a junction.
type AirValve struct {
	ElevationM  float64
	InCdAM2     float64
	OutCdAM2    float64
	AirPa       float64 // outside, absolute; 0 means 101325
	AirK        float64 // 0 means 288.15
	DensityKgM3 float64 // of the liquid; 0 means 1000
	GravityMS2  float64

	volume, mass   float64 // of air in the pipe
	volume1, mass1 float64
	AirMostM3      float64 // greatest volume
	SlamHeadM      float64 // head when the last air was out; 0 before
	flow, flow1    float64 // into the node, of all pipes
	rate           float64 // of air in, kg/s
	rate1          float64
}

const (
	airGasConstant = 287.05
	airChoked      = 0.5283
	airGamma       = 1.4
)

// Start fills in what is not given.
func (a *AirValve) Start([]End) error {
	for _, d := range []struct {
		to   *float64
		with float64
	}{{&a.AirPa, 101_325}, {&a.AirK, 288.15}, {&a.DensityKgM3, 1000}, {&a.GravityMS2, standardGravityMS2}} {
		if *d.to == 0 {
			*d.to = d.with
		}
	}
	if !(a.InCdAM2 > 0) || !(a.OutCdAM2 >= 0) {
		return errors.New("an air valve needs the areas of its orifices")
	}
	return nil
}

// Solve is that of a junction while no air is in, else the head at which the pocket's
// volume fits its mass.
func (a *AirValve) Solve(s Step, ends []End) error {
	c, y := offer(ends)
	head := c / y
	a.mass1, a.volume1, a.rate1, a.flow1 = 0, 0, 0, 0
	if a.mass > 0 || head < a.ElevationM {
		// The more head, the less volume fits the mass and the more the water fills.
		excess := func(h float64) float64 {
			volume := a.volume - 0.5*s.StepS*(a.flow+c-y*h)
			mass := a.mass + 0.5*s.StepS*(a.rate+a.into(h))
			return mass*airGasConstant*a.AirK - a.absolute(h)*volume
		}
		least := a.ElevationM - a.AirPa/(a.DensityKgM3*a.GravityMS2)*0.999
		h, ok := root.Around(excess, math.Max(math.Min(a.ElevationM, head), least+0.01), 0.01)
		if ok {
			volume := a.volume - 0.5*s.StepS*(a.flow+c-y*h)
			mass := a.mass + 0.5*s.StepS*(a.rate+a.into(h))
			if volume > 0 && mass > 0 {
				head = h
				a.mass1, a.volume1, a.rate1, a.flow1 = mass, volume, a.into(h), c-y*h
			}
		}
	}
	meetAll(ends, head)
	return nil
}

func (a *AirValve) absolute(head float64) float64 {
	return math.Max(1, a.AirPa+a.DensityKgM3*a.GravityMS2*(head-a.ElevationM))
}

// into is the rate of air in, kg/s; negative out.
func (a *AirValve) into(head float64) float64 {
	p := a.absolute(head)
	if p < a.AirPa {
		return a.InCdAM2 * orifice(a.AirPa, p, a.AirK)
	}
	return -a.OutCdAM2 * orifice(p, a.AirPa, a.AirK)
}

// orifice is the flow of air per effective area from p1 to p2, kg/(s m²):
// p1 √(2γ/((γ−1)RT) (r^(2/γ) − r^((γ+1)/γ))), r = p2/p1 not below the choked ratio.
func orifice(p1, p2, temperatureK float64) float64 {
	r := math.Max(p2/p1, airChoked)
	return p1 * math.Sqrt(math.Max(0,
		2*airGamma/((airGamma-1)*airGasConstant*temperatureK)*(math.Pow(r, 2/airGamma)-math.Pow(r,
			(airGamma+1)/airGamma))))
}

// Commit moves the air.
func (a *AirValve) Commit(_ Step, ends []End) {
	if a.mass > 0 && a.mass1 == 0 {
		a.SlamHeadM = ends[0].H
	}
	a.mass, a.volume, a.rate, a.flow = a.mass1, a.volume1, a.rate1, a.flow1
	a.AirMostM3 = math.Max(a.AirMostM3, a.volume)
}
