// Package program knows which build of the program is running: what papers, answers for
// machines and records of a calculation name.
package program

import (
	"runtime/debug"
	"strings"
)

// Name is how the program is called.
const Name = "seatward"

// version and revision are set by the linker in a release (tools/release).
var version, revision string

// Program names the program in an answer for machines.
type Program struct {
	Name    string `json:"name" jsonschema_description:"Name of the program"`
	Version string `json:"version" jsonschema_description:"Its version; devel for a build that is not a release"`
}

// This is the program that is running.
func This() Program { return Program{Name, Version()} }

// Title names the program and its version in papers.
func Title() string { return "Seatward " + Version() }

// Version is that of the release, without the v of its tag. A build that is not a release
// has what Go recorded of the work tree, or is called devel: a test has no work tree
// recorded, so what it writes does not change from commit to commit.
func Version() string {
	info, _ := debug.ReadBuildInfo()
	return named(version, info)
}

// Revision is the commit that the program was built from, empty where that is not recorded.
func Revision() string {
	info, _ := debug.ReadBuildInfo()
	return committed(revision, info)
}

func named(linked string, info *debug.BuildInfo) string {
	switch {
	case linked != "":
		return linked
	case info != nil && info.Main.Version != "" && info.Main.Version != "(devel)":
		return strings.TrimPrefix(info.Main.Version, "v")
	}
	return "devel"
}

func committed(linked string, info *debug.BuildInfo) string {
	if linked != "" || info == nil {
		return linked
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			return s.Value
		}
	}
	return ""
}
