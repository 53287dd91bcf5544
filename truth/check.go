package truth

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Check says what the agreement of a row is worth.
type Check string

// The worths of a row. The first three are checks; the others are listed and
// counted apart.
const (
	// Outside: against a number that somebody else printed.
	Outside Check = "checked"
	// Exact: against a closed form or an identity, worked out by other means.
	Exact Check = "exact"
	// Independent: against another program of the same equations.
	Independent Check = "computed"
	// FromMemory: against a number or a formula that nobody has looked up again.
	FromMemory Check = "from memory"
	// Order: against a number so rough that it shows the order of magnitude only.
	Order Check = "order of magnitude"
	// Pinned: our own table entry, knot, fit or answer read back. It shows a
	// change or a slip of typing and nothing else.
	Pinned Check = "pinned"
	// Disagrees: recorded with its reason.
	Disagrees Check = "known"
)

// Checks lists the worths in the order in which they are printed.
var Checks = []Check{Outside, Exact, Independent, FromMemory, Order, Pinned, Disagrees}

// proves reports whether rows of this worth are checks.
func (c Check) proves() bool { return c == Outside || c == Exact || c == Independent }

// widest is the largest tolerance, as a share of the number or of the scale
// that the row states, with which a row may still be a check or as from
// memory. Anything wider shows the order of magnitude.
const widest = 0.05

// beyondEntry opens the note of a row that reads a table of the code and is a
// check for all that; what follows says why.
const beyondEntry = "beyond the entry: "

// tableReaders are the functions that give back what was typed into the code:
// table entries, knots and fits. A row that only calls them is pinned.
var tableReaders = []string{
	"catalog.StandardRating", "dimension.FlangeOf", "dimension.LengthOf",
	"pipe.Dimension.IDM", "pipe.ElasticOf", "pipe.FittingOf", "pipe.Lookup", "pipe.SurfaceOf",
	"pump.Quadrants", "pump.ShutOffRatio",
	"valve.HandbookLosses", "valve.LiftRules", "valve.SphereTubeAddedMass",
	"valve ball-pocket", "valve swing-curve", "valve.Mechanism.Settle",
	// Fits with constants typed from the source: worked out by other means they show that
	// the same constants were typed twice.
	"pump.LightPumpInertia", "pump.MotorInertia", "pump.PumpInertia", "pump.RotorInertia",
	"valve.SphereDrag", "valve.SphereDragSmooth",
}

// readsTables reports whether the evaluator calls nothing but table readers.
func (e *Evaluator) readsTables() bool {
	for place := range strings.SplitSeq(e.Where, ", ") {
		if !slices.Contains(tableReaders, place) {
			return false
		}
	}
	return true
}

// ownAnswers are formulas whose expected numbers come from runs of this program.
var ownAnswers = []string{"station stop"}

// checkFaults says what does not fit the worth that the row claims.
func (c Case) checkFaults() []error {
	var faults []error
	fault := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	if !slices.Contains(Checks, c.Check) {
		fault("check %q: write one of %v", c.Check, Checks)
		return faults
	}
	if (c.Check == Disagrees) != (c.Tolerance.Form == Known) {
		fault("check %q with tolerance %q: a known disagreement has both of them known", c.Check, c.Tolerance.Text)
	}
	if c.Check.proves() && c.StatusWord() == "from memory" {
		fault("check %q of a number from memory: write %q", c.Check, FromMemory)
	}
	if slices.Contains(ownAnswers, c.Formula) && c.Check != Pinned && c.Check != Disagrees {
		fault("check %q: the numbers of %q are our own answers: write %q, or %q of an older one", c.Check, c.Formula,
			Pinned, Disagrees)
	}
	wide := c.Tolerance.width(c.Expected)
	if (c.Check.proves() || c.Check == FromMemory) && wide > widest {
		fault("check %q with a tolerance of %.2g of the number, more than %g: tighten it, state the scale (abs 0.01 of 1) or write %q", c.Check, wide, widest, Order)
	}
	if e := evaluators[c.Formula]; e != nil && e.readsTables() && (c.Check.proves() || c.Check == FromMemory) &&
		!strings.HasPrefix(c.Note, beyondEntry) {
		fault("check %q, but %s only gives back what is typed into the code: write %q, or open the note with %q and the reason", c.Check, e.Where, Pinned, beyondEntry)
	}
	return faults
}

// width is the tolerance as a share of the number, or of the scale that the
// row states; of a range, half its width over its middle.
func (t Tolerance) width(expected float64) float64 {
	switch t.Form {
	case Absolute:
		scale := math.Abs(expected)
		if t.Scale > 0 {
			scale = t.Scale
		}
		if t.Size == 0 {
			return 0
		}
		return t.Size / scale
	case Range:
		if t.High == t.Low {
			return 0
		}
		return (t.High - t.Low) / math.Abs(t.High+t.Low)
	case Known:
		return 0
	default:
		return t.Size
	}
}
