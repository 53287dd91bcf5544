package desk

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/study"
)

// ExplainRequest asks where a number comes from.
type ExplainRequest struct {
	Text  string `json:"text"`
	Path  string `json:"path"`            // as the command explain takes it
	Valve string `json:"valve,omitempty"` // that was shown with the number, as in AnswerRequest
	Units string `json:"units,omitempty"`
	Runs  string `json:"runs,omitempty" jsonschema:"enum=none,enum=shown,enum=all"` // as in the reply that has the number; shown without it
}

// ExplainReply is the calculation of a number, down to what was given, assumed or taken
// from a catalog.
type ExplainReply struct {
	Lines      []Line   `json:"lines"`
	Text       string   `json:"text"`
	References []string `json:"references"`
}

// Line is one line of the tree.
type Line struct {
	Depth int    `json:"depth"`
	Text  string `json:"text"`
}

// Explain tells a number of the answer to the same text, units and valve.
func (d *Desk) Explain(ctx context.Context, in ExplainRequest) (*ExplainReply, error) {
	runs := cmp.Or(in.Runs, RunsShown)
	if runs == RunsNone {
		runs = runsSoFar // a look at another valve may have run some since; they change none of these numbers
	}
	s, _, err := d.Study(ctx, AnswerRequest{Text: in.Text, Valve: in.Valve, Units: in.Units}, runs, nil)
	if err != nil {
		return nil, err
	}
	v, ok := s.Value(in.Path)
	if !ok {
		return nil, unknown(s, in.Path)
	}
	out := &ExplainReply{
		Text: basis.Explain(v, s.Station.Units), Lines: []Line{},
		References: append([]string{}, basis.References(v)...),
	}
	for line := range strings.Lines(out.Text) {
		bare := strings.TrimLeft(line, " ")
		out.Lines = append(out.Lines, Line{(len(line) - len(bare)) / 2, strings.TrimRight(bare, "\n")})
	}
	return out, nil
}

// unknown says that no number has the path, and which may have been meant.
func unknown(s *study.Study, path string) *Error {
	var paths []string
	for _, v := range s.Values() {
		paths = append(paths, v.Path)
	}
	e := &Error{
		ID: "number-unknown", Text: fmt.Sprintf("no number is called %q", path),
		Mend: "take a number of the sheet or of a row",
	}
	if near := diag.DidYouMean(path, paths); near != "" {
		e.Mend = fmt.Sprintf("perhaps %q was meant", near)
	}
	return e
}
