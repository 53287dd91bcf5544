package desk

import (
	"context"

	"seatward/judge"
	"seatward/study"
)

// RemediesRequest asks what remedies do to the pump stops with one valve.
type RemediesRequest struct {
	Text  string `json:"text"`
	Valve string `json:"valve"`
	Units string `json:"units,omitempty"`
}

// RemediesReply are the worst of all stops as it is and with each remedy, at best estimates.
type RemediesReply struct {
	Valve    string   `json:"valve"`
	Remedies []Remedy `json:"remedies"` // the first is the station as it is
}

// Remedy is one of them.
type Remedy struct {
	study.RemedyJSON
	Separation string `json:"separation_event"` // in which the column separates; empty where it does not

	Class string `json:"class" jsonschema:"enum=,enum=quiet,enum=audible,enum=harmful"` // of the worst stop; empty where it was not run
}

// Remedies runs every stop with the valve as it is and with each remedy.
func (d *Desk) Remedies(ctx context.Context, in RemediesRequest) (*RemediesReply, error) {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	s, err := study.Cures(ctx, st, study.TripOptions{Catalogs: d.catalogs, Rules: d.rules, Valve: in.Valve})
	if err != nil {
		return nil, NoAnswer(err)
	}
	out := &RemediesReply{Valve: s.Item.ID, Remedies: []Remedy{}}
	for i, j := range s.RemediesJSON() {
		r := Remedy{RemedyJSON: j}
		if a := s.Remedies[i].Answer; a != nil && a.Worst != nil {
			if apart := judge.Separation(a); apart != nil {
				r.Separation = apart.Event.ID
			}
			r.Class = judge.SlamClass(d.rules, a.Slam.Sudden.SI)
		}
		out.Remedies = append(out.Remedies, r)
	}
	return out, nil
}
