// Package judge weighs one check valve against one station: findings with their
// numbers, limits and sources, a slam verdict as a band, and a verdict word that
// never hides an unchecked point. It computes nothing hydraulic itself; it reads
// operating points and asks the valve's mechanics.
package judge

import (
	"seatward/basis"
	"seatward/catalog"
)

// Severity says what a finding does to the verdict.
type Severity uint8

// The severities, from harmless to decisive.
const (
	Pass      Severity = iota // checked and in order
	Note                      // worth knowing
	Condition                 // suitable only if this is seen to
	Unchecked                 // could not be checked; the datum that is missing is named
	Rejects                   // unsuitable
)

// String names the severity in one word, as reports and JSON print it.
func (s Severity) String() string {
	return [...]string{"pass", "note", "condition", "unchecked", "rejects"}[s]
}

// Finding is one checked point.
type Finding struct {
	ID       string // stable, such as "velocity-below-full-open"
	Severity Severity
	Text     string      // one plain sentence, numbers in the user's units
	Value    basis.Value // the number that was weighed; may be unknown
	Limit    basis.Value // what it was weighed against; may be unknown
	Basis    string      // reference key of the rule, or "catalog"
	Mend     string      // what would cure it, "" where nothing simple does
	Missing  string      // for Unchecked: the fact that is missing, in plain words
}

// Verdict is the answer for one valve.
type Verdict uint8

// The verdicts, best first.
const (
	Suitable Verdict = iota
	WithConditions
	CannotSay
	Unsuitable
)

// String gives the words of the verdict.
func (v Verdict) String() string {
	return [...]string{"suitable", "suitable with conditions", "cannot say", "unsuitable"}[v]
}

// Slam is the slam verdict of one valve.
type Slam struct {
	Class           string      // quiet, audible, harmful, or "" when it cannot be said
	ClassLow        string      // class of the low end of the band
	ClassHigh       string      // class of the high end of the band
	Method          string      // how it was found, in one sentence
	Event           string      // the stop that governs
	Deceleration    basis.Value // of the flow at reversal
	ReverseVelocity basis.Value // with its band
	Stopped         basis.Value // sudden stop by which it is classed: the reverse velocity, or less behind a cushion
	HeadRise        basis.Value // with its band
	ClosedForm      basis.Value // reverse velocity by closed formulas, where a run has replaced them
	ClosedEvent     string      // the stop that governs by them
	DecisiveInput   string      // the fact whose better knowledge would narrow the band most
	Shares          []Share     // what each uncertain input does to the band, largest first
}

// Share is the part that one uncertain input has in a band.
type Share struct {
	Input  string
	LowMS  float64 // reverse velocity with the input at one end
	HighMS float64 // and at the other
}

// Duty is what one operating point means for the valve.
type Duty struct {
	Name      string      // "1 pump, low level"
	Flow      basis.Value // through this valve
	Velocity  basis.Value // in the valve's bore
	Loss      basis.Value // head lost in the valve at its true opening
	Opening   basis.Value // 0 to 1
	State     string      // closed, floating, parked, full open
	PumpsHeld int         // pumps running
}

// Assessment is all that is said of one valve.
type Assessment struct {
	Item             *catalog.Item
	Verdict          Verdict
	Findings         []Finding // the decisive ones first
	Duties           []Duty
	Governing        Duty        // the normal duty, for tables
	FullOpenVelocity basis.Value // least velocity that holds the element fully open, or parked clear
	CrackingHead     basis.Value
	SubmergedWeight  basis.Value
	BackHead         basis.Value // least head that seals it in this position
	EnergyPerYear    basis.Value // lost in the valve
	CostPerYear      basis.Value // energy cost of the valve's loss
	LifeCycleCost    basis.Value
	Slam             Slam
	Score            Score
	Rank             int    // 1 is best; 0 for unsuitable
	RankReason       string // why it stands where it stands
}

// Score is what the ranking compares. Smaller is better throughout.
type Score struct {
	Verdict    Verdict
	SizeSteps  int     // 0 for the pipe's own size
	Flutters   int     // 1 when normal flow does not hold it still
	SlamBest   int     // 0 quiet, 1 audible, 2 harmful or unknown, at the best estimate
	SlamClass  int     // the same at the high end of the band
	ReverseMS  float64 // best reverse velocity, to 0.1 m/s
	Conditions int     // conditions
	Unchecked  int     // points that could not be checked
	LossM      float64 // head loss at normal flow
	Cost       float64 // life-cycle cost, told but not compared: prices come from catalogs
}
