package main

import (
	"bytes"
	"io"
	"os"
	"path"
	"path/filepath"
	"strconv"

	v1 "github.com/google/go-containerregistry/pkg/v1"
	"github.com/google/go-containerregistry/pkg/v1/empty"
	"github.com/google/go-containerregistry/pkg/v1/layout"
	"github.com/google/go-containerregistry/pkg/v1/mutate"
	"github.com/google/go-containerregistry/pkg/v1/tarball"
	"github.com/google/go-containerregistry/pkg/v1/types"
)

// user runs the program in a container: nobody of the host, and not root.
const user = 65532

// workFolder is where the program starts in a container, and the one place where it may write.
const workFolder = "work/"

// image writes the container image of the Linux programs: an OCI layout in one file. There
// is nothing in it but the program and the licenses, so there is no shell.
func (r *release) image(programs []program) error {
	index := mutate.IndexMediaType(empty.Index, types.OCIImageIndex)
	for _, p := range programs {
		if p.target.OS != "linux" {
			continue
		}
		image, err := r.imageOf(p)
		if err != nil {
			return err
		}
		index = mutate.AppendManifests(index, mutate.IndexAddendum{
			Add: image, Descriptor: v1.Descriptor{Platform: &v1.Platform{OS: p.target.OS, Architecture: p.target.Arch}},
		})
	}
	folder, err := os.MkdirTemp("", "seatward-image-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	at, err := layout.Write(folder, empty.Index)
	if err != nil {
		return err
	}
	if err := at.AppendIndex(index,
		layout.WithAnnotations(map[string]string{"org.opencontainers.image.ref.name": r.version})); err != nil {
		return err
	}
	all, err := tree(folder)
	if err != nil {
		return err
	}
	data, err := tarred(all, r.made)
	if err != nil {
		return err
	}
	name := "seatward-" + r.version + "-oci.tar"
	r.log("packed %s", name)
	return os.WriteFile(filepath.Join(r.out, name), data, 0o644)
}

// tree reads a folder with all below it.
func tree(folder string) ([]entry, error) {
	var out []entry
	err := filepath.WalkDir(folder, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(folder, name)
		out = append(out, entry{filepath.ToSlash(rel), 0o644, data})
		return err
	})
	return out, err
}

// imageOf is the image of one program.
func (r *release) imageOf(p program) (v1.Image, error) {
	texts, err := r.texts()
	if err != nil {
		return nil, err
	}
	entries := []entry{{"usr/bin/seatward", 0o755, p.data}, {workFolder, 0o755, nil}, {"tmp/", 0o1777, nil}}
	for _, e := range texts {
		if e.name == "LICENSE" || e.name == "NOTICES.txt" {
			entries = append(entries, entry{path.Join("usr/share/doc/seatward", e.name), e.mode, e.data})
		}
	}
	data, err := tarred(entries, r.made)
	if err != nil {
		return nil, err
	}
	layer, err := tarball.LayerFromOpener(func() (io.ReadCloser,
		error,
	) {
		return io.NopCloser(bytes.NewReader(data)), nil
	},
		tarball.WithMediaType(types.OCILayer))
	if err != nil {
		return nil, err
	}
	image := mutate.ConfigMediaType(mutate.MediaType(empty.Image, types.OCIManifestSchema1), types.OCIConfigJSON)
	if image, err = mutate.Append(image,
		mutate.Addendum{Layer: layer, History: v1.History{
			Created:   v1.Time{Time: r.made},
			CreatedBy: "tools/release",
		}}); err != nil {
		return nil, err
	}
	config, err := image.ConfigFile()
	if err != nil {
		return nil, err
	}
	return mutate.ConfigFile(image, r.config(p, config.DeepCopy()))
}

// config completes the configuration: who runs what, and from which commit.
func (r *release) config(p program, config *v1.ConfigFile) *v1.ConfigFile {
	config.OS, config.Architecture, config.Created, config.Author = p.target.OS, p.target.Arch, v1.Time{Time: r.made}, "Seatward contributors"
	who := strconv.Itoa(user)
	config.Config = v1.Config{
		User: who + ":" + who, WorkingDir: "/" + workFolder, Entrypoint: []string{"/usr/bin/seatward"},
		Cmd: []string{"--help"},
		Labels: map[string]string{
			"org.opencontainers.image.title": "Seatward", "org.opencontainers.image.version": r.version,
			"org.opencontainers.image.revision": r.revision, "org.opencontainers.image.licenses": "Apache-2.0",
		},
	}
	return config
}
