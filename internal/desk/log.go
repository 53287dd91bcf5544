package desk

import (
	"archive/zip"
	"bytes"
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/internal/calibrate"
	"seatward/internal/chart"
	"seatward/internal/fieldlog"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
)

// LogRequest brings a log of a logger or control system; a station without text is none.
type LogRequest struct {
	Text    string   `json:"text,omitempty"`
	Units   string   `json:"units,omitempty"` // US or SI; those of the station without it
	File    SentFile `json:"file"`
	Map     string   `json:"map,omitempty"`     // how the log is to be read, as a map file
	Channel string   `json:"channel,omitempty"` // the head at the valve, where the log has several
}

// LogReply is what a log holds.
type LogReply struct {
	About     string        `json:"about"`
	Heads     []string      `json:"channel_heads"`
	Channels  [][]string    `json:"channels"`
	Notes     []string      `json:"notes"`
	Questions []LogQuestion `json:"questions"` // what is not clear
	Traps     []string      `json:"traps"`     // what would lead to a wrong conclusion
	Switches  string        `json:"switches"`  // starts and stops in a sentence; empty where none are logged
	Traces    []LogTrace    `json:"traces"`
	Choices   []string      `json:"head_channels"` // channels in which stops may be looked for
	Stops     []LogStop     `json:"stops"`
	NoStops   string        `json:"no_stops"` // why no stop can be taken; empty where some can
	Events    []LogEvent    `json:"events"`   // of the station, that a stop may be
	Chart     *Chart        `json:"chart"`
	Map       string        `json:"map"` // how it was read
	Cautions  string        `json:"cautions"`
}

// LogQuestion is something that the log does not say.
type LogQuestion struct {
	Text    string   `json:"text"`
	Taken   string   `json:"taken"`
	Key     string   `json:"key"` // of the map, which answers it
	Choices []string `json:"choices"`
}

// LogTrace is what was found in one channel of head.
type LogTrace struct {
	Channel string      `json:"channel"`
	About   []string    `json:"about"`
	Events  []LogRemark `json:"events"`
	Unseen  []string    `json:"unseen"` // what the logger could not have seen; first what it says of slam
}

// LogRemark is a sentence.
type LogRemark struct {
	Harm bool   `json:"harm"`
	Text string `json:"text"`
}

// LogStop is one stop that a station may be fitted to.
type LogStop struct {
	Number   int    `json:"number"` // by which it is named
	When     string `json:"when"`
	Closing  string `json:"closing"`  // step and time of the closing; empty where none was seen
	Readings int    `json:"readings"` // about it
}

// LogEvent is an event of the station.
type LogEvent struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// mostUnpacked is what a workbook of a request may hold: a server has others to answer.
const mostUnpacked = 48 << 20

// Log reads a log and says what happened in it.
func (d *Desk) Log(_ context.Context, in LogRequest) (*LogReply, error) {
	st, sys, err := logStation(in)
	if err != nil {
		return nil, err
	}
	x, l, err := readLog(in, st)
	if err != nil {
		return nil, err
	}
	out := &LogReply{
		About: x.About(), Heads: chart.ChannelHeads(), Channels: [][]string{}, Notes: append([]string{}, x.Notes...),
		Questions: []LogQuestion{}, Traps: []string{}, Traces: []LogTrace{}, Stops: []LogStop{}, Events: []LogEvent{},
		Choices: append([]string{}, x.HeadChannels()...), Map: mapText(l.Map), Cautions: chart.LogCautions,
	}
	for i := range x.Channels {
		out.Channels = append(out.Channels, x.Channels[i].Words())
	}
	for _, q := range x.Questions {
		out.Questions = append(out.Questions, LogQuestion{q.Text, q.Taken, q.Key, append([]string{}, q.Choices...)})
	}
	for _, t := range x.Traps {
		out.Traps = append(out.Traps, t.Text+" "+t.Act)
	}
	if len(x.Switches) > 0 {
		out.Switches = x.SwitchesSaid()
	}
	for i := range x.Traces {
		out.Traces = append(out.Traces, logTrace(x, &x.Traces[i], sys))
	}
	if len(x.Traces) > 0 {
		out.Chart = chartOf(x.Figure(sys))
	}
	stops, err := x.Stopped(in.Channel)
	switch {
	case err != nil && len(out.Choices) > 1:
		out.NoStops = "The log has several pressures. Choose the one at the valve."
	case err != nil:
		out.NoStops = err.Error()
	case len(stops) == 0:
		out.NoStops = calibrate.ErrNoStop.Error()
	}
	for i := range stops {
		out.Stops = append(out.Stops, logStop(i, &stops[i], sys))
	}
	if st != nil {
		out.Events = logEvents(st)
	}
	return out, nil
}

// logStation is the station of a log, nil where there is none, and the units of the answer.
func logStation(in LogRequest) (*station.Station, quantity.System, error) {
	if in.Text != "" {
		st, err := load(in.Text, in.Units)
		if err != nil {
			return nil, quantity.SI, err
		}
		return st, st.Units, nil
	}
	sys, err := quantity.SystemNamed(in.Units, quantity.SI)
	if err != nil {
		err = &Error{ID: "units-unknown", Text: err.Error(), Mend: "write one of them, or leave it out"}
	}
	return nil, sys, err
}

// readLog reads the log of a request.
func readLog(in LogRequest, st *station.Station) (*chart.Log, *fieldlog.Log, error) {
	name := cmp.Or(in.File.Name, "log")
	if err := unpackable(name, in.File.Data); err != nil {
		return nil, nil, err
	}
	var m *fieldlog.MapFile
	if in.Map != "" {
		read, list := fieldlog.ReadMap("map", []byte(in.Map))
		if list.Err() != nil {
			return nil, nil, fileError(list)
		}
		m = read
	}
	l, list := fieldlog.Read(name, bytes.NewReader(in.File.Data), m)
	if list.Err() != nil {
		return nil, nil, fileError(list)
	}
	for _, w := range list {
		l.Notes = append(l.Notes, w.Text)
	}
	x := chart.NewLog(l, st)
	if m := x.NoEvents(); m != nil {
		x.Notes = append(x.Notes, m.Text)
	}
	return x, l, nil
}

// unpackable refuses a workbook that grows too large when it is unpacked.
func unpackable(name string, data []byte) error {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil // no workbook; what is wrong with it, the reader says
	}
	var sum uint64
	for _, part := range archive.File {
		sum += min(part.UncompressedSize64, mostUnpacked+1)
	}
	if sum <= mostUnpacked {
		return nil
	}
	return &Error{
		ID:   "file-too-large-unpacked",
		Text: fmt.Sprintf("%s holds more than %d MB when unpacked", name, mostUnpacked>>20),
		Mend: "cut it to the time that matters, save it as CSV, or read it by the command line: seatward log",
	}
}

// mapText is how a log was read, as a map to be corrected. What a channel measures is left open where
// it is not known, so that a unit that is put in says it.
func mapText(m *fieldlog.Map) string {
	open := *m
	open.Channels = slices.Clone(m.Channels)
	for i := range open.Channels {
		if open.Channels[i].Measures == fieldlog.Other {
			open.Channels[i].Measures = ""
		}
	}
	return string(open.YAML(nil))
}

// logTrace words what was found in a channel.
func logTrace(x *chart.Log, t *chart.LogTrace, sys quantity.System) LogTrace {
	out := LogTrace{t.Channel, x.TraceSaid(t, sys), []LogRemark{}, t.UnseenSaid(sys)}
	for i := range t.Slams {
		if i == chart.MostSaid {
			out.Events = append(out.Events, LogRemark{false, fmt.Sprintf("and %d more", len(t.Slams)-i)})
			break
		}
		out.Events = append(out.Events, LogRemark{true, x.SlamSaid(&t.Slams[i], sys)})
	}
	for _, r := range x.OtherSaid(t, sys) {
		out.Events = append(out.Events, LogRemark(r))
	}
	for _, said := range t.ClippedSaid(sys) {
		out.Events = append(out.Events, LogRemark{false, said})
	}
	return out
}

func logStop(i int, s *calibrate.Stop, sys quantity.System) LogStop {
	out := LogStop{Number: i + 1, When: s.When, Readings: len(s.TimeS)}
	if !math.IsNaN(s.ClosingS) {
		out.Closing = fmt.Sprintf("closing %s s later, step %s", quantity.Figures(s.ClosingS, 3),
			sys.Format(quantity.Head, s.StepM))
	}
	return out
}

// logEvents are the events that a stop may be; none where the station cannot be run.
func logEvents(st *station.Station) []LogEvent {
	out := []LogEvent{}
	p, err := plant.New(st)
	if err != nil {
		return out
	}
	events, err := calibrate.Events(p, nil)
	if err != nil {
		return out
	}
	for _, e := range events {
		out = append(out, LogEvent{e.ID, eventTitle(e)})
	}
	return out
}

// eventTitle is an event without the level of the wet well, which is fitted.
func eventTitle(e plant.Event) string {
	title, _, _ := strings.Cut(e.Title, ", wet well ")
	return title
}
