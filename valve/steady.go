package valve

import (
	"math"

	"seatward/internal/root"
)

// Standing is how the element rests in steady flow.
type Standing uint8

// The ways to rest.
const (
	Closed   Standing = iota // on the seat
	Floating                 // between, and more flow would carry it to its stop
	Parked                   // between, and no flow would carry it to its stop
	FullOpen                 // at its stop
)

// String names the standing in one or two words.
func (s Standing) String() string {
	return [...]string{"closed", "floating", "parked", "full open"}[s]
}

// Balance is an opening at which the forces on the element balance.
type Balance struct {
	Xi     float64 // m or rad
	Stable bool    // the element comes back to it when it is pushed a little
}

// Rest is where the element rests in a steady velocity.
type Rest struct {
	VelocityMS float64
	Xi         float64 // m or rad
	Share      float64 // of the stroke
	Standing   Standing
	Loss       float64   // K on the bore's velocity head
	HeadM      float64   // head lost, m
	Others     []Balance // further openings where the forces balance, upward; a disturbance can carry the element there
}

// scan is where the forces are looked at for a balance: the share of the stroke,
// dense at the seat, where the loss changes fast.
var scan = func() (s [96]float64) {
	for i := range s {
		if i < 32 {
			s[i] = seatShare * math.Pow(0.05/seatShare, float64(i)/32)
		} else {
			s[i] = 0.05 + 0.95*float64(i-32)/63
		}
	}
	return s
}()

// Settle finds where the element rests when the flow has risen slowly from nothing
// to the velocity V in the bore: at the first opening from the seat where the
// hydraulic force falls below the closing force. Friction is left out. For V ≤ 0 the
// element is closed, unless its own weight opens it.
func (m *Mechanism) Settle(velocityMS float64) Rest {
	rest, from := m.firstRest(velocityMS)
	if from < 0 {
		return rest
	}
	// Beyond the rest: further balances, and whether the water ever stops pushing open.
	v, parks := max(velocityMS, 0), false
	last := -1.0
	for i := from; i < len(scan); i++ {
		xi := scan[i] * m.Stroke
		push := m.push(i, v)
		net := push - m.scanned[i].closing
		parks = parks || push <= 0
		if (net > 0) != (last > 0) {
			rest.Others = append(rest.Others, Balance{
				Xi:     m.balance(new(State), scan[i-1]*m.Stroke, xi, v),
				Stable: net <= 0,
			})
		}
		last = net
	}
	if last > 0 {
		rest.Others = append(rest.Others, Balance{Xi: m.Stroke, Stable: true})
	}
	if rest.Standing == Floating && parks {
		rest.Standing = Parked
	}
	return rest
}

// firstRest is the rest alone, and the step of the scan at which it was found; −1 at the
// stop.
func (m *Mechanism) firstRest(velocityMS float64) (rest Rest, from int) {
	v := max(velocityMS, 0)
	rest = Rest{VelocityMS: velocityMS}
	if m.push(0, v)-m.scanned[0].closing <= 0 {
		return rest, 1
	}
	rest.Xi, rest.Standing, from = m.Stroke, FullOpen, -1
	s := new(State)
	for i := 1; i < len(scan); i++ {
		if m.push(i, v)-m.scanned[i].closing <= 0 {
			rest.Xi, rest.Standing, from = m.balance(s, scan[i-1]*m.Stroke, scan[i]*m.Stroke, v), Floating, i
			break
		}
	}
	if rest.Xi > (1-1e-6)*m.Stroke {
		rest.Xi, rest.Standing, from = m.Stroke, FullOpen, -1
	}
	rest.Share = rest.Xi / m.Stroke
	m.at(rest.Xi, s)
	rest.Loss = s.Loss(1)
	rest.HeadM = rest.Loss * v * v / (2 * m.GravityMS2)
	return rest, from
}

// balance finds the opening between a and b at which the net force changes sign. It works
// in s.
func (m *Mechanism) balance(s *State, a, b, velocityMS float64) float64 {
	net := func(xi float64) float64 { // the force that opens the element at rest
		m.at(xi, s)
		return s.Push(m.DensityKgM3, velocityMS) - s.Closing
	}
	return root.Find(net, root.Point{X: a, Y: net(a)}, root.Point{X: b, Y: net(b)}, 1e-12*m.Stroke)
}

// LossHeadM is the head lost in the valve, m, at the opening that the velocity in the
// bore gives it. A velocity too small to lift the element off its seat meets the head
// that opens it: without that head there is no flow at all.
func (m *Mechanism) LossHeadM(velocityMS float64) float64 {
	rest, _ := m.firstRest(velocityMS)
	if rest.Xi == 0 && velocityMS > 0 {
		return m.openingHeadM()
	}
	return rest.HeadM
}

// openingHeadM is the head lost in the velocity that just lifts the element.
func (m *Mechanism) openingHeadM() float64 {
	s := new(State)
	m.at(scan[0]*m.Stroke, s)
	v := floats(m.scanned[0].closing, m.push(0, 1))
	return s.Loss(1) * v * v / (2 * m.GravityMS2)
}

// Clear says what a full-open velocity means.
type Clear uint8

// The meanings.
const (
	HeldAtStop  Clear = iota // the least velocity that holds the element at its stop
	ParkedClear              // the least velocity at which it is parked with its loss near the least
	FallsOpen                // nothing closes it in this position: it is open without flow
)

// String says it in words.
func (c Clear) String() string {
	return [...]string{
		"least velocity that holds it at its stop",
		"least velocity at which it is parked clear of the stream",
		"nothing closes it in this position",
	}[c]
}

// ParkedShare is how far the loss of an element that parks part-way may stand above
// the loss at the end of its parking range for it to be taken as parked clear. It is this
// program's choice: with it the ball of 150 mm bore parks clear at some 5 ft/s, where
// trade practice wants it.
const ParkedShare = 0.5

// Opening is the velocity that opens a valve in full, with what that means.
type Opening struct {
	VelocityMS float64
	Meaning    Clear
	Xi         float64 // opening at which it then rests, m or rad
	Loss       float64 // K there
}

// FullOpenVelocity finds the least velocity in the bore that opens the valve in full
// when the flow rises slowly from nothing. An element that the water cannot push to
// its stop is taken as open when it is parked with its loss within ParkedShare above
// that at the end of its parking range.
func (m *Mechanism) FullOpenVelocity() Opening {
	last := 0.0 // opening up to which the water pushes open
	parks := false
	for i, share := range scan {
		if m.push(i, 1) <= 0 {
			parks = true
			break
		}
		last = share * m.Stroke
	}
	if !parks {
		return m.opening(m.Stroke, HeldAtStop)
	}
	s := m.At(last)
	limit := (1 + ParkedShare) * s.Loss(1)
	over := func(xi float64) float64 {
		m.at(xi, &s)
		return s.Loss(1) - limit
	}
	clear := m.seat()
	if atSeat := over(clear); atSeat > 0 {
		clear = root.Find(over, root.Point{X: clear, Y: atSeat}, root.Point{X: last, Y: over(last)}, 0)
	}
	return m.opening(clear, ParkedClear)
}

// opening is the velocity that carries the element from the seat to the opening end:
// the greatest of those that float it on the way.
func (m *Mechanism) opening(end float64, meaning Clear) Opening {
	best := m.FloatingVelocityMS(end)
	for i, share := range scan {
		if share*m.Stroke < end {
			best = max(best, floats(m.scanned[i].closing, m.push(i, 1)))
		}
	}
	s := m.At(end)
	if best == 0 {
		meaning = FallsOpen
	}
	return Opening{VelocityMS: best, Meaning: meaning, Xi: end, Loss: s.Loss(1)}
}

// FloatingVelocityMS is the velocity in the bore at which the forces on the element
// balance at the opening ξ; 0 where nothing closes it or the water does not open it.
func (m *Mechanism) FloatingVelocityMS(xi float64) float64 {
	s := m.At(xi)
	return floats(s.Closing, s.Push(m.DensityKgM3, 1))
}

// floats is the velocity at which the push, that of unit velocity, balances what closes.
func floats(closing, push float64) float64 {
	if !(push > 0 && closing > 0) {
		return 0
	}
	return math.Sqrt(closing / push)
}

// CrackingHeadM is the head, m, across the seated element at which it leaves the seat;
// 0 when nothing holds it there.
func (m *Mechanism) CrackingHeadM() float64 {
	s := m.At(m.seat())
	return max(0, s.Closing) / (s.gapArea(1) * m.DensityKgM3 * m.GravityMS2)
}

// LeastBackHeadM is the minimum back head, m, that must press on the seated element for
// its own weight not to take it off the seat: what mechanics asks for. 0 when weight or
// spring hold it. It says nothing about tightness, which needs pressure on the seal
// and is a datum of the product.
func (m *Mechanism) LeastBackHeadM() float64 {
	return m.HoldPa / (m.DensityKgM3 * m.GravityMS2)
}

// SelfClosing is true when weight, spring or lever close the element from every
// opening, without reverse flow. If not, stuck is the greatest share of the stroke
// from which nothing brings it back.
func (m *Mechanism) SelfClosing() (yes bool, stuck float64) {
	yes = true
	for _, share := range scan {
		if s := m.At(share * m.Stroke); s.Closing <= s.Friction+1e-9*math.Abs(m.SubmergedN) {
			yes, stuck = false, share
		}
	}
	return yes, stuck
}
