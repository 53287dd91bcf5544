// Command release makes what is handed out of a version: the program for every target as an
// archive, Debian packages, a container image, the bill of materials and the checksums. The
// same commit gives the same bytes, wherever and whenever it is built: the program is built
// twice, in two folders and with two caches, and held against itself.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
)

func main() {
	version := flag.String("version", "", "version, such as v0.2.0")
	out := flag.String("out", "", "folder to write")
	once := flag.Bool("once", false, "build once: do not check that the bytes are the same twice")
	flag.Parse()
	if err := run(*version, *out, *once); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

// release is what is known of the version that is made.
type release struct {
	version  string // without the v
	revision string // commit
	made     time.Time
	source   string // folder with the files of the commit
	out      string
	log      func(format string, args ...any)
}

// versions is the form of a version: vMAJOR.MINOR.PATCH, and a word for a trial.
var versions = regexp.MustCompile(`^v[0-9]+\.[0-9]+\.[0-9]+(-[0-9A-Za-z.]+)?$`)

func run(version, out string, once bool) error {
	if !versions.MatchString(version) {
		return fmt.Errorf("version %q: expected a form such as v0.2.0 or v0.2.0-rc.1", version)
	}
	if _, err := os.Stat(out); err == nil {
		return fmt.Errorf("%s exists already: remove it first", out)
	}
	root, err := command("", "git", "rev-parse", "--show-toplevel")
	if err != nil {
		return err
	}
	if changed, err := command(root, "git", "status", "--porcelain"); err != nil || changed != "" {
		return errors.Join(err, fmt.Errorf("a release is made from what is committed; commit or put away first:\n%s",
			changed))
	}
	temp, err := os.MkdirTemp("", "seatward-release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(temp)
	start := time.Now()
	r := &release{
		version: strings.TrimPrefix(version, "v"), source: filepath.Join(temp, "one"),
		out: filepath.Join(temp, "out"),
	}
	r.log = func(format string, args ...any) {
		fmt.Printf("%6.0f s  %s\n", time.Since(start).Seconds(), fmt.Sprintf(format, args...))
	}
	if err := r.read(root); err != nil {
		return err
	}
	if err := r.make(root, temp, once); err != nil {
		return err
	}
	return place(r.out, out)
}

// read notes the commit, and lays its files out.
func (r *release) read(root string) error {
	var err error
	if r.revision, err = command(root, "git", "rev-parse", "HEAD"); err != nil {
		return err
	}
	seconds, err := command(root, "git", "log", "-1", "--format=%ct")
	if err != nil {
		return err
	}
	n, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil {
		return err
	}
	r.made = time.Unix(n, 0).UTC()
	return errors.Join(os.MkdirAll(r.out, 0o755), r.export(root, r.source))
}

// make builds, checks and packs.
func (r *release) make(root, temp string, once bool) error {
	programs, err := r.build(r.source, "")
	if err != nil {
		return err
	}
	if !once {
		second := filepath.Join(temp, "a second folder", "deeper")
		if err := r.export(root, second); err != nil {
			return err
		}
		if err := r.same(programs, second); err != nil {
			return err
		}
	}
	pages, err := r.pages(programs, temp)
	if err != nil {
		return err
	}
	if err := r.tag(); err != nil {
		return err
	}
	for _, p := range programs {
		if err := errors.Join(r.archive(p, pages), r.bill(root, p)); err != nil {
			return err
		}
		if p.target.OS == "linux" {
			if err := r.debian(p, pages); err != nil {
				return err
			}
		}
	}
	return errors.Join(r.image(programs), r.sums())
}

// tag makes the laid out files a repository of one commit with the version as its tag: the
// tool for the bill of materials takes the version from there alone.
func (r *release) tag() error {
	const who = "release"
	_, err := command(r.source, "git", "init", "-q")
	if err == nil {
		_, err = command(r.source, "git", "-c", "user.name="+who, "-c", "user.email="+who, "commit", "-q",
			"--allow-empty", "-m", r.version)
	}
	if err == nil {
		_, err = command(r.source, "git", "tag", "v"+r.version)
	}
	return err
}

// export lays out the files of the commit in a folder.
func (r *release) export(root, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	archive := folder + ".tar"
	if _, err := command(root, "git", "archive", "-o", archive, "HEAD"); err != nil {
		return err
	}
	_, err := command(folder, "tar", "-xf", archive)
	return err
}

// place moves the finished folder to where it was asked for, across file systems too.
func place(from, to string) error {
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return err
	}
	beside := to + ".part"
	if err := errors.Join(os.RemoveAll(beside), os.CopyFS(beside, os.DirFS(from))); err != nil {
		return errors.Join(err, os.RemoveAll(beside))
	}
	return os.Rename(beside, to)
}

// command runs a program in a folder and gives what it prints, without blanks around it.
func command(folder, name string, args ...string) (string, error) {
	return withEnv(nil, folder, name, args...)
}

// withEnv is command with more environment.
func withEnv(env []string, folder, name string, args ...string) (string, error) {
	var errOut bytes.Buffer
	c := exec.Command(name, args...)
	c.Dir, c.Stderr, c.Env = folder, &errOut, append(os.Environ(), env...)
	out, err := c.Output()
	if err != nil {
		return "", fmt.Errorf("%s: %w\n%s", c, err, errOut.Bytes())
	}
	return strings.TrimSpace(string(out)), nil
}
