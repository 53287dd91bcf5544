package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/pflag"

	"seatward/basis"
	"seatward/quantity"
)

// most and least that a wet well and a reading may be: beyond, a unit is wrong.
const (
	mostWellM2 = 1e5
	mostStepM  = 1.0
	mostHeadM  = 1000.0
)

// positive reads a flag whose value lies above zero and up to a limit.
func (in *inputs) positive(flag, said string, kind quantity.Kind, most float64) (quantity.Range, error) {
	r, err := in.reading().ParseRange(kind, said)
	if err != nil {
		return r, fmt.Errorf("--%s: %w", flag, err)
	}
	if !(r.Low.SI > 0 && r.High.SI <= most) {
		return r, fmt.Errorf("--%s %q: a %s above zero, at most %s, is expected", flag, said, kind, quantity.SI.Format(kind, most))
	}
	return r, nil
}

// wellSize are the flags of a wet well's area.
type wellSize struct{ area, diameter string }

func (w *wellSize) flags(f *pflag.FlagSet) {
	f.StringVar(&w.area, "area", "", "`AREA` of the water surface in the wet well")
	f.StringVar(&w.diameter, "diameter", "", "inside `DIAMETER` of a round wet well, in place of its area")
}

// read is the area; unknown where neither flag is given.
func (w *wellSize) read(in *inputs) (basis.Value, error) {
	switch {
	case w.area != "" && w.diameter != "":
		return basis.Value{}, errors.New("--area and --diameter are both given; leave one out")
	case w.area != "":
		r, err := in.positive("area", w.area, quantity.Area, mostWellM2)
		return basis.NewGiven("area of the wet well", quantity.Area, r.Best.SI, "--area").
			WithRange(r.Low.SI, r.High.SI), err
	case w.diameter != "":
		r, err := in.positive("diameter", w.diameter, quantity.Length, math.Sqrt(mostWellM2))
		circle := func(d float64) float64 { return math.Pi / 4 * d * d }
		return basis.NewGiven("area of the wet well", quantity.Area, circle(r.Best.SI), "--diameter").
			WithRange(circle(r.Low.SI), circle(r.High.SI)), err
	}
	return basis.Value{}, nil
}
