package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// makeOther makes a SQLite file that is no store.
func makeOther(t *testing.T, path string, statements ...string) {
	t.Helper()
	db, err := connect(path, "rwc", 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range statements {
		if _, err := db.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestFilesThatAreNotOurs(t *testing.T) {
	for _, tt := range []struct {
		name string
		make func(t *testing.T, path string)
		want error
		says string
	}{
		{
			"text", func(t *testing.T, path string) { writeFile(t, path, strings.Repeat("pumps: 3\n", 500)) },
			ErrNotAStore, "",
		},
		{"short text", func(t *testing.T, path string) { writeFile(t, path, "x") }, ErrNotAStore, ""},
		{
			"other database", func(t *testing.T, path string) { makeOther(t, path, "CREATE TABLE a (b)") }, ErrNotAStore,
			"another program",
		},
		{"other database with a log", func(t *testing.T, path string) {
			makeOther(t, path, "PRAGMA journal_mode = WAL", "CREATE TABLE a (b)")
		}, ErrNotAStore, "another program"},
		{
			"versioned database without tables",
			func(t *testing.T, path string) { makeOther(t, path, "PRAGMA user_version = 3") }, ErrNotAStore, "",
		},
		{"negative version", func(t *testing.T, path string) {
			makeOther(t, path, fmt.Sprintf("PRAGMA application_id = %d", applicationID), "PRAGMA user_version = -7")
		}, ErrNotAStore, "its version is -7"},
		{"folder", func(t *testing.T, path string) {
			if err := os.Mkdir(path, 0o755); err != nil {
				t.Fatal(err)
			}
		}, ErrNotAStore, "is a folder"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "x.db")
			tt.make(t, path)
			before := contents(t, filepath.Dir(path))
			_, err := Open(path)
			if !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.says) ||
				strings.Count(err.Error(), path) != 1 {
				t.Errorf("gave %v", err)
			}
			if after := contents(t, filepath.Dir(path)); after != before {
				t.Errorf("the folder has changed from\n%.200q\nto\n%.200q", before, after)
			}
		})
	}
}

func TestDamagedHeader(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kept.db")
	s := mustOpen(t, path)
	must[Kept](t)(s.Create(context.Background(), draft("A", "a")))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole := must[[]byte](t)(os.ReadFile(path))
	for name, broken := range map[string][]byte{
		"cut short":    whole[:len(whole)/2+100],
		"header gone":  append(make([]byte, 100), whole[100:]...),
		"page 1 wiped": append(whole[:100:100], make([]byte, len(whole)-100)...),
	} {
		if err := os.WriteFile(path, broken, 0o644); err != nil {
			t.Fatal(err)
		}
		broke, err := Open(path)
		if err == nil {
			_, err = broke.List(context.Background())
			broke.Close()
		}
		if !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNotAStore) {
			t.Errorf("%s: gave %v", name, err)
		}
		if after := must[[]byte](t)(os.ReadFile(path)); !bytes.Equal(after, broken) {
			t.Errorf("%s: the file was changed", name)
		}
	}
}

// A newer program was killed, so that its log is still there: not a byte may go into the file.
func TestNewerVersionIsLeftUntouched(t *testing.T) {
	path, ctx := filepath.Join(t.TempDir(), "kept.db"), context.Background()
	killAfter(t, path, 5)
	s := mustOpen(t, path)
	if _, err := s.writer.Exec("PRAGMA user_version = 99"); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "copied while open")
	if err := os.CopyFS(dir, os.DirFS(filepath.Dir(path))); err != nil {
		t.Fatal(err)
	}
	if err := s.Healthy(ctx); !errors.Is(err, ErrDamaged) {
		t.Errorf("a version that moves under an open store gave %v", err)
	}
	copied := filepath.Join(dir, "kept.db")
	for range 2 {
		before := must[[]byte](t)(os.ReadFile(copied))
		log := must[[]byte](t)(os.ReadFile(copied + "-wal"))
		_, err := Open(copied)
		var newer *NewerError
		if !errors.As(err, &newer) || newer.Version != 99 || newer.Known != len(migrations) ||
			!strings.Contains(err.Error(), "use a newer program") {
			t.Fatalf("gave %v", err)
		}
		if !bytes.Equal(before, must[[]byte](t)(os.ReadFile(copied))) ||
			!bytes.Equal(log, must[[]byte](t)(os.ReadFile(copied+"-wal"))) {
			t.Error("the file or its log has changed")
		}
	}
}

func TestMigrations(t *testing.T) {
	path, ctx := filepath.Join(t.TempDir(), "kept.db"), context.Background()
	old := mustOpen(t, path)
	k := must[Kept](t)(old.Create(ctx, draft("A", "a")))
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}
	good := append(migrations[:len(migrations):len(migrations)], "CREATE TABLE more (a)")
	bad := append(good[:len(good):len(good)], "CREATE TABLE yet_more (a); CREATE TABLE more (a)")
	if _, err := open(path, bad); err == nil || !strings.Contains(err.Error(), "could not be brought to version 3") {
		t.Errorf("a step that fails gave %v", err)
	}
	s, err := open(path, good)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var version, tables int
	err = s.read.QueryRow("SELECT (SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM sqlite_schema WHERE name IN ('more', 'yet_more'))").Scan(&version, &tables)
	if err != nil || version != 2 || tables != 1 {
		t.Errorf("version %d with %d of the new tables (%v), want 2 with the first alone", version, tables, err)
	}
	if got := must[Kept](t)(s.Get(ctx, k.ID)); got != k {
		t.Errorf("kept %v, was %v", got, k)
	}
	if _, err := Open(path); !errors.As(err, new(*NewerError)) {
		t.Errorf("the older program gave %v", err)
	}
}

func TestPaths(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{
		"a?b#c%20 d&mode=ro.db", "水 ü.db", ":memory:", "file:x.db?mode=memory", "'quoted\"",
		"-wal",
	} {
		path := filepath.Join(dir, name)
		s := mustOpen(t, path)
		must[Kept](t)(s.Create(context.Background(), draft("A", "a")))
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		if info, err := os.Stat(path); err != nil || info.Size() == 0 {
			t.Errorf("%q: nothing stands there: %v", name, err)
		}
	}
	if n := len(must[[]fs.DirEntry](t)(os.ReadDir(dir))); n != 6 {
		t.Errorf("%d files, want 6 and nothing beside them once closed", n)
	}
	t.Chdir(dir)
	s := mustOpen(t, "水 ü.db")
	if n := len(must[[]Kept](t)(s.List(context.Background()))); n != 1 {
		t.Errorf("%d studies by the relative name, want 1", n)
	}
	for path, says := range map[string]string{
		"":                                 "name of a file",
		filepath.Join(dir, "none", "x.db"): "folder must be there",
	} {
		if _, err := Open(path); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q gave %v, want %q", path, err, says)
		}
	}
}

func TestOpenedByManyAtOnce(t *testing.T) {
	for round := range 15 {
		path := filepath.Join(t.TempDir(), fmt.Sprint(round))
		if round%2 == 1 {
			writeFile(t, path, "") // the making was broken off at its start
		}
		var group sync.WaitGroup
		for range 8 {
			group.Go(func() {
				s, err := Open(path)
				if err != nil {
					t.Error(err)
					return
				}
				if _, err := s.Create(context.Background(), draft("A", "a")); err != nil {
					t.Error(err)
				}
				if err := s.Close(); err != nil {
					t.Error(err)
				}
			})
		}
		group.Wait()
		s := mustOpen(t, path)
		if n := len(must[[]Kept](t)(s.List(context.Background()))); n != 8 {
			t.Errorf("%d studies, want 8", n)
		}
		wholeFile(t, s.read)
	}
}

// The file itself refuses to change what was kept, whoever asks.
func TestTheFileHoldsThePromise(t *testing.T) {
	s := newStore(t)
	must[Kept](t)(s.Create(context.Background(), draft("A", "a")))
	for _, statement := range []string{
		"UPDATE revisions SET name = 'B'", "DELETE FROM revisions", "UPDATE texts SET body = 'b'", "DELETE FROM texts",
		"DELETE FROM studies",
		"UPDATE studies SET newest = 99",
		"INSERT INTO revisions SELECT 9, study, 1, name, note, valve, text, 0 FROM revisions",
	} {
		if _, err := s.writer.Exec(statement); err == nil {
			t.Errorf("%s went through", statement)
		}
	}
	for _, db := range []*sql.DB{s.read} {
		if _, err := db.Exec("UPDATE studies SET removed_at = 1"); !errors.Is(explain(err), ErrNotWritable) {
			t.Errorf("a reading connection wrote: %v", err)
		}
	}
}

func writeFile(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// contents is every file of a folder with all that is in it.
func contents(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		fmt.Fprintf(&b, "%s %x\n", path, text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}
