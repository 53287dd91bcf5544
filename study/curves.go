package study

import (
	"math"

	"seatward/catalog"
	"seatward/plant"
)

// PointsWith are the operating points with a valve in place, ranked first or not; none where
// its data do not make a valve, which its findings say.
func (s *Study) PointsWith(it *catalog.Item) ([]plant.Point, error) {
	m, err := it.Build(s.Station.Setting())
	if err != nil {
		return nil, nil
	}
	points, err := s.desk.plant.Solve(m)
	if err != nil {
		return nil, err
	}
	return points.List(it.ID), nil
}

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
