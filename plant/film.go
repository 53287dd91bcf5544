package plant

import (
	"math"

	"seatward/transient"
	"seatward/valve"
)

// The most that a film holds.
const (
	MostFrames = 600
	mostPlaces = 201  // along the main
	finer      = 8    // instants that are kept for each frame at the most
	busyShare  = 0.7  // of the frames that may be given to steps in which something happens
	moves      = 1e-5 // of the stroke in a step: an element that moves
)

// Film is a run as pictures of the main, in time: every computed step while a valve moves or the
// head of its closing is followed, as long as there are not too many, and between those as many as
// there is room for. A frame in which a head was greater, or
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

// reel takes the heads of a run down: at every step at first, and at every second, fourth …
// as the run turns out to be long.
type reel struct {
	frames, stride, steps int
	pipes                 []reelPipe
	places                []reelPlace
	times                 []float64
	busy                  []bool    // instants at which something happens
	busies                int       // how many
	heads                 []float32 // instants by places
	low, high             []peak    // of each place
	net                   *transient.Network
	valves                []reelValve
	echoS                 float64 // for which the head of a closing is followed
}

// reelValve is what a valve did at the last step.
type reelValve struct {
	line     *valve.InLine
	share    float64
	seatings int
	seatedS  float64
}

// peak is a least or greatest head and when it was.
type peak struct{ headM, timeS float64 }

type reelPipe struct {
	now         func() []float64
	heads       []float64 // as now gives them at the instant that is taken
	least, most []float64
}

type reelPlace struct{ pipe, node int }

func newReel(l *layout, frames int) (*reel, error) {
	r := &reel{frames: min(frames, MostFrames), net: l.net, stride: 1, echoS: echoes*l.branch + 2*l.net.StepS()}
	for _, line := range l.valves {
		r.valves = append(r.valves, reelValve{line: line, share: line.Share(), seatedS: math.Inf(-1)})
	}
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
	r.low, r.high = make([]peak, n), make([]peak, n)
	for i, at := range r.places {
		h := r.pipes[at.pipe].now()[at.node]
		r.low[i], r.high[i] = peak{headM: h}, peak{headM: h}
	}
	r.take(false)
	return r, nil
}

// step is called at each step of the run.
func (r *reel) step() {
	for i, at := range r.places {
		p := &r.pipes[at.pipe]
		if low := p.least[at.node]; low < r.low[i].headM {
			r.low[i] = peak{low, r.net.TimeS()}
		}
		if high := p.most[at.node]; high > r.high[i].headM {
			r.high[i] = peak{high, r.net.TimeS()}
		}
	}
	busy := r.happens()
	if r.steps++; busy || r.steps%r.stride == 0 {
		r.take(busy)
	}
}

// happens is true while a valve moves or the head of its closing is followed.
func (r *reel) happens() bool {
	busy, now := false, r.net.TimeS()
	for i := range r.valves {
		v := &r.valves[i]
		share, n := v.line.Share(), v.line.Motion.Seatings
		if n != v.seatings {
			v.seatings, v.seatedS = n, now
		}
		busy = busy || math.Abs(share-v.share) > moves || now < v.seatedS+r.echoS
		v.share = share
	}
	return busy && float64(r.busies+2) < busyShare*float64(r.frames)
}

// take keeps an instant. When there are too many, every second one goes of those at which
// nothing happens.
func (r *reel) take(busy bool) {
	r.times, r.busy = append(r.times, r.net.TimeS()), append(r.busy, busy)
	if busy {
		r.busies++
	}
	for i := range r.pipes {
		r.pipes[i].heads = r.pipes[i].now()
	}
	for _, at := range r.places {
		r.heads = append(r.heads, float32(r.pipes[at.pipe].heads[at.node]))
	}
	if len(r.times) <= finer*r.frames {
		return
	}
	n, kept, still := len(r.places), 0, 0
	for k := range r.times {
		if !r.busy[k] {
			if still++; still%2 == 0 {
				continue
			}
		}
		r.times[kept], r.busy[kept] = r.times[k], r.busy[k]
		copy(r.heads[kept*n:(kept+1)*n], r.heads[k*n:(k+1)*n])
		kept++
	}
	r.times, r.busy, r.heads = r.times[:kept], r.busy[:kept], r.heads[:kept*n]
	r.stride *= 2
}

// ends are the instants that become frames: the first and the last, those at which something
// happens, and of the rest one of each group.
func (r *reel) ends() []int {
	n := len(r.times)
	room := max(r.frames-r.busies-2, 1) // beside the first and the last
	group := (n - r.busies + room - 1) / room
	out, still := []int{0}, 0
	for k := 1; k < n; k++ {
		if still++; r.busy[k] || still >= group && len(out) < r.frames-1 || k == n-1 {
			out, still = append(out, k), 0
		}
	}
	return out
}

// film joins the instants to frames.
func (r *reel) film() *Film {
	if r.times[len(r.times)-1] != r.net.TimeS() {
		r.take(false) // the end
	}
	places := len(r.places)
	out := &Film{}
	for i := range places {
		out.LeastM, out.MostM = append(out.LeastM, r.low[i].headM), append(out.MostM, r.high[i].headM)
	}
	since := -1.0
	for _, end := range r.ends() {
		frame := append([]float32(nil), r.heads[end*places:(end+1)*places]...)
		for i := range places {
			first, last := r.low[i], r.high[i] // the one further from the head before the event counts
			if before := float64(r.heads[i]); before-first.headM > last.headM-before {
				first, last = last, first
			}
			for _, x := range []peak{first, last} {
				if x.timeS > since && x.timeS <= r.times[end] && x.timeS > 0 {
					frame[i] = float32(x.headM)
				}
			}
		}
		since = r.times[end]
		out.TimeS, out.HeadM = append(out.TimeS, r.times[end]), append(out.HeadM, frame)
	}
	return out
}

// film makes the pictures of a run and what the valve and pump did in each.
func (p *Plant) film(t *Stop, l *layout, r *reel) *Film {
	out := r.film()
	first := make([]int, len(r.pipes)) // place of each pipe's beginning in the envelope
	for i := range r.pipes[1:] {
		first[i+1] = first[i] + len(r.pipes[i].least)
	}
	for _, at := range r.places {
		e := t.Envelope[first[at.pipe]+at.node]
		out.ChainageM, out.ElevationM, out.LimitM = append(out.ChainageM, e.ChainageM), append(out.ElevationM,
			e.ElevationM), append(out.LimitM, e.LimitM)
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
		out.Opening, out.VelocityMS, out.PumpSpeed = append(out.Opening, read(ReadOpening, k)), append(out.VelocityMS,
			read(ReadFlow, k)/area), append(out.PumpSpeed, read(ReadSpeed, k))
	}
	return out
}
