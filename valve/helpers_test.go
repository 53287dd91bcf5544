package valve

import (
	"math"
	"testing"
)

// water is the setting of the reference runs, which were made with g = 9.81 m/s².
func water(p Position) Setting {
	return Setting{DensityKgM3: 1000, GravityMS2: 9.81, InclinationRad: p.InclinationRad()}
}

const degree = math.Pi / 180

// swingB is a swing check DN200 with the geometry of the reference valve B of
// truth/cases/valve-closing.csv, enlarged k times.
func swingB(k float64, more Values) Values {
	added, displaced := 8.0/3*1000*math.Pow(0.11, 3)*0.125, 1000*8.0/7850*0.118
	v := Values{
		"bore": 0.2 * k, "disc_diameter": 0.22 * k, "hinge_to_center": 0.125 * k, "hinge_to_gravity_center": 0.118 * k,
		"disc_mass": 8 * k * k * k, "displaced_volume": 8.0 / 7850 * k * k * k, "disc_inertia": 0.15 * math.Pow(k, 5),
		"seat_angle": 5 * degree, "stroke_angle": 65 * degree, "full_open_loss": 1, "reference_density": 1000,
		"friction": 0.2 * math.Pow(k, 4), "added_mass_factor": 1, "fluid_acceleration": added / (added + displaced),
	}
	for key, x := range more {
		v[key] = x
	}
	return v
}

var axialA = Values{
	"bore": 0.2, "stroke": 0.03, "moving_mass": 3, "displaced_volume": 0, "spring_force": 30, "spring_rate": 1500,
	"full_open_loss": 2.5, "full_open_velocity": 1.5, "reference_density": 1000, "added_mass_factor": 1,
}

func typeNamed(t testing.TB, key string) *Type {
	t.Helper()
	typ, err := TypeNamed(key)
	if err != nil {
		t.Fatal(err)
	}
	return typ
}

func build(t testing.TB, key string, v Values, s Setting) *Mechanism {
	t.Helper()
	typ := typeNamed(t, key)
	m, err := typ.Build(typ.Numbers(v, "test"), s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// example builds a type's example in the position.
func example(t testing.TB, typ *Type, p Position) *Mechanism {
	t.Helper()
	params, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	m, err := typ.Build(params, In(998.2, p))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func closeAt(t testing.TB, m *Mechanism, d Deceleration) Closing {
	t.Helper()
	c, err := m.Close(d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// near fails unless got is within the relative tolerance of want.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.8g, want %.8g within %g of it", what, got, want, tolerance)
	}
}
