package station

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
	"seatward/basis"
	"seatward/pipe"
)

// From the first number on a station resolves, can be run, and calls nothing given but
// that number.
func TestFromTheFirstNumberOn(t *testing.T) {
	for _, tt := range []struct{ text, given string }{
		{"duty: {flow: 450 gpm}", "duty.flow"},
		{"duty: {head: 45 ft}", "duty.head"},
		{"duty: {static_head: 30 ft}", "duty.static_head"},
		{"valve: {size: 6 in}", "valve.size"},
		{"pumps: [{count: 3}]", "pumps[0].count"},
	} {
		t.Run(tt.given, func(t *testing.T) {
			text := "station: X\nunits: US\n" + tt.text + "\n"
			st := resolved(t, text)
			if tt.given != "pumps[0].count" {
				complete(t, st)
			}
			fields, list := Fields(st, []byte(text))
			if list.Err() != nil {
				t.Fatal(list)
			}
			for _, f := range fields {
				given := f.Origin == basis.Given.String()
				if want := f.Path == tt.given || f.Path == "station" || f.Path == "units"; given != want {
					t.Errorf("%s is %s: %s", f.Path, f.Origin, f.Text)
				}
			}
		})
	}
}

// Not said how many pumps there are: two, and that is listed as assumed.
func TestTwoPumpsAreAssumed(t *testing.T) {
	st := resolved(t, "station: X\nduty: {flow: 450 gpm}\n")
	if st.Pumps[0].Count != 2 {
		t.Errorf("%d pumps", st.Pumps[0].Count)
	}
	for _, w := range st.Warnings {
		if w.Path == "pumps[0].count" {
			return
		}
	}
	t.Error("nothing says that the number of pumps is assumed")
}

// The size assumed for a flow carries it at a usual velocity, and sewage does not go
// through less than 4 in where the flow fills that.
func TestUsualSize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flow := math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(0.8)).Draw(t, "flow"))
		kind := rapid.SampledFrom([]string{"raw sewage", "drinking water"}).Draw(t, "kind")
		st := resolved(t, fmt.Sprintf("station: X\nfluid: {kind: %s}\nduty: {flow: %.5g L/s}\n", kind, 1000*flow))
		v := flow / pipe.AreaM2(st.Valve.Size.NominalM())
		if v > dischargeMS*1.0001 {
			t.Errorf("%.4g m/s in %s", v, st.Valve.Size)
		}
		if kind == "raw sewage" && st.Valve.Size.DN < sewageDN && flow/pipe.AreaM2(0.1) > settleMS*1.0001 {
			t.Errorf("sewage of %.4g L/s in %s", 1000*flow, st.Valve.Size)
		}
	})
}
