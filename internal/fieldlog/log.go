// Package fieldlog reads what loggers and control systems write: tables of times and values,
// as CSV of any dialect or as XLSX, wide (a column for each signal) or narrow (time, tag,
// value). It guesses the form, asks what is not clear, and keeps both as a small map file
// that the next reading takes. Values stay where they were logged: nothing is filled in
// between two of them.
package fieldlog

import (
	"math"
	"slices"
	"time"

	"seatward/quantity"
)

// Measure is what a channel measures.
type Measure string

// The measures. Other is a channel that was read and of which nothing more is known.
const (
	Pressure   Measure = "pressure" // gauge
	Absolute   Measure = "absolute pressure"
	Head       Measure = "head" // pressure as a height of liquid
	Level      Measure = "level"
	Flow       Measure = "flow"
	Inflow     Measure = "inflow"
	Outflow    Measure = "outflow"
	Volume     Measure = "volume"
	Power      Measure = "power"
	Current    Measure = "current"
	Speed      Measure = "speed"
	Efficiency Measure = "efficiency"
	State      Measure = "state" // of a pump: 1 runs, 0 stands
	Other      Measure = "other"
)

// Sample is what one logged value stands for.
type Sample string

// The samples. Unsaid is what the file does not say.
const (
	Unsaid  Sample = ""
	Instant Sample = "instant"
	Mean    Sample = "mean" // over the interval that ends at the stamp
	Max     Sample = "max"
	Min     Sample = "min"
	Change  Sample = "change" // stored only when it changed; it holds until the next one
)

// Log is one file that was read.
type Log struct {
	File      string
	Channels  []*Channel
	Clock     bool   // the times are those of a clock; else they count from the start
	Zoned     bool   // the times are instants, of the world's clock
	Zone      string // of the clock that wrote them, where it is known by its name
	Rows      int
	Bad       int // values left out for their quality code
	Notes     []string
	Questions []Question
	Map       *Map // how it was read
}

// Question is something that the file does not say and that changes what it means.
type Question struct {
	ID      string   `json:"id"`
	Column  string   `json:"column,omitempty"`
	Text    string   `json:"text"`
	Taken   string   `json:"taken"` // what was taken until somebody answers
	Choices []string `json:"choices"`
	Key     string   `json:"key"` // the key of the map file that answers it
}

// Channel is one signal. Its values are in time order.
type Channel struct {
	Name     string
	Column   int // of the table, from 1; 0 for a tag
	Line     int // where it comes first
	Unit     string
	Measures Measure
	Sample   Sample
	Pump     int
	Skipped  int // cells that hold no number

	axis   *axis
	values series[float32]
	base   float64 // of the values, so that a counter keeps its digits
	scale  float64 // to SI
	based  bool
}

// Span is a stretch of time, ns.
type Span struct{ From, To int64 }

// Seconds is its length.
func (s Span) Seconds() float64 { return float64(s.To-s.From) / float64(time.Second) }

// Len is the number of rows, those without a value among them.
func (c *Channel) Len() int { return min(c.values.n, c.axis.times.n) }

// Time is the time of a row: ns since 1970 for a clock, else since the start.
func (c *Channel) Time(i int) int64 { return c.axis.times.at(i) }

// At is the value of a row in SI; false where the row has none.
func (c *Channel) At(i int) (float64, bool) {
	v := float64(c.values.at(i))
	if math.IsNaN(v) {
		return 0, false
	}
	return (c.base + v) * c.scale, true
}

// Logged is the value of a row in the unit of the file.
func (c *Channel) Logged(i int) (float64, bool) {
	v := float64(c.values.at(i))
	return c.base + v, !math.IsNaN(v)
}

// counterFrom is the value from which on a channel is kept by its distance from the first one.
const counterFrom = 1e5

// add appends a value in the unit of the file; NaN is none.
func (c *Channel) add(v float64) {
	if !c.based && !math.IsNaN(v) {
		if c.based = true; math.Abs(v) >= counterFrom {
			c.base = v
		}
	}
	c.values.add(float32(v - c.base))
}

// Kind is the kind of quantity of the SI values.
func (c *Channel) Kind() quantity.Kind { return kinds[c.Measures] }

// kinds are the kinds of the measures; those without one are plain numbers.
var kinds = map[Measure]quantity.Kind{
	Pressure: quantity.Pressure, Absolute: quantity.AbsolutePressure, Head: quantity.Head, Level: quantity.Length,
	Flow: quantity.Flow, Inflow: quantity.Flow, Outflow: quantity.Flow, Volume: quantity.Volume,
	Power: quantity.Power, Speed: quantity.RotationalSpeed,
}

// Step is the usual time between two rows, s, and the share of the steps between a third and
// three times of it. Both are 0 for fewer than three rows.
func (c *Channel) Step() (seconds, regular float64) {
	n := c.Len()
	if n < 3 {
		return 0, 0
	}
	const looked = 20_001
	stride := max(1, (n-1)/looked)
	var steps []int64
	for i := 1; i < n; i += stride {
		if d := c.Time(i) - c.Time(i-1); d > 0 {
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 {
		return 0, 0
	}
	slices.Sort(steps)
	mid := steps[len(steps)/2]
	kept := 0
	for _, d := range steps {
		if 3*d > mid && d < 3*mid {
			kept++
		}
	}
	return float64(mid) / float64(time.Second), float64(kept) / float64(len(steps))
}

const (
	regularShare = 0.85 // of the steps, above which a channel is logged at a rate; 0.67 of chance events
	gapSteps     = 5    // a silence of more steps is a gap
	mostGaps     = 1000
)

// Held is true for a channel of which only changes are stored: its value holds until the next
// one, and a silence says nothing.
func (c *Channel) Held() bool {
	if c.Sample != Unsaid {
		return c.Sample == Change
	}
	_, regular := c.Step()
	return regular < regularShare
}

// Gaps are the silences of a channel that is logged at a rate, the first thousand.
func (c *Channel) Gaps() []Span {
	if c.Held() {
		return nil
	}
	step, _ := c.Step()
	most := int64(gapSteps * step * float64(time.Second))
	var out []Span
	for i := 1; i < c.Len() && len(out) < mostGaps; i++ {
		if c.Time(i)-c.Time(i-1) > most {
			out = append(out, Span{c.Time(i - 1), c.Time(i)})
		}
	}
	return out
}

// Whole is the time that the channel covers.
func (c *Channel) Whole() Span {
	if c.Len() == 0 {
		return Span{}
	}
	return Span{c.Time(0), c.Time(c.Len() - 1)}
}

// series is a list that grows without being copied: a log of ten million rows is held once.
type series[T any] struct {
	parts [][]T
	n     int
}

const partSize = 1 << 16

func (s *series[T]) add(v T) {
	if s.n%partSize == 0 {
		s.parts = append(s.parts, make([]T, 0, partSize))
	}
	last := len(s.parts) - 1
	s.parts[last] = append(s.parts[last], v)
	s.n++
}

func (s *series[T]) at(i int) T { return s.parts[i/partSize][i%partSize] }

func (s *series[T]) set(i int, v T) { s.parts[i/partSize][i%partSize] = v }
