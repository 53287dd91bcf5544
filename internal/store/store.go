package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"modernc.org/sqlite"
	codes "modernc.org/sqlite/lib"
)

const (
	patience = 5 * time.Second // how long to wait for another program that writes
	readers  = 4
)

// Store is an open store of station files, for any number of goroutines.
type Store struct {
	// Random is where IDs come from: crypto/rand, unless it is set before the first Create.
	Random io.Reader

	path         string
	file         os.FileInfo // what stood at path when it was opened
	writer, read *sql.DB
}

// Open opens the store in the file at path and makes it when there is none. A file that is
// not a store or is from a newer program is left untouched.
func Open(path string) (*Store, error) { return open(path, migrations) }

func open(path string, steps []string) (*Store, error) {
	if path == "" {
		return nil, errors.New("the store needs the name of a file")
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	s := &Store{Random: rand.Reader, path: full}
	if err := s.start(steps); err != nil {
		return nil, fmt.Errorf("%s: %w", path, errors.Join(nameless(err, full), s.Close()))
	}
	return s, nil
}

// nameless takes the name of the store's file out of an error of the system: who opens the
// store says the name already.
func nameless(err error, path string) error {
	var p *os.PathError
	if errors.As(err, &p) && p.Path == path && err == error(p) {
		return fmt.Errorf("it cannot be looked at: %w", p.Err)
	}
	return err
}

func (s *Store) start(steps []string) error {
	if _, err := os.Stat(filepath.Dir(s.path)); err != nil {
		return fmt.Errorf("its folder must be there: %w", err)
	}
	err := look(s.path, len(steps))
	if err != nil {
		return err
	}
	if s.writer, err = connect(s.path, "rwc", 1); err != nil {
		return err
	}
	if err := useLog(s.writer); err != nil {
		return explain(err)
	}
	if err := migrate(s.writer, steps); err != nil {
		return err
	}
	if s.read, err = connect(s.path, "ro", readers); err != nil {
		return err
	}
	s.file, err = os.Stat(s.path)
	return err
}

// Close ends the use of the store; the last one to close it folds the log into the file.
func (s *Store) Close() error {
	var errs []error
	for _, db := range []*sql.DB{s.read, s.writer} { // the writer last: only it can fold the log
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}

// connect prepares a pool of connections; mode is ro, rwc to write and create, or ro with
// further options of SQLite's addresses.
func connect(path, mode string, connections int) (*sql.DB, error) {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") { // a drive letter
		slashed = "/" + slashed
	}
	options := url.Values{
		"_busy_timeout": {fmt.Sprint(patience.Milliseconds())},
		"_foreign_keys": {"on"},
		"_synchronous":  {"FULL"},
		"_txlock":       {"immediate"},
	}
	address := url.URL{Scheme: "file", Path: slashed, RawQuery: "mode=" + mode + "&" + options.Encode()}
	connector, err := sqlite.NewConnector(address.String())
	if err != nil {
		return nil, err
	}
	db := sql.OpenDB(connector)
	db.SetMaxOpenConns(connections)
	db.SetMaxIdleConns(connections)
	return db, nil
}

// useLog turns on the write-ahead log. SQLite does not wait by itself when two programs do
// so at once, so it is tried until patience ends.
func useLog(db *sql.DB) error {
	for deadline := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		var mode string
		err := db.QueryRow("PRAGMA journal_mode = WAL").Scan(&mode)
		switch {
		case err == nil && mode != "wal":
			return fmt.Errorf("%w: its file system cannot hold a write-ahead log (journal mode %s); use a disk of this machine", ErrNotWritable, mode)
		case code(err) != codes.SQLITE_BUSY || time.Now().After(deadline):
			return err
		}
	}
}

// transact runs do in one transaction: all of it is kept, or nothing.
func transact(ctx context.Context, db *sql.DB, do func(*sql.Tx) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := do(tx); err != nil {
		return errors.Join(err, tx.Rollback())
	}
	return tx.Commit()
}

// write runs do in one transaction on the writing connection.
func (s *Store) write(ctx context.Context, do func(*sql.Tx) error) error {
	if err := s.inPlace(); err != nil {
		return err
	}
	return explain(transact(ctx, s.writer, do))
}

// inPlace makes sure that the open file still stands at its path. SQLite would go on writing
// to a deleted file, and all of that would be lost.
func (s *Store) inPlace() error {
	now, err := os.Stat(s.path)
	if err != nil {
		return fmt.Errorf("%w (%w)", ErrGone, err)
	}
	if !os.SameFile(s.file, now) {
		return fmt.Errorf("%w (another file stands at %s)", ErrGone, s.path)
	}
	return nil
}
