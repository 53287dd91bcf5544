//go:build unix

package store

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

const (
	droppedVariable = "SEATWARD_STORE_DROPPED"
	nobody          = 65534
)

// dropRoot gives up root, to whom every file is writable. It runs the test once more in a
// program of its own and reports whether the caller is to go on.
func dropRoot(t *testing.T) bool {
	t.Helper()
	if os.Getuid() != 0 {
		return true
	}
	if os.Getenv(droppedVariable) != "" {
		if err := errors.Join(syscall.Setgid(nobody), syscall.Setuid(nobody)); err != nil {
			t.Fatal(err)
		}
		return true
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, "-test.run=^"+t.Name()+"$", "-test.v")
	cmd.Env = append(os.Environ(), droppedVariable+"=1")
	if out, err := cmd.CombinedOutput(); err != nil || !bytes.Contains(out, []byte("--- PASS: "+t.Name())) {
		t.Errorf("as nobody: %v\n%s", err, out)
	}
	return false
}

func TestNotWritable(t *testing.T) {
	if !dropRoot(t) {
		return
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "kept.db")
	s := mustOpen(t, path)
	must[Kept](t)(s.Create(context.Background(), draft("A", "a")))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name         string
		file, folder os.FileMode
		open         string
	}{
		{"read-only file", 0o444, 0o755, path},
		{"read-only folder", 0o644, 0o555, path},
		{"both", 0o444, 0o555, path},
		{"unreadable file", 0o000, 0o755, path},
		{"new file in a read-only folder", 0o644, 0o555, filepath.Join(dir, "new.db")},
	} {
		if err := errors.Join(os.Chmod(path, tt.file), os.Chmod(dir, tt.folder)); err != nil {
			t.Fatal(err)
		}
		_, err := Open(tt.open)
		if !errors.Is(err, ErrNotWritable) || !strings.Contains(err.Error(), tt.open) {
			t.Errorf("%s: gave %v", tt.name, err)
		}
		if err := errors.Join(os.Chmod(dir, 0o755), os.Chmod(path, 0o644)); err != nil {
			t.Fatal(err)
		}
		if n := len(must[[]os.DirEntry](t)(os.ReadDir(dir))); n != 1 {
			t.Errorf("%s: %d files in the folder, want the store alone", tt.name, n)
		}
	}
	if n := len(must[[]Kept](t)(mustOpen(t, path).List(context.Background()))); n != 1 {
		t.Errorf("%d studies once it is writable again, want 1", n)
	}
}

func TestNoRegularFile(t *testing.T) {
	fifo := filepath.Join(t.TempDir(), "fifo")
	if err := syscall.Mkfifo(fifo, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{fifo, "/dev/null"} {
		if _, err := Open(path); !errors.Is(err, ErrNotAStore) || !strings.Contains(err.Error(), "no regular file") {
			t.Errorf("%s gave %v", path, err)
		}
	}
}
