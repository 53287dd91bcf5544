package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// The columns of a Kept; a list leaves the texts where they are.
const (
	columns  = "SELECT s.id, r.number, r.name, r.note, r.valve, r.text, r.saved_at, s.removed_at, "
	listed   = columns + "'' FROM studies s JOIN revisions r "
	withText = columns + "t.body FROM studies s JOIN revisions r ON r.study = s.id JOIN texts t ON t.hash = r.text WHERE s.id = ? AND "
)

// List gives the newest revision of every study, the last saved first, without texts.
func (s *Store) List(ctx context.Context) ([]Kept, error) {
	return s.rows(ctx, listed+"ON r.seq = s.newest WHERE s.removed_at IS NULL ORDER BY s.newest DESC")
}

// Removed gives the newest revision of every removed study, the last saved first, without texts.
func (s *Store) Removed(ctx context.Context) ([]Kept, error) {
	return s.rows(ctx, listed+"ON r.seq = s.newest WHERE s.removed_at IS NOT NULL ORDER BY s.newest DESC")
}

// Revisions gives all revisions of a study, newest first, without texts.
func (s *Store) Revisions(ctx context.Context, id string) ([]Kept, error) {
	all, err := s.rows(ctx, listed+"ON r.study = s.id WHERE s.id = ? ORDER BY r.number DESC", id)
	if err == nil && len(all) == 0 {
		return nil, ErrNotFound
	}
	return all, err
}

// Get gives the newest revision of a study, removed or not.
func (s *Store) Get(ctx context.Context, id string) (Kept, error) {
	k, err := newest(ctx, s.read, id)
	return k, explain(err)
}

// Revision gives one revision of a study, removed or not.
func (s *Store) Revision(ctx context.Context, id string, number int) (Kept, error) {
	k, err := whole(s.read.QueryRowContext(ctx, withText+"r.number = ?", id, number))
	return k, explain(err)
}

// asker is a pool or a transaction.
type asker interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

func newest(ctx context.Context, from asker, id string) (Kept, error) {
	return whole(from.QueryRowContext(ctx, withText+"r.seq = s.newest", id))
}

// whole reads a revision with its text and holds the text against its hash.
func whole(row *sql.Row) (Kept, error) {
	k, err := scan(row)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Kept{}, ErrNotFound
	case err != nil:
		return Kept{}, err
	case hash(k.Text) != k.Hash:
		return Kept{}, fmt.Errorf("%w: revision %d of %s is no longer the text that was saved", ErrDamaged, k.Revision,
			k.ID)
	}
	return k, nil
}

func (s *Store) rows(ctx context.Context, query string, args ...any) ([]Kept, error) {
	rows, err := s.read.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, explain(err)
	}
	defer rows.Close()
	var all []Kept
	for rows.Next() {
		k, err := scan(rows)
		if err != nil {
			return nil, explain(err)
		}
		all = append(all, k)
	}
	return all, explain(rows.Err())
}

func scan(row interface{ Scan(...any) error }) (Kept, error) {
	var k Kept
	var savedAt int64
	var removedAt sql.NullInt64
	err := row.Scan(&k.ID, &k.Revision, &k.Name, &k.Note, &k.Valve, &k.Hash, &savedAt, &removedAt, &k.Text)
	if err != nil {
		return Kept{}, err
	}
	k.SavedAt = moment(savedAt)
	if removedAt.Valid {
		k.RemovedAt = moment(removedAt.Int64)
	}
	return k, nil
}
