package text

import (
	"math"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

// TestNumbers: as many digits as the trade prints, never more, in the units chosen.
func TestNumbers(t *testing.T) {
	us, si := newPage(Options{Units: quantity.US}), newPage(Options{Units: quantity.SI})
	ranged := func(kind quantity.Kind, best, low, high float64) basis.Value {
		return basis.NewAssumed("x", kind, best, low, high, "", "")
	}
	for _, tt := range []struct{ got, want string }{
		{us.si(quantity.Velocity, 2.03), "6.66 ft/s"},
		{us.si(quantity.Velocity, 5), "16.4 ft/s"},
		{si.si(quantity.Velocity, 0.034), "0.03 m/s"},
		{us.si(quantity.Flow, 0.037), "586 gpm"},
		{si.withUnit(quantity.Fraction, si.number(quantity.Fraction, 0.371)), "37%"},
		{us.bandUnit(ranged(quantity.Velocity, 0.3, 0.21, 0.4)), "0.69 to 1.31 ft/s"},
		{us.band(ranged(quantity.Head, 30, 15.3, 53.4)), "50.2 to 175"},
		{us.bandUnit(ranged(quantity.Velocity, 0.3, 0.3, 0.3)), "0.98 ft/s"},
		{us.val(basis.Value{}), "unknown"},
		{us.num(basis.Value{}), "-"},
		{us.val(ranged(quantity.AnnualCost, 46.4, 46.4, 46.4)), "46.4 per year"},
		{us.val(ranged(quantity.Time, 7920000, 1, 2)), "2200 h"},
		{us.num(ranged(quantity.Velocity, math.NaN(), 0, 0)), "-"},
		{us.num(ranged(quantity.Head, math.Inf(1), 0, 0)), "unknown"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// TestSentence: a text of the data reads as a sentence.
func TestSentence(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "flows as water": "Flows as water.", "ärger": "Ärger.",
		"Done.": "Done.", "why?": "Why?",
	} {
		if got := sentence(in); got != want {
			t.Errorf("sentence(%q) = %q, want %q", in, got, want)
		}
	}
}
