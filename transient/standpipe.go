package transient

import "errors"

// StandPipe is an open shaft at a node: its level moves with the flow into it.
type StandPipe struct {
	AreaM2 float64
	Spills bool    // at the top
	TopM   float64 // elevation of the top
	levelM float64
	flow   float64
	spilt  bool
}

// Start fills it to the steady head.
func (p *StandPipe) Start(ends []End) error {
	if !(p.AreaM2 > 0) {
		return errors.New("a stand-pipe needs an area")
	}
	p.levelM = ends[0].H
	return nil
}

// Solve takes the mean flow of the step into the shaft (trapezoidal rule).
func (p *StandPipe) Solve(s Step, ends []End) error {
	c, y := offer(ends)
	k := s.StepS / (2 * p.AreaM2)
	head := (p.levelM + k*(p.flow+c)) / (1 + k*y)
	if p.Spills && head > p.TopM {
		head = p.TopM
	}
	meetAll(ends, head)
	return nil
}

// Commit moves the level.
func (p *StandPipe) Commit(_ Step, ends []End) {
	p.flow = 0
	for i := range ends {
		p.flow += ends[i].Q
	}
	p.levelM = ends[0].H
	p.spilt = p.spilt || p.Spills && p.levelM >= p.TopM
}

// Spilt is true once it has run over.
func (p *StandPipe) Spilt() bool { return p.spilt }

// LevelM is the level in the shaft.
func (p *StandPipe) LevelM() float64 { return p.levelM }
