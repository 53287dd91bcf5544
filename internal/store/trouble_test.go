package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestFullDisk(t *testing.T) {
	s, ctx, kept := newStore(t), context.Background(), must[Kept](t)
	first := kept(s.Create(ctx, draft("A", "a")))
	var pages int
	if err := s.writer.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := s.writer.Exec(fmt.Sprintf("PRAGMA max_page_count = %d", pages+20)); err != nil {
		t.Fatal(err)
	}
	var acknowledged []Kept
	for base := first; ; {
		k, err := s.Save(ctx, first.ID, base.Revision, draft("A", strings.Repeat(fmt.Sprint(base.Revision), 9000)))
		if err != nil {
			if !errors.Is(err, ErrFull) {
				t.Fatalf("a full disk gave %v", err)
			}
			break
		}
		acknowledged, base = append(acknowledged, k), k
	}
	if _, err := s.Create(ctx, draft("B", strings.Repeat("b", MaxTextBytes))); !errors.Is(err, ErrFull) {
		t.Errorf("creating on a full disk gave %v", err)
	}
	if len(acknowledged) == 0 {
		t.Fatal("nothing was saved before the disk was full")
	}
	for _, want := range acknowledged {
		if k := kept(s.Revision(ctx, first.ID, want.Revision)); k != want {
			t.Errorf("revision %d has changed", want.Revision)
		}
	}
	if n := len(must[[]Kept](t)(s.Revisions(ctx, first.ID))); n != len(acknowledged)+1 {
		t.Errorf("%d revisions, want %d: those acknowledged and no other", n, len(acknowledged)+1)
	}
	wholeFile(t, s.read)
	if _, err := s.writer.Exec("PRAGMA max_page_count = 100000"); err != nil {
		t.Fatal(err)
	}
	if k := kept(s.Save(ctx, first.ID, len(acknowledged)+1,
		draft("A", strings.Repeat("z", 100000)))); k.Revision != len(acknowledged)+2 {
		t.Errorf("revision %d after making room", k.Revision)
	}
}

func TestDamagedText(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	k := must[Kept](t)(s.Create(ctx, draft("A", "flow: 100 l/s")))
	for _, statement := range []string{"DROP TRIGGER texts_stay", "UPDATE texts SET body = 'flow: 900 l/s'"} {
		if _, err := s.writer.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	_, err := s.Get(ctx, k.ID)
	if !errors.Is(err, ErrDamaged) {
		t.Errorf("reading gave %v", err)
	}
	if _, err := s.Save(ctx, k.ID, 1, draft("A", "b")); !errors.Is(err, ErrDamaged) {
		t.Errorf("saving on top gave %v", err)
	}
}

func TestFileTakenAway(t *testing.T) {
	ctx := context.Background()
	for name, take := range map[string]func(path string) error{
		"deleted":  os.Remove,
		"moved":    func(path string) error { return os.Rename(path, path+".aside") },
		"replaced": func(path string) error { return errors.Join(os.Remove(path), os.WriteFile(path, nil, 0o644)) },
	} {
		path := filepath.Join(t.TempDir(), "kept.db")
		s := mustOpen(t, path)
		k := must[Kept](t)(s.Create(ctx, draft("A", "a")))
		if err := s.Healthy(ctx); err != nil {
			t.Errorf("%s, before: %v", name, err)
		}
		if err := take(path); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Save(ctx, k.ID, 1, draft("A", "b")); !errors.Is(err, ErrGone) {
			t.Errorf("%s: saving gave %v", name, err)
		}
		if err := s.Healthy(ctx); !errors.Is(err, ErrGone) {
			t.Errorf("%s: health %v", name, err)
		}
		if k, err := s.Get(ctx, k.ID); err != nil || k.Text != "a" {
			t.Errorf("%s: what is open can no longer be read: %v", name, err)
		}
	}
}

// Another program holds the write lock: readers go on, a writer gives up when its time is over.
func TestBusy(t *testing.T) {
	path, ctx := filepath.Join(t.TempDir(), "kept.db"), context.Background()
	s, other := mustOpen(t, path), mustOpen(t, path)
	k := must[Kept](t)(s.Create(ctx, draft("A", "a")))
	tx, err := other.writer.Begin()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.writer.Exec("PRAGMA busy_timeout = 50"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Save(ctx, k.ID, 1, draft("A", "b")); !errors.Is(err, ErrBusy) {
		t.Errorf("saving gave %v", err)
	}
	if err := s.Healthy(ctx); !errors.Is(err, ErrBusy) {
		t.Errorf("health %v", err)
	}
	if _, err := s.writer.Exec("PRAGMA busy_timeout = 60000"); err != nil {
		t.Fatal(err)
	}
	short, cancel := context.WithTimeout(ctx, 100*time.Millisecond)
	defer cancel()
	if _, err := s.Save(short, k.ID, 1, draft("A", "b")); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a caller whose time is over got %v", err)
	}
	if got := must[Kept](t)(s.Get(ctx, k.ID)); got != k {
		t.Errorf("read %v while another writes, want %v", got, k)
	}
	if err := tx.Rollback(); err != nil {
		t.Fatal(err)
	}
	if got := must[Kept](t)(s.Save(ctx, k.ID, 1, draft("A", "b"))); got.Revision != 2 {
		t.Errorf("revision %d once the other is done", got.Revision)
	}
}

func TestCanceledCallsWriteNothing(t *testing.T) {
	s := newStore(t)
	canceled, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := s.Create(canceled, draft("A", "a")); !errors.Is(err, context.Canceled) {
		t.Errorf("gave %v", err)
	}
	if n := len(must[[]Kept](t)(s.List(context.Background()))); n != 0 {
		t.Errorf("%d studies, want none", n)
	}
}

func TestBackup(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	k := must[Kept](t)(s.Create(ctx, draft("A", "a")))
	second := must[Kept](t)(s.Save(ctx, k.ID, 1, draft("B", "b")))
	if err := s.Remove(ctx, must[Kept](t)(s.Create(ctx, draft("C", "c"))).ID, noon); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "backup ü?.db")
	if err := s.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	if n := len(must[[]fs.DirEntry](t)(os.ReadDir(dir))); n != 1 {
		t.Errorf("%d files, want the backup alone", n)
	}
	whole := must[[]byte](t)(os.ReadFile(path))
	for _, taken := range []string{path, s.path, dir} {
		if err := s.Backup(ctx, taken); !errors.Is(err, ErrExists) {
			t.Errorf("backup onto %s gave %v", taken, err)
		}
	}
	if string(whole) != string(must[[]byte](t)(os.ReadFile(path))) {
		t.Error("the refused backup has changed the first one")
	}
	b := mustOpen(t, path)
	for _, want := range []Kept{k, second} {
		if got := must[Kept](t)(b.Revision(ctx, want.ID, want.Revision)); got != want {
			t.Errorf("the backup holds %v, want %v", got, want)
		}
	}
	if n := len(must[[]Kept](t)(b.Removed(ctx))); n != 1 {
		t.Errorf("%d removed studies in the backup, want 1", n)
	}
	// The older backup is put back while a page still shows revision 2.
	third := must[Kept](t)(s.Save(ctx, k.ID, 2, draft("B", "bb")))
	if _, err := b.Save(ctx, k.ID, third.Revision, draft("B", "bbb")); !errors.As(err, new(*ConflictError)) {
		t.Errorf("a base that the backup does not know gave %v", err)
	}
	if err := s.Backup(ctx, filepath.Join(dir, "none", "x")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("backup into no folder gave %v", err)
	}
	canceled, cancel := context.WithCancel(ctx)
	cancel()
	if err := s.Backup(canceled, filepath.Join(dir, "x")); !errors.Is(err, context.Canceled) {
		t.Errorf("a canceled backup gave %v", err)
	}
	if names, _ := filepath.Glob(filepath.Join(dir, ".*")); len(names) != 0 {
		t.Errorf("left behind: %v", names)
	}
}

func TestClosed(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.List(ctx); err == nil {
		t.Error("a closed store lists")
	}
	if err := s.Healthy(ctx); err == nil {
		t.Error("a closed store is healthy")
	}
	if err := s.Close(); err != nil {
		t.Errorf("closing twice gave %v", err)
	}
}
