package pump

import "math"

// Bounds beyond which a number is a slip of the unit, not a pump: the largest
// storage pumps move some 100 m3/s, the highest boiler feed pumps reach some
// 5000 m. Common practice, no source.
const (
	maxFlowM3S = 1e3
	maxHeadM   = 1e5
	maxPowerW  = 1e10
	minSpan    = 1e-6 // least distance of neighboring flows, as a part of the last flow
	minFlowM3S = 1e-9 // least last flow
)

// checkFlows finds what is wrong with the flows of points or samples.
func checkFlows(flows []float64) (p Problems) {
	if len(flows) < 2 {
		p.add(TooFewPoints, -1, "%d point(s) where at least 2 are needed", len(flows))
		return p
	}
	last := flows[len(flows)-1]
	for i, q := range flows {
		switch {
		case math.IsNaN(q) || math.IsInf(q, 0):
			p.add(NotFinite, i, "the flow of point %d is not a finite number", i+1)
		case q > maxFlowM3S:
			p.add(OutOfScale, i, "the flow of point %d is %.4g m3/s, more than any pump: check its unit", i+1, q)
		case q < 0:
			p.add(NegativeFlow, i, "the flow of point %d is below zero: start the curve at zero flow", i+1)
		case i > 0 && q-flows[i-1] < minSpan*math.Abs(last):
			p.add(FlowNotIncreasing, i, "the flow of point %d is not above that of point %d: list the points by rising flow, each once", i+1, i)
		}
	}
	if p == nil && last < minFlowM3S {
		p.add(OutOfScale, len(flows)-1, "the greatest flow is %.4g m3/s, less than any pump: check its unit", last)
	}
	return p
}

// checkHeads finds what is wrong with heads whose flows are in order.
func checkHeads(points []Point) (p Problems) {
	top := 0.0
	for i, x := range points {
		switch {
		case math.IsNaN(x.HeadM) || math.IsInf(x.HeadM, 0):
			p.add(NotFinite, i, "the head of point %d is not a finite number", i+1)
		case x.HeadM > maxHeadM:
			p.add(OutOfScale, i, "the head of point %d is %.4g m, more than any pump: check its unit", i+1, x.HeadM)
		case x.HeadM < 0:
			p.add(NegativeHead, i, "the head of point %d is below zero: end the curve where the head ends", i+1)
		default:
			top = math.Max(top, x.HeadM)
		}
	}
	if p != nil {
		return p
	}
	if top < 1e-6 {
		p.add(NoHead, -1, "the head is zero at every point")
		return p
	}
	return append(p, checkRises(points)...)
}

// checkRises counts the stretches on which the head rises with flow.
func checkRises(points []Point) (p Problems) {
	rises, start, rising := 0, 0, false
	for i := 1; i < len(points); i++ {
		up, down := points[i].HeadM > points[i-1].HeadM, points[i].HeadM < points[i-1].HeadM
		if up && !rising {
			rises++
			if rises == 1 {
				start = i - 1
			} else {
				p.add(HeadRisesTwice, i, "the head rises a second time at point %d: no pump does; check the points",
					i+1)
			}
		}
		if up || down {
			rising = up
		}
	}
	n := len(points)
	switch {
	case rising:
		p.add(HeadRisesAtEnd, n-1, "the head still rises at the last point: a pump's head falls in the end; check that head and flow are not exchanged")
	case p.Err() != nil || rises == 0:
	case points[start].HeadM == points[0].HeadM:
		p.add(Droop, start, "the head rises from shut-off before it falls: two flows belong to some heads, and a pump that starts against a running one may not open its check valve")
	default:
		p.add(Hump, start, "the head rises between points %d and %d: up to three flows belong to some heads", start+1,
			start+2)
	}
	return p
}
