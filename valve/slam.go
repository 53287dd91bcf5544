package valve

import "math"

// Slam is one seating of a moving element in a run.
//
// A bounce off the seat belongs to the seating that it follows, until the pipes lift the
// element again or the bounce carries it past reopenShare of its stroke. Time, speed and
// velocity are those of the hardest blow of the seating, as a rule the first.
type Slam struct {
	TimeS        float64 // 0 where there was no seating
	ReverseMS    float64 // greatest reverse velocity in the bore since it last left the seat
	SeatingMS    float64 // velocity in the bore at the blow; negative back
	SeatingSpeed float64 // of the element, m/s or rad/s
	CushionS     float64 // time in the cushion before it seated
}

// CountedSlamMS is the reverse velocity, m/s, from which a seating after the first is taken
// as a later slam (physics: below it the number of seatings is decided by the grid).
const CountedSlamMS = 0.05

// reopenShare is the share of the stroke past which a bounce is an opening of its own;
// judged, no source. A rebound that the water does not carry on stays well below it.
const reopenShare = 0.05

// mostSlams bounds the list of those than which none later was harder.
const mostSlams = 256

// seatings is the part of Motion that counts them.
type seatings struct {
	First     Slam
	Worst     Slam    // the hardest by ReverseMS
	Slams     []Slam  // in order, each harder than all after it; the last is the latest
	Seatings  int     // all of them
	Later     int     // after the first with ReverseMS of CountedSlamMS or more
	Reopened  int     // times it left the seat after it had first seated
	Bounces   int     // times it was thrown off the seat by its own blow
	ReleasedS float64 // when it last left its seat after the first seating; 0 if it did not

	// UnseatedReverseMS is the greatest reverse velocity since it last left the seat, where
	// it has not seated again.
	UnseatedReverseMS float64
}

// Seated is true once it has seated.
func (m *seatings) Seated() bool { return m.Seatings > 0 }

// WorstSince is the hardest seating at or after the time; without any, none.
func (m *seatings) WorstSince(timeS float64) Slam {
	if m.Worst.TimeS >= timeS {
		return m.Worst
	}
	for _, s := range m.Slams {
		if s.TimeS >= timeS {
			return s
		}
	}
	return Slam{}
}

// seat files a new seating.
func (m *seatings) seat(s Slam) {
	m.Seatings++
	m.file(s)
}

// again is a further blow of the latest seating; the harder of the two stands for it.
func (m *seatings) again(s Slam) {
	last := len(m.Slams) - 1
	if s.ReverseMS <= m.Slams[last].ReverseMS {
		return
	}
	before := m.Slams[last]
	m.Slams = m.Slams[:last]
	if m.Seatings > 1 && before.ReverseMS >= CountedSlamMS {
		m.Later-- // file counts it anew
	}
	m.file(s)
}

// file takes the latest seating into the account.
func (m *seatings) file(s Slam) {
	switch {
	case m.Seatings == 1:
		m.First = s
	case s.ReverseMS >= CountedSlamMS:
		m.Later++
	}
	if m.Seatings == 1 || s.ReverseMS > m.Worst.ReverseMS {
		m.Worst = s
	}
	keep := len(m.Slams)
	for keep > 0 && m.Slams[keep-1].ReverseMS <= s.ReverseMS {
		keep--
	}
	m.Slams = m.Slams[:keep]
	if keep == mostSlams { // the oldest goes: Worst remembers the hardest
		m.Slams = m.Slams[:copy(m.Slams, m.Slams[1:])]
	}
	m.Slams = append(m.Slams, s)
}

// leave notes that the element has left its seat.
func (m *seatings) leave(timeS float64) {
	if m.Seatings > 0 {
		m.Reopened++
		m.ReleasedS = timeS
	}
}

// swing is the state of an element between two blows.
type swing struct {
	reverse  float64 // greatest reverse velocity since it left the seat, m/s
	cushionS float64 // when it met the cushion; 0 outside it
}

// blow is the slam of an element that strikes its seat in the velocity, and begins anew.
func (w *swing) blow(timeS, speed, velocityMS float64) Slam {
	s := Slam{
		TimeS: timeS, ReverseMS: math.Max(w.reverse, -velocityMS), SeatingMS: velocityMS,
		SeatingSpeed: math.Abs(speed),
	}
	if w.cushionS > 0 {
		s.CushionS = timeS - w.cushionS
	}
	*w = swing{}
	return s
}

// Last is the latest seating; without any, none.
func (m *seatings) Last() Slam {
	if len(m.Slams) == 0 {
		return Slam{}
	}
	return m.Slams[len(m.Slams)-1]
}
