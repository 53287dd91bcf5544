package desk

import (
	"context"

	"seatward/quantity"
	"seatward/station"
)

// EditRequest asks for changes in a station file.
type EditRequest struct {
	Text  string   `json:"text"`
	Edits []Change `json:"edits"`
	Units string   `json:"units,omitempty"` // that the fields show, US or SI; those of the file where left out
}

// Change sets what stands at a path, as a person writes it, or removes it.
type Change struct {
	Path  string  `json:"path"`
	Value *string `json:"value"` // null removes the key
}

// EditReply is the file after the changes.
type EditReply struct {
	Text  string     `json:"text"`
	Sheet SheetReply `json:"sheet"`
}

// Edit makes the changes, all or none. Comments and order of the file are kept. The error
// is *Error where a change cannot be made, or the station would be impossible with it.
func (d *Desk) Edit(_ context.Context, in EditRequest) (*EditReply, error) {
	if len(in.Edits) == 0 {
		return nil, &Error{ID: "no-edit", Text: "no change was sent", Mend: "send at least one path with its value"}
	}
	sys, err := shownUnits(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	var changes []station.Change
	for _, e := range in.Edits {
		value := e.Value
		if value != nil {
			whole, err := station.Written(e.Path, *value, sys)
			if err != nil {
				return nil, err
			}
			value = &whole
		}
		changes = append(changes, station.Change{Path: e.Path, Value: value})
	}
	data, list := station.Edit(fileName, []byte(in.Text), changes)
	if list.Err() != nil {
		return nil, fileError(list)
	}
	st, err := load(string(data), "")
	if err != nil {
		return nil, err
	}
	s, err := sheet(st, string(data))
	if err != nil {
		return nil, err
	}
	return &EditReply{Text: string(data), Sheet: *s}, nil
}

// shownUnits are the units that the fields of a station file show. One that cannot be read
// as it is may be mended by an edit: it shows none, and bare numbers are in SI.
func shownUnits(text, units string) (quantity.System, error) {
	file, _ := station.Parse(fileName, []byte(text))
	sys, err := quantity.SystemNamed(units, station.Units(file))
	if err != nil {
		return sys, &Error{ID: "units-unknown", Text: err.Error(), Mend: "write one of them, or leave it out"}
	}
	return sys, nil
}
