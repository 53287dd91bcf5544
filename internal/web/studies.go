package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"seatward/internal/desk"
	"seatward/internal/document"
	"seatward/internal/store"
	"seatward/study"
)

// Kept is one revision of a study that is kept; in lists without its text.
type Kept struct {
	ID       string `json:"id"`
	Revision int    `json:"revision" jsonschema_description:"Counts from 1"`
	Name     string `json:"name"`
	Note     string `json:"note"`
	Valve    string `json:"valve" jsonschema_description:"ID of the chosen valve; empty where none is chosen"`
	Text     string `json:"text,omitempty" jsonschema_description:"The station file; left out in lists"`
	Hash     string `json:"hash" jsonschema_description:"SHA-256 of the text"`
	Saved    string `json:"saved" jsonschema:"format=date-time"`
	Removed  bool   `json:"removed"`
}

// Revision is one that is kept, with its text.
type Revision struct {
	Kept
	Text string `json:"text" jsonschema_description:"The station file"`
}

// Draft is what is to be kept.
type Draft struct {
	Name  string `json:"name" jsonschema_description:"1 to 120 characters on one line"`
	Text  string `json:"text" jsonschema_description:"The station file; one with faults is kept as well"`
	Valve string `json:"valve,omitempty" jsonschema_description:"ID of the chosen valve"`
	Note  string `json:"note,omitempty" jsonschema_description:"Up to 3000 characters"`
}

// StudyRequest names a study.
type StudyRequest struct {
	ID string `json:"-" path:"id"`
}

// ListRequest asks for studies.
type ListRequest struct {
	Removed bool `json:"-" query:"removed"`
}

// SaveRequest is a draft and the revision that it began from.
type SaveRequest struct {
	ID   string `json:"-" path:"id"`
	Base int    `json:"base" jsonschema_description:"The revision that the draft began from"`
	Draft
}

// RevisionRequest names a revision of a study.
type RevisionRequest struct {
	ID     string `json:"-" path:"id"`
	Number int    `json:"-" path:"number"`
}

// ExportRequest names a study, and a revision where it is not the newest.
type ExportRequest struct {
	ID       string `json:"-" path:"id"`
	Revision int    `json:"-" query:"revision"`
}

// RevisionsRequest names two revisions to compare.
type RevisionsRequest struct {
	ID   string `json:"-" path:"id"`
	A    int    `json:"a" jsonschema_description:"Revision before"`
	B    int    `json:"b" jsonschema_description:"Revision after"`
	Full bool   `json:"full,omitempty" jsonschema_description:"Run the pump stops of every valve; without it slam is left out"`
}

// Moves are what differs between the answers for two revisions.
type Moves struct {
	A     Kept   `json:"a"`
	B     Kept   `json:"b"`
	Moves []Move `json:"moves"`
}

// Move is one thing about a valve in which two answers differ.
type Move struct {
	Valve  string `json:"valve"`
	About  string `json:"about"`
	Before string `json:"before"`
	After  string `json:"after"`
}

func keptJSON(k store.Kept) Kept {
	return Kept{
		k.ID, k.Revision, k.Name, k.Note, k.Valve, k.Text, k.Hash, k.SavedAt.UTC().Format(time.RFC3339Nano),
		!k.RemovedAt.IsZero(),
	}
}

func revisionJSON(k store.Kept) Revision { return Revision{keptJSON(k), k.Text} }

func keptList(all []store.Kept) []Kept {
	out := []Kept{}
	for _, k := range all {
		out = append(out, keptJSON(k))
	}
	return out
}

// kept is the store, where there is one.
func (s *Server) kept() (*store.Store, error) {
	if s.Store == nil {
		return nil, &Fault{
			Status: http.StatusNotFound, ID: "no-store", Text: "this server keeps no studies",
			Mend: "start seatward serve with --store FILE; your text stays with you meanwhile",
		}
	}
	return s.Store, nil
}

func (s *Server) draft(d Draft) store.Draft {
	return store.Draft{Name: d.Name, Note: d.Note, Valve: d.Valve, Text: d.Text, At: s.Now()}
}

func (s *Server) listStudies(ctx context.Context, in ListRequest) ([]Kept, error) {
	st, err := s.kept()
	if err != nil {
		return nil, err
	}
	list := st.List
	if in.Removed {
		list = st.Removed
	}
	all, err := list(ctx)
	return keptList(all), err
}

func (s *Server) createStudy(ctx context.Context, in Draft) (Revision, error) {
	st, err := s.kept()
	if err != nil {
		return Revision{}, err
	}
	k, err := st.Create(ctx, s.draft(in))
	return revisionJSON(k), err
}

func (s *Server) getStudy(ctx context.Context, in StudyRequest) (Revision, error) {
	st, err := s.kept()
	if err != nil {
		return Revision{}, err
	}
	k, err := st.Get(ctx, in.ID)
	return revisionJSON(k), err
}

func (s *Server) saveStudy(ctx context.Context, in SaveRequest) (Revision, error) {
	st, err := s.kept()
	if err != nil {
		return Revision{}, err
	}
	k, err := st.Save(ctx, in.ID, in.Base, s.draft(in.Draft))
	var ahead *store.ConflictError
	if errors.As(err, &ahead) {
		return Revision{}, &conflictFault{
			&Fault{
				Status: http.StatusConflict, ID: "conflict", Text: ahead.Error(),
				Mend: fmt.Sprintf("compare yours with revision %d, then save on it; or keep yours as a new study",
					ahead.Newest.Revision),
			},
			in.Draft, revisionJSON(ahead.Newest),
		}
	}
	return revisionJSON(k), err
}

func (s *Server) removeStudy(ctx context.Context, in StudyRequest) (Revision, error) {
	st, err := s.kept()
	if err != nil {
		return Revision{}, err
	}
	if err := st.Remove(ctx, in.ID, s.Now()); err != nil {
		return Revision{}, err
	}
	return s.getStudy(ctx, in)
}

func (s *Server) restoreStudy(ctx context.Context, in StudyRequest) (Revision, error) {
	st, err := s.kept()
	if err != nil {
		return Revision{}, err
	}
	if err := st.Restore(ctx, in.ID); err != nil {
		return Revision{}, err
	}
	return s.getStudy(ctx, in)
}

func (s *Server) revisions(ctx context.Context, in StudyRequest) ([]Kept, error) {
	st, err := s.kept()
	if err != nil {
		return nil, err
	}
	all, err := st.Revisions(ctx, in.ID)
	return keptList(all), err
}

func (s *Server) revision(ctx context.Context, in RevisionRequest) (Revision, error) {
	st, err := s.kept()
	if err != nil {
		return Revision{}, err
	}
	k, err := st.Revision(ctx, in.ID, in.Number)
	return revisionJSON(k), err
}

func (s *Server) exportStudy(ctx context.Context, in ExportRequest) (*download, error) {
	st, err := s.kept()
	if err != nil {
		return nil, err
	}
	var k store.Kept
	if in.Revision == 0 {
		k, err = st.Get(ctx, in.ID)
	} else {
		k, err = st.Revision(ctx, in.ID, in.Revision)
	}
	if err != nil {
		return nil, err
	}
	return &download{media: "application/yaml", name: document.Slug(k.Name) + ".station.yaml", data: []byte(k.Text)},
		nil
}

// compareRevisions answers for two revisions and tells what moved.
func (s *Server) compareRevisions(ctx context.Context, in RevisionsRequest) (Moves, error) {
	var out Moves
	var both [2]*study.Study
	runs := desk.RunsNone
	if in.Full {
		runs = desk.RunsAll
	}
	for i, number := range []int{in.A, in.B} {
		k, err := s.revision(ctx, RevisionRequest{in.ID, number})
		if err != nil {
			return out, err
		}
		if both[i], _, err = s.desk.Study(ctx, desk.AnswerRequest{Text: k.Text}, runs, nil); err != nil {
			var told *desk.Error
			if errors.As(err, &told) {
				named := *told
				named.Text = fmt.Sprintf("revision %d: %s", number, told.Text)
				err = &named
			}
			return out, err
		}
		k.Kept.Text = ""
		if i == 0 {
			out.A = k.Kept
		} else {
			out.B = k.Kept
		}
	}
	out.Moves = []Move{}
	for _, m := range study.Compare(both[0], both[1]) {
		out.Moves = append(out.Moves, Move{m.Valve, m.About, m.Before, m.After})
	}
	return out, nil
}
