package station

import (
	"testing"

	"seatward/quantity"
)

// What was written stands in the units of the station where nothing else is resolved of it.
func TestInUnits(t *testing.T) {
	for _, tt := range []struct{ written, shape, kinds, want string }{
		{"4 ft", ShapeQuantity, "length", "1.22 m"},
		{"[[0 gpm, 95 ft], [800 gpm, 38 ft]]", ShapeList, "flow,head", "[[0 L/s, 29.0 m], [50.5 L/s, 11.6 m]]"},
		{"[[0 gpm, much]]", ShapeList, "flow,head", "[[0 gpm, much]]"},
		{"[a, b]", ShapeList, "", "[a, b]"},
		{"flow up", ShapeWord, "", "flow up"},
	} {
		if got := inUnits(tt.written, tt.shape, tt.kinds, quantity.SI); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.written, got, tt.want)
		}
	}
}
