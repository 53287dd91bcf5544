package transient

import (
	"math"

	"seatward/internal/moc"
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
	x := b - (mu-1)/(8*b) - 4*(mu-1)*(7*mu-31)/(3*math.Pow(8*b, 3)) - 32*(mu-1)*(83*mu*mu-982*mu+3779)/(15*math.Pow(8*b,
		5))
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
// (from memory), with 1/√τ as the integral of exponentials over their logarithm, summed in
// even steps. What is slower than B* is one exponential; what a step of the dimensionless
// length least forgets at once is another, with the integral that it has. From three steps
// on, and down to a hundredth of what it was after one, W is met within 3 %. Below a Reynolds
// number of 2000 there is no turbulence to weigh: the weights are those at 2000.
func Turbulent(reynolds, least float64) []Exponential {
	const (
		step    = 1.9 // in ln n: the sum of such steps waves by 1.6 %
		slowest = 0.7 // of B*
		fastest = 3.0 // over least
		laminar = 2000
	)
	reynolds = math.Max(reynolds, laminar)
	kappa := math.Log10(15.29 * math.Pow(reynolds, -0.0567))
	bStar := math.Pow(reynolds, kappa) / 12.86
	weight := step / (2 * math.Pi) // M over √n
	first, ratio := slowest*bStar, math.Exp(step)
	r := math.Exp(-step / 2)
	share := r / (1 - r) // Σ of those slower, of which each is r times the one before
	out := []Exponential{{weight * math.Sqrt(first) * share, bStar + first*r*r*r/(1-r*r*r)/share}}
	n := first
	for ; n*least <= fastest; n *= ratio {
		out = append(out, Exponential{weight * math.Sqrt(n), n + bStar})
	}
	// ∫ W of those faster; with one N so great that a step forgets it.
	forgot, rest := math.Max(1e3/least, 10*n), 0.0
	for ; n < 1e6/least; n *= ratio {
		rest += weight * math.Sqrt(n) / (n + bStar)
	}
	return append(out, Exponential{rest * forgot, forgot})
}

// newFriction takes the exponentials over one step: decay exp(−N Δτ), and gain
// M (1 − decay)/(N Δτ) times (16 ν/(g D²)) Δx/A.
func newFriction(l *line, u *Unsteady, stepS, gravity float64) *moc.Friction {
	d := l.pipe.DiameterM
	n := len(l.h)
	tau := 4 * u.ViscosityM2 * stepS / (d * d)
	c := &moc.Friction{Loss: make([]float64, n)}
	scale := 16 * u.ViscosityM2 / (gravity * d * d) * (l.pipe.LengthM / float64(n-1)) / l.pipe.AreaM2()
	for _, w := range u.Weights {
		decay := math.Exp(-w.N * tau)
		gain := scale * w.M * -math.Expm1(-w.N*tau) / (w.N * tau)
		if decay == 0 {
			c.AtOnce += gain
			continue
		}
		c.Terms = append(c.Terms, moc.Memory{Decay: decay, Gain: gain})
	}
	c.State = make([]float64, n*len(c.Terms))
	return c
}
