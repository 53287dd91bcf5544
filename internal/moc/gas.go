package moc

import "math"

// Gas holds the constants of a step with a little free gas at the nodes.
type Gas struct {
	B        float64 // impedance a/(g A) less the linear friction of a reach, s/m2
	R        float64 // quadratic friction of a reach, s2/m5
	Inverse  float64 // of the impedance, g A/a, m2/s
	StepM2   float64 // time step times the inverse impedance, m2
	AmountM4 float64 // of gas at a node: volume times head above vapor, above zero
}

// Nodes are the arrays of the nodes of a pipe with gas, all of one length. What ends in 1
// is found, from what is now.
type Nodes struct {
	H1, Q1, Up1, Volume1 []float64 // head, m; flow that leaves and that arrives, m3/s; gas, m3
	H, Q, Up, Volume     []float64
	Floor                []float64 // head at which the gas would take all room: that of vapor, m
	Loss                 []float64 // of unsteady friction over a reach at the foot, m
	Far                  []float64 // head above which gas is not felt, m; nil where it is felt at any

	step gasStep // kept here so that a step allocates nothing
}

// Step advances the nodes from one to another, neither of them an end. With x the head
// above vapor,
//
//	(2Δt/B) x² + [∀ + Δt (2 floor − C⁺ − C⁻)/B] x − amount = 0,
//
// C⁺ and C⁻ as in Interior, the first by the flow that leaves its node, the second by the
// one that arrives. With y the bracket, d the root of the discriminant and s = d + |y|, the
// root is 2 amount/s where y is above zero, and B s/(4Δt) where not; so no digits are lost.
//
// With Far given, the new arrays hold already what whole liquid would do. A node is left
// at that where it is above Far before and after and the node below it has no gas; its
// gas is set to none, and is taken from the head when it is needed.
//
// It gives the greatest volume that it found, and whether gas was felt at any node.
//
// Source: Wylie (1984), discrete gas cavity model, ψ = 1.
func (g Gas) Step(n *Nodes, from, to int) (mostM3 float64, felt bool) {
	if to < from {
		return 0, false
	}
	n.step = g.step()
	if n.Far == nil {
		return chosen.gas(n, from, to+1), true
	}
	return chosen.vapor(n, from, to+1)
}

// gasStep holds what the loops take from Gas, in the order in which they do.
type gasStep [9]float64

func (g Gas) step() gasStep {
	k := g.StepM2
	return gasStep{g.B, g.R, g.Inverse, k, 2 * k, 1 / (4 * k), 8 * k * g.AmountM4, 2 * g.AmountM4, g.AmountM4}
}

// plainGas moves the nodes before end.
func plainGas(n *Nodes, from, end int) (most float64) {
	for i := from; i < end; i++ {
		most = max0(n.node(i, n.Volume[i]), most)
	}
	return most
}

func plainVapor(n *Nodes, from, end int) (most float64, felt bool) {
	for i := from; i < end; i++ {
		whole := n.H[i] > n.Far[i]
		if whole && n.H1[i] > n.Far[i] && n.Up[i+1] == n.Q[i+1] {
			n.Volume1[i] = 0
			continue
		}
		felt = true
		gas := n.Volume[i]
		if whole {
			gas = n.step[8] / (n.H[i] - n.Floor[i])
		}
		most = max0(n.node(i, gas), most)
	}
	return most, felt
}

// max0 is the greater; most where v is not a number.
func max0(v, most float64) float64 {
	if v > most {
		return v
	}
	return most
}

// node moves one node that holds so much gas.
func (n *Nodes) node(i int, gas float64) (volume float64) {
	c := &n.step
	b, r, inverse, k := c[0], c[1], c[2], c[3]
	qa, ub, floor := n.Q[i-1], n.Up[i+1], n.Floor[i]
	cp := n.H[i-1] + float64(qa*(b-float64(r*math.Abs(qa)))) - n.Loss[i-1]
	cm := n.H[i+1] - float64(ub*(b-float64(r*math.Abs(ub)))) + n.Loss[i+1]
	y := gas + float64(k*(floor+floor-cp-cm))
	s := math.Sqrt(float64(y*y)+c[6]) + math.Abs(y)
	ratio := c[7] / s
	x, volume := float64(s*c[5]), float64(ratio*c[4])
	if y > 0 {
		x, volume = ratio, float64(s*0.5)
	}
	head := floor + x
	n.Volume1[i], n.H1[i] = volume, head
	n.Up1[i], n.Q1[i] = float64((cp-head)*inverse), float64((head-cm)*inverse)
	return volume
}

// Above counts the nodes from the first on at which h lies above the floor, up to the
// first at which it does not. The slices are of one length.
func Above(h, floor []float64) int { return chosen.above(h, floor[:len(h)]) }

func plainAbove(h, floor []float64) int { return aboveFrom(0, h, floor) }

func aboveFrom(i int, h, floor []float64) int {
	for i < len(h) && h[i] > floor[i] {
		i++
	}
	return i
}
