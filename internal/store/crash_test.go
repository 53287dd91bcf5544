package store

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// victimVariable names the file that the program to be killed saves into.
const victimVariable = "SEATWARD_STORE_VICTIM"

// victim saves as fast as it can and prints each revision once it is acknowledged.
func victim(path string) int {
	s, err := Open(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	ctx := context.Background()
	k, err := s.Create(ctx, draft("victim", ""))
	for n := 0; err == nil; n++ {
		fmt.Println(k.ID, k.Revision, k.Hash)
		text := strings.Repeat(fmt.Sprintf("%s %d\n", k.ID, n), 1+n%7*3000)
		k, err = s.Save(ctx, k.ID, k.Revision, draft("victim", text))
	}
	fmt.Fprintln(os.Stderr, err)
	return 1
}

// killAfter runs a victim on path, kills it while it saves after it has acknowledged n
// revisions, and returns all that it has acknowledged.
func killAfter(t *testing.T, path string, n int) []string {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var complaints strings.Builder
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), victimVariable+"="+path)
	cmd.Stderr = &complaints
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var acknowledged []string
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		acknowledged = append(acknowledged, lines.Text())
		if len(acknowledged) == n {
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if cmd.Wait() == nil || complaints.Len() > 0 || len(acknowledged) < n {
		t.Fatalf("the victim was not killed while saving: %d acknowledged, it says %q", len(acknowledged),
			complaints.String())
	}
	return acknowledged
}

func TestKilledWhileSaving(t *testing.T) {
	path, ctx := filepath.Join(t.TempDir(), "kept.db"), context.Background()
	var acknowledged []string
	for round := range 12 {
		acknowledged = append(acknowledged, killAfter(t, path, 1+round*3)...)
		s := mustOpen(t, path)
		holdTo(ctx, t, s, acknowledged)
		wholeFile(t, s.read)
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}

// holdTo holds the store to the revisions that victims have acknowledged.
func holdTo(ctx context.Context, t *testing.T, s *Store, acknowledged []string) {
	t.Helper()
	last := map[string]int{}
	for _, line := range acknowledged {
		var id, sum string
		var number int
		if _, err := fmt.Sscan(line, &id, &number, &sum); err != nil {
			t.Fatal(err)
		}
		if k, err := s.Revision(ctx, id, number); err != nil || k.Hash != sum {
			t.Errorf("revision %d of %s was acknowledged and reads %q, %v", number, id, k.Hash, err)
		}
		last[id] = number
	}
	for id, number := range last {
		if all := must[[]Kept](t)(s.Revisions(ctx, id)); len(all) > number+1 {
			t.Errorf("%d revisions of %s, want at most one beyond the %d acknowledged", len(all), id, number)
		}
	}
}

// One of two programs on a file is killed while both save: the other goes on, and neither
// loses what was acknowledged to it.
func TestTheOtherProgramIsKilled(t *testing.T) {
	s, ctx := newStore(t), context.Background()
	k := must[Kept](t)(s.Create(ctx, draft("A", "")))
	stop, done := make(chan struct{}), make(chan int)
	go func() {
		base := k.Revision
		defer func() { done <- base }()
		for {
			select {
			case <-stop:
				return
			case <-time.After(3 * time.Millisecond): // SQLite gives the file to whoever asks first: without a pause the other waits in vain
			}
			next, err := s.Save(ctx, k.ID, base, draft("A", fmt.Sprint(base)))
			if err != nil {
				t.Error(err)
				return
			}
			base = next.Revision
		}
	}()
	var acknowledged []string
	for round := range 4 {
		acknowledged = append(acknowledged, killAfter(t, s.path, 3+round*5)...)
	}
	close(stop)
	last := <-done
	holdTo(ctx, t, s, acknowledged)
	if n := len(must[[]Kept](t)(s.Revisions(ctx, k.ID))); n != last || last < 2 {
		t.Errorf("%d revisions, %d acknowledged", n, last)
	}
	wholeFile(t, s.read)
}

// A program was stopped, by a kill or a full disk, while it folded the log into the file: page 1
// is new there and the others are in the log alone.
func TestStoppedWhileFoldingTheLog(t *testing.T) {
	path, ctx := filepath.Join(t.TempDir(), "kept.db"), context.Background()
	s := mustOpen(t, path)
	k := must[Kept](t)(s.Create(ctx, draft("A", strings.Repeat("a", 100_000))))
	log := must[[]byte](t)(os.ReadFile(path + "-wal"))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	folded := must[[]byte](t)(os.ReadFile(path))
	for _, pages := range []int{1, 2, 7} {
		stopped := filepath.Join(t.TempDir(), "kept.db")
		writeFile(t, stopped, string(folded[:pages*4096]))
		writeFile(t, stopped+"-wal", string(log))
		again := mustOpen(t, stopped)
		if got := must[Kept](t)(again.Get(ctx, k.ID)); got != k {
			t.Errorf("stopped after %d pages: revision %d reads otherwise", pages, got.Revision)
		}
		wholeFile(t, again.read)
	}
}

// wholeFile has SQLite check its file.
func wholeFile(t *testing.T, db *sql.DB) {
	t.Helper()
	var verdict string
	if err := db.QueryRow("PRAGMA integrity_check").Scan(&verdict); err != nil || verdict != "ok" {
		t.Errorf("integrity: %s %v", verdict, err)
	}
	var loose int
	if err := db.QueryRow("SELECT count(*) FROM pragma_foreign_key_check").Scan(&loose); err != nil || loose != 0 {
		t.Errorf("%d references lead nowhere (%v)", loose, err)
	}
}
