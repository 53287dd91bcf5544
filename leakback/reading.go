package leakback

import "math"

// Reading is one level of the wet well with the states at that time.
type Reading struct {
	TimeS, LevelM float64
	Running       bool // a pump runs
	Open          bool // the isolating valve behind the check valve
}

// minReadings are the readings that a fill or a drawdown needs.
const minReadings = 3

// Fills are the spells of a record in which no pump ran, in order of time; spells of fewer
// than three readings are left out. stepM is the step of the level reading, 0 where it is not
// known: then it is read off the levels.
func Fills(record []Reading, stepM float64) []Fill {
	if stepM == 0 {
		stepM = Step(record)
	}
	var out []Fill
	for _, run := range spells(record) {
		if !run[0].Running && len(run) >= minReadings {
			out = append(out, fitted(run, stepM))
		}
	}
	return out
}

// Drawdowns are the spells in which a pump ran, as fills whose rise is below zero.
func Drawdowns(record []Reading, stepM float64) []Fill {
	if stepM == 0 {
		stepM = Step(record)
	}
	var out []Fill
	for _, run := range spells(record) {
		if run[0].Running && len(run) >= minReadings {
			out = append(out, fitted(run, stepM))
		}
	}
	return out
}

// spells parts a record where a state changes.
func spells(record []Reading) [][]Reading {
	var out [][]Reading
	for from := 0; from < len(record); {
		to := from + 1
		for to < len(record) && record[to].Running == record[from].Running && record[to].Open == record[from].Open {
			to++
		}
		out = append(out, record[from:to])
		from = to
	}
	return out
}

// Step is the least change of level between two readings, m; 0 where the level never changes.
func Step(record []Reading) float64 {
	least := math.Inf(1)
	for i := 1; i < len(record); i++ {
		if d := math.Abs(record[i].LevelM - record[i-1].LevelM); d > 1e-6 {
			least = math.Min(least, d)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}
