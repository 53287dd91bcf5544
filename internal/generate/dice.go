package generate

import (
	"math"
	"strconv"

	"pgregory.net/rapid"

	"seatward/quantity"
)

// dice draws the facts of one station.
type dice struct {
	t     *rapid.T
	units quantity.System
}

// share is an even number from 0 up to 1, in steps of 1/1024. rapid's own numbers crowd at
// the ends of their range, and stations do not; drawn bit by bit they shrink to 0 all the same.
var share = rapid.Custom(func(t *rapid.T) float64 {
	bit := rapid.Bool()
	x := 0.0
	for range 10 {
		x *= 2
		if bit.Draw(t, "bit") {
			x++
		}
	}
	return x / 1024
})

// chance is true in so many of a hundred draws; shrinking makes it false.
func (d dice) chance(percent float64, what string) bool {
	return share.Draw(d.t, what) >= 1-percent/100
}

// between is an even number of the range.
func (d dice) between(low, high float64, what string) float64 {
	return low + (high-low)*share.Draw(d.t, what)
}

// scaled is a number of the range whose logarithm is even.
func (d dice) scaled(low, high float64, what string) float64 {
	return low * math.Pow(high/low, share.Draw(d.t, what))
}

// of is one of the list, each as likely.
func of[V any](d dice, what string, list ...V) V {
	return list[int(share.Draw(d.t, what)*float64(len(list)))]
}

// round is the value as somebody would write it in the units of the file, to four figures.
func (d dice) round(kind quantity.Kind, si float64) float64 {
	per := d.units.In(kind, 1) - d.units.In(kind, 0)
	written, err := strconv.ParseFloat(strconv.FormatFloat(d.units.In(kind, si), 'g', 4, 64), 64)
	if err != nil {
		return si
	}
	return (written - d.units.In(kind, 0)) / per
}

// number is a rounded value with, in one of eight, a range.
func (d dice) number(kind quantity.Kind, si float64, what string) Number {
	n := Number{SI: d.round(kind, si)}
	if d.chance(12, what+" has a range") {
		n.Spread = of(d, what+" range", 0.05, 0.1, 0.2, 0.3)
		n.Between = d.chance(30, what+" is a span")
	}
	return n
}
