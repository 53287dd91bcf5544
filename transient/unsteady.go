package transient

import (
	"math"
	"slices"
)

// Unsteady is friction that remembers past accelerations (Zielke 1968): beside the
// quasi-steady loss stands, per length,
//
//	J = (16 ν/(g D²)) ∫ (dV/dt)(t−τ*) W(τ*) dτ*,   τ = 4 ν t/D².
//
// The weights W are a sum of exponentials, so that the memory is carried in a few numbers
// per node.
type Unsteady struct {
	Weights     []Exponential // W(τ) = Σ M exp(−N τ)
	ViscosityM2 float64       // kinematic, m²/s
}

// Exponential is one term of the weights.
type Exponential struct{ M, N float64 }

// Laminar gives Zielke's weights, W = Σ exp(−n_i τ) with n_i the squares of the zeros of
// the Bessel function J₂ (Zielke 1968, eq. 20). Terms that one step of the dimensionless
// length least forgets at once are left out; beyond the first ones, neighbors are joined.
func Laminar(least float64) []Exponential {
	var out []Exponential
	const exact = 12
	for i := 1; ; {
		n := besselZero(i)
		if n*n*least > 30 {
			return out
		}
		count := 1
		if i > exact {
			count = max(1, i/4)
		}
		middle := besselZero2(float64(i) + float64(count-1)/2)
		out = append(out, Exponential{float64(count), middle * middle})
		i += count
	}
}

// besselZero is the i-th positive zero of J₂, by Newton's method from McMahon's expansion
// (Abramowitz and Stegun 1972, 9.5.12).
func besselZero(i int) float64 { return besselZero2(float64(i)) }

// besselZero2 takes a count between whole numbers too, for neighbors taken together.
func besselZero2(i float64) float64 {
	b := (i + 0.75) * math.Pi
	const mu = 16.0 // 4 · 2²
	x := b - (mu-1)/(8*b) - 4*(mu-1)*(7*mu-31)/(3*math.Pow(8*b, 3)) - 32*(mu-1)*(83*mu*mu-982*mu+3779)/(15*math.Pow(8*b, 5))
	if i != math.Trunc(i) {
		return x
	}
	for range 4 {
		// J₂' = J₁ − 2 J₂/x.
		x -= math.Jn(2, x) / (math.J1(x) - 2*math.Jn(2, x)/x)
	}
	return x
}

// Turbulent gives the weights of Vardy and Brown (2003) for smooth pipes at the Reynolds
// number before the change,
//
//	W = A* exp(−B* τ)/√τ,  A* = 1/(2√π),  B* = Re^κ/12.86,  κ = log₁₀(15.29 Re^−0.0567),
//
// (from memory), with 1/√τ as the integral of exponentials over their logarithm, summed in even steps;
// the sum holds from one step of the dimensionless length least to the end of a long run.
func Turbulent(reynolds, least float64) []Exponential {
	kappa := math.Log10(15.29 * math.Pow(reynolds, -0.0567))
	bStar := math.Pow(reynolds, kappa) / 12.86
	aStar := 1 / (2 * math.SqrtPi)
	const step = 1.2 // in ln n; the sum of such steps is good to 1e-3
	var out []Exponential
	for y := math.Log(1e-2); math.Exp(y)*least <= 30; y += step {
		n := math.Exp(y)
		out = append(out, Exponential{aStar * step * math.Exp(y/2) / math.SqrtPi, n + bStar})
	}
	return out
}

// convolution is the memory of one line.
type convolution struct {
	terms  []term
	state  []float64 // of each node, term by term
	before []float64 // flow of the step before
	loss   []float64 // head lost per reach now
	scale  float64   // (16 ν/(g D²)) Δx/A
}

// term is one exponential over one step: decay exp(−N Δτ) and gain M (1 − decay)/(N Δτ).
type term struct{ decay, gain float64 }

func newConvolution(l *line, u *Unsteady, stepS, gravity float64) *convolution {
	d := l.pipe.DiameterM
	n := len(l.h)
	tau := 4 * u.ViscosityM2 * stepS / (d * d)
	c := &convolution{
		state: make([]float64, n*len(u.Weights)), before: slices.Clone(l.q), loss: make([]float64, n),
		scale: 16 * u.ViscosityM2 / (gravity * d * d) * (l.pipe.LengthM / float64(n-1)) / l.pipe.AreaM2(),
	}
	for _, w := range u.Weights {
		decay := math.Exp(-w.N * tau)
		c.terms = append(c.terms, term{decay, w.M * -math.Expm1(-w.N*tau) / (w.N * tau)})
	}
	return c
}

// correct takes the loss at the feet out of what the plain step has found.
func (c *convolution) correct(l *line) {
	for i := 1; i < l.last(); i++ {
		a, b := c.loss[i-1], c.loss[i+1]
		l.h1[i] += 0.5 * (b - a)
		l.q1[i] -= (a + b) * l.inner.HalfInvB
	}
}

// advance takes the step's change of flow into the memory.
func (c *convolution) advance(l *line) {
	k := len(c.terms)
	for i := range c.loss {
		dq := l.q1[i] - c.before[i]
		c.before[i] = l.q1[i]
		own := c.state[i*k : (i+1)*k]
		sum := 0.0
		for j, t := range c.terms {
			own[j] = own[j]*t.decay + t.gain*dq
			sum += own[j]
		}
		c.loss[i] = c.scale * sum
	}
}
