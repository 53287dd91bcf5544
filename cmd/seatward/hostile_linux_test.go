package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestOddInputs: what is no plain file, or without end, is refused with a word and the code
// of bad input; a disk that is full is none of the input's fault.
func TestOddInputs(t *testing.T) {
	t.Chdir("../..")
	dir := t.TempDir()
	const station = "examples/first-call.station.yaml"
	endless := filepath.Join(dir, "endless.yaml")
	profile := filepath.Join(dir, "profile.yaml")
	long := filepath.Join(dir, "clause.txt")
	pipe := filepath.Join(dir, "pipe")
	for _, err := range []error{
		os.Symlink("/dev/zero", endless),
		os.WriteFile(profile, []byte("logo: endless.yaml\n"), 0o644),
		os.WriteFile(long, []byte(strings.Repeat("A. AWWA C508\n", 3000)), 0o644),
		syscall.Mkfifo(pipe, 0o644),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for line, want := range map[string]string{
		"seatward select " + endless: "file-too-large",
		"seatward select " + dir:     "is a directory",
		"seatward select " + pipe:    "nobody writes into",
		"seatward write datasheet " + station +
			" --quick --profile ''": "--profile is empty",
		"seatward write datasheet " + station + " --quick --profile " +
			profile: "the logo is too large",
		"seatward standards swing/6in --text " + long: "clause-too-long",
		"seatward new -o " + filepath.Join(dir, "nowhere",
			"x.yaml"): "its folder is not there",
		"seatward catalog export catalog/demo/swing.yaml -o " + filepath.Join(dir, "nowhere",
			"x"): "its folder is not there",
	} {
		if out, errOut, code := called(t, line); code != badInput || out != "" || !strings.Contains(errOut, want) {
			t.Errorf("%s\ncode %d, %q, %.300s\nwant %s", line, code, out, errOut, want)
		}
	}
	// /proc takes no file, whoever asks.
	for _, line := range []string{
		"seatward new -o /proc/seatward.yaml",
		"seatward catalog export catalog/demo/swing.yaml -o /proc/seatward",
	} {
		if _, errOut, code := called(t, line); code == answered || !strings.Contains(errOut, "cannot be written") {
			t.Errorf("%s: code %d, %s", line, code, errOut)
		}
	}
}

// TestFullDisk: what the disk refuses is reported as that, with the code of no answer.
func TestFullDisk(t *testing.T) {
	err := unwritable("x.yaml", &os.PathError{Op: "write", Path: "/tmp/.seatward-1", Err: syscall.ENOSPC})
	var said strings.Builder
	a := &app{err: &said}
	if code := a.report(err); code != noAnswer ||
		said.String() != "seatward: x.yaml cannot be written: no space left on device\n" {
		t.Errorf("code %d, %s", code, said.String())
	}
}
