package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/goreleaser/nfpm/v2"
	"github.com/goreleaser/nfpm/v2/deb"
	"github.com/goreleaser/nfpm/v2/files"
)

const description = `check valves for pumping stations, chosen with reasons
Seatward answers which check valve to put on a pump's discharge, from one
description of the station: it solves the station with each valve of a catalog
in it, runs the pump stops, judges and ranks the valves, and says for every
number where it comes from. It writes the papers and serves a workbench.`

// debian writes the Debian package of a program.
func (r *release) debian(p program, pages []entry) error {
	all, err := r.installed(p, pages)
	if err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "seatward-debian-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	info := &nfpm.Info{
		Name: "seatward", Arch: p.target.Arch, Platform: "linux", Version: r.version, Section: "science",
		Priority:   "optional",
		Maintainer: "Seatward contributors <contributors@seatward.invalid>", Description: description,
		License: "Apache-2.0", MTime: r.made,
		DisableGlobbing: true,
	}
	for _, e := range all {
		source := filepath.Join(folder, strings.ReplaceAll(e.name, "/", "_"))
		if err := os.WriteFile(source, e.data, 0o644); err != nil {
			return err
		}
		info.Contents = append(info.Contents, &files.Content{
			Source: source, Destination: e.name,
			FileInfo: &files.ContentFileInfo{Owner: "root", Group: "root", Mode: e.mode, MTime: r.made},
		})
	}
	info = nfpm.WithDefaults(info)
	if err := nfpm.PrepareForPackager(info, "deb"); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := deb.Default.Package(info, &out); err != nil {
		return err
	}
	name := deb.Default.ConventionalFileName(info)
	r.log("packed %s", name)
	return os.WriteFile(filepath.Join(r.out, name), out.Bytes(), 0o644)
}

// places are where the shells of Debian look for completions.
var places = map[string]string{
	"seatward.bash": "/usr/share/bash-completion/completions/seatward",
	"_seatward":     "/usr/share/zsh/vendor-completions/_seatward",
	"seatward.fish": "/usr/share/fish/vendor_completions.d/seatward.fish",
}

// installed lists the files of a package where they are installed.
func (r *release) installed(p program, pages []entry) ([]entry, error) {
	texts, err := r.texts()
	if err != nil {
		return nil, err
	}
	out := []entry{{"/usr/bin/seatward", 0o755, p.data}}
	put := func(name string, data []byte) { out = append(out, entry{name, fs.FileMode(0o644), data}) }
	for _, e := range pages {
		base := path.Base(e.name)
		if to, ok := places[base]; ok {
			put(to, e.data)
		} else if strings.HasSuffix(base, ".1") {
			data, err2 := gzipped(e.data)
			err = errors.Join(err, err2)
			put("/usr/share/man/man1/"+base+".gz", data)
		}
	}
	const doc = "/usr/share/doc/seatward/"
	for _, e := range texts {
		switch e.name {
		case "LICENSE":
			put(doc+"copyright", e.data)
		case "CHANGELOG.md":
			data, err2 := gzipped(e.data)
			err = errors.Join(err, err2)
			put(doc+"changelog.gz", data)
		default:
			put(doc+e.name, e.data)
		}
	}
	return out, err
}
