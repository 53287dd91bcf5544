//go:build !unix

package store

import (
	"io/fs"
	"os"
)

// access looks at the mark on the file that says read-only; what else may bar this program,
// the first write tells. An empty path stands for no file.
func access(path, _ string) error {
	if path == "" {
		return nil
	}
	info, err := os.Stat(path)
	if err == nil && info.Mode().Perm()&0o200 == 0 {
		return fs.ErrPermission
	}
	return err
}
