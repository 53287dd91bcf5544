// Package target lists the systems that a release is made for.
package target

// Target is a system and a processor, by Go's names.
type Target struct{ OS, Arch string }

// All are the targets of a release.
var All = []Target{
	{"linux", "amd64"},
	{"linux", "arm64"},
	{"darwin", "amd64"},
	{"darwin", "arm64"},
	{"windows", "amd64"},
	{"windows", "arm64"},
}

// Name is the target as it stands in the names of files.
func (t Target) Name() string {
	if t.OS == "darwin" {
		return "macos-" + t.Arch
	}
	return t.OS + "-" + t.Arch
}
