package fieldlog

import (
	"fmt"
	"slices"
	"time"
)

// axis is the times of one or more channels.
type axis struct {
	times    series[int64]
	last     int64
	step     int64 // the last one that was above zero
	shift    int64 // of a clock that was changed
	backs    int   // rows before the row above
	backLine int
	repeats  int
	changes  []string // of the clock
}

// change is how far a clock is set in spring and autumn.
const change = hour

// add appends a time as it is written. local says that the clock may be changed.
func (a *axis) add(ns int64, line int, local bool) {
	if a.times.n > 0 {
		d := ns + a.shift - a.last
		switch {
		case local && d < 0 && d >= -change && a.step < change/2 && changeDay(ns):
			a.shift += change
			d += change
			a.changes = append(a.changes, "set back one hour near "+day0(ns))
		case local && a.step > 0 && a.step < change/2 && d > change && d-change <= 2*a.step && changeDay(ns):
			a.shift -= change
			d -= change
			a.changes = append(a.changes, "set forward one hour near "+day0(ns))
		}
		switch {
		case d < 0:
			if a.backs++; a.backs == 1 {
				a.backLine = line
			}
		case d == 0:
			a.repeats++
		default:
			a.step = d
		}
	}
	a.last = ns + a.shift
	a.times.add(a.last)
}

// changeDay is true in the first hours of a Sunday of the months in which clocks are changed.
func changeDay(ns int64) bool {
	t := time.Unix(0, ns).UTC()
	m := t.Month()
	return t.Weekday() == time.Sunday && t.Hour() <= 4 &&
		(m == time.March || m == time.April || m >= time.September && m <= time.November)
}

func day0(ns int64) string { return time.Unix(0, ns).UTC().Format("2006-01-02 15:04") }

// mostSorted is how many rows are put in order; a longer log is refused when it is out of it.
const mostSorted = 8_000_000

// order puts the rows in order of time, and says what was done.
func (a *axis) order(channels []*Channel) (note string, ok bool) {
	n := a.times.n
	switch {
	case a.backs == 0:
		return "", true
	case n > mostSorted:
		return "", false
	}
	at := make([]int32, n)
	for i := range at {
		at[i] = int32(i)
	}
	newestFirst := 10*a.backs > 9*(n-1-a.repeats)
	if newestFirst {
		slices.Reverse(at)
	} else {
		slices.SortStableFunc(at, func(i, j int32) int { return compare(a.times.at(int(i)), a.times.at(int(j))) })
	}
	a.times = picked(&a.times, at)
	for _, c := range channels {
		if c.axis == a {
			c.values = picked(&c.values, at)
		}
	}
	if newestFirst {
		return "the newest rows come first; they were put in order of time", true
	}
	return fmt.Sprintf("the time goes back %d times, first in line %d; the rows were put in order of time", a.backs,
		a.backLine), true
}

func compare(x, y int64) int {
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

func picked[T any](from *series[T], at []int32) series[T] {
	var out series[T]
	for _, i := range at {
		out.add(from.at(int(i)))
	}
	return out
}
