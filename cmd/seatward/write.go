package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// write makes a new file in one step: it is there whole or not at all. A file that
// exists stays as it is.
func write(name string, data []byte) error {
	if _, err := os.Lstat(name); err == nil {
		return fmt.Errorf("%s exists already; choose another name, or remove it first", name)
	}
	return replace(name, data)
}

// replace writes a file in one step, over one that exists.
func replace(name string, data []byte) error {
	temp, err := os.CreateTemp(filepath.Dir(name), ".seatward-*")
	if err != nil {
		return unwritable(name, err)
	}
	defer os.Remove(temp.Name())
	_, err = temp.Write(data)
	if err := errors.Join(err, temp.Chmod(0o644), temp.Sync(), temp.Close()); err != nil {
		return unwritable(name, err)
	}
	if err := os.Rename(temp.Name(), name); err != nil {
		return unwritable(name, err)
	}
	return nil
}

func unwritable(name string, err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return fmt.Errorf("%s cannot be written: its folder is not there; mend the name, or make the folder first",
			name)
	}
	return fmt.Errorf("%s %w: %w", name, errUnwritable, err)
}

// printJSON prints the machine form.
func (a *app) printJSON(v any) error {
	e := json.NewEncoder(&a.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
