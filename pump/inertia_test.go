package pump

import (
	"errors"
	"math"
	"testing"

	"seatward/basis"
	"seatward/quantity"
)

func set(shaftW, speedRPM float64) Set {
	return Set{
		ShaftPower: basis.NewGiven("shaft power", quantity.Power, shaftW, "a:1"),
		Speed:      basis.NewGiven("speed", quantity.RotationalSpeed, speedRPM*rpm, "a:2"),
	}
}

// Linton and Thorley print the same law with N in rpm and in thousands of rpm.
func TestLintonIsThorley(t *testing.T) {
	near(t, "pump", 1.5e7, 0.03768*math.Pow(1000, 3*0.9556), 0.001)
	near(t, "motor", 118, 0.0043*math.Pow(1000, 1.48), 0.004)
}

func TestEstimateBrackets(t *testing.T) {
	for _, x := range []struct{ kW, rpm float64 }{{3, 2900}, {15, 1480}, {75, 1480}, {160, 985}, {500, 745}} {
		s := set(x.kW*1e3, x.rpm)
		dry, err := EstimateInertia(s)
		if err != nil {
			t.Fatal(err)
		}
		s.Submersible = true
		wet, err := EstimateInertia(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []basis.Value{dry.Pump, dry.Motor, wet.Pump, wet.Motor} {
			if v.Origin != basis.Assumed || v.Reason == "" || v.Formula == nil ||
				!(0 < v.Low && v.Low < v.SI && v.SI < v.High) {
				t.Errorf("%g kW: %s %+v", x.kW, v.Name, v)
			}
		}
		omega := x.rpm * rpm
		near(t, "pump", dry.Pump.SI, PumpInertia(x.kW*1e3, omega), 1e-12)
		if light := LightPumpInertia(x.kW*1e3, omega); light <= dry.Pump.Low || light >= dry.Pump.High {
			t.Errorf("%g kW: the lighter pump %g is outside %g to %g", x.kW, light, dry.Pump.Low, dry.Pump.High)
		}
		if !(wet.Total.SI < dry.Total.SI && wet.Total.Low < dry.Total.Low && wet.Time.SI < dry.Time.SI) {
			t.Errorf("%g kW: submersible %v, dry %v", x.kW, wet.Total, dry.Total)
		}
		near(t, "total", dry.Total.SI, dry.Pump.SI+dry.Motor.SI, 1e-12)
		near(t, "time", dry.Time.SI, dry.Total.SI*omega*omega/(x.kW*1e3), 1e-12)
	}
}

func TestGivenInertiaIsKept(t *testing.T) {
	s := set(30e3, 1470)
	given := func(name string, v float64) basis.Value { return basis.NewGiven(name, quantity.Inertia, v, "a:3") }
	s.PumpInertia, s.MotorInertia, s.FlywheelInertia = given("pump", 0.3), given("motor", 0.4), given("flywheel", 2)
	i, err := EstimateInertia(s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "total of parts", i.Total.SI, 2.7, 1e-14)
	if i.Total.Ranged() {
		t.Errorf("given parts have no range: %+v", i.Total)
	}
	s.TotalInertia = given("total", 3)
	if i, err = EstimateInertia(s); err != nil || i.Total.SI != 3 || i.Pump.Known() {
		t.Errorf("given total: %+v, %v", i, err)
	}
	s.TotalInertia = given("total", 0)
	for _, bad := range []Set{s, {}, set(0, 1470), set(30e3, 0), set(math.Inf(1), 1470)} {
		var want *MissingError
		if _, err := EstimateInertia(bad); !errors.As(err, &want) {
			t.Errorf("%+v: error %v", bad, err)
		}
	}
}

func TestRangedPowerWidensTheBand(t *testing.T) {
	narrow := set(30e3, 1470)
	wide := narrow
	wide.ShaftPower = wide.ShaftPower.WithRange(24e3, 40e3)
	a, errA := EstimateInertia(narrow)
	b, errB := EstimateInertia(wide)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	if !(b.Total.Low < a.Total.Low && b.Total.High > a.Total.High) {
		t.Errorf("%v is not wider than %v", b.Total, a.Total)
	}
}

func TestPoles(t *testing.T) {
	for speed, want := range map[float64]int{
		3550: 2, 2950: 2, 1780: 4, 1480: 4, 1180: 6, 985: 6, 880: 8, 745: 8,
		495: 12, 5000: 2,
	} {
		if got := polesAt(speed * rpm); got != want {
			t.Errorf("%g rpm: %d poles, want %d", speed, got, want)
		}
	}
}
