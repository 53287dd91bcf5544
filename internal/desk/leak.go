package desk

import (
	"context"
	"fmt"
	"math"

	"seatward/internal/chart"
	"seatward/internal/levels"
	"seatward/internal/site"
	"seatward/leakback"
	"seatward/quantity"
	"seatward/station"
)

// SentFile is a file that a request carries.
type SentFile struct {
	Name string `json:"name"`
	Data []byte `json:"data"`
}

// LeakRequest brings what was measured at a wet well, as people write it; a station without text
// is none.
type LeakRequest struct {
	Text     string    `json:"text,omitempty"`
	Units    string    `json:"units,omitempty"` // US or SI; those of the file without it
	Area     string    `json:"area,omitempty"`
	Diameter string    `json:"diameter,omitempty"` // of a round well, in place of its area
	Step     string    `json:"step,omitempty"`     // of the level reading
	Head     string    `json:"head,omitempty"`     // across the closed valve; that of the station without it
	Shut     []string  `json:"shut,omitempty"`     // rises with the isolating valve shut: before, after
	Open     []string  `json:"open,omitempty"`
	Drop     []string  `json:"drop,omitempty"`   // while one pump runs
	Record   *SentFile `json:"record,omitempty"` // CSV or XLSX, in place of rises and drops
}

// LeakReply is what the levels say.
type LeakReply struct {
	Cause      string     `json:"cause"`
	Meaning    string     `json:"meaning"`
	Leak       Number     `json:"leak_m3_s"` // null where it is not known
	Lines      []LeakLine `json:"lines"`
	Doubts     []string   `json:"doubts"` // what in the readings does not fit
	Notes      []LeakNote `json:"notes"`
	Pump       []string   `json:"pump"`  // the drawdown against the curve
	Stuck      []LeakNote `json:"stuck"` // what a pump does behind a valve stuck open
	Assumed    []string   `json:"assumed"`
	References []string   `json:"references"`
	Found      *LeakFound `json:"found"` // null where the answer is no reading of a diagnosis
	Chart      *Chart     `json:"chart"` // of the levels; null without a record
}

// LeakLine is a number in words.
type LeakLine struct {
	Name  string `json:"name"`
	Best  string `json:"best"`
	Range string `json:"range"`
}

// LeakNote is a sentence.
type LeakNote struct {
	Warns bool   `json:"warns"`
	Text  string `json:"text"`
}

// LeakFound is the answer as a reading of a test of the diagnosis.
type LeakFound struct {
	Test    string `json:"test"`
	Reading string `json:"reading"`
}

// Leak reads a leak off the levels of a wet well.
func (d *Desk) Leak(_ context.Context, in LeakRequest) (*LeakReply, error) {
	sys, err := quantity.SystemNamed(in.Units, quantity.US)
	if err != nil {
		return nil, &Error{ID: "units-unknown", Text: err.Error(), Mend: "write one of them, or leave it out"}
	}
	l := &site.Leak{Test: &leakback.Test{}}
	if in.Text != "" {
		var st *station.Station
		if st, err = load(in.Text, in.Units); err != nil {
			return nil, err
		}
		if l.Site, err = site.Of(st); err != nil {
			return nil, NoAnswer(err)
		}
		sys, l.Test.Site = st.Units, l.Site.Site
	}
	told := levels.Told{
		Well: levels.Well{Area: in.Area, Diameter: in.Diameter},
		How:  levels.How{Reading: quantity.Reading{System: sys, Stated: true}, Place: "what was written on the page"},
		Step: in.Step, Head: in.Head, Shut: in.Shut, Open: in.Open, Drop: in.Drop,
	}
	if in.Record != nil {
		told.File, told.Record = in.Record.Name, append([]byte{}, in.Record.Data...)
	}
	record, err := told.Test(l.Test)
	if err != nil {
		return nil, err
	}
	answer := l.Test.Answer()
	l.Answer = &answer
	return leakReply(l, record, sys), nil
}

// leakReply words the answer.
func leakReply(l *site.Leak, record []leakback.Reading, sys quantity.System) *LeakReply {
	out := &LeakReply{
		Cause: string(l.Answer.Cause), Meaning: l.Answer.Cause.Meaning(), Leak: Number(math.NaN()), Lines: []LeakLine{},
		Doubts: append([]string{}, l.Doubts()...), Notes: leakNotes(l.Notes(sys)), Stuck: leakNotes(l.Stuck(sys)),
		Assumed: append([]string{}, l.Assumed(sys)...), References: l.References(),
	}
	if l.Answer.Leak.Known() {
		out.Leak = Number(l.Answer.Leak.SI)
	}
	for _, line := range l.Lines(sys) {
		out.Lines = append(out.Lines, LeakLine(line))
	}
	said, _ := l.Pump(sys)
	out.Pump = append([]string{}, said...)
	if r, ok := l.Reading(); ok {
		out.Found = &LeakFound{site.LeakTest, r}
	}
	if record != nil {
		out.Chart = chartOf(chart.Levels(record, sys))
	}
	return out
}

func leakNotes(in []site.Note) []LeakNote {
	out := []LeakNote{}
	for _, n := range in {
		out = append(out, LeakNote(n))
	}
	return out
}

// fieldFault is what is wrong with one field of a measurement, with the field as its path.
func fieldFault(e *levels.FieldError) *Error {
	path := e.Field
	if e.At > 0 {
		path = fmt.Sprintf("%s[%d]", e.Field, e.At)
	}
	return atField(e.Err, path)
}
