package soak

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"seatward/catalog"
	"seatward/judge"
	"seatward/plant"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// This file is all of the package that knows how the program is asked. The rest works on
// Answer.

// program is what is asked: the demonstration catalog and the base rules.
type program struct {
	catalogs []*catalog.Catalog
	book     *rules.Book
	samples  int // draws of all ranges for each valve; 0 for as many as are needed
}

func newProgram() (program, error) {
	catalogs, list := catalog.Demo()
	if err := list.Err(); err != nil {
		return program{}, err
	}
	book, list := rules.Base()
	return program{catalogs: catalogs, book: book}, list.Err()
}

// Answer is what select and trip say of one station, in numbers.
type Answer struct {
	Valves []ValveAnswer // in the order of the ranking
	Valve  string        // that trip was asked about
	Events []EventAnswer
}

// ValveAnswer is a row of select.
type ValveAnswer struct {
	ID, Family, Verdict string
	Rank                int
	Class               string     // of slam
	ReverseMS           [3]float64 // low, best, high
	HeadRiseM           float64
	WorstEvent          string
	Condition           string // the first finding that is not good news
	Lined               bool   // of the size of the pipe
	Unsure              bool   // the answer says that it is near a limit: two grids differ, the valve does not rest, the best estimate is a lucky one
	Stops               []EventAnswer
}

// EventAnswer is a row of trip. Heads are above the pipe.
type EventAnswer struct {
	WhyNot          string // why it did not run, in a sentence; "" where it did
	Idle            bool   // the reason is the station's: nothing flows before the event
	ID, Kind, Level string
	Closed          bool
	ReverseMS       float64
	MostM, LeastM   float64
	Vapor           bool
	Unsure          bool // the answer says that two grids differ, or that the valve does not come to rest
}

// read makes the station of a file.
func (p program) read(text string) (*station.Station, error) {
	st, list := station.Load("generated", []byte(text))
	if st == nil {
		return nil, list
	}
	return st, nil
}

// choose is the answer of select for one valve, or for all where none is named; its machine
// form is made too.
func (p program) choose(ctx context.Context, st *station.Station, valve string) ([]ValveAnswer, error) {
	if list := study.SizeMade(p.catalogs, st); list != nil {
		return nil, list
	}
	s, err := study.Run(ctx, st, study.Options{Catalogs: p.catalogs, Rules: p.book, Valve: valve, Samples: p.samples})
	if err != nil {
		return nil, err
	}
	if _, err := json.Marshal(s.JSON()); err != nil {
		return nil, fmt.Errorf("%w: select: %w", errNaN, err)
	}
	var out []ValveAnswer
	for i := range s.Assessments {
		a := &s.Assessments[i]
		v := a.Slam.ReverseVelocity
		row := ValveAnswer{
			ID: a.Item.ID, Family: a.Item.Family.ID, Verdict: a.Verdict.String(), Rank: a.Rank, Class: a.Slam.Class,
			ReverseMS: [3]float64{v.Low, v.SI, v.High},
			HeadRiseM: a.Slam.HeadRise.SI, WorstEvent: a.Slam.EventID, Lined: a.Item.Size == st.Valve.Size,
		}
		for _, f := range a.Findings {
			if f.Severity >= judge.Condition {
				row.Condition = f.Text
				break
			}
		}
		if a.Answer != nil {
			row.Unsure = a.Slam.EventID != "" && (a.Slam.Lucky || !a.Slam.Resolved || !a.Slam.AtRest)
			row.Stops = eventAnswers(a.Answer)
		}
		out = append(out, row)
	}
	return out, nil
}

// trip is the answer of trip for one event, or for all where none is named; the band of the
// worst is made only when all are asked.
func (p program) trip(ctx context.Context, st *station.Station, valve, event string) ([]EventAnswer, error) {
	s, err := study.RunTrip(ctx, st,
		study.TripOptions{
			Catalogs: p.catalogs, Rules: p.book, Valve: valve, Event: event, Samples: p.samples,
			Quick: event != "",
		})
	if err != nil {
		return nil, err
	}
	if _, err := json.Marshal(s.JSON()); err != nil {
		return nil, fmt.Errorf("%w: trip: %w", errNaN, err)
	}
	return eventAnswers(s.Answer), nil
}

// few is the program with n families of the catalog that are made in the size of the
// station's valve, others for each turn, and with all where there are no more.
func (p program) few(st *station.Station, n int, turn uint64) program {
	var made []*catalog.Family
	for _, c := range p.catalogs {
		for _, f := range c.Families {
			if slices.ContainsFunc(f.Items, func(it *catalog.Item) bool { return it.Size == st.Valve.Size }) {
				made = append(made, f)
			}
		}
	}
	if n >= len(made) {
		return p
	}
	var picked []*catalog.Family
	for i := range uint64(n) {
		picked = append(picked, made[(turn*uint64(n)+i)%uint64(len(made))])
	}
	out := p
	out.catalogs = nil
	for _, c := range p.catalogs {
		part := *c
		part.Families = slices.DeleteFunc(slices.Clone(c.Families),
			func(f *catalog.Family) bool { return !slices.Contains(picked, f) })
		out.catalogs = append(out.catalogs, &part)
	}
	return out
}

// eventAnswers are the stops of one valve.
func eventAnswers(answer *plant.Answer) []EventAnswer {
	var out []EventAnswer
	for _, t := range answer.Stops {
		level := "high"
		if t.Event.ID[len(t.Event.ID)-3:] == "low" {
			level = "low"
		}
		a := EventAnswer{ID: t.Event.ID, Kind: t.Event.Kind, Level: level, WhyNot: t.Fault, Idle: t.Idle}
		if t.Fault == "" {
			a.Closed, a.ReverseMS, a.MostM, a.LeastM, a.Vapor = t.Closing.Closed, t.SlamMS(), t.MostPressureM(),
				t.LeastPressureM(), t.Separates()
			a.Unsure = !t.Resolved() || t.Rest == plant.NeverRests
		}
		out = append(out, a)
	}
	return out
}

// errNaN means that an answer cannot be written as JSON.
var errNaN = errors.New("not a number in the machine form")

// saysWhyNot is true for an error that is an answer: it says why there is nothing to choose
// or to run.
func saysWhyNot(err error) bool {
	return errors.Is(err, study.ErrNoFlow) || errors.Is(err, study.ErrValve)
}
