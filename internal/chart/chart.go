// Package chart holds the numbers behind the figures of a valve: head loss against
// flow, and reverse velocity against deceleration, with the points of a station marked.
// Each format draws them in its own way; the machine form prints them as they are.
package chart

import (
	"math"
	"slices"

	"seatward/catalog"
	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// Valve is a valve in its place, whose curves are asked for.
type Valve struct {
	Item      *catalog.Item
	Mechanism *valve.Mechanism // built for the liquid and the position
	Setting   valve.Setting    // the liquid and the position it was built for
	Position  valve.Position
	Study     *study.Study // of the station that it stands in; nil where it is looked at alone
}

// station names the station; empty without one.
func (v *Valve) station() string {
	if v.Study == nil {
		return ""
	}
	return v.Study.Station.Name
}

// Assessment is what the study of the station says of the valve; nil without a station, or
// where the study does not judge it.
func (v *Valve) Assessment() *judge.Assessment {
	if v.Study == nil {
		return nil
	}
	for i := range v.Study.Assessments {
		if a := &v.Study.Assessments[i]; a.Item == v.Item {
			return a
		}
	}
	return nil
}

// roundSteps are the numbers that a person would pick in each decade.
var roundSteps = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8}

// Round lists round numbers of the kind, in the units of the system, from low to high
// (SI, both above 0): the values of a table that people read.
func Round(sys quantity.System, kind quantity.Kind, low, high float64) []float64 {
	if !(low > 0 && high >= low) || math.IsInf(high, 0) {
		return nil
	}
	factor := sys.In(kind, 1)
	var out []float64
	for decade := math.Floor(math.Log10(low * factor)); decade <= math.Ceil(math.Log10(high*factor)); decade++ {
		for _, step := range roundSteps {
			if x := step * math.Pow(10, decade) / factor; x >= low*(1-1e-9) && x <= high*(1+1e-9) {
				out = append(out, x)
			}
		}
	}
	return out
}

// insert puts a number in its place among rising ones, unless an equal one is there.
func insert(list []float64, x float64) []float64 {
	at, _ := slices.BinarySearch(list, x)
	for _, near := range []int{at - 1, at} {
		if near >= 0 && near < len(list) && math.Abs(list[near]-x) <= 1e-9*math.Abs(x) {
			return list
		}
	}
	return slices.Insert(list, at, x)
}
