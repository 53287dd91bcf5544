package truth

import (
	"seatward/basis"
	"seatward/pump"
	"seatward/quantity"
)

// per divides by the row's unit, in SI, where it gives one.
func per(in Inputs, si float64) float64 {
	if in.Has("unit") {
		return si / in.F("unit")
	}
	return si
}

var (
	_ = evaluator("specific-speed/us-over-si", "pump.SpecificSpeedUS, pump.SpecificSpeed",
		func(Inputs) (float64, error) {
			return pump.SpecificSpeedUS(150, 0.1, 20) / pump.SpecificSpeed(150, 0.1, 20), nil
		})
	// The speed that gives the SI number n at 1 m3/s and 1 m, read in US units.
	_ = evaluator("specific-speed-us/from-si", "pump.SpecificSpeedUS, pump.SpecificSpeed",
		func(in Inputs) (float64, error) {
			omega := in.F("n") / pump.SpecificSpeed(1, 1, 1)
			return pump.SpecificSpeedUS(omega, 1, 1), nil
		})
	_ = evaluator("shut-off-ratio", "pump.ShutOffRatio", func(in Inputs) (float64, error) {
		return pump.ShutOffRatio(in.F("n")), nil
	})
	_ = evaluator("duty-parabola", "pump.FromDutyPoint", func(in Inputs) (float64, error) {
		c, err := dutyCurve(in)
		return c.ShutOffM(), err
	})
	_ = evaluator("duty-parabola/end", "pump.FromDutyPoint", func(in Inputs) (float64, error) {
		c, err := dutyCurve(in)
		_, end := c.Range()
		return end, err
	})

	_ = evaluator("affinity-flow", "pump.AffinityFlow", func(in Inputs) (float64, error) {
		return per(in, pump.AffinityFlow(in.F("Q"), in.F("ratio"))), nil
	})
	_ = evaluator("affinity-head", "pump.AffinityHead", func(in Inputs) (float64, error) {
		return per(in, pump.AffinityHead(in.F("H"), in.F("ratio"))), nil
	})
	_ = evaluator("affinity-power", "pump.AffinityPower", func(in Inputs) (float64, error) {
		return per(in, pump.AffinityPower(in.F("P"), in.F("ratio"))), nil
	})

	_ = evaluator("hydraulic-power", "pump.HydraulicPower", func(in Inputs) (float64, error) {
		return per(in, pump.HydraulicPower(in.F("rho"), in.F("Q"), in.F("H"))), nil
	})
	_ = evaluator("shaft-power", "pump.ShaftPower", func(in Inputs) (float64, error) {
		return per(in, pump.ShaftPower(in.F("rho"), in.F("Q"), in.F("H"), in.F("eta"))), nil
	})
	_ = evaluator("input-power", "pump.InputPower", func(in Inputs) (float64, error) {
		return per(in, pump.InputPower(in.F("P"), in.F("motor"), in.F("drive"))), nil
	})
	_ = evaluator("pump-efficiency", "pump.Efficiency", func(in Inputs) (float64, error) {
		return pump.Efficiency(pump.HydraulicPower(in.F("rho"), in.F("Q"), in.F("H")), in.F("P")), nil
	})
	_ = evaluator("head-energy", "pump.HeadEnergy", func(in Inputs) (float64, error) {
		return pump.HeadEnergy(in.F("rho"), in.F("Q"), in.F("H"), in.F("t"), in.F("eta")), nil
	})

	_ = evaluator("pump-inertia", "pump.PumpInertia", func(in Inputs) (float64, error) {
		return pump.PumpInertia(in.F("P"), in.F("N")), nil
	})
	_ = evaluator("pump-inertia-light", "pump.LightPumpInertia", func(in Inputs) (float64, error) {
		return pump.LightPumpInertia(in.F("P"), in.F("N")), nil
	})
	_ = evaluator("motor-inertia", "pump.MotorInertia", func(in Inputs) (float64, error) {
		return pump.MotorInertia(in.F("P"), in.F("N")), nil
	})
	_ = evaluator("rotor-inertia", "pump.RotorInertia", func(in Inputs) (float64, error) {
		return per(in, pump.RotorInertia(in.F("P"), in.F("poles"))), nil
	})
	_ = evaluator("max-load-inertia", "pump.MaxLoadInertia", func(in Inputs) (float64, error) {
		return per(in, pump.MaxLoadInertia(in.F("P"), in.F("N"))), nil
	})
	_ = evaluator("disc-inertia", "pump.DiscInertia", func(in Inputs) (float64, error) {
		return pump.DiscInertia(in.F("m"), in.F("D"), in.F("d")), nil
	})
	_ = evaluator("inertia-time", "pump.InertiaTime", func(in Inputs) (float64, error) {
		return pump.InertiaTime(in.F("I"), in.F("N"), in.F("P")), nil
	})
	// K1 of the run-down, which is half the inverse of the inertia time.
	_ = evaluator("inertia-time/parmakian", "pump.InertiaTime, pump.ShaftPower", func(in Inputs) (float64, error) {
		p := pump.ShaftPower(in.F("rho"), in.F("Q"), in.F("H"), in.F("eta"))
		return 1 / (2 * pump.InertiaTime(in.F("I"), in.F("N"), p)), nil
	})
	_ = evaluator("total-inertia", "pump.EstimateInertia", func(in Inputs) (float64, error) {
		given := func(name string) basis.Value { return basis.NewGiven(name, quantity.Inertia, in.F(name), "") }
		out, err := pump.EstimateInertia(pump.Set{
			ShaftPower:  basis.NewGiven("shaft power", quantity.Power, 30e3, ""),
			Speed:       basis.NewGiven("speed", quantity.RotationalSpeed, 150, ""),
			PumpInertia: given("pump"), MotorInertia: given("motor"), FlywheelInertia: given("flywheel"),
		})
		return out.Total.SI, err
	})
	_ = evaluator("inertia-unit", "quantity.Parse", func(in Inputs) (float64, error) {
		q, err := quantity.Parse(quantity.Inertia, in.S("text"))
		return q.SI, err
	})
)

// dutyCurve makes the curve of a duty point that runs on to where its head ends.
func dutyCurve(in Inputs) (pump.Curve, error) {
	c, problems := pump.FromDutyPoint(pump.Point{FlowM3S: in.F("Q"), HeadM: in.F("H")}, in.F("r"), 3)
	return c, problems.Err()
}
