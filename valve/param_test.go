package valve

import (
	"errors"
	"math"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

// TestParamErrors: what is wrong is said by number, with what was found, what would be
// right and how to mend it, all at once.
func TestParamErrors(t *testing.T) {
	good := func(key string) Params {
		p, err := typeNamed(t, key).ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	number := func(kind quantity.Kind, si float64) basis.Value { return basis.NewCatalog("x", kind, si, "test") }
	for _, tt := range []struct {
		name, key string
		change    func(Params)
		want      []string
	}{
		{
			"missing", "swing", func(p Params) { delete(p, "disc_mass") },
			[]string{"disc_mass", "found nothing", "mass of the moving parts"},
		},
		{
			"unknown", "swing", func(p Params) { p["disk_mass"] = number(quantity.Mass, 1) },
			[]string{"disk_mass", "did you mean disc_mass?"},
		},
		{
			"kind", "axial", func(p Params) { p["spring_force"] = number(quantity.Mass, 4) },
			[]string{"spring_force", "found a mass", "expected a force"},
		},
		{
			"negative", "axial", func(p Params) { p["stroke"] = number(quantity.Diameter, -0.03) },
			[]string{"stroke", "more than 0"},
		},
		{
			"not a number", "axial", func(p Params) { p["stroke"] = number(quantity.Diameter, math.NaN()) },
			[]string{"stroke", "no finite number"},
		},
		{
			"too much", "swing", func(p Params) { p["stroke_angle"] = number(quantity.Angle, 3) },
			[]string{"stroke_angle", "172", "90"},
		},
		{
			"two at once", "swing", func(p Params) { delete(p, "disc_mass"); delete(p, "bore") },
			[]string{"disc_mass", "bore"},
		},
		{
			"neither velocity nor efficiency", "axial", func(p Params) { delete(p, "full_open_velocity") },
			[]string{"full_open_velocity", "opening_efficiency"},
		},
		{
			"disc as wide as its chamber", "swing",
			func(p Params) { p["chamber_diameter"] = number(quantity.Diameter, 0.22) },
			[]string{"chamber_diameter", "disc_diameter"},
		},
		{
			"neither lever nor spring", "swing-assisted", func(p Params) { delete(p, "lever_mass") },
			[]string{"lever_mass", "take type swing"},
		},
		{
			"ball through its seat", "ball-cage", func(p Params) { p["ball_diameter"] = number(quantity.Diameter, 0.14) },
			[]string{"ball_diameter", "more than seat_diameter"},
		},
		{
			"ball as wide as its chamber", "ball-cage",
			func(p Params) { p["chamber_diameter"] = number(quantity.Diameter, 0.191) },
			[]string{"chamber_diameter"},
		},
		{
			"ball as wide as its pocket", "ball-pocket",
			func(p Params) { p["pocket_diameter"] = number(quantity.Diameter, 0.18) },
			[]string{"pocket_diameter"},
		},
		{
			"half of a pair", "ball-pocket", func(p Params) { p["full_open_loss"] = number(quantity.Number, 1) },
			[]string{"full_open_loss", "both or none"},
		},
		{
			"ring without a ring", "axial", func(p Params) { p["hub_diameter"] = number(quantity.Diameter, 0.3) },
			[]string{"hub_diameter"},
		},
		{
			"flap without a hinge", "flap", func(p Params) { delete(p, "hinge_stiffness") },
			[]string{"hinge_hardness", "hinge_stiffness"},
		},
		{"nothing closes it in the test", "dual-plate", func(p Params) {
			p["spring_torque"], p["spring_stiffness"] = number(quantity.Torque, 0), number(quantity.Stiffness, 0)
		}, []string{"full_open_velocity", "closing force"}},
		{
			"gap of another valve", "axial", func(p Params) { p["stroke"] = number(quantity.Diameter, 0.008) },
			[]string{"full_open_loss", "gap"},
		},
		{
			"cushion that never lets go", "swing-cushioned",
			func(p Params) { p["orifice_diameter"] = number(quantity.Diameter, 1e-5) },
			[]string{"orifice_diameter", "60 s"},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := good(tt.key)
			tt.change(p)
			_, err := typeNamed(t, tt.key).Build(p, In(998.2, Horizontal))
			var typed *ParamError
			if !errors.As(err, &typed) {
				t.Fatalf("error %v is no ParamError", err)
			}
			for _, want := range tt.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("error %q does not say %q", err, want)
				}
			}
		})
	}
}

func TestSettingFaults(t *testing.T) {
	typ := typeNamed(t, "swing")
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []Setting{
		{},
		{DensityKgM3: -1},
		{DensityKgM3: 1000, InclinationRad: 3},
		{DensityKgM3: 1000, InclinationRad: math.NaN()},
		{DensityKgM3: 1000, GravityMS2: -9},
	} {
		if m, err := typ.Build(p, s); err == nil {
			t.Errorf("%+v gave %+v", s, m.Frame)
		}
	}
}

func TestPositions(t *testing.T) {
	for _, p := range Positions() {
		if got, err := PositionNamed(p.String()); err != nil || got != p {
			t.Errorf("%v is not found by its name: %v, %v", p, got, err)
		}
	}
	if _, err := PositionNamed("upright"); err == nil || !strings.Contains(err.Error(), "flow up") {
		t.Errorf("error %v", err)
	}
}

// TestReadKeepsRange: a range in the text is the range of the value.
func TestReadKeepsRange(t *testing.T) {
	v, err := typeNamed(t, "swing").Param("added_mass_factor").Read("1.4 (1.1..1.9)", "maker's sheet")
	if err != nil || v.SI != 1.4 || v.Low != 1.1 || v.High != 1.9 || v.Source != "maker's sheet" {
		t.Errorf("%+v, %v", v, err)
	}
}

// TestStrip: a hinge described by its strip has the stiffness of a bent beam times its
// fabric's factor.
func TestStrip(t *testing.T) {
	v := Values{
		"hinge_hardness": 60, "hinge_width": 0.1, "hinge_thickness": 0.012, "hinge_length": 0.03,
		"fabric_factor": 2,
	}
	got, err := hingeStiffness(typeNamed(t, "flap").reader(v))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stiffness", got, 2*3.605e6*0.1*math.Pow(0.012, 3)/(12*0.03), 1e-3)
}

// FuzzRead: any text for any number of any type is read or refused in words, and what is
// read builds or is refused in words.
func FuzzRead(f *testing.F) {
	for i, text := range []string{
		"150 mm", "1.5 SG", "-3 kg", "1e400 m", "1.3 (1.0..2.0)", "NaN", "", "5 5 5", "90°",
		"2 m/s ± 10 %",
	} {
		f.Add(uint8(i), uint8(i), text)
	}
	types := Types()
	f.Fuzz(func(t *testing.T, which, key uint8, text string) {
		typ := types[int(which)%len(types)]
		spec := &typ.Params[int(key)%len(typ.Params)]
		v, err := spec.Read(text, "fuzz")
		if err != nil {
			var parse *quantity.ParseError
			if !errors.As(err, &parse) {
				t.Fatalf("error %v is no ParseError", err)
			}
			return
		}
		p, err := typ.ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		p[spec.Key] = v
		m, err := typ.Build(p, In(998.2, typ.Positions[0]))
		if err != nil {
			return
		}
		if rest := m.Settle(1); math.IsNaN(rest.HeadM) || math.IsInf(rest.HeadM, 0) {
			t.Errorf("%s, %s %q: rest %+v", typ.Key, spec.Key, text, rest)
		}
	})
}
