package document

import (
	"strings"
	"unicode"
)

// FileName is the name of a document's file without its ending: kind, station and, where it
// is about one, the valve. The same document has the same name each time.
func (s *Dossier) FileName(k Kind) string {
	name := k.ID + "-" + Slug(s.Study.Station.Name)
	if !k.Compares {
		name += "-" + Slug(s.Assessment.Item.ID)
	}
	return name
}

// mostSlug bounds the parts of a file name, in characters.
const mostSlug = 60

// Slug makes a text a part of a file name: letters and digits of any script, dashes
// between them.
func Slug(s string) string {
	var b strings.Builder
	dash, n := false, 0
	for _, r := range strings.ToLower(strings.ToValidUTF8(s, "")) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			dash = b.Len() > 0
			continue
		}
		if n++; n > mostSlug {
			break
		}
		if dash {
			b.WriteByte('-')
			dash = false
		}
		b.WriteRune(r)
	}
	if b.Len() == 0 {
		return "station"
	}
	return b.String()
}
