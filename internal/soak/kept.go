package soak

import (
	"embed"
	"path"
	"strings"
)

//go:embed testdata/broke/*.yaml
var files embed.FS

const folder = "testdata/broke"

// kept are the names of the stations that once broke the answer.
func kept() ([]string, error) {
	entries, err := files.ReadDir(folder)
	var out []string
	for _, e := range entries {
		out = append(out, strings.TrimSuffix(e.Name(), ".yaml"))
	}
	return out, err
}

// keptText is the file of one of them.
func keptText(name string) (string, error) {
	data, err := files.ReadFile(path.Join(folder, name+".yaml"))
	return string(data), err
}
