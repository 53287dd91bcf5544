// Package judge weighs one check valve against one station: findings with their
// numbers, limits and sources, a slam verdict as a band, and a verdict word that
// never hides an unchecked point. It computes nothing hydraulic itself; it reads
// operating points and asks the valve's mechanics.
package judge

import (
	"seatward/basis"
	"seatward/catalog"
	"seatward/plant"
)

// Severity says what a finding does to the verdict.
type Severity uint8

// The severities, from harmless to decisive.
const (
	Pass      Severity = iota // checked and in order
	Note                      // worth knowing
	Confirm                   // to be confirmed before ordering: a site visit or the maker settles it
	Condition                 // suitable only if this is seen to
	Open                      // decides, and could not be worked out; the missing fact is named
	Rejects                   // unsuitable
)

// String names the severity in one word, as reports and JSON print it.
func (s Severity) String() string {
	return [...]string{"pass", "note", "confirm", "condition", "open", "rejects"}[s]
}

// FromCatalog is the basis of a finding that rests on what the catalog says of the product.
const FromCatalog = "catalog"

// Finding is one checked point.
type Finding struct {
	Kind     *Kind
	Severity Severity    // that of the kind, or the one of its severities that came about
	Text     string      // one plain sentence, numbers in the user's units
	Value    basis.Value // the number that was weighed; may be unknown
	Limit    basis.Value // what it was weighed against; may be unknown
	Basis    string      // reference key of the rule, or FromCatalog
	Mend     string      // the remedy, "" where nothing simple does
	Maker    bool        // it is the maker's word, not the mechanics
	Missing  string      // for Confirm and Open: the fact that is missing, in plain words
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

// Slam is the slam verdict of one valve, read from the record of its stops.
type Slam struct {
	NotRun          string      // why there is no number; "" where there is one
	Class           string      // quiet, audible, harmful, or "" where it was not run
	ClassLow        string      // class of the 5 % point
	ClassHigh       string      // class of the 95 % point
	Risk            Risk        // what the chances come to
	Method          string      // how it was found, in a sentence or two
	Event           string      // the stop that governs, in words
	EventID         string      // and as --event takes it
	Pump            string      // whose valve it is; "" where all pumps are alike
	Deceleration    basis.Value // of the flow as it turns, without the valve
	ReverseVelocity basis.Value // of the hardest seating at best estimates, with the 5 and 95 % points
	MedianMS        float64
	Middle          [2]float64  // the middle half of all cases, m/s
	Stopped         basis.Value // sudden stop by which it is classed: the reverse velocity, or less behind a cushion
	HeadRise        basis.Value // likewise
	Chances         plant.Chances
	Runs, Failed    int    // draws of all uncertain numbers
	Settled         bool   // their number is enough
	Lucky           bool   // the run at best estimates lies outside the middle half
	Later           Later  // seatings after the first
	Resolved        bool   // a grid twice as fine agrees
	AtRest          bool   // the valve comes to rest
	DecisiveInput   string // the largest source of uncertainty
	Inputs          []plant.Influence
	Threshold       *plant.Threshold
	Milder, Harder  string // the classes on either side of the threshold
}

// Later tells seatings after the first of a run.
type Later struct {
	Count                   int
	FirstMS, WorstMS, TimeS float64 // the hardest of all, and when
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
	BackHead         basis.Value // minimum back head to seal in this position
	EnergyPerYear    basis.Value // lost in the valve
	CostPerYear      basis.Value // energy cost of the valve's loss
	LifeCycleCost    basis.Value
	Slam             Slam
	Separation       string        // column separation with this valve, in a sentence; "" where there is none
	Answer           *plant.Answer // the record that it rests on; nil where the stops are still to be run
	Runs             bool          // its mechanics can be run
	Score            Score
	Rank             int    // 1 is best; 0 for unsuitable
	RankReason       string // why it stands where it stands
}

// Pending is true for a valve whose stops are still to be run.
func (a *Assessment) Pending() bool { return a.Answer == nil && a.Runs }

// Score is what the ranking compares. Smaller is better throughout.
type Score struct {
	Verdict   Verdict
	Risk      Risk
	SizeSteps int     // 0 for the pipe's own size, or a larger one that normal flow holds steady
	Flutters  int     // 1 where normal flow does not hold it steady, by more than a tolerance
	Cost      float64 // life-cycle cost; +Inf where not known
	ReverseMS float64 // of the median
	LossM     float64 // head loss at normal flow
	Steps     int     // sizes from the pipe's, either way
}
