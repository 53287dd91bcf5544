package study

import (
	"math"

	"seatward/plant"
)

// Curves reads the pump and system curves that the operating points of the study rest on,
// with the valve in every branch.
func (s *Study) Curves(id string) (*plant.Curves, error) {
	_, m, _, err := theValve(s.Station, TripOptions{Catalogs: s.Catalogs, Valve: id})
	if err != nil {
		return nil, err
	}
	most := 0.0
	for _, pt := range s.Points {
		most = math.Max(most, pt.Flow.SI)
	}
	return s.desk.plant.Curves(m, most)
}
