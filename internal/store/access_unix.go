//go:build unix

package store

import "golang.org/x/sys/unix"

// access asks the system whether this program may read and write the file at path and make
// files in the folder of it. SQLite itself would open a read-only file and leave a read-only
// log beside it, which then stands in the way when the file can be written again. An empty
// path stands for no file.
func access(path, folder string) error {
	if path != "" {
		if err := unix.Access(path, unix.R_OK|unix.W_OK); err != nil {
			return err
		}
	}
	return unix.Access(folder, unix.R_OK|unix.W_OK|unix.X_OK)
}
