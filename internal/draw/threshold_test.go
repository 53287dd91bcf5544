package draw

import (
	"math"
	"testing"
)

func TestThreshold(t *testing.T) {
	inertia := Range{Low: 1.9, Best: 3.1, High: 6, Log: true}
	for _, tt := range []struct {
		name            string
		of              func(x float64) (float64, bool)
		found, one, way bool // way: falling
		want            float64
	}{
		{"falling", func(x float64) (float64, bool) { return 1 / x, true }, true, true, true, 4},
		{"rising", func(x float64) (float64, bool) { return x / 16, true }, true, true, false, 4},
		{"never", func(x float64) (float64, bool) { return 0.1 / x, true }, false, false, false, 0},
		{
			"twice", func(x float64) (float64, bool) { return 0.25 + 0.5*math.Cos(3*math.Log(x)), true }, true, false,
			false, math.Exp(math.Pi / 2),
		},
		{"fails below 2.5", func(x float64) (float64, bool) { return 1 / x, x > 2.5 }, true, true, true, 4},
		{"fails always", func(float64) (float64, bool) { return 0, false }, false, false, false, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := Threshold(inertia, 0.25, func(values []float64) (response []float64, ok []bool) {
				for _, v := range values {
					y, has := tt.of(v)
					response, ok = append(response, y), append(ok, has)
				}
				return response, ok
			})
			if c.Found != tt.found || c.OneWay != tt.one || c.Falling != tt.way || c.Runs > 5+2*rounds {
				t.Errorf("%+v", c)
			}
			if tt.found && math.Abs(c.Value/tt.want-1) > 0.02 {
				t.Errorf("crosses at %v, exactly %v", c.Value, tt.want)
			}
		})
	}
}
