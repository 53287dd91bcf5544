package valve

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

// misspelled is the swing check with a build or defaults of its own.
func misspelled(t *testing.T, change func(typ *Type)) *Type {
	t.Helper()
	typ := *typeNamed(t, "swing")
	typ.Params = with(typ.Params)
	change(&typ)
	return &typ
}

// TestMisspelledReads: a type that reads a number by a name that it does not declare, or one
// that is not there, builds no valve and says which name.
func TestMisspelledReads(t *testing.T) {
	first := func(read func(v *Reader)) func(*Type) {
		return func(typ *Type) {
			build := typ.build
			typ.build = func(v *Reader, s Setting) (Frame, Law, error) {
				read(v)
				return build(v, s)
			}
		}
	}
	for _, tt := range []struct {
		name   string
		change func(*Type)
		want   []string
	}{
		{"a number", first(func(v *Reader) { v.SI("disk_mass") }), []string{"disk_mass", "did you mean disc_mass?"}},
		{
			"a question", first(func(v *Reader) { v.Has("ful_open_velocity") }),
			[]string{"ful_open_velocity", "did you mean full_open_velocity?"},
		},
		{
			"what no type has", first(func(v *Reader) { v.ofAny("disk_diameter") }),
			[]string{"disk_diameter", "no type declares"},
		},
		{
			"what may be left out", first(func(v *Reader) { v.SI("opening_efficiency") }),
			[]string{"opening_efficiency", "ask Has"},
		},
		{"in the law", func(typ *Type) {
			build := typ.build
			typ.build = func(v *Reader, s Setting) (Frame, Law, error) {
				f, law, err := build(v, s)
				return f, func(xi float64, out *State) {
					law(xi, out)
					out.Mass += v.SI("lever_mass")
				}, err
			}
		}, []string{"lever_mass", "does not declare"}},
		{"before an error of its own", func(typ *Type) {
			typ.build = func(v *Reader, _ Setting) (Frame, Law, error) {
				return Frame{}, nil, errors.New("mass is " + quantity.SI.Format(quantity.Mass, v.SI("disk_mass")))
			}
		}, []string{"disk_mass"}},
		{
			"for a default", func(typ *Type) { typ.Param("friction").Default = scaled("disk_mass", 1, 1, 1, "x", "x") },
			[]string{"disk_mass"},
		},
		{
			"for a default, what comes later",
			func(typ *Type) { typ.Param("seat_angle").Default = scaled("stroke_angle", 1, 1, 1, "x", "x") },
			[]string{"stroke_angle", "seat_angle"},
		},
		{
			"what every type must have", func(typ *Type) { typ.Param("restitution").Key = "restitutoin" },
			[]string{"restitution", "did you mean restitutoin?"},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			typ := misspelled(t, tt.change)
			p, err := typeNamed(t, "swing").ReadExample()
			if err != nil {
				t.Fatal(err)
			}
			m, err := typ.Build(p, In(998.2, Horizontal))
			if err == nil {
				t.Fatalf("builds %+v", m.Frame)
			}
			for _, want := range tt.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("error %q does not say %q", err, want)
				}
			}
		})
	}
}

// TestVariedAllKnowsItsNumbers: a misspelled number is no what-if without effect.
func TestVariedAllKnowsItsNumbers(t *testing.T) {
	typ := typeNamed(t, "swing")
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := typ.VariedAll(p, In(998.2, Horizontal), map[string]float64{"disk_mass": 2}); err == nil ||
		!strings.Contains(err.Error(), "disc_mass") {
		t.Errorf("error %v", err)
	}
}

// everything gives a number for each that the type declares: of the example, the default, or
// some that could be.
func everything(t *testing.T, typ *Type) Params {
	t.Helper()
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	full, err := typ.Complete(p)
	if err != nil {
		t.Fatal(err)
	}
	for i := range typ.Params {
		spec := &typ.Params[i]
		if _, known := full[spec.Key]; !known {
			x := 0.5
			if spec.Least != spec.Most {
				x = (spec.Least + spec.Most) / 2
			}
			full[spec.Key] = basis.NewCatalog(spec.Title, spec.Kind, x, "test")
		}
	}
	return full
}

// neverRead lists the numbers of the type that nothing reads: not with all given, and not
// with any one of them left out.
func neverRead(t *testing.T, typ *Type) []string {
	t.Helper()
	read := map[string]bool{}
	all := everything(t, typ)
	try := func(p Params) {
		full, err := typ.complete(p, read)
		if err != nil {
			return // one left out that is needed
		}
		v := typ.reader(full.values())
		v.read = read
		// A valve of numbers that do not go together is refused; what it read counts.
		_, _ = typ.assemble(v, In(998.2, typ.Positions[0]))
	}
	try(all)
	for key := range all {
		p := maps.Clone(all)
		delete(p, key)
		try(p)
	}
	var out []string
	for _, spec := range typ.Params {
		if !read[spec.Key] {
			out = append(out, spec.Key)
		}
	}
	return out
}

// TestEveryNumberIsRead: what a type asks of product data has a bearing on the valve.
func TestEveryNumberIsRead(t *testing.T) {
	for _, typ := range Types() {
		if unread := neverRead(t, typ); len(unread) > 0 {
			t.Errorf("%s declares numbers that nothing reads: %v", typ.Key, unread)
		}
	}
	typ := misspelled(t, func(typ *Type) {
		typ.Params = with(typ.Params, []Param{{Key: "hinge_color", Title: "color", Kind: quantity.Number, Doc: "x"}})
	})
	if unread := neverRead(t, typ); len(unread) != 1 || unread[0] != "hinge_color" {
		t.Errorf("not reported as unread: %v", unread)
	}
}

// TestUnread: who gives a number in whose place another stands learns of it.
func TestUnread(t *testing.T) {
	typ := typeNamed(t, "flap")
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	if unread, err := typ.Unread(p); err != nil || len(unread) > 0 {
		t.Errorf("of the example %v, %v", unread, err)
	}
	p["hinge_width"] = basis.NewCatalog("width", quantity.Diameter, 0.1, "test")
	if unread, err := typ.Unread(p); err != nil || len(unread) != 1 || unread[0] != "hinge_width" {
		t.Errorf("with stiffness and strip: %v, %v", unread, err)
	}
}

// TestTraits: what a type says of itself can be shown, and its example has what it says.
func TestTraits(t *testing.T) {
	for _, typ := range Types() {
		r := &typ.Traits
		p, err := typ.ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		styles := []Style{StyleBall, StyleSwing, StyleFlap, StyleTilting, StyleDual, StyleAxial, StyleLift}
		if !slices.Contains(styles, r.Style) || r.Element == "" {
			t.Errorf("%s: style %q, element %q: give one of the styles and the word for what moves", typ.Key, r.Style,
				r.Element)
		}
		for what, key := range map[string]string{
			"Spring": r.Spring, "Weight": r.Weight, "Cushion": r.Cushion,
			"Floats": r.Floats,
		} {
			if key != "" && typ.Param(key) == nil {
				t.Errorf("%s: the trait %s names %q, which is no number of the type", typ.Key, what, key)
			}
		}
		if r.Floats != "" && typ.Param(r.Floats).Kind != quantity.Density {
			t.Errorf("%s: the trait Floats names %q, which is no density", typ.Key, r.Floats)
		}
		f := typ.Figure(p)
		if (f.Weight || f.Cushion) && !f.Lever || r.Lever && !r.Hinged {
			t.Errorf("%s: %+v: a weight and a cushion are on a lever, a lever on a shaft", typ.Key, f)
		}
		if m := example(t, typ, typ.Positions[0]); m.Rotary != r.Hinged || (m.CushionXi > 0) != f.Cushion {
			t.Errorf("%s: turns %v, cushion below %g, and %+v", typ.Key, m.Rotary, m.CushionXi, f)
		}
	}
}

// TestLooks: a maintenance sheet has something to look for, and asks for no part that the
// type has not.
func TestLooks(t *testing.T) {
	for _, typ := range Types() {
		if len(typ.Looks) < 2 {
			t.Errorf("%s: list in Looks what the yearly inspection looks for", typ.Key)
		}
		for _, l := range typ.Looks {
			ways := 0
			for _, yes := range []bool{l.Param != "", l.Sound != "", l.Mass, l.Floats} {
				if yes {
					ways++
				}
			}
			if l.At == "" || ways > 1 {
				t.Errorf("%s: %+v: at most one of Param, Sound, Mass, Floats", typ.Key, l)
			}
			if l.Param != "" && typ.Param(l.Param) == nil || l.Floats && typ.Traits.Floats == "" {
				t.Errorf("%s: %+v names no number of the type", typ.Key, l)
			}
			at := strings.ToLower(l.At)
			if strings.Contains(at, "hinge") && !typ.Traits.Hinged || strings.Contains(at, "lever") &&
				!typ.Traits.Lever {
				t.Errorf("%s: %q, which the type does not have", typ.Key, l.At)
			}
		}
	}
}

// TestFigure: a picture shows the weight or the spring that the valve has.
func TestFigure(t *testing.T) {
	typ := typeNamed(t, "swing-assisted")
	number := func(kind quantity.Kind, si float64) basis.Value { return basis.NewCatalog("x", kind, si, "test") }
	weight := typ.Figure(Params{"lever_mass": number(quantity.Mass, 5)})
	spring := typ.Figure(Params{"lever_mass": number(quantity.Mass, 0), "spring_torque": number(quantity.Torque, 8)})
	if !weight.Weight || weight.Spring || spring.Weight || !spring.Spring || !weight.Lever || weight.Cushion {
		t.Errorf("with weight %+v, with spring %+v", weight, spring)
	}
	if f := typ.Figure(Params{"lever_mass": number(quantity.Mass, math.NaN())}); f.Weight {
		t.Errorf("%+v", f)
	}
}
