package desk

import (
	"context"

	"seatward/station"
)

// EditRequest asks for changes in a station file.
type EditRequest struct {
	Text  string   `json:"text"`
	Edits []Change `json:"edits"`
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
	var changes []station.Change
	for _, e := range in.Edits {
		changes = append(changes, station.Change{Path: e.Path, Value: e.Value})
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
