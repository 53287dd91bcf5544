package desk

import (
	"context"
	"fmt"
	"slices"

	"seatward/judge"
	"seatward/study"
)

// CompareRequest asks for valves side by side.
type CompareRequest struct {
	Text   string   `json:"text"`
	Valves []string `json:"valves"` // IDs
	Units  string   `json:"units,omitempty"`
}

// CompareReply is what was found of each valve, its pump trips run through.
type CompareReply struct {
	Rows     []Row         `json:"rows"` // in the order of the request; ranks are those among them
	Findings []ComparedRow `json:"findings"`
}

// ComparedRow is one point checked, for each valve in the order of the rows; null where it
// did not come up.
type ComparedRow struct {
	ID    string               `json:"id"`
	Head  string               `json:"head"` // heading of the row
	Cells []*study.FindingJSON `json:"cells"`
}

// mostCompared is how many valves stand side by side.
const mostCompared = 8

// Compare runs the trips of each valve through and puts the findings side by side.
func (d *Desk) Compare(ctx context.Context, in CompareRequest) (*CompareReply, error) {
	if n := len(in.Valves); n < 1 || n > mostCompared {
		return nil, &Error{
			ID: "compare-count", Text: fmt.Sprintf("%d valves cannot be compared", n),
			Mend: fmt.Sprintf("name 1 to %d", mostCompared),
		}
	}
	var all []judge.Assessment
	var st *study.Study
	out := &CompareReply{Rows: []Row{}, Findings: []ComparedRow{}}
	found := map[point]int{}
	for i, id := range in.Valves {
		ask := AnswerRequest{Text: in.Text, Valve: id, Units: in.Units}
		s, valve, err := d.Study(ctx, ask, RunsShown, nil)
		if err != nil {
			return nil, err
		}
		place := at(s, valve)
		st, all = s, append(all, s.Assessments[place])
		findings, times := s.JSON().Candidates[place].Findings, map[string]int{}
		for k, f := range findings {
			here := point{f.ID, times[f.ID]}
			times[f.ID]++
			row, ok := found[here]
			if !ok {
				row = len(out.Findings)
				found[here] = row
				out.Findings = append(out.Findings, ComparedRow{
					f.ID, f.Head,
					make([]*study.FindingJSON, len(in.Valves)),
				})
			}
			out.Findings[row].Cells[i] = &findings[k]
		}
	}
	ordered := slices.Clone(all)
	judge.Rank(ordered)
	for i := range all {
		for _, a := range ordered {
			if a.Item == all[i].Item {
				all[i].Rank, all[i].RankReason = a.Rank, a.RankReason
			}
		}
		row := d.row(st, &all[i])
		row.Rank = all[i].Rank
		out.Rows = append(out.Rows, row)
	}
	return out, nil
}

// point is one of the points checked: some checks find several things of one kind.
type point struct {
	id    string
	count int
}
