package calibrate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/catalog"
	"seatward/quantity"
	"seatward/valve"
)

// CurvePoint is a point of a measured closing curve, with its 95 % interval.
type CurvePoint struct {
	Deceleration, Reverse Interval
	Stops                 int // that it is the mean of
}

// Faults of a closing curve.
var (
	ErrFewPoints = errors.New("a closing curve takes two stops of different strength at the least, each of which the model reproduces")
	ErrFalls     = errors.New("the reverse velocity falls as the deceleration rises, by more than the errors: the stops are not those of one valve in one state")
)

// sameShare is how near two decelerations are one, as a share.
const sameShare = 0.05

// Curve makes a closing curve of the stops: those of one deceleration are one point, their mean by
// their errors.
func (f *Fit) Curve() ([]CurvePoint, error) {
	var all []CurvePoint
	for _, p := range f.Points {
		if p.Closed && !f.Poor && p.Deceleration.Best > 0 && !math.IsNaN(p.Reverse.Best) {
			all = append(all, CurvePoint{p.Deceleration, p.Reverse, 1})
		}
	}
	slices.SortFunc(all, func(a, b CurvePoint) int { return cmp.Compare(a.Deceleration.Best, b.Deceleration.Best) })
	var out []CurvePoint
	for _, p := range all {
		if n := len(out); n > 0 && p.Deceleration.Best < out[n-1].Deceleration.Best*(1+sameShare) {
			out[n-1] = joined(out[n-1], p)
			continue
		}
		out = append(out, p)
	}
	for i := 1; i < len(out); i++ { // a fall within the errors is none
		if a, b := out[i-1], out[i]; b.Reverse.Best < a.Reverse.Best {
			if a.Reverse.Best-b.Reverse.Best > math.Hypot(a.Reverse.half(), b.Reverse.half()) {
				return nil, ErrFalls
			}
			out = slices.Replace(out, i-1, i+1, joined(a, b))
			i = max(0, i-2)
		}
	}
	if len(out) < 2 {
		return nil, ErrFewPoints
	}
	return out, nil
}

func (v Interval) half() float64 { return math.Max((v.High-v.Low)/2, 1e-4*math.Abs(v.Best)) }

// joined is the mean of two points by their errors. The error stays that of one stop at least
// where they differ by more.
func joined(a, b CurvePoint) CurvePoint {
	mean := func(x, y Interval) Interval {
		p, q := 1/(x.half()*x.half()), 1/(y.half()*y.half())
		best := (p*x.Best + q*y.Best) / (p + q)
		half := math.Max(1/math.Sqrt(p+q), math.Max(math.Abs(x.Best-best), math.Abs(y.Best-best)))
		return Interval{best - half, best, best + half}
	}
	return CurvePoint{mean(a.Deceleration, b.Deceleration), mean(a.Reverse, b.Reverse), a.Stops + b.Stops}
}

// Origin is what a closing curve says of itself.
type Origin struct {
	Station  string
	Date     string // of the last stop, year-month-day; "" where it is not known
	Nameless bool   // station and day are left out
	Licence  string
	Item     *catalog.Item
	At       valve.Position
	Stops    int
}

// CurveFile writes a closing curve as a catalog file of its own, in SI.
func CurveFile(points []CurvePoint, o Origin) []byte {
	where, date, last := o.Station, o.Date, ", the last on "+o.Date
	if o.Nameless {
		where = "a pumping station that is not named"
		if date != "" {
			date, last = date[:len("2006")]+"-01-01", ", the last in "+date[:len("2006")]
		}
	}
	if date == "" {
		date, last = "0001-01-01", ""
	}
	source := fmt.Sprintf("%d stops logged at %s%s", o.Stops, where, last)
	var b strings.Builder
	b.WriteString("# Measured closing curve. Give it with --catalog, beside the catalog of the valve.\n")
	fmt.Fprintf(&b, "maker: field measurement of %s\nversion: %q\ndate: %q\nsource: %q\nlicence: %q\n", o.Item.Family.ID,
		date, date, source, o.Licence)
	fmt.Fprintf(&b, "measured:\n  - kind: reverse velocity against deceleration\n    family: %s\n    size: DN%d\n",
		o.Item.Family.ID, o.Item.Size.DN)
	if o.Item.Variant != "" {
		fmt.Fprintf(&b, "    variant: %s\n", o.Item.Variant)
	}
	fmt.Fprintf(&b, "    position: %s\n    source: %q\n    licence: %q\n", o.At, source, o.Licence)
	b.WriteString("    method: \"model of the station fitted to the logged head at the valve; " +
		"deceleration of the flow as it turns, without the valve\"\n")
	list := func(key string, of func(p CurvePoint) (x, y float64)) {
		fmt.Fprintf(&b, "    %s:\n", key)
		for _, p := range points {
			x, y := of(p)
			fmt.Fprintf(&b, "      - [%s m/s2, %s m/s]\n", quantity.Figures(x, 3), quantity.Figures(y, 3))
		}
	}
	list("closing", func(p CurvePoint) (x, y float64) { return p.Deceleration.Best, p.Reverse.Best })
	list("errors", func(p CurvePoint) (x, y float64) { return p.Deceleration.half(), p.Reverse.half() })
	return []byte(b.String())
}
