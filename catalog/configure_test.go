package catalog

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/internal/condition"
	"seatward/valve"
)

func family(t testing.TB, id string) *Family {
	t.Helper()
	catalogs, list := Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	for _, c := range catalogs {
		for _, f := range c.Families {
			if f.ID == id {
				return f
			}
		}
	}
	t.Fatal("no family " + id)
	return nil
}

// legalByHand holds a configuration to every rule of its family without the search.
func legalByHand(t *rapid.T, c *Configuration, service string) {
	known := map[string]any{"size": c.Item.Size.DN, "nps": c.Item.Size.NPS()}
	for _, s := range c.Options {
		if s.Choice != nil {
			known[s.Option.ID] = s.Choice.ID
		}
	}
	if service != "" {
		known["service"] = service
	}
	for _, r := range c.Family.Rules {
		if a, err := r.Require.Answer(known); err != nil || a == condition.No {
			t.Fatalf("%s breaks the rule %s: %v", c.Code(), r.Message, err)
		}
	}
	ends := c.Options[c.Family.index(EndsOption)].Choice.ID
	position, err := valve.PositionNamed(c.Options[c.Family.index(PositionOption)].Choice.ID)
	if _, ok := c.Family.end(ends, c.Item.Size); !ok || err != nil || !c.Item.Allows(position) {
		t.Fatalf("%s: ends or position are not offered", c.Code())
	}
}

// TestNoOrderReachesAnIllegalState: whatever is chosen of what is left, in any order, the
// configuration stays legal; and whatever is barred is refused with a reason that is true.
func TestNoOrderReachesAnIllegalState(t *testing.T) {
	families := demoCatalogs(t)[0].Families
	rapid.Check(t, func(t *rapid.T) {
		f := families[rapid.IntRange(0, len(families)-1).Draw(t, "family")]
		var picks []Pick
		service := ""
		order := rapid.Permutation(f.Options).Draw(t, "order")
		for _, o := range order[:rapid.IntRange(0, len(order)).Draw(t, "picks")] {
			before, err := f.Configure(picks, Circumstances{})
			if err != nil {
				t.Fatalf("after %v: %v", picks, err)
			}
			s := before.Options[f.index(o.ID)]
			if len(s.Left)+len(s.Barred) != len(o.Choices) || len(s.Left) == 0 {
				t.Fatalf("%s: %v left, %v barred of %v", o.ID, s.Left, s.Barred, o.IDs())
			}
			for _, b := range s.Barred {
				if s.How == NotTold {
					continue // barred by usual choices, which may be changed
				}
				_, err := f.Configure(append(slices.Clone(picks), Pick{o.ID, b.Choice}), Circumstances{})
				var barred *BarredError
				if !errors.As(err, &barred) || len(barred.Because) == 0 || len(b.Because) == 0 {
					t.Fatalf("%s=%s is barred and can be had: %v", o.ID, b.Choice, err)
				}
			}
			pick := Pick{o.ID, rapid.SampledFrom(s.Left).Draw(t, "choice")}
			if picks = append(picks, pick); o.ID == ServiceOption {
				service = pick.Choice
			}
		}
		c, err := f.Configure(picks, Circumstances{})
		if err != nil {
			t.Fatalf("%v: %v", picks, err)
		}
		legalByHand(t, c, service)
		for _, p := range picks {
			if s := c.Options[f.index(p.Option)]; s.Choice.ID != p.Choice || s.How != Asked {
				t.Fatalf("asked for %v, got %v %s", p, s.Choice.ID, s.How)
			}
		}
	})
}

// TestConfigureSaysWhy: the message names the choices in each other's way, the reason, and
// what is left.
func TestConfigureSaysWhy(t *testing.T) {
	f := family(t, "ball-cage")
	_, err := f.Configure([]Pick{{"variant", "floating"}, {"core", "steel"}}, Circumstances{})
	if err == nil || !strings.Contains(err.Error(),
		"variant=floating, core=steel: these cannot be had together; this core does not go with this ball, because a floating ball is hollow") || !strings.Contains(err.Error(), "left: hollow") {
		t.Errorf("%v", err)
	}
	c, err := f.Configure([]Pick{{"variant", "floating"}}, Circumstances{})
	if err != nil {
		t.Fatal(err)
	}
	for option, want := range map[string]string{"position": "flow down", "core": "hollow"} {
		if s := c.Options[f.index(option)]; s.Choice.ID != want || s.How != Follows {
			t.Errorf("%s: %s, %s; want %s, which follows", option, s.Choice.ID, s.How, want)
		}
	}
	if len(c.Open) == 0 || c.Open[0].Needs[0] != "temperature" {
		t.Errorf("the rule that wants a temperature is not open: %v", c.Open)
	}
	hot, err := f.Configure([]Pick{{"elastomer", "polyurethane"}}, Circumstances{TemperatureK: 333})
	if err == nil {
		t.Errorf("polyurethane at 60 deg C: %v", hot.Code())
	}
	cold, err := f.Configure([]Pick{{"elastomer", "polyurethane"}}, Circumstances{TemperatureK: 293})
	if err != nil || len(cold.Open) != 0 {
		t.Errorf("polyurethane at 20 deg C: %v", err)
	}
	if _, err = f.Configure(nil, Circumstances{PressurePa: 40e5}); err == nil {
		t.Error("a valve of 200 psi is given for 40 bar")
	}
}

// TestServiceNotTold: where nobody said what is pumped, only what the configuration as it
// stands may be used for is left, and the rest says why.
func TestServiceNotTold(t *testing.T) {
	f := family(t, "swing")
	c, err := f.Configure([]Pick{{"size", "6in"}}, Circumstances{})
	if err != nil {
		t.Fatal(err)
	}
	s := c.Options[f.index("service")]
	if s.How != NotTold || s.Choice != nil || slices.Contains(s.Left, "drinking water") ||
		!slices.Contains(s.Left, "raw sewage") {
		t.Errorf("%+v", s)
	}
	told := false
	for _, b := range s.Barred {
		told = told || b.Choice == "drinking water" && slices.Contains(b.With, "coating=epoxy_8")
	}
	if !told {
		t.Errorf("drinking water is barred without a reason: %+v", s.Barred)
	}
}

// TestNamed: a choice is found by ID, title or a part that fits no other.
func TestNamed(t *testing.T) {
	f := family(t, "ball-cage")
	for _, c := range []struct{ option, word, want string }{
		{"size", "DN100", "4in"},
		{"size", "4", "4in"},
		{"size", "4 in", "4in"},
		{"position", "flow-down", "flow down"},
		{"ends", "class-125", "asme-b16.1-class-125-drilling"},
		{"elastomer", "poly", "polyurethane"},
		{"core", "hollow plastic", "hollow"},
	} {
		if p, err := f.Named(c.option, c.word); err != nil || p.Choice != c.want {
			t.Errorf("%s=%s: %v, %v", c.option, c.word, p, err)
		}
	}
	for _, c := range []struct{ option, word, says string }{
		{"end", "x", "did you mean ends?"},
		{"ends", "flanges", "there are:"},
		{"elastomer", "NBRR", "did you mean NBR?"},
		{"size", "5 ft", "there are:"},
	} {
		var unknown *UnknownError
		if _, err := f.Named(c.option, c.word); !errors.As(err, &unknown) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s=%s: %v", c.option, c.word, err)
		}
	}
}

// TestBill: a choice replaces its line, adds its mass, limits the rating, and the tests
// follow.
func TestBill(t *testing.T) {
	text := strings.Replace(good(t), "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n", `    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}
    body: {material: iron, standard: A126}
    options:
      - id: body
        title: Body
        part: body
        choices:
          - {id: plain}
          - {id: strong, material: ductile iron, standard: A536, mass: 3 kg, rating: 100 psi, spares: [plug], standards: [X 1], drinking_water: no}
    shell_test_factor: 2
`, 1)
	f := items(t, text)["hinged/6in"].Family
	c, err := f.Configure([]Pick{{"body", "strong"}, {"size", "6in"}}, Circumstances{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mass", c.Mass.SI, 73.4, 1e-9)
	near(t, "rating", c.Rating.SI, 100*psi, 1e-9)
	near(t, "shell test", c.ShellTest.SI, 200*psi, 1e-9)
	if c.Parts[0].Material != (Material{"ductile iron", "A536"}) || c.Parts[0].By != "body" ||
		c.DrinkingWater != "no" || !slices.Contains(c.Spares, "plug") || !slices.Contains(c.Standards, "X 1") {
		t.Errorf("%+v", c.Bill)
	}
	if want := "hinged size=6in position=horizontal ends=asme-b16.1-class-125-flanges elastomer=NBR body=strong"; c.Code() != want {
		t.Errorf("%s\nwant %s", c.Code(), want)
	}
}

func BenchmarkConfigure(b *testing.B) {
	f := family(b, "ball-pocket")
	for b.Loop() {
		if _, err := f.Configure([]Pick{{"size", "6in"}}, Circumstances{}); err != nil {
			b.Fatal(err)
		}
	}
}
