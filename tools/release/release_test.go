package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	v1 "github.com/google/go-containerregistry/pkg/v1"
	"github.com/google/go-containerregistry/pkg/v1/layout"
	"github.com/google/go-containerregistry/pkg/v1/validate"

	"seatward/tools/target"
)

// sample is a release of small files, and a program for every target.
func sample(t *testing.T) (*release, []program, []entry) {
	t.Helper()
	r := &release{
		version: "1.2.3", revision: "abc", made: time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC),
		source: t.TempDir(), out: t.TempDir(), log: t.Logf,
	}
	for name, text := range map[string]string{
		"LICENSE": "license", "README.md": "read", "CHANGELOG.md": "changes", "internal/notices/notices.txt": "notices",
		"examples/a.station.yaml": "station: a",
	} {
		file := filepath.Join(r.source, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755),
			os.WriteFile(file, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	var programs []program
	for _, x := range target.All {
		programs = append(programs, program{target: x, data: []byte("program for " + x.Name())})
	}
	return r, programs, []entry{
		{"man/seatward.1", 0o644, []byte(".TH SEATWARD 1\n")},
		{"completions/seatward.bash", 0o644, []byte("complete\n")},
		{"completions/_seatward", 0o644, []byte("#compdef\n")},
	}
}

// packed makes everything that is packed, and reads it.
func packed(t *testing.T) map[string][]byte {
	t.Helper()
	r, programs, pages := sample(t)
	for _, p := range programs {
		if err := r.archive(p, pages); err != nil {
			t.Fatal(err)
		}
		if p.target.OS == "linux" {
			if err := r.debian(p, pages); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := errors.Join(r.image(programs), r.sums()); err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	names, err := os.ReadDir(r.out)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if out[n.Name()], err = os.ReadFile(filepath.Join(r.out, n.Name())); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// TestPackedTwice: the same files give the same bytes, in whatever folder, at whatever time.
func TestPackedTwice(t *testing.T) {
	one, two := packed(t), packed(t)
	if len(one) != 10 {
		t.Errorf("%d files, want 6 archives, 2 packages, an image and the checksums", len(one))
	}
	for name, data := range one {
		if !bytes.Equal(data, two[name]) {
			t.Errorf("%s is not the same twice", name)
		}
		if name != "SHA256SUMS" && !strings.Contains(string(one["SHA256SUMS"]), "  "+name+"\n") {
			t.Errorf("SHA256SUMS leaves out %s", name)
		}
	}
}

// untar gives the headers and the contents of an archive.
func untar(t *testing.T, r io.Reader) (map[string]*tar.Header, map[string]string) {
	t.Helper()
	heads, texts := map[string]*tar.Header{}, map[string]string{}
	for in := tar.NewReader(r); ; {
		h, err := in.Next()
		if errors.Is(err, io.EOF) {
			return heads, texts
		}
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		heads[h.Name], texts[h.Name] = h, string(data)
	}
}

func TestArchives(t *testing.T) {
	all := packed(t)
	z, err := gzip.NewReader(bytes.NewReader(all["seatward-1.2.3-macos-arm64.tar.gz"]))
	if err != nil {
		t.Fatal(err)
	}
	heads, texts := untar(t, z)
	if texts["seatward-1.2.3/seatward"] != "program for macos-arm64" || heads["seatward-1.2.3/seatward"].Mode != 0o755 {
		t.Errorf("the program is not in the archive as it should be: %v", heads)
	}
	for _, name := range []string{
		"LICENSE", "NOTICES.txt", "README.md", "man/seatward.1", "completions/_seatward",
		"examples/a.station.yaml",
	} {
		if texts["seatward-1.2.3/"+name] == "" {
			t.Errorf("%s is not in the archive", name)
		}
	}
	windows := all["seatward-1.2.3-windows-amd64.zip"]
	w, err := zip.NewReader(bytes.NewReader(windows), int64(len(windows)))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(w.File, func(f *zip.File) bool { return f.Name == "seatward-1.2.3/seatward.exe" }) {
		t.Error("the program is not in the archive for Windows")
	}
}

// TestImage reads the image back: it is whole, nobody's, and has nothing to run but the program.
func TestImage(t *testing.T) {
	folder := t.TempDir()
	_, texts := untar(t, bytes.NewReader(packed(t)["seatward-1.2.3-oci.tar"]))
	for name, text := range texts {
		file := filepath.Join(folder, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755),
			os.WriteFile(file, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	index, err := layout.ImageIndexFromPath(folder)
	if err != nil {
		t.Fatal(err)
	}
	if err := validate.Index(index); err != nil {
		t.Fatal(err)
	}
	top, err := index.IndexManifest()
	if err != nil {
		t.Fatal(err)
	}
	if len(top.Manifests) != 1 || top.Manifests[0].Annotations["org.opencontainers.image.ref.name"] != "1.2.3" {
		t.Fatalf("the layout holds %v", top.Manifests)
	}
	inner, err := index.ImageIndex(top.Manifests[0].Digest)
	if err != nil {
		t.Fatal(err)
	}
	list, err := inner.IndexManifest()
	if err != nil || len(list.Manifests) != 2 {
		t.Fatalf("%d images, %v", len(list.Manifests), err)
	}
	for _, m := range list.Manifests {
		image, err := inner.Image(m.Digest)
		if err != nil {
			t.Fatal(err)
		}
		holdsProgram(t, image, m.Platform)
	}
}

func holdsProgram(t *testing.T, image v1.Image, on *v1.Platform) {
	t.Helper()
	c, err := image.ConfigFile()
	if err != nil {
		t.Fatal(err)
	}
	if c.Config.User != "65532:65532" || !slices.Equal(c.Config.Entrypoint, []string{"/usr/bin/seatward"}) ||
		c.Architecture != on.Architecture || c.OS != "linux" {
		said, _ := json.Marshal(c)
		t.Errorf("the image for %v says %s", on, said)
	}
	layers, err := image.Layers()
	if err != nil || len(layers) != 1 {
		t.Fatalf("%d layers, %v", len(layers), err)
	}
	in, err := layers[0].Uncompressed()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	heads, texts := untar(t, in)
	for name, h := range heads {
		runs := h.Typeflag == tar.TypeReg && h.Mode&0o111 != 0
		if runs != (name == "usr/bin/seatward") {
			t.Errorf("%s can be run: %v", name, runs)
		}
	}
	if texts["usr/bin/seatward"] != "program for linux-"+on.Architecture {
		t.Errorf("the image for %v holds %q", on, texts["usr/bin/seatward"])
	}
	if heads["work/"].Uid != user {
		t.Error("the folder to work in is not the user's")
	}
}

// TestDiffer: a building that is not the same is found, whichever program it is.
func TestDiffer(t *testing.T) {
	_, one, _ := sample(t)
	_, two, _ := sample(t)
	if err := differ(one, two); err != nil {
		t.Error(err)
	}
	two[4].data = append(two[4].data, '!')
	if err := differ(one, two); err == nil || !strings.Contains(err.Error(), "windows-amd64 is not the same twice") {
		t.Errorf("a difference is not found: %v", err)
	}
	if differ(one, two[:3]) == nil {
		t.Error("missing programs are not found")
	}
}

func TestVersions(t *testing.T) {
	for v, good := range map[string]bool{
		"v0.2.0": true, "v10.20.30": true, "v0.2.0-rc.1": true, "v0.0.1-test": true,
		"": false, "0.2.0": false, "v0.2": false, "v0.2.0 -X": false, "v0.2.0-": false, "latest": false,
	} {
		if versions.MatchString(v) != good {
			t.Errorf("version %q: legal %v, want %v", v, !good, good)
		}
	}
}
