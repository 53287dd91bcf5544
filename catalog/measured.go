package catalog

import (
	"errors"
	"fmt"
	"slices"

	"seatward/internal/yamlfile"
	"seatward/valve"
)

// Kinds of measured curve.
const (
	lossCurve    = "loss against opening"
	openingCurve = "opening against velocity"
	closingCurve = "reverse velocity against deceleration"
	pushCurve    = "force against opening"
	backCurve    = "force against opening in reverse flow"
)

// Measured is one measured curve of an item; X and Y are SI.
type Measured struct {
	Kind, Source, Licence string
	Position              valve.Position
	Placed                bool // Position is that of the test; without it the curve serves all
	X, Y                  []float64
	XHalf, YHalf          []float64 // halves of the 95 % intervals; nil where not given
	Method                string
}

// points are the curve as the valve package takes it.
func (m Measured) points() []valve.Point {
	out := make([]valve.Point, len(m.X))
	for i := range m.X {
		out[i] = valve.Point{X: m.X[i], Y: m.Y[i]}
	}
	return out
}

// curve finds a measured curve: that of the position, else one that names none, else,
// where any will do, the first.
func (it *Item) curve(kind string, position valve.Position, anyWillDo bool) (Measured, bool) {
	found, rank := Measured{}, 0
	for _, m := range it.Measured {
		r := 0
		switch {
		case m.Kind != kind:
		case m.Placed && m.Position == position:
			r = 3
		case !m.Placed:
			r = 2
		case anyWillDo:
			r = 1
		}
		if r > rank {
			found, rank = m, r
		}
	}
	return found, rank > 0
}

// MeasuredClosing finds the measured curve of reverse velocity against deceleration
// for the position; a curve without a position serves all.
func (it *Item) MeasuredClosing(position valve.Position) (Measured, bool) {
	return it.curve(closingCurve, position, false)
}

// MeasuredSteady is true when Build takes loss, floating or force from measured curves.
func (it *Item) MeasuredSteady() bool {
	for _, kind := range []string{lossCurve, openingCurve, pushCurve, backCurve} {
		if _, ok := it.curve(kind, valve.Horizontal, true); ok {
			return true
		}
	}
	return false
}

// scatter is how far a measured loss may rise from one point to the next as the valve
// opens, or a reverse velocity fall with the deceleration: the noise of tests.
const scatter = 0.1

// measured hangs the measured curves on their items.
func (r *resolver) measured(f *Family) {
	for i := range f.file.Measured {
		m := &f.file.Measured[i]
		if m.Family.Set && m.Family.Text != f.ID {
			r.add(m.Family.At, "measured-elsewhere", "the curve of "+m.Family.Text+" stands in the family "+f.ID,
				"the curves of this family", "move it to its family, or to a list measured of the file")
			continue
		}
		if out, ok := r.readCurve(m); ok {
			r.hang(f, m, out)
		}
	}
}

// readCurve reads one curve.
func (r *resolver) readCurve(m *MeasuredFile) (Measured, bool) {
	points := map[string][]yamlfile.Tuple{
		lossCurve: m.Loss, openingCurve: m.Opening, closingCurve: m.Closing,
		pushCurve: m.Force, backCurve: m.Force,
	}
	if extra := len(m.Loss) + len(m.Opening) + len(m.Closing) + len(m.Force) - len(points[m.Kind.Text]); extra > 0 {
		r.add(m.Kind.At, "measured-stray", "points stand here that are not of the kind "+m.Kind.Text,
			"one list of points, of the kind that is named", "move them to a curve of their own kind")
		return Measured{}, false
	}
	out := Measured{
		Kind: m.Kind.Text, Placed: m.Position.Set, Source: m.Source.Text, Licence: m.Licence.Text,
		Method: m.Method.Text,
	}
	if out.Placed {
		position, err := valve.PositionNamed(m.Position.Text)
		if err != nil {
			return Measured{}, false // the reader has told it
		}
		out.Position = position
	}
	return out, r.take(&out, m, points[m.Kind.Text]) && r.halves(&out, m)
}

// halves reads the errors of the points.
func (r *resolver) halves(out *Measured, m *MeasuredFile) bool {
	if len(m.Errors) == 0 {
		return true
	}
	if m.Kind.Text != closingCurve || len(m.Errors) != len(out.X) {
		r.add(m.Errors[0].At, "measured-errors",
			fmt.Sprintf("%d errors stand beside %d points of %s", len(m.Errors), len(out.X), m.Kind.Text),
			"errors of a closing curve, one for each point", "give each point its error, or leave them out")
		return false
	}
	for _, e := range m.Errors {
		out.XHalf, out.YHalf = append(out.XHalf, e.Items[0].SI()), append(out.YHalf, e.Items[1].SI())
	}
	return true
}

// take reads the points and holds them to their kind.
func (r *resolver) take(out *Measured, m *MeasuredFile, points []yamlfile.Tuple) bool {
	if len(points) < 2 {
		r.add(m.Kind.At, "measured-empty", "the measured curve has fewer than two points",
			"a list of points that goes with the kind: loss, opening, closing or force", "add the points")
		return false
	}
	if m.Kind.Text == openingCurve && !m.Position.Set {
		r.add(m.Kind.At, "measured-position", "the position of the test is not given",
			"the position: it decides what closes the valve", "add a line position: ...")
		return false
	}
	for j, p := range points {
		x, y := p.Items[0].SI(), p.Items[1].SI()
		if j > 0 && x <= out.X[j-1] {
			r.add(p.At, "measured-order", "the first number does not rise from the point before",
				"points in rising order", "order the points")
			return false
		}
		if fault, expected := impossible(m.Kind.Text, x, y); fault != "" {
			r.add(p.At, "measured-range", fault, expected, "mend the point")
			return false
		}
		if j > 0 {
			if fault, expected := unsteady(m.Kind.Text, out.Y[j-1], y); fault != "" {
				r.add(p.At, "measured-turns", fault, expected, "check this point and the one before")
				return false
			}
		}
		out.X, out.Y = append(out.X, x), append(out.Y, y)
	}
	return true
}

// impossible says what is wrong with a point by itself.
func impossible(kind string, x, y float64) (fault, expected string) {
	switch {
	case kind == lossCurve && !(x > 0 && x <= 1):
		return "an opening is a share of the full way", "above 0 to 1"
	case kind == lossCurve && !(y > 0):
		return "a loss coefficient must be positive", "more than 0"
	case (kind == pushCurve || kind == backCurve) && !(x > 0 && x <= 1):
		return "an opening is a share of the full way", "above 0 to 1"
	case (kind == pushCurve || kind == backCurve) && !(y > 0):
		return "a force coefficient must be positive, in reverse flow too", "more than 0"
	case kind == openingCurve && !(y > 0 && y <= 1):
		return "an opening is a share of the full way", "above 0 to 1"
	case kind == openingCurve && !(x > 0):
		return "the velocity must be positive", "more than 0"
	case kind == closingCurve && !(x > 0):
		return "the deceleration must be positive", "more than 0"
	case kind == closingCurve && y < 0:
		return "a reverse velocity is written without a sign", "0 or more"
	}
	return "", ""
}

// unsteady says what is wrong with the step from one point to the next.
func unsteady(kind string, before, y float64) (fault, expected string) {
	switch {
	case kind == lossCurve && y > before*(1+scatter):
		return "the loss rises as the valve opens", "a loss that falls, or stays, with the opening"
	case kind == openingCurve && y <= before:
		return "the opening does not rise with the velocity", "openings that rise up to the stop"
	case kind == closingCurve && y < before*(1-scatter):
		return "the reverse velocity falls with the deceleration",
			"a reverse velocity that rises, or stays, with the deceleration"
	}
	return "", ""
}

// hang gives the curve to the items that it was measured on.
func (r *resolver) hang(f *Family, m *MeasuredFile, out Measured) {
	if !f.declares(m) {
		r.add(m.Size.At, "measured-for-nothing",
			fmt.Sprintf("no item of %s has the size and variant of this curve",
				f.ID), "a size and variant of the family", "mend size or variant")
		return
	}
	for _, it := range f.Items {
		if it.Size != m.Size.Size || (m.Variant.Text != "" && m.Variant.Text != it.Variant) {
			continue
		}
		for _, other := range it.Measured {
			if other.Kind == out.Kind && other.Placed == out.Placed && other.Position == out.Position {
				r.add(m.Kind.At, "measured-twice", it.ID+" has two curves of one kind and position", "one of each",
					"remove one, or tell position or variant")
				return
			}
		}
		it.Measured = append(it.Measured, out)
		if len(it.Positions) == 0 {
			continue // the reader has told it
		}
		_, err := it.Build(valve.In(testWaterKgM3, it.Positions[0]))
		if errors.Is(err, valve.ErrMeasured) {
			r.add(m.Kind.At, "measured-unusable", it.ID+": "+err.Error(), "a curve that fits the type",
				"mend the curve, or leave it out")
			it.Measured = it.Measured[:len(it.Measured)-1]
			return
		}
	}
}

// declares is true when the family's file has the size and variant of the curve.
func (f *Family) declares(m *MeasuredFile) bool {
	size := slices.ContainsFunc(f.file.Sizes, func(s SizeFile) bool { return s.Size.Size == m.Size.Size })
	variant := !m.Variant.Set || slices.ContainsFunc(f.file.Variants,
		func(v VariantFile) bool { return v.ID.Text == m.Variant.Text })
	return size && variant
}
