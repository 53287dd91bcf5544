package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// applicationID marks our files in SQLite's header: "Seat".
const applicationID = 0x53656174

// migrations lead from one version to the next; the version of a file is how many it has
// behind it. A migration that has left this machine is never changed: the next is appended.
var migrations = []string{
	`CREATE TABLE texts (
		hash TEXT NOT NULL PRIMARY KEY, -- SHA-256 in hex
		body TEXT NOT NULL
	) STRICT;

	CREATE TABLE revisions (
		seq      INTEGER PRIMARY KEY AUTOINCREMENT, -- order of saving over all studies
		study    TEXT NOT NULL REFERENCES studies (id) DEFERRABLE INITIALLY DEFERRED,
		number   INTEGER NOT NULL CHECK (number >= 1),
		name     TEXT NOT NULL,
		note     TEXT NOT NULL,
		valve    TEXT NOT NULL,
		text     TEXT NOT NULL REFERENCES texts (hash),
		saved_at INTEGER NOT NULL, -- microseconds since 1970 UTC
		UNIQUE (study, number)
	) STRICT;

	CREATE TABLE studies (
		id         TEXT NOT NULL PRIMARY KEY,
		newest     INTEGER NOT NULL UNIQUE REFERENCES revisions (seq),
		removed_at INTEGER -- microseconds since 1970 UTC; NULL while in use
	) STRICT, WITHOUT ROWID;

	CREATE TRIGGER texts_stay BEFORE UPDATE ON texts BEGIN SELECT RAISE(ABORT, 'a text is never changed'); END;
	CREATE TRIGGER texts_last BEFORE DELETE ON texts BEGIN SELECT RAISE(ABORT, 'a text is never deleted'); END;
	CREATE TRIGGER revisions_stay BEFORE UPDATE ON revisions BEGIN SELECT RAISE(ABORT, 'a revision is never changed'); END;
	CREATE TRIGGER revisions_last BEFORE DELETE ON revisions BEGIN SELECT RAISE(ABORT, 'a revision is never deleted'); END;
	CREATE TRIGGER studies_last BEFORE DELETE ON studies BEGIN SELECT RAISE(ABORT, 'a study is never deleted'); END;`,
}

// smallest is the least that a SQLite file with anything in it can have: one page.
const smallest = 512

// look makes sure, without changing a byte, that the file at path is ours to open: there is
// none yet, it is empty, or it is a store of a version up to known.
func look(path string, known int) error {
	info, err := os.Stat(path)
	switch {
	case os.IsNotExist(err):
		return usable("", path)
	case err != nil:
		return err
	case info.IsDir():
		return fmt.Errorf("%w: it is a folder; name a file in it", ErrNotAStore)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%w: it is no regular file", ErrNotAStore)
	case info.Size() > 0 && info.Size() < smallest: // SQLite itself would take a single byte for nothing
		return fmt.Errorf("%w: it has only %d bytes", ErrNotAStore, info.Size())
	}
	if err := usable(path, path); err != nil || info.Size() == 0 {
		return err
	}
	// The first look leaves the log aside, so that nothing appears beside a file of another
	// program. Without its log a store may look damaged or empty; the second look sees it whole.
	err = lookInto(path, "ro&immutable=1", known)
	if errors.Is(err, ErrNotAStore) || errors.As(err, new(*NewerError)) {
		return err
	}
	return lookInto(path, "ro", known)
}

// usable makes sure that file, if it is named, and the folder of path are open to us.
func usable(file, path string) error {
	if err := access(file, filepath.Dir(path)); err != nil {
		return fmt.Errorf("%w (%w)", ErrNotWritable, err)
	}
	return nil
}

func lookInto(path, mode string, known int) error {
	db, err := connect(path, mode, 1)
	if err != nil {
		return err
	}
	defer db.Close()
	var application, version, objects int
	// In one transaction, for another program may be making the store at this moment.
	tx, err := db.BeginTx(context.Background(), &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return explain(err)
	}
	defer tx.Rollback()
	err = tx.QueryRow("SELECT application_id, user_version FROM pragma_application_id, pragma_user_version").Scan(&application, &version)
	if err == nil && application != applicationID {
		err = tx.QueryRow("SELECT count(*) FROM sqlite_schema").Scan(&objects)
	}
	switch {
	case err != nil:
		return explain(err)
	case application == 0 && version == 0 && objects == 0:
		return nil // the making of a store was broken off
	case application != applicationID:
		return fmt.Errorf("%w: it is a SQLite database of another program", ErrNotAStore)
	case version < 0:
		return fmt.Errorf("%w: it says that its version is %d", ErrNotAStore, version)
	case version > known:
		return &NewerError{version, known}
	}
	return nil
}

// touch changes nothing, but SQLite refuses it where it could not change anything either. (It
// lets a transaction that is to write begin on a file that is read-only.)
const touch = "UPDATE studies SET newest = newest WHERE false"

// migrate brings the file to the newest version, a transaction for each step.
func migrate(db *sql.DB, steps []string) error {
	for done := false; !done; {
		err := transact(context.Background(), db, func(tx *sql.Tx) error {
			var version int
			if err := tx.QueryRow("PRAGMA user_version").Scan(&version); err != nil {
				return err
			}
			switch {
			case version < 0:
				return fmt.Errorf("%w: it says that its version is %d", ErrNotAStore, version)
			case version > len(steps):
				return &NewerError{version, len(steps)}
			case version == len(steps):
				done = true
				_, err := tx.Exec(touch)
				return err
			}
			_, err := tx.Exec(fmt.Sprintf("%s;\nPRAGMA application_id = %d; PRAGMA user_version = %d;", steps[version],
				applicationID, version+1))
			return err
		})
		if err != nil {
			return fmt.Errorf("the store could not be brought to version %d: %w", len(steps), explain(err))
		}
	}
	return nil
}
