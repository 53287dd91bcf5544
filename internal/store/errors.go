package store

import (
	"errors"
	"fmt"
	"time"

	"modernc.org/sqlite"
	codes "modernc.org/sqlite/lib"
)

// What may go wrong with the file or with what is asked of it. Errors that come back wrap
// these and say more.
var (
	ErrNotAStore   = errors.New("not a store of station files")
	ErrNotWritable = errors.New("the store cannot be used: the file and its folder must be open to reading and writing")
	ErrFull        = errors.New("the disk is full: nothing was written, and what was kept is still there; make room and save again")
	ErrBusy        = errors.New("another program is writing to the store and did not finish in time: nothing was written; try again")
	ErrDamaged     = errors.New("the store is damaged: copy it aside, with the files ending in -wal and -shm beside it, and go back to a backup")
	ErrDisk        = errors.New("the disk answered with an error and the save is not acknowledged: see to the disk, and open the store anew")
	ErrGone        = errors.New("the file of the store is no longer where it was opened: nothing was written; put it back, or open the store anew")
	ErrExists      = errors.New("exists already; choose another name, or remove it first")
	ErrNotFound    = errors.New("no such study or revision is kept here")
	ErrRemoved     = errors.New("the study has been removed; restore it first")
)

// NewerError says that a later version of the program has written the file.
type NewerError struct {
	Version int // of the file
	Known   int // the newest that this program knows
}

// Error says what to do.
func (e *NewerError) Error() string {
	return fmt.Sprintf("the store has version %d, and this program knows versions up to %d: it was left untouched; use a newer program", e.Version, e.Known)
}

// ConflictError says that a study was saved by someone else in the meantime.
type ConflictError struct {
	Base   int // the revision that the refused save began from
	Newest Kept
}

// Error says who is ahead.
func (e *ConflictError) Error() string {
	n := e.Newest
	if e.Base > n.Revision {
		return fmt.Sprintf("%q: yours began from revision %d, but the newest kept here is revision %d of %s (has a backup been put back?). Nothing was written: look at it, and save on revision %d",
			n.Name, e.Base, n.Revision, n.SavedAt.Format(time.RFC3339), n.Revision)
	}
	return fmt.Sprintf("%q: someone is ahead of you: revision %d was saved at %s, and yours began from revision %d. Nothing was written: compare the two, and save on revision %d",
		n.Name, n.Revision, n.SavedAt.Format(time.RFC3339), e.Base, n.Revision)
}

// InvalidError says which part of a draft cannot be kept, and why.
type InvalidError struct {
	Part     string // name, note, valve, text or time
	Found    string
	Expected string
}

// Error says what was found and what is expected.
func (e *InvalidError) Error() string {
	return fmt.Sprintf("the %s cannot be kept: found %s; expected %s", e.Part, e.Found, e.Expected)
}

// kinds are the errors of SQLite that a person can do something about.
var kinds = map[int]error{
	codes.SQLITE_NOTADB:   ErrNotAStore,
	codes.SQLITE_READONLY: ErrNotWritable,
	codes.SQLITE_CANTOPEN: ErrNotWritable,
	codes.SQLITE_PERM:     ErrNotWritable,
	codes.SQLITE_FULL:     ErrFull,
	codes.SQLITE_BUSY:     ErrBusy,
	codes.SQLITE_LOCKED:   ErrBusy,
	codes.SQLITE_CORRUPT:  ErrDamaged,
	codes.SQLITE_IOERR:    ErrDisk,
}

// code is the primary result code of SQLite, 0 when err is not from there.
func code(err error) int {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return 0
	}
	return e.Code() & 0xff
}

// explain puts an error of SQLite in plain words.
func explain(err error) error {
	if kind, known := kinds[code(err)]; known {
		return fmt.Errorf("%w (%w)", kind, err)
	}
	return err
}
