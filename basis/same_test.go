package basis

import (
	"testing"

	"seatward/quantity"
)

// TestUnique: copies of a value are one, two values of one name are two.
func TestUnique(t *testing.T) {
	motor := func(si float64) Value {
		return NewAssumed("inertia of motor", quantity.Inertia, si, si/2, si*2, "usual", CommonPractice)
	}
	sum := Formula{ID: "sum", Symbols: []string{"a", "b"}, Kind: quantity.Inertia, Ref: DerivedHere}
	both := sum.Eval2("inertia of all", func(a, b float64) float64 { return a + b }, motor(1), motor(3))
	if got := Assumptions(both, motor(1)); len(got) != 2 || got[0].SI != 1 || got[1].SI != 3 {
		t.Errorf("two motors, one of them twice: %v", got)
	}
	if got := Unique([]Value{{}, motor(1), both, motor(1)}); len(got) != 2 || got[0].SI != 1 || got[1].SI != both.SI {
		t.Errorf("unique: %v", got)
	}
}

// TestEvalNeedsAllInputs: a formula whose symbols are counted wrong is not evaluated.
func TestEvalNeedsAllInputs(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a formula of two symbols is evaluated with one input")
		}
	}()
	velocityHead.Eval1("velocity head", func(v float64) float64 { return v }, NewGiven("V", quantity.Velocity, 1, ""))
}
