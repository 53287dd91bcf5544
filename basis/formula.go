package basis

import (
	"math"

	"seatward/quantity"
)

// Formula is the written form of a kernel: what it computes, how it is printed in
// a calculation sheet, and where it is published.
type Formula struct {
	ID      string   // stable, such as "darcy-weisbach"
	Title   string   // "Friction head loss"
	Expr    string   // "h = f L V² / (2 g D)"
	Symbols []string // of the inputs, in the order of the kernel's arguments
	Kind    quantity.Kind
	Ref     string // bibliography key and place: "wylie-streeter-1993 ch. 2"
	Range   string // where it holds, in plain words
}

// Eval1 computes a value by the kernel and records formula and inputs. The inputs stand in
// the order of the formula's symbols, which is that of the kernel's arguments: Eval1 to Eval6
// take as many inputs as the kernel has arguments, so that leaving one out does not compile,
// and a test of truth holds the symbols to them. The result's range is carried over from
// ranged inputs by moving each input to the end that lowers, then to the end that raises the
// result; it is exact where the kernel is monotone in each input.
func (f *Formula) Eval1(name string, kernel func(a float64) float64, a Value) Value {
	return f.EvalAll(name, func(x []float64) float64 { return kernel(x[0]) }, a)
}

// Eval2 is Eval1 for a kernel of two arguments.
func (f *Formula) Eval2(name string, kernel func(a, b float64) float64, a, b Value) Value {
	return f.EvalAll(name, func(x []float64) float64 { return kernel(x[0], x[1]) }, a, b)
}

// Eval3 is Eval1 for a kernel of three arguments.
func (f *Formula) Eval3(name string, kernel func(a, b, c float64) float64, a, b, c Value) Value {
	return f.EvalAll(name, func(x []float64) float64 { return kernel(x[0], x[1], x[2]) }, a, b, c)
}

// Eval4 is Eval1 for a kernel of four arguments.
func (f *Formula) Eval4(name string, kernel func(a, b, c, d float64) float64, a, b, c, d Value) Value {
	return f.EvalAll(name, func(x []float64) float64 { return kernel(x[0], x[1], x[2], x[3]) }, a, b, c, d)
}

// Eval5 is Eval1 for a kernel of five arguments.
func (f *Formula) Eval5(name string, kernel func(a, b, c, d, e float64) float64, a, b, c, d, e Value) Value {
	return f.EvalAll(name, func(x []float64) float64 { return kernel(x[0], x[1], x[2], x[3], x[4]) }, a, b, c, d, e)
}

// Eval6 is Eval1 for a kernel of six arguments.
func (f *Formula) Eval6(name string, kernel func(a, b, c, d, e, h float64) float64, a, b, c, d, e, h Value) Value {
	return f.EvalAll(name, func(x []float64) float64 { return kernel(x[0], x[1], x[2], x[3], x[4], x[5]) }, a, b, c, d,
		e, h)
}

// EvalAll is Eval1 for a formula whose number of inputs depends on the station, such as a sum
// over runs of pipe.
func (f *Formula) EvalAll(name string, kernel func(x []float64) float64, in ...Value) Value {
	if len(in) != len(f.Symbols) {
		panic("basis: formula " + f.ID + " called with the wrong number of inputs")
	}
	x := make([]float64, len(in))
	for i, v := range in {
		x[i] = v.SI
	}
	out := Value{
		Name: name, Kind: f.Kind, SI: kernel(x),
		Record: Record{Origin: Computed, Formula: f, Inputs: in, Source: f.Ref},
	}
	out.Low, out.High = span(kernel, x, in, out.SI)
	return out
}

func span(kernel func([]float64) float64, x []float64, in []Value, best float64) (low, high float64) {
	atLow, atHigh := append([]float64(nil), x...), append([]float64(nil), x...)
	ranged := false
	for i, v := range in {
		if !v.Ranged() {
			continue
		}
		ranged = true
		probe := append([]float64(nil), x...)
		probe[i] = v.High
		up := kernel(probe)
		probe[i] = v.Low
		if down := kernel(probe); up >= down {
			atLow[i], atHigh[i] = v.Low, v.High
		} else {
			atLow[i], atHigh[i] = v.High, v.Low
		}
	}
	if !ranged {
		return best, best
	}
	return math.Min(kernel(atLow), best), math.Max(kernel(atHigh), best)
}
