package steady

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Element is a thing in the line that loses head at rest under the flow q, m3/s:
// a pipe, fittings, a valve at the opening that q gives it. The loss, m, has the
// sign of q.
type Element interface {
	Settle(q float64) float64
}

// Source adds head to the flow q, m3/s; the head is in m.
type Source interface {
	Head(q float64) float64
}

// Ranged is a Source that knows from which to which flow, m3/s, its head is
// known. A flow outside is reported with the flag Runout or BelowRange.
type Ranged interface {
	Range() (lowM3S, highM3S float64)
}

// Branch leads from the wet well to the header. Branches with the same word in
// Alike are equal by the caller's word: they share flow equally, and combinations
// that differ only in which of them run count once. An empty Alike is like no other.
type Branch struct {
	Name     string
	Alike    string
	Source   Source
	Elements []Element
}

// Reach is a stretch of the main. EndM is the elevation, m, that the water must
// reach at its end: at a high point the pipe's inside. The last reach ends at the
// Level's OutletM, and its EndM is not read.
type Reach struct {
	Name     string
	Elements []Element
	EndM     float64
}

// Level is a pair of water levels, m above any one datum (that of Reach.EndM).
type Level struct {
	Name     string
	Mark     int // the caller's own; the solver carries it along
	WetWellM float64
	OutletM  float64
}

// StaticHeadM is the lift from level to level, m.
func (l Level) StaticHeadM() float64 { return l.OutletM - l.WetWellM }

// System is a station with its main, and the levels at which it is looked at.
type System struct {
	Branches []Branch
	Main     []Reach // one reach is enough where the profile has no high point
	Levels   []Level
}

// MaxCombinations is the greatest number of combinations of running branches
// that SolveAll goes through: twelve unequal pumps. Alike branches count once, so
// that 6 + 6 + 6 pumps of three kinds make 342.
const MaxCombinations = 4095

// maxElevationM bounds levels and elevations: more is a slip of the unit.
const maxElevationM = 1e6

// The errors of a system that cannot be solved because it is not one.
var (
	ErrNoBranch   = errors.New("steady: the system has no branch")
	ErrNoMain     = errors.New("steady: the main has no reach")
	ErrNoLevel    = errors.New("steady: the system has no level")
	ErrNothing    = errors.New("steady: a source is missing, or an element is nil")
	ErrLevel      = errors.New("steady: a level or the end of a reach is not finite, or beyond 1e6 m")
	ErrRunning    = errors.New("steady: the running branches must be listed by rising index, each once, and at least one")
	ErrTooMany    = fmt.Errorf("steady: more than %d different combinations of running pumps: join equal pumps into one entry with a count, or leave pumps out that never run together", MaxCombinations)
	ErrNotANumber = errors.New("steady: a source or an element answers with what is not a number")
)

func (s *System) check() error {
	switch {
	case len(s.Branches) == 0:
		return ErrNoBranch
	case len(s.Main) == 0:
		return ErrNoMain
	}
	missing := func(elements []Element) bool {
		return slices.ContainsFunc(elements, func(e Element) bool { return e == nil })
	}
	for _, b := range s.Branches {
		if b.Source == nil || missing(b.Elements) {
			return fmt.Errorf("%w: branch %q", ErrNothing, b.Name)
		}
	}
	for i, r := range s.Main {
		if missing(r.Elements) {
			return fmt.Errorf("%w: reach %q", ErrNothing, r.Name)
		}
		if i < len(s.Main)-1 && !within(r.EndM) {
			return fmt.Errorf("%w: reach %q", ErrLevel, r.Name)
		}
	}
	return nil
}

func (l Level) check() error {
	if !within(l.WetWellM) || !within(l.OutletM) {
		return fmt.Errorf("%w: level %q", ErrLevel, l.Name)
	}
	return nil
}

func within(m float64) bool { return math.Abs(m) <= maxElevationM }

func (s *System) checkRunning(running []int) error {
	if len(running) == 0 {
		return ErrRunning
	}
	for i, b := range running {
		if b < 0 || b >= len(s.Branches) || i > 0 && b <= running[i-1] {
			return ErrRunning
		}
	}
	return nil
}

// Combinations lists the sets of running branches by index: one running first,
// all last, equal branches counted once (of three equal ones: the first, the
// first two, all three). The error wraps ErrTooMany or ErrNoBranch.
func (s *System) Combinations() ([][]int, error) {
	if len(s.Branches) == 0 {
		return nil, ErrNoBranch
	}
	groups := s.alike(nil)
	total := 1
	for _, g := range groups {
		if total *= len(g) + 1; total-1 > MaxCombinations {
			return nil, ErrTooMany
		}
	}
	out := [][]int{nil}
	for _, g := range groups {
		var longer [][]int
		for _, c := range out {
			for n := 0; n <= len(g); n++ {
				longer = append(longer, append(slices.Clone(c), g[:n]...))
			}
		}
		out = longer
	}
	out = out[1:] // not the one in which nothing runs
	for _, c := range out {
		slices.Sort(c)
	}
	slices.SortFunc(out, func(a, b []int) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return slices.Compare(a, b)
	})
	return out, nil
}

// alike puts the indices of equal branches together, in the order of the first
// of each; a nil list of indices is all of them.
func (s *System) alike(indices []int) [][]int {
	if indices == nil {
		for i := range s.Branches {
			indices = append(indices, i)
		}
	}
	var groups [][]int
	place := map[string]int{}
	for _, i := range indices {
		word := s.Branches[i].Alike
		if at, seen := place[word]; seen && word != "" {
			groups[at] = append(groups[at], i)
			continue
		}
		place[word] = len(groups)
		groups = append(groups, []int{i})
	}
	return groups
}
