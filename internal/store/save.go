package store

import (
	"context"
	"database/sql"
	"encoding/base32"
	"errors"
	"fmt"
	"io"
	"time"
)

// Create keeps a new study as its revision 1.
func (s *Store) Create(ctx context.Context, d Draft) (Kept, error) {
	if err := d.check(); err != nil {
		return Kept{}, err
	}
	id, err := s.newID()
	if err != nil {
		return Kept{}, err
	}
	var k Kept
	err = s.write(ctx, func(tx *sql.Tx) error {
		switch _, err := newest(ctx, tx, id); {
		case err == nil:
			return fmt.Errorf("the ID %s was drawn twice: the source of random numbers fails; nothing was written", id)
		case !errors.Is(err, ErrNotFound):
			return err
		}
		var err error
		k, err = insert(ctx, tx, id, 1, d)
		return err
	})
	return given(k, err)
}

// Save keeps d as the next revision of a study. base is the revision that the caller began
// from; when it is not the newest, a [ConflictError] brings the newest and nothing is written.
// When the newest holds the same already, that is what comes back, whatever base is.
func (s *Store) Save(ctx context.Context, id string, base int, d Draft) (Kept, error) {
	if err := d.check(); err != nil {
		return Kept{}, err
	}
	return s.advance(ctx, id, func(now Kept) (Draft, error) {
		if now.Revision != base && !now.holds(d) {
			return Draft{}, &ConflictError{base, now}
		}
		return d, nil
	})
}

// Rename keeps a new revision of a study that differs from the newest in its name alone.
func (s *Store) Rename(ctx context.Context, id, name string, at time.Time) (Kept, error) {
	if err := (Draft{Name: name, At: at}).check(); err != nil {
		return Kept{}, err
	}
	return s.advance(ctx, id, func(now Kept) (Draft, error) {
		return Draft{Name: name, Note: now.Note, Valve: now.Valve, Text: now.Text, At: at}, nil
	})
}

// Remove marks a study as removed: it leaves the list and takes no saves until Restore.
func (s *Store) Remove(ctx context.Context, id string, at time.Time) error {
	if err := checkTime(at); err != nil {
		return err
	}
	return s.mark(ctx, id, "coalesce(removed_at, ?)", stamp(at))
}

// Restore takes the mark of Remove away.
func (s *Store) Restore(ctx context.Context, id string) error {
	return s.mark(ctx, id, "?", nil)
}

func (s *Store) mark(ctx context.Context, id, value string, at any) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, "UPDATE studies SET removed_at = "+value+" WHERE id = ?", at, id)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); n == 1 || err != nil {
			return err
		}
		return ErrNotFound
	})
}

// advance adds the revision that next makes of the newest, unless that holds it already.
func (s *Store) advance(ctx context.Context, id string, next func(now Kept) (Draft, error)) (Kept, error) {
	var k Kept
	err := s.write(ctx, func(tx *sql.Tx) error {
		now, err := newest(ctx, tx, id)
		if err != nil {
			return err
		}
		if !now.RemovedAt.IsZero() {
			return fmt.Errorf("%q: %w (it was removed at %s; nothing was written)", now.Name, ErrRemoved,
				now.RemovedAt.Format(time.RFC3339))
		}
		d, err := next(now)
		if err != nil {
			return err
		}
		if now.holds(d) {
			k = now
			return nil
		}
		k, err = insert(ctx, tx, id, now.Revision+1, d)
		return err
	})
	return given(k, err)
}

// given is what a caller gets: nothing beside an error.
func given(k Kept, err error) (Kept, error) {
	if err != nil {
		return Kept{}, err
	}
	return k, nil
}

// insert adds a revision with its text and makes it the newest of its study.
func insert(ctx context.Context, tx *sql.Tx, id string, number int, d Draft) (Kept, error) {
	k := Kept{
		ID: id, Revision: number, Name: d.Name, Note: d.Note, Valve: d.Valve, Text: d.Text, Hash: hash(d.Text),
		SavedAt: moment(stamp(d.At)),
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO texts (hash, body) VALUES (?, ?) ON CONFLICT DO NOTHING", k.Hash,
		k.Text); err != nil {
		return Kept{}, err
	}
	var seq int64
	err := tx.QueryRowContext(ctx, `INSERT INTO revisions (study, number, name, note, valve, text, saved_at)
		VALUES (?, ?, ?, ?, ?, ?, ?) RETURNING seq`, k.ID, k.Revision, k.Name, k.Note, k.Valve, k.Hash, stamp(k.SavedAt)).Scan(&seq)
	if err != nil {
		return Kept{}, err
	}
	_, err = tx.ExecContext(ctx,
		"INSERT INTO studies (id, newest) VALUES (?, ?) ON CONFLICT (id) DO UPDATE SET newest = excluded.newest", id, seq)
	return k, err
}

// letters leave out i, l, o and u, which are easily misread.
var letters = base32.NewEncoding("0123456789abcdefghjkmnpqrstvwxyz").WithPadding(base32.NoPadding)

// newID draws an ID: 80 bits, so that none is ever guessed or drawn twice.
func (s *Store) newID() (string, error) {
	var bits [10]byte
	if _, err := io.ReadFull(s.Random, bits[:]); err != nil {
		return "", fmt.Errorf("no random numbers for an ID: %w", err)
	}
	return letters.EncodeToString(bits[:]), nil
}
