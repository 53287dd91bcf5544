// Package logpage writes a log as one page to look at: every channel, its events, and a zoom from
// the whole log down to single readings. The page holds all it needs and asks no server.
package logpage

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"path/filepath"

	"seatward/internal/chart"
	"seatward/internal/fieldlog"
	"seatward/quantity"
)

// What a page keeps of a channel. A log of up to MostReadings is kept whole. Of a longer one each
// of Stretches keeps its lowest and its highest reading, so that no peak is lost, and the
// readings around events are kept whole, as far as MostNear goes.
const (
	MostReadings = 200_000
	Stretches    = 1 << 16
	MostNear     = 100_000
)

// Around an event, s.
const (
	beforeS = 2.0
	afterS  = 10.0
)

//go:embed page.html
var pageText string

//go:embed page.js
var script string

//go:embed page.css
var style string

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// Channel is what the page holds of a channel. Times are seconds from the start of the log.
type Channel struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
	Held bool   `json:"held"` // a reading holds until the next one

	// Either all readings, or stretches of one length from From on with what is near events.
	Times  string `json:"times,omitempty"`  // float64, base64, little endian
	Values string `json:"values,omitempty"` // float32; NaN where there is none

	From    float64 `json:"from"`
	Stretch float64 `json:"stretch,omitempty"` // s
	Low     string  `json:"low,omitempty"`     // float32
	High    string  `json:"high,omitempty"`
	Near    []Near  `json:"near,omitempty"`
}

// Near is all readings around an event.
type Near struct {
	Times  string `json:"times"`
	Values string `json:"values"`
}

// Event is one line of the list.
type Event struct {
	FromS float64 `json:"from"`
	ToS   float64 `json:"to"`
	When  string  `json:"when"`
	Text  string  `json:"text"`
	Kind  string  `json:"kind"` // start, stop, slam, separation, flutter
}

// data is what the script draws.
type data struct {
	Clock    bool      `json:"clock"`
	StartMS  float64   `json:"start"` // since 1970, where the log has a clock
	LengthS  float64   `json:"length"`
	Channels []Channel `json:"channels"`
	Events   []Event   `json:"events"`
}

// Write makes the page of a log that was read, with the events found in it in the units wanted;
// readings are in the units of the log.
func Write(l *fieldlog.Log, x *chart.Log, sys quantity.System) ([]byte, error) {
	d := data{Clock: l.Clock, Channels: []Channel{}, Events: []Event{}}
	first, last := int64(math.MaxInt64), int64(math.MinInt64)
	for _, c := range l.Channels {
		if c.Len() > 0 {
			first, last = min(first, c.Whole().From), max(last, c.Whole().To)
		}
	}
	if first > last {
		return nil, fmt.Errorf("%s: no channel has a reading", x.File)
	}
	d.StartMS, d.LengthS = float64(first)/1e6, float64(last-first)/1e9
	for _, e := range x.Events(sys) {
		d.Events = append(d.Events, Event{
			FromS: float64(e.FromNS-first) / 1e9, ToS: float64(e.ToNS-first) / 1e9, When: x.When(e.FromNS),
			Text: e.Text, Kind: e.Kind,
		})
	}
	for _, c := range l.Channels {
		if c.Len() > 0 {
			d.Channels = append(d.Channels, channel(c, first, d.Events))
		}
	}
	body, err := json.Marshal(d)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = pageTemplate.Execute(&out, struct {
		Title, From, To string
		Rows            int
		Notes           []string
		Events          []Event
		Style           template.CSS
		Script, Data    template.JS
	}{
		filepath.Base(x.File), x.From, x.To, x.Rows, x.Notes, d.Events,
		template.CSS(style), template.JS(script), template.JS(body),
	})
	return out.Bytes(), err
}

// channel keeps what the page can hold of a channel.
func channel(c *fieldlog.Channel, first int64, events []Event) Channel {
	out := Channel{Name: c.Name, Unit: c.Unit, Held: c.Held(), From: float64(c.Whole().From-first) / 1e9}
	if c.Len() <= MostReadings {
		out.Times, out.Values = readings(c, first, 0, c.Len())
		return out
	}
	out.Stretch = float64(c.Whole().To-c.Whole().From) / 1e9 / Stretches
	low, high := stretches(c)
	out.Low, out.High = packed(low), packed(high)
	kept, done := 0, 0
	for _, e := range events {
		from := max(done, rowAt(c, first+int64((e.FromS-beforeS)*1e9)))
		to := rowAt(c, first+int64((e.ToS+afterS)*1e9))
		if to <= from {
			continue
		}
		if kept += to - from; kept > MostNear {
			break
		}
		done = to
		times, values := readings(c, first, from, to)
		out.Near = append(out.Near, Near{times, values})
	}
	return out
}

// stretches are the lowest and the highest reading of each; NaN where there is none.
func stretches(c *fieldlog.Channel) (low, high []float32) {
	low, high = make([]float32, Stretches), make([]float32, Stretches)
	none := float32(math.NaN())
	for i := range low {
		low[i], high[i] = none, none
	}
	whole := c.Whole()
	length := float64(whole.To-whole.From) + 1
	for i := range c.Len() {
		v, ok := c.Logged(i)
		if !ok {
			continue
		}
		k := int(float64(c.Time(i)-whole.From) / length * Stretches)
		if x := float32(v); !(low[k] <= x) {
			low[k] = x
		}
		if x := float32(v); !(high[k] >= x) {
			high[k] = x
		}
	}
	return low, high
}

// rowAt is the first reading at a time or later.
func rowAt(c *fieldlog.Channel, ns int64) int {
	from, to := 0, c.Len()
	for from < to {
		if mid := (from + to) / 2; c.Time(mid) < ns {
			from = mid + 1
		} else {
			to = mid
		}
	}
	return from
}

func readings(c *fieldlog.Channel, first int64, from, to int) (times, values string) {
	t, v := make([]float64, 0, to-from), make([]float32, 0, to-from)
	for i := from; i < to; i++ {
		x, ok := c.Logged(i)
		if !ok {
			x = math.NaN()
		}
		t, v = append(t, float64(c.Time(i)-first)/1e9), append(v, float32(x))
	}
	return packed(t), packed(v)
}

// packed writes numbers as a browser reads them.
func packed[T float32 | float64](v []T) string {
	var b bytes.Buffer
	if err := binary.Write(&b, binary.LittleEndian, v); err != nil {
		panic(err) // a buffer takes all that a slice of numbers holds
	}
	return base64.StdEncoding.EncodeToString(b.Bytes())
}
