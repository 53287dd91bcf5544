// Package study answers for one station from end to end: the operating points with
// each valve in place, the judgement of every candidate, the ranking, and what goes
// with the answer. Everything that a person sees is made from a Study.
package study

import (
	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
)

// Options say what to answer with and how.
type Options struct {
	Catalogs []*catalog.Catalog
	Rules    *rules.Book
	Valve    string                // judge only this valve, by its ID; "" for all
	Quick    bool                  // slam by closed formulas only, without running pump trips through
	Also     string                // ID of a valve judged beside those near the pipe's size; "" for none
	Progress func(done, total int) // called after each candidate; may be nil
}

// Study is the answer for one station.
type Study struct {
	Station      *station.Station
	Catalogs     []*catalog.Catalog
	Points       []Point            // all combinations and levels, with the first-ranked valve in place
	Stops        judge.Stops        // the pump stops looked at for slam
	Assessments  []judge.Assessment // best first; unsuitable ones last
	NotMade      []NotMade          // families that do not exist in the sizes looked at
	Assumed      []Assumed
	Cautions     []judge.Caution
	References   []string
	DecisiveFact string // the missing fact that would move the verdict most
	Through      string // the valve whose trips were run through where the others' were not; "" where all or none were

	desk desk // with which it was made
}

// Assumed is a value that the program filled in, and where it stands.
type Assumed struct {
	Path  string
	Value basis.Value
}

// NotMade is a family that does not exist in the sizes looked at.
type NotMade struct {
	Family *catalog.Family
	Why    string
}

// Point is one operating point of the station.
type Point struct {
	Name         string // "2 pumps, low level"
	Running      int    // pumps
	Pumps        string // which, in words
	Level        string // "high" or "low", of the wet well
	Valve        string // ID of the valve in place
	Flow         basis.Value
	Head         basis.Value // of a running pump
	StaticHead   basis.Value
	Power        basis.Value // electrical, all running pumps; unknown without efficiency
	Efficiency   basis.Value // of a running pump; unknown without a curve
	MainVelocity basis.Value
	ValveFlow    []basis.Value // through each running pump's valve
	ValveLoss    []basis.Value
	Notes        []string
}
