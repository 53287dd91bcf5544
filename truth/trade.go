package truth

import (
	"fmt"
	"sync"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
	"seatward/valve"
)

// tradeWaterKgM3 is cold water.
const tradeWaterKgM3 = 998.2

// demoDraws are a demonstration valve many times over, in the first position that it allows,
// and the velocity before its stop: just above the one that opens it fully, a quarter less
// and more, as a closing chart has it.
func demoDraws(id string) (*valve.Draws, basis.Value, error) {
	catalogs, faults := catalog.Demo()
	if err := faults.Err(); err != nil {
		return nil, basis.Value{}, err
	}
	it, err := catalog.Find(catalogs, id)
	if err != nil {
		return nil, basis.Value{}, err
	}
	setting := valve.In(tradeWaterKgM3, it.Positions[0])
	m, err := it.Build(setting)
	if err != nil {
		return nil, basis.Value{}, err
	}
	start := 1.02 * m.FullOpenVelocity().VelocityMS
	draws, err := it.Draw(setting, valve.CurveDraws)
	return draws, basis.NewAssumed("velocity before the stop", quantity.Velocity, start, 0.75*start, 1.25*start,
		"just fully open", basis.DerivedHere), err
}

// tradeMedians keeps what was closed: rows share their valves.
var tradeMedians sync.Map

// tradeMedian is the median reverse velocity of a demonstration valve, m/s.
func tradeMedian(id string, rateMS2 float64) (float64, error) {
	key := fmt.Sprint(id, rateMS2)
	if known, ok := tradeMedians.Load(key); ok {
		return known.(float64), nil
	}
	draws, start, err := demoDraws(id)
	if err != nil {
		return 0, err
	}
	band, err := draws.Close(valve.Duty{
		Start:        start,
		Deceleration: basis.NewGiven("deceleration", quantity.Acceleration, rateMS2, "row"),
	})
	if err != nil {
		return 0, err
	}
	tradeMedians.Store(key, band.Median)
	return band.Median, nil
}

// The median reverse velocity of the kind that slams less over that of the kind that slams
// more, by the trade.
var _ = evaluator("trade-order", "valve.Draws.Close, catalog demonstration data", func(in Inputs) (float64, error) {
	less, err := tradeMedian(in.S("less"), in.F("alpha"))
	if err != nil {
		return 0, err
	}
	more, err := tradeMedian(in.S("more"), in.F("alpha"))
	return less / more, err
})
