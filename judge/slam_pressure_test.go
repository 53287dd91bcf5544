package judge

import (
	"slices"
	"testing"

	"seatward/plant"
	"seatward/quantity"
)

// Pressures of the record are held against the ratings of valve, branch and main, and
// column separation is a sentence of its own.
func TestPressuresOfTheRecord(t *testing.T) {
	in := input(t, layout, "flap/6in")
	rated := WeakestRating(in.Item).SI / (in.Station.Fluid.Density.SI * quantity.StandardGravity)
	axis := in.Station.ValveAboveDatum()
	branch := in.Station.Branch.Runs[0]
	for _, c := range []struct {
		name, id string
		want     bool
		spoil    func(*plant.Stop)
	}{
		{
			"at the rating of the valve", "surge-valve-rating", false,
			func(s *plant.Stop) { s.Closing.MostM = axis + rated*0.999 },
		},
		{
			"above the rating of the valve", "surge-valve-rating", true,
			func(s *plant.Stop) { s.Closing.MostM = axis + rated*1.001 },
		},
		{
			"above the rating of the branch", "surge-branch-rating", branch.Rating.Known(),
			func(s *plant.Stop) { s.Closing.MostM = axis + 1e4 },
		},
		{"below the rating of the main", "surge-main-rating", false, func(s *plant.Stop) {
			s.Envelope = []plant.EnvelopePoint{{ElevationM: 0, LeastM: 10, MostM: 119, LimitM: 120}}
		}},
		{"above the rating of the main", "surge-main-rating", true, func(s *plant.Stop) {
			s.Envelope = []plant.EnvelopePoint{{ChainageM: 100, ElevationM: 0, LeastM: 10, MostM: 121, LimitM: 120}}
		}},
		{"above vapor pressure", "column-separation", false, func(s *plant.Stop) {
			s.VaporM, s.Envelope = -10, []plant.EnvelopePoint{{LeastM: -9.8, MostM: 10, LimitM: 120}}
		}},
		{"at vapor pressure", "column-separation", true, func(s *plant.Stop) {
			s.VaporM, s.Envelope = -10, []plant.EnvelopePoint{{LeastM: -9.99, MostM: 10, LimitM: 120}}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := in
			in.Answer = record(0.05, 0.04, 0.06, plant.Chances{Quiet: 1})
			c.spoil(in.Answer.Stops[0])
			a := Assess(in)
			got := slices.ContainsFunc(a.Findings, func(f Finding) bool { return f.Kind.ID == c.id })
			if got != c.want {
				t.Errorf("%s is there: %v, want %v; %v", c.id, got, c.want, ids(&a))
			}
			if (a.Separation != "") != (c.id == "column-separation" && c.want) {
				t.Errorf("separation: %q", a.Separation)
			}
			if c.id == "column-separation" && a.Verdict != Suitable {
				t.Errorf("column separation makes the valve %s", a.Verdict)
			}
		})
	}
}

// The rating check counts pressure and level of the suction: the same station by level and
// by pressure, and a booster whose pump lifts it over the rating of the valve.
func TestRatingCountsTheSuction(t *testing.T) {
	at := func(file, id string) Finding {
		// Levels and pressures of the pair go with this density.
		a := Assess(input(t, "testdata/"+file, id, "temperature: 10 °C", "temperature: 10 °C, density: 999.7 kg/m3"))
		return first(t, &a, "rating")
	}
	over := stationOf(t, "testdata/booster-overrated.yaml")
	rejected := 0
	for _, id := range lineSize(t, over) {
		if f := at("booster-overrated.yaml", id); f.Kind.ID == "rating-too-low" {
			rejected++
			if f.Severity != Rejects || f.Value.SI <= f.Limit.SI {
				t.Errorf("%s: %+v", id, f)
			}
		}
	}
	if rejected == 0 {
		t.Error("no valve of the overrated booster is rejected")
	}
	for _, id := range lineSize(t, stationOf(t, "testdata/booster-rating-by-level.yaml")) {
		level, pressure := at("booster-rating-by-level.yaml", id), at("booster-rating-by-pressure.yaml", id)
		if level.Kind.ID != pressure.Kind.ID || abs(level.Value.SI-pressure.Value.SI) > 1e-6*level.Value.SI {
			t.Errorf("%s: by level %s %.0f Pa, by pressure %s %.0f Pa", id, level.Kind.ID, level.Value.SI,
				pressure.Kind.ID, pressure.Value.SI)
		}
	}
}
