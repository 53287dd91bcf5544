package basis

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/quantity"
)

var velocityHead = Formula{
	ID: "velocity-head", Title: "Velocity head", Expr: "h = V² / (2 g)", Symbols: []string{"V", "g"},
	Kind: quantity.Head, Ref: "wylie-streeter-1993 ch. 1", Range: "any V",
}

func eval(v, g Value) Value {
	return velocityHead.Eval2("velocity head", func(v, g float64) float64 { return v * v / (2 * g) }, v, g)
}

func TestEvalRecordsAndCarriesTheRange(t *testing.T) {
	v := NewAssumed("velocity", quantity.Velocity, 2, 1, 3, "usual", CommonPractice)
	g := NewGiven("gravity", quantity.Acceleration, 9.80665, "a.yaml:1:1")
	h := eval(v, g)
	for _, c := range []struct{ got, want float64 }{{h.SI, 4 / 19.6133}, {h.Low, 1 / 19.6133}, {h.High, 9 / 19.6133}} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("got %g, want %g", c.got, c.want)
		}
	}
	text := Explain(h, quantity.SI)
	for _, want := range []string{
		"h = V² / (2 g)", "Fluid Transients", "because usual", "common practice, no source",
		"at a.yaml:1:1", "[computed]",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the tree lacks %q:\n%s", want, text)
		}
	}
	if a := Assumptions(h, h); len(a) != 1 || a[0].Name != "velocity" {
		t.Errorf("assumptions: %v", a)
	}
	if r := References(h); len(r) != 2 {
		t.Errorf("references: %v", r)
	}
}

func TestEvalRangeHoldsTheBestValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		best := rapid.Float64Range(-5, 5).Draw(t, "best")
		v := NewAssumed("v", quantity.Velocity, best, best-rapid.Float64Range(0, 3).Draw(t, "down"),
			best+rapid.Float64Range(0, 3).Draw(t, "up"), "r", FromMemory)
		h := eval(v, NewGiven("g", quantity.Acceleration, 9.8, ""))
		if h.Low > h.SI || h.SI > h.High || math.IsNaN(h.Low+h.High) {
			t.Fatalf("range %g..%g around %g", h.Low, h.High, h.SI)
		}
	})
}

func TestExplainPrintsASharedInputOnce(t *testing.T) {
	inner := eval(NewGiven("V", quantity.Velocity, 1, ""), NewGiven("g", quantity.Acceleration, 9.8, ""))
	sum := Formula{
		ID: "sum", Title: "Sum", Expr: "a + b", Symbols: []string{"a", "b"}, Kind: quantity.Head,
		Ref: DerivedHere,
	}
	v := sum.Eval2("sum", func(a, b float64) float64 { return a + b }, inner, inner)
	if n := strings.Count(Explain(v, quantity.US), "h = V²"); n != 1 {
		t.Errorf("the shared input is printed %d times", n)
	}
}

func TestCite(t *testing.T) {
	if got := Cite("tp410 appendix A"); !strings.HasSuffix(got, ", appendix A") ||
		!strings.Contains(got, "Technical Paper 410") {
		t.Errorf("got %q", got)
	}
	if !Cited("tp410") || Cited("A book, 1999") || Cite("A book, 1999") != "A book, 1999" {
		t.Error("a full citation is not left alone")
	}
}
