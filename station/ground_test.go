package station

import (
	"strings"
	"testing"
)

// The ground over the main is read, stands straight between its points, and moves nothing
// that is computed.
func TestGround(t *testing.T) {
	const run = "length: 3400 ft}]}"
	with := must(t, strings.Replace(good, run,
		"length: 3400 ft}], ground: [[0 ft, 20 ft], [1400 ft, 30 ft], [3400 ft, 50 ft]]}", 1))
	without := must(t, good)
	for _, tt := range []struct{ ft, want float64 }{
		{-5, 20},
		{0, 20},
		{700, 25},
		{1400, 30},
		{2400, 40},
		{3400, 50},
		{3401, 50},
	} {
		z, known := with.Main.GroundAt(tt.ft * 0.3048)
		if d := z/0.3048 - tt.want; !known || d > 1e-9 || d < -1e-9 {
			t.Errorf("ground at %g ft: %g ft, %v, want %g", tt.ft, z/0.3048, known, tt.want)
		}
	}
	if _, known := without.Main.GroundAt(100); known {
		t.Error("ground is known where none is given")
	}
	if with.StaticLow.SI != without.StaticLow.SI || with.Depth != without.Depth {
		t.Error("the ground moves what is computed")
	}
	for fault, points := range map[string]string{
		"ground-order":  "[[0 ft, 20 ft], [1400 ft, 30 ft], [1400 ft, 31 ft], [3400 ft, 50 ft]]",
		"ground-start":  "[[500 ft, 20 ft], [3400 ft, 50 ft]]",
		"ground-length": "[[0 ft, 20 ft], [2000 ft, 50 ft]]",
	} {
		st, list := Load("test", []byte(strings.Replace(good, run, "length: 3400 ft}], ground: "+points+"}", 1)))
		if st != nil || len(list) == 0 || list[0].ID != fault {
			t.Errorf("%s: %v", fault, list)
		}
	}
	if _, list := Load("test", []byte(strings.Replace(good, "{90 elbow: 2}}]}",
		"{90 elbow: 2}}], profile: [[0 ft, 1 ft]]}", 1))); len(list) == 0 || list[0].ID != "key-unknown" {
		t.Errorf("a profile of the branch, which nothing reads: %v", list)
	}
}
