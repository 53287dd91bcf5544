package truth

import (
	"math"

	"seatward/pump"
)

// radialPump is a pump of specific speed 25 with a rated point of ones where it can be.
func radialPump() (*pump.Quadrants, error) {
	return pump.NewUniversal(pump.Rated{FlowM3S: 1, HeadM: 1, TorqueNM: 1, SpeedRadS: 25 * 2 * math.Pi / 60})
}

var (
	_ = evaluator("quadrants", "pump.Quadrants", func(in Inputs) (float64, error) {
		q, err := radialPump()
		if err != nil {
			return 0, err
		}
		x := in.F("point") * 2 * math.Pi / 88
		alpha, flow := -math.Cos(x), -math.Sin(x)
		if in.S("read") == "torque" {
			return q.Torque(alpha, flow), nil
		}
		h, _ := q.Head(alpha, flow)
		return h, nil
	})
	_ = evaluator("quadrants/runaway", "pump.Quadrants", func(in Inputs) (float64, error) {
		q, err := radialPump()
		if err != nil {
			return 0, err
		}
		// Turbine: both speed and flow run back, x between 0 and π/2. The torque vanishes
		// once on the way; there the scale makes the head the rated one.
		low, high := 0.0, math.Pi/2
		for range 80 {
			mid := (low + high) / 2
			if q.Torque(-math.Cos(mid), -math.Sin(mid)) < 0 {
				low = mid
			} else {
				high = mid
			}
		}
		h, _ := q.Head(-math.Cos(low), -math.Sin(low))
		size := 1 / math.Sqrt(h)
		if in.S("read") == "flow" {
			return -math.Sin(low) * size, nil
		}
		return -math.Cos(low) * size, nil
	})
)
