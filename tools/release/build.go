package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"seatward/tools/target"
)

// program is the program built for one target.
type program struct {
	target target.Target
	path   string
	data   []byte
}

// name is the program's file.
func (p program) name() string {
	if p.target.OS == "windows" {
		return "seatward.exe"
	}
	return "seatward"
}

// build builds the program for every target from a folder of source, with a build cache of
// its own where one is given.
func (r *release) build(source, cache string) ([]program, error) {
	var out []program
	for _, t := range target.All {
		p, err := r.buildFor(t, source, cache)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

func (r *release) buildFor(t target.Target, source, cache string) (program, error) {
	p := program{target: t}
	p.path = filepath.Join(source, "bin", t.Name(), p.name())
	env := []string{
		"GOOS=" + t.OS, "GOARCH=" + t.Arch, "CGO_ENABLED=0", "GOFLAGS=", "GOWORK=off", "GOAMD64=v1",
		"GOARM64=v8.0",
	}
	if cache != "" {
		env = append(env, "GOCACHE="+cache)
	}
	const of = "-X seatward/internal/program."
	link := "-s -w -buildid= " + of + "version=" + r.version + " " + of + "revision=" + r.revision
	if _, err := withEnv(env, source, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags", link, "-o", p.path,
		"./cmd/seatward"); err != nil {
		return p, err
	}
	var err error
	if p.data, err = os.ReadFile(p.path); err != nil {
		return p, err
	}
	r.log("built for %s, %d MB", t.Name(), len(p.data)>>20)
	return p, nil
}

// same builds again in another folder with an empty cache, and compares the bytes.
func (r *release) same(programs []program, source string) error {
	cache, err := os.MkdirTemp("", "seatward-cache-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(cache)
	again, err := r.build(source, cache)
	if err != nil {
		return err
	}
	if err := differ(programs, again); err != nil {
		return err
	}
	r.log("the second building gave the same bytes")
	return nil
}

// differ says which programs are not the same in two buildings.
func differ(one, two []program) error {
	if len(one) != len(two) {
		return fmt.Errorf("%d programs were built at first, and %d at second", len(one), len(two))
	}
	var list []error
	for i, p := range one {
		if q := two[i]; p.target != q.target || !bytes.Equal(p.data, q.data) {
			list = append(list, fmt.Errorf("%s is not the same twice: %x, then %s %x", p.target.Name(),
				sha256.Sum256(p.data), q.target.Name(), sha256.Sum256(q.data)))
		}
	}
	return errors.Join(list...)
}

// shells are the completions: what the shell is called, and the name that its file has.
var shells = [][2]string{
	{"bash", "seatward.bash"},
	{"zsh", "_seatward"},
	{"fish", "seatward.fish"},
	{"powershell", "seatward.ps1"},
}

// pages has the program itself write manual pages and completions: man/, completions/.
func (r *release) pages(programs []program, temp string) ([]entry, error) {
	i := slices.IndexFunc(programs,
		func(p program) bool { return p.target == target.Target{OS: runtime.GOOS, Arch: runtime.GOARCH} })
	if i < 0 {
		return nil, fmt.Errorf("a release is not made on %s/%s: none of its programs runs here", runtime.GOOS,
			runtime.GOARCH)
	}
	if said, err := command("", programs[i].path, "--version"); err != nil || said != "seatward "+r.version {
		return nil, errors.Join(err, fmt.Errorf("the program says that it is %q, not seatward %s", said, r.version))
	}
	folder := filepath.Join(temp, "man")
	if _, err := command("", programs[i].path, "manual", "-o", folder); err != nil {
		return nil, err
	}
	out, err := read(folder, "man", "*.1")
	if err != nil {
		return nil, err
	}
	for _, s := range shells {
		text, err := command("", programs[i].path, "completion", s[0])
		if err != nil {
			return nil, err
		}
		out = append(out, entry{"completions/" + s[1], 0o644, []byte(text + "\n")})
	}
	return out, nil
}

// bill writes the bill of materials of a program: the modules and the Go release in it.
func (r *release) bill(root string, p program) error {
	name := filepath.Join(r.out, r.file(p.target)+".cdx.json")
	// The tool runs here, not on the target, so it is built before.
	tool, err := command(root, "go", "tool", "-modfile=tools/go.mod", "-n", "cyclonedx-gomod")
	if err != nil {
		return err
	}
	env := []string{"GOOS=" + p.target.OS, "GOARCH=" + p.target.Arch, "CGO_ENABLED=0"}
	_, err = withEnv(env, r.source, tool, "app", "-json", "-licenses", "-assert-licenses", "-std", "-noserial",
		"-notimestamp",
		"-main", "cmd/seatward", "-output", name, ".")
	return err
}

// file is the name that what is made for a target begins with.
func (r *release) file(t target.Target) string {
	return strings.Join([]string{"seatward", r.version, t.Name()}, "-")
}
