package pump

import (
	"fmt"
	"strings"
)

// ProblemKind says what is wrong with given points, or worth knowing of them.
type ProblemKind uint8

// The kinds of problem. Those before firstNote make the curve unusable.
const (
	TooFewPoints        ProblemKind = iota // fewer than two
	NotFinite                              // a number that is infinite or not a number
	OutOfScale                             // larger than any pump
	NegativeFlow                           // flow below zero
	FlowNotIncreasing                      // flows do not rise from point to point
	NegativeHead                           // head below zero
	NoHead                                 // no head anywhere
	HeadRisesTwice                         // head rises, falls and rises again
	HeadRisesAtEnd                         // head rises to the last point
	EfficiencyRange                        // efficiency not between 0 and 1
	EfficiencyAtRest                       // efficiency above zero at zero flow
	PowerNotPositive                       // shaft power zero or less
	PowerBelowHydraulic                    // shaft power less than what the water receives
	BadRatio                               // a shut-off, end-of-curve or density number outside its range

	Droop         // head rises from shut-off before it falls
	Hump          // head falls, rises and falls again
	NoShutOff     // the first point is not at zero flow: the curve is continued to it
	OnlyTwoPoints // a parabola is laid through them
	ShortSamples  // efficiency or power does not reach over the whole head curve
)

const firstNote = Droop

var problemNames = [...]string{
	TooFewPoints: "too few points", NotFinite: "not a finite number", OutOfScale: "out of scale",
	NegativeFlow: "negative flow", FlowNotIncreasing: "flow does not increase", NegativeHead: "negative head",
	NoHead: "no head", HeadRisesTwice: "head rises twice", HeadRisesAtEnd: "head rises to the end",
	EfficiencyRange: "efficiency out of range", EfficiencyAtRest: "efficiency at zero flow",
	PowerNotPositive: "power not positive", PowerBelowHydraulic: "power below hydraulic power",
	BadRatio: "ratio out of range",
	Droop:    "droop at shut-off", Hump: "hump in the curve", NoShutOff: "no shut-off point",
	OnlyTwoPoints: "only two points", ShortSamples: "samples end before the curve",
}

// String names the kind in a few words.
func (k ProblemKind) String() string { return problemNames[k] }

// Fatal is true when no curve can be made; the others are notes on a curve that was made.
func (k ProblemKind) Fatal() bool { return k < firstNote }

// Problem is one thing wrong with, or worth knowing of, given points.
type Problem struct {
	Kind  ProblemKind
	Index int    // of the point, from 0; -1 when it is the whole curve
	Text  string // what was found and what to do, in one sentence
}

// Problems are all that was found, in the order of the points.
type Problems []Problem

// Err is nil when a curve could be made, else the fatal problems as one error.
func (p Problems) Err() error {
	var fatal Problems
	for _, x := range p {
		if x.Kind.Fatal() {
			fatal = append(fatal, x)
		}
	}
	if fatal == nil {
		return nil
	}
	return fatal
}

// Error prints the problems, one clause each.
func (p Problems) Error() string {
	texts := make([]string, len(p))
	for i, x := range p {
		texts[i] = x.Text
	}
	return strings.Join(texts, "; ")
}

// Has is true when a problem of the kind was found.
func (p Problems) Has(kind ProblemKind) bool {
	for _, x := range p {
		if x.Kind == kind {
			return true
		}
	}
	return false
}

func (p *Problems) add(kind ProblemKind, index int, format string, args ...any) {
	*p = append(*p, Problem{kind, index, fmt.Sprintf(format, args...)})
}
