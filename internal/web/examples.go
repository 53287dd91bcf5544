package web

import (
	"context"

	"seatward/examples"
	"seatward/quantity"
	"seatward/station"
)

// Example is a station file to look at or to start from.
type Example struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Text  string `json:"text" jsonschema_description:"The station file"`
}

func (s *Server) examples(context.Context, struct{}) ([]Example, error) {
	var out []Example
	for _, f := range examples.Stations() {
		file, list := station.Parse(f.Name, f.Data)
		if list.Err() != nil {
			return nil, list
		}
		out = append(out, Example{ID: f.ID, Title: file.Station.Text, Text: string(f.Data)})
	}
	for _, sys := range []struct {
		id, title string
		system    quantity.System
	}{{"starter-us", "Station file to fill in, US units", quantity.US}, {
		"starter-si",
		"Station file to fill in, SI units", quantity.SI,
	}} {
		out = append(out, Example{ID: sys.id, Title: sys.title, Text: station.Starter(sys.system)})
	}
	return out, nil
}
