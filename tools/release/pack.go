package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// entry is a file or, with a name that ends in a slash, a folder that is packed.
type entry struct {
	name string
	mode fs.FileMode
	data []byte
}

// read reads the files of a folder that match.
func read(folder, as, pattern string) ([]entry, error) {
	names, err := filepath.Glob(filepath.Join(folder, pattern))
	if err != nil || len(names) == 0 {
		return nil, errors.Join(err, fmt.Errorf("no %s in %s", pattern, folder))
	}
	var out []entry
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		out = append(out, entry{path.Join(as, filepath.Base(name)), 0o644, data})
	}
	return out, nil
}

// texts are the files of the source that go into every package.
func (r *release) texts() ([]entry, error) {
	out, err := read(filepath.Join(r.source, "examples"), "examples", "*.yaml")
	if err != nil {
		return nil, err
	}
	for _, f := range [][2]string{
		{"LICENSE", "LICENSE"},
		{"internal/notices/notices.txt", "NOTICES.txt"},
		{"README.md", "README.md"},
		{"CHANGELOG.md", "CHANGELOG.md"},
	} {
		data, err := os.ReadFile(filepath.Join(r.source, f[0]))
		if err != nil {
			return nil, err
		}
		out = append(out, entry{f[1], 0o644, data})
	}
	return out, nil
}

// archive packs a program with its texts, manual pages and completions: a .tar.gz, or for
// Windows a .zip.
func (r *release) archive(p program, pages []entry) error {
	texts, err := r.texts()
	if err != nil {
		return err
	}
	all := slices.Concat([]entry{{p.name(), 0o755, p.data}}, texts, pages)
	top := "seatward-" + r.version
	for i := range all {
		all[i].name = path.Join(top, all[i].name)
	}
	name, pack := r.file(p.target)+".tar.gz", tarGz
	if p.target.OS == "windows" {
		name, pack = r.file(p.target)+".zip", zipped
	}
	data, err := pack(all, r.made)
	if err != nil {
		return err
	}
	r.log("packed %s", name)
	return os.WriteFile(filepath.Join(r.out, name), data, 0o644)
}

// tarred packs entries so that the same entries give the same bytes.
func tarred(entries []entry, made time.Time) ([]byte, error) {
	var out bytes.Buffer
	w := tar.NewWriter(&out)
	for _, e := range sorted(entries) {
		h := &tar.Header{
			Typeflag: tar.TypeReg, Name: e.name, Mode: int64(e.mode), Size: int64(len(e.data)),
			ModTime: made, Format: tar.FormatUSTAR,
		}
		if strings.HasSuffix(e.name, "/") {
			h.Typeflag = tar.TypeDir
		}
		if strings.HasPrefix(e.name, workFolder) {
			h.Uid, h.Gid = user, user
		}
		if err := w.WriteHeader(h); err != nil {
			return nil, err
		}
		if _, err := w.Write(e.data); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

func tarGz(entries []entry, made time.Time) ([]byte, error) {
	data, err := tarred(entries, made)
	if err != nil {
		return nil, err
	}
	return gzipped(data)
}

func gzipped(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	_, err = w.Write(data)
	err = errors.Join(err, w.Close())
	return out.Bytes(), err
}

func zipped(entries []entry, made time.Time) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, e := range sorted(entries) {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate, Modified: made}
		h.SetMode(e.mode)
		f, err := w.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(e.data); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

func sorted(entries []entry) []entry {
	out := slices.Clone(entries)
	slices.SortFunc(out, func(a, b entry) int { return strings.Compare(a.name, b.name) })
	return out
}

// sums writes SHA256SUMS of everything that is there.
func (r *release) sums() error {
	names, err := os.ReadDir(r.out)
	if err != nil {
		return err
	}
	var text strings.Builder
	for _, n := range names {
		sum, err := sumOf(filepath.Join(r.out, n.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&text, "%x  %s\n", sum, n.Name())
	}
	r.log("%d files, with their checksums", len(names)+1)
	return os.WriteFile(filepath.Join(r.out, "SHA256SUMS"), []byte(text.String()), 0o644)
}

func sumOf(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return h.Sum(nil), err
}
