// Package notices holds the licenses of what is linked into the program, as each of them
// demands of whoever passes the program on.
package notices

import _ "embed"

// The file is written from the modules that the program is built from, on every system that
// a release is made for. It is kept in the repository, so that every build has it, and held
// fresh by make fresh.
//
//go:generate go -C ../../tools run ./notices -out ../internal/notices/notices.txt
//go:embed notices.txt
var text string

// Text is the notices: for each license text, the modules that carry it, then the text.
func Text() string { return text }
