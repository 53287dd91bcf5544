package judge

import (
	"fmt"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
)

// ReadMeasured reads the reverse velocity off a measured closing curve. Outside the
// measured decelerations there is no answer: a curve is not drawn out.
func ReadMeasured(m catalog.Measured, deceleration basis.Value) (basis.Value, error) {
	at := func(x float64) (float64, bool) {
		for i := 1; i < len(m.X); i++ {
			if x >= m.X[i-1] && x <= m.X[i] {
				return m.Y[i-1] + (m.Y[i]-m.Y[i-1])*(x-m.X[i-1])/(m.X[i]-m.X[i-1]), true
			}
		}
		return 0, false
	}
	best, ok := at(deceleration.SI)
	if !ok {
		return basis.Value{}, fmt.Errorf("the deceleration of %s lies outside the measured curve, %s to %s",
			quantity.SI.Format(quantity.Acceleration, deceleration.SI), quantity.SI.Number(quantity.Acceleration, m.X[0]), quantity.SI.Format(quantity.Acceleration, m.X[len(m.X)-1]))
	}
	v := basis.NewCatalog("reverse velocity at the seat, measured", quantity.Velocity, best, m.Source)
	v.Inputs = []basis.Value{deceleration}
	low, lowOK := at(deceleration.Low)
	high, highOK := at(deceleration.High)
	if !lowOK || !highOK {
		return basis.Value{}, fmt.Errorf("the deceleration may leave the measured curve: %s", deceleration.FormatRange(quantity.SI))
	}
	return v.WithRange(min(low, high), max(low, high)), nil
}
