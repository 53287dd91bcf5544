package study

import (
	"errors"

	"seatward/catalog"
	"seatward/station"
)

// Configured is a valve completed to a legal configuration for a station.
type Configured struct {
	*catalog.Configuration
	Apart *catalog.BarredError // why no legal one goes with the station's place; nil where this one does
}

// Configure completes a valve to a legal configuration for the station: position, service,
// temperature and rating of the station count, unless one of the picks says otherwise. Where
// they do not go with the valve, it is configured without the position and the service, and
// where it bears neither temperature nor rating, and nothing was picked, without these: papers
// are written for such a valve too. Apart says why then. The errors are those of the picks.
func Configure(st *station.Station, it *catalog.Item, own []catalog.Pick) (Configured, error) {
	bears := catalog.Circumstances{TemperatureK: st.Fluid.MaxTemperature.SI, PressurePa: st.Valve.Rating.SI}
	place := it.Family.Picks(own, []catalog.Pick{
		{Option: catalog.PositionOption, Choice: st.Valve.Position.String()},
		{Option: catalog.ServiceOption, Choice: string(st.Fluid.Kind)},
	})
	alone := append(it.Family.Picks(own, it.Picks()), own...)
	out := Configured{}
	var err error
	if out.Configuration, err = it.Family.Configure(append(place, alone...), bears); err == nil ||
		!errors.As(err, &out.Apart) {
		return out, err
	}
	without := []catalog.Circumstances{bears}
	if len(own) == 0 {
		without = append(without, catalog.Circumstances{})
	}
	for _, c := range without {
		var again error
		if out.Configuration, again = it.Family.Configure(alone, c); again == nil {
			return out, nil
		}
	}
	return out, err
}
