package station

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/pump"
	"seatward/quantity"
)

// spreadShare is the share of the shut-off head below which a point says nothing of the
// curve's spread: there a small error of the head is a large share of it.
const spreadShare = 0.3

// curveSpread is the factor on all heads of a curve of which points have ranges: the
// widest of the points, because a test or a data sheet errs along the whole curve alike.
// A range of the flow is taken as the change of head over it. Unknown where no point has
// a range.
func (r *resolver) curveSpread(points []yamlfile.Tuple, c pump.Curve, p *Pump) basis.Value {
	low, high := 1.0, 1.0
	for _, t := range points {
		q, h := t.Items[0], t.Items[1]
		if h.SI() < spreadShare*c.ShutOffM() {
			continue
		}
		at := c.Head(q.SI()).SI
		less, more := at-c.Head(q.High.SI).SI, c.Head(q.Low.SI).SI-at // of a curve that falls
		down, up := math.Max(0, math.Max(more, -less)), math.Max(0, math.Max(less, -more))
		low = math.Min(low, (h.Low.SI-down)/h.SI())
		high = math.Max(high, (h.High.SI+up)/h.SI())
	}
	name := r.nameOf("factor on the heads of the curve", p)
	v := basis.NewGiven(name, quantity.Number, 1, points[0].Place.String()).WithRange(math.Max(low, 0.05), high)
	return r.known(v, low < 1 || high > 1)
}

// WithCurve is the station with all heads of the curve of the group times the factor: one
// of the range of Pump.CurveSpread, of which 1 is the curve as given. The duty head and
// the shut-off head move with it; what was estimated from them does not, as for a pump
// that was built to its data sheet and lifts a little more or less.
func (st *Station) WithCurve(group int, factor float64) *Station {
	out := *st
	out.Pumps = slices.Clone(st.Pumps)
	p := &out.Pumps[group]
	if p.CurveSpread.Known() {
		factor /= p.CurveSpread.SI
		p.CurveSpread.SI *= factor
	}
	p.Performance = p.Performance.TimesHead(factor)
	p.ShutoffHead.SI *= factor
	p.DutyHead.SI *= factor
	return &out
}

// WithProfile is the station with all points of the main's profile moved together within
// their ranges: −1 is the low end of each, 0 the best, 1 the high end.
func (st *Station) WithProfile(u float64) *Station {
	out := *st
	out.Main.Profile = slices.Clone(st.Main.Profile)
	for i := range out.Main.Profile {
		p := &out.Main.Profile[i]
		if u < 0 {
			p.ElevationM += u * (p.ElevationM - p.LowM)
		} else {
			p.ElevationM += u * (p.HighM - p.ElevationM)
		}
	}
	return &out
}

// dutyMoved is how far the given duty point may lie from the given curve before it is
// reported, as a share of flow or head.
const dutyMoved = 0.05

// offCurve tells how far the given curves move the given duty point, or the shut-off
// head: of the pump whose curve comes nearest.
func (r *resolver) offCurve() {
	d := &r.f.Duty
	r.farFrom(d.ShutoffHead, func(p *Pump) float64 { return apart(d.ShutoffHead.SI(), p.ShutoffHead.SI) },
		func(p *Pump) {
			r.warn(d.ShutoffHead.At, "shutoff-off-curve",
				fmt.Sprintf("the curve of %s begins at %s: the curve is used", p.Name,
					r.show(quantity.Head, p.ShutoffHead.SI)),
				"within 5 % of the curve", "mend the shut-off head or the curve")
		})
	if !d.Flow.Set {
		return
	}
	r.farFrom(d.Head, func(p *Pump) float64 { return apart(d.Head.SI(), p.Performance.Head(d.Flow.SI()).SI) },
		func(p *Pump) {
			at := p.Performance.Head(d.Flow.SI()).SI
			text := fmt.Sprintf("at the duty flow the curve of %s gives %s, %s the stated head", p.Name,
				r.show(quantity.Head, at), moreOrLess(at, d.Head.SI(), "above", "below"))
			if q, ok := flowAt(p.Performance, d.Head.SI()); ok {
				text += fmt.Sprintf("; it reaches that head at %s, %s", r.show(quantity.Flow, q),
					moreOrLess(q, d.Flow.SI(), "more flow", "less flow"))
			}
			r.warn(d.Head.At, "duty-off-curve", text+": the curve is used", "within 5 % of the curve",
				"mend the duty point or the curve")
		})
}

// farFrom tells of the pump that comes nearest to what is stated, if it is too far.
func (r *resolver) farFrom(stated yamlfile.Q, distance func(*Pump) float64, tell func(*Pump)) {
	if !stated.Set {
		return
	}
	var nearest *Pump
	for i := range r.st.Pumps {
		if p := &r.st.Pumps[i]; p.CurveGiven && (nearest == nil || distance(p) < distance(nearest)) {
			nearest = p
		}
	}
	if nearest != nil && distance(nearest) > dutyMoved {
		tell(nearest)
	}
}

// moreOrLess says by which share a differs from b.
func moreOrLess(a, b float64, more, less string) string {
	if a < b {
		more = less
	}
	return fmt.Sprintf("%.0f %% %s", 100*apart(a, b), more)
}

// flowAt is the greatest flow on the curve at which it gives the head.
func flowAt(c pump.Performance, headM float64) (flowM3S float64, ok bool) {
	low, high := c.Range()
	const steps = 200
	for i := steps; i > 0; i-- {
		a, b := low+(high-low)*float64(i-1)/steps, low+(high-low)*float64(i)/steps
		ha, hb := c.Head(a).SI, c.Head(b).SI
		if (ha-headM)*(hb-headM) <= 0 && ha != hb {
			return a + (b-a)*(headM-ha)/(hb-ha), true
		}
	}
	return 0, false
}
