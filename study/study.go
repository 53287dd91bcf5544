// Package study answers for one station from end to end: the operating points with
// each valve in place, the judgement of every candidate, the ranking, and what goes
// with the answer. Everything that a person sees is made from a Study.
package study

import (
	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/plant"
	"seatward/rules"
	"seatward/station"
)

// Options say what to answer with and how.
type Options struct {
	Catalogs []*catalog.Catalog
	Rules    *rules.Book
	Valve    string                // judge only this valve, by its ID; "" for all
	All      bool                  // judge the sizes next to the pipe's too, not only where none of its own can be used
	Quick    bool                  // leave the pump stops still to be run
	Samples  int                   // draws of all ranges that are made for each valve; 0 for as many as are needed
	Also     string                // ID of a valve judged beside those near the pipe's size; "" for none
	Progress func(done, total int) // called after each candidate; may be nil
	// Row is called with every valve as soon as it is judged without its stops, and again
	// when they have been run, never twice at a time; may be nil.
	Row func(a *judge.Assessment)
}

// Study is the answer for one station.
type Study struct {
	Station      *station.Station
	Catalogs     []*catalog.Catalog
	Points       []plant.Point      // all combinations and levels, with the first-ranked valve in place
	ByHand       plant.HandStops    // the pump stops by hand formulas: a check on the runs
	Assessments  []judge.Assessment // best first; unsuitable ones last
	NotMade      []NotMade          // families that do not exist in the sizes looked at
	Assumed      []Assumed
	Cautions     []judge.Caution
	References   []string
	DecisiveFact string // the largest source of uncertainty
	Separation   string // the risk beyond the valve: column separation with the first-ranked valve; "" where there is none
	Wide         bool   // the sizes next to the pipe's are judged too
	Pending      int    // valves whose stops are still to be run

	desk desk // with which it was made
}

// Assumed is a value that the program filled in, and where it stands.
type Assumed struct {
	Path  string
	Value basis.Value
	Event bool // it is of an event, not of the station
}

// NotMade is a family that does not exist in the sizes looked at.
type NotMade struct {
	Family *catalog.Family
	Why    string
}
