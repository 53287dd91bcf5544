// Package examples holds the example station files of the demonstration town.
package examples

import (
	"embed"
	"io/fs"
	"path"
	"strings"
)

//go:embed *.station.yaml
var files embed.FS

// ending is that of station files.
const ending = ".station.yaml"

// Station is an example station file.
type Station struct {
	ID   string // name of the file without its ending
	Name string // of the file
	Data []byte
}

// Stations lists the example station files in the order of their names.
func Stations() []Station {
	names, _ := fs.Glob(files, "*"+ending) // the pattern is well formed
	var out []Station
	for _, name := range names {
		data, _ := files.ReadFile(name) // it was just listed, and is in memory
		out = append(out, Station{strings.TrimSuffix(path.Base(name), ending), name, data})
	}
	return out
}
