package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Backup writes all that is kept to a new store at path, while others go on reading and
// saving. The file is there whole or not at all; one that exists stays as it is.
func (s *Store) Backup(ctx context.Context, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s: %w", path, ErrExists)
	}
	full, err := filepath.Abs(path) // SQLite would take a name such as file:x for an address
	if err != nil {
		return err
	}
	temp, err := os.CreateTemp(filepath.Dir(full), ".seatward-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, err)
	}
	defer os.Remove(temp.Name())
	defer temp.Close()
	if _, err := s.read.ExecContext(ctx, "VACUUM INTO ?", temp.Name()); err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, explain(err))
	}
	if err := errors.Join(temp.Chmod(s.file.Mode().Perm()), temp.Sync(), temp.Close()); err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, err)
	}
	return os.Rename(temp.Name(), full)
}

// Healthy reports whether the store can be read and the next save would get the write lock.
// It writes nothing, so it does not find a full disk.
func (s *Store) Healthy(ctx context.Context) error {
	var version int
	if err := s.read.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return explain(err)
	}
	if version != len(migrations) {
		return fmt.Errorf("%w: its version is now %d", ErrDamaged, version)
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, touch)
		return err
	})
}
