package study

import (
	"math"

	"seatward/transient"
)

// The most that a film holds.
const (
	MostFrames = 600
	mostPlaces = 201 // along the main
	finer      = 8   // instants that are kept for each frame until the end of the run is known
)

// Film is a run as pictures of the main, in time. A frame in which a head was greater, or
// less, than at any other time shows that head, so no peak is lost between frames; of two
// in one frame the one that is further from the head before the event. LeastM and MostM
// hold both in any case.
type Film struct {
	TimeS      []float64
	ChainageM  []float64
	ElevationM []float64
	LimitM     []float64   // head at the pipe's rating with its surge allowance; NaN where not known
	LeastM     []float64   // of the whole run
	MostM      []float64   // of the whole run
	HeadM      [][]float32 // by frame and place
	Opening    []float64   // of the valve, share of its stroke, by frame
	VelocityMS []float64   // in its bore
	PumpSpeed  []float64   // over full speed
}

// reel takes the heads of a run down.
type reel struct {
	frames, stride, steps int
	pipes                 []reelPipe
	places                []reelPlace
	times                 []float64
	heads                 []float32 // instants by places
	low, high             []float64 // least and greatest head until the last instant
	net                   *transient.Network
}

type reelPipe struct {
	now         func() []float64
	heads       []float64 // as now gives them at the instant that is taken
	least, most []float64
}

type reelPlace struct{ pipe, node int }

// newReel makes a reel for a run of so many steps.
func newReel(l *layout, frames, steps int) (*reel, error) {
	r := &reel{frames: min(frames, MostFrames), net: l.net}
	r.stride = max(1, steps/(finer*r.frames))
	var all []reelPlace
	for i, part := range l.profile {
		now, least, most, err := l.net.Heads(part.name)
		if err != nil {
			return nil, err
		}
		r.pipes = append(r.pipes, reelPipe{now: now, least: least, most: most})
		for k := range least {
			all = append(all, reelPlace{i, k})
		}
	}
	n := min(len(all), mostPlaces)
	for k := range n {
		r.places = append(r.places, all[k*(len(all)-1)/max(n-1, 1)])
	}
	r.low, r.high = make([]float64, n), make([]float64, n)
	instants := steps/r.stride + 2
	r.times, r.heads = make([]float64, 0, instants), make([]float32, 0, instants*n)
	r.take()
	return r, nil
}

// step is told each step of the run.
func (r *reel) step() {
	if r.steps++; r.steps%r.stride == 0 {
		r.take()
	}
}

// take keeps an instant. Where a head has passed the greatest or least so far since the
// last instant, that head is kept: what passes between two instants is not lost. Where
// both did, the one that went further does.
func (r *reel) take() {
	first := len(r.times) == 0
	r.times = append(r.times, r.net.TimeS())
	for i := range r.pipes {
		r.pipes[i].heads = r.pipes[i].now()
	}
	for i, at := range r.places {
		p := &r.pipes[at.pipe]
		head, low, high := p.heads[at.node], p.least[at.node], p.most[at.node]
		switch {
		case first:
		case high > r.high[i] && high-r.high[i] >= r.low[i]-low:
			head = high
		case low < r.low[i]:
			head = low
		}
		r.low[i], r.high[i] = low, high
		r.heads = append(r.heads, float32(head))
	}
}

// film joins the instants to frames.
func (r *reel) film() *Film {
	if r.times[len(r.times)-1] != r.net.TimeS() {
		r.take() // the end
	}
	n, places := len(r.times), len(r.places)
	out := &Film{LeastM: r.low, MostM: r.high}
	peaks := make([][2]int, places) // instants of the least and greatest head of each place
	for k := range n {
		for i := range places {
			h := r.heads[k*places+i]
			if h < r.heads[peaks[i][0]*places+i] {
				peaks[i][0] = k
			}
			if h > r.heads[peaks[i][1]*places+i] {
				peaks[i][1] = k
			}
		}
	}
	group := (n - 2 + r.frames) / max(r.frames-1, 1) // the first instant is a frame of its own
	for end := 0; ; {
		start := end
		if len(out.TimeS) > 0 {
			start = end - max(group, 1) + 1
		}
		start = max(start, 0)
		frame := append([]float32(nil), r.heads[end*places:(end+1)*places]...)
		for i := range places {
			at := func(k int) float32 { return r.heads[k*places+i] }
			order := peaks[i] // the one further from the head before the event last
			if at(0)-at(order[0]) > at(order[1])-at(0) {
				order[0], order[1] = order[1], order[0]
			}
			for _, k := range order {
				if k >= start && k <= end {
					frame[i] = at(k)
				}
			}
		}
		out.TimeS, out.HeadM = append(out.TimeS, r.times[end]), append(out.HeadM, frame)
		if end >= n-1 {
			return out
		}
		end = min(end+max(group, 1), n-1)
	}
}

// film makes the pictures of a run and what the valve and pump did in each.
func (p *plant) film(t *Trip, l *layout, r *reel) *Film {
	out := r.film()
	first := make([]int, len(r.pipes)) // place of each pipe's beginning in the envelope
	for i := range r.pipes[1:] {
		first[i+1] = first[i] + len(r.pipes[i].least)
	}
	for _, at := range r.places {
		e := t.Envelope[first[at.pipe]+at.node]
		out.ChainageM, out.ElevationM, out.LimitM = append(out.ChainageM, e.ChainageM), append(out.ElevationM, e.ElevationM), append(out.LimitM, e.LimitM)
	}
	area := l.valves[l.watched].Mechanism().AreaM2()
	read := func(name string, k int) float64 {
		for i, n := range t.Names {
			if n == name {
				return t.Rows[k].Now[i]
			}
		}
		return math.NaN()
	}
	k := 0
	for _, at := range out.TimeS {
		for k+1 < len(t.Rows) && t.Rows[k+1].TimeS <= at+l.net.StepS()/2 {
			k++
		}
		out.Opening, out.VelocityMS, out.PumpSpeed = append(out.Opening, read(ReadOpening, k)), append(out.VelocityMS, read(ReadFlow, k)/area), append(out.PumpSpeed, read(ReadSpeed, k))
	}
	return out
}
