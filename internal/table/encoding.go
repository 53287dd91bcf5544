package table

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf "golang.org/x/text/encoding/unicode"

	"seatward/diag"
)

const (
	markUTF8 = "\ufeff"
	bigUTF16 = "\xfe\xff"
	litUTF16 = "\xff\xfe"
)

// decode gives the text of a CSV file with plain newlines. It reports false when the
// file is no text, and has told so.
func (r *reader) decode(data []byte) (string, bool) {
	switch r.options.Encoding {
	case "", "utf-8", "latin-1":
	default:
		r.fault(diag.Message{
			ID: "encoding-unknown", Text: "unknown encoding", Found: r.options.Encoding,
			Expected: "utf-8 or latin-1", Mend: "name one of these, or none",
		})
		return "", false
	}
	// A byte-order mark is surer than what anyone says about the file.
	if hasPrefix(data, bigUTF16) || hasPrefix(data, litUTF16) {
		text, ok := r.convert(data, utf.UTF16(utf.BigEndian, utf.ExpectBOM))
		return text, ok && r.plain(text)
	}
	marked := hasPrefix(data, markUTF8)
	data = bytes.TrimPrefix(data, []byte(markUTF8))
	if r.options.Encoding != "latin-1" || marked {
		at := invalid(data)
		if at < 0 {
			text := breaks(string(data))
			return text, r.plain(text)
		}
		if marked || r.options.Encoding == "utf-8" {
			r.fault(diag.Message{
				ID: "encoding-wrong", Place: position(string(data), at), Text: "the text is not UTF-8",
				Found: fmt.Sprintf("byte %#x", data[at]), Expected: "UTF-8", Mend: "save the file as CSV UTF-8",
			})
			return "", false
		}
		text, ok := r.convert(data, charmap.Windows1252)
		if !ok || !r.plain(text) {
			return "", false
		}
		r.fault(diag.Message{
			ID: "encoding-guessed", Severity: diag.Warning, Place: position(string(data), at),
			Text:     "the text is not UTF-8: it is read as Latin-1 (Windows-1252)",
			Found:    fmt.Sprintf("byte %#x", data[at]),
			Expected: "UTF-8", Mend: "check the letters with accents, or save the file as CSV UTF-8",
		})
		return text, true
	}
	text, ok := r.convert(data, charmap.Windows1252)
	return text, ok && r.plain(text)
}

func (r *reader) convert(data []byte, e encoding.Encoding) (string, bool) {
	out, err := e.NewDecoder().Bytes(data)
	if err != nil {
		r.fault(diag.Message{
			ID: "encoding-wrong", Text: "the text cannot be decoded: " + err.Error(),
			Mend: "save the file as CSV UTF-8",
		})
		return "", false
	}
	return breaks(string(out)), true
}

// plain tells a character that no text has: then the file is something else.
func (r *reader) plain(text string) bool {
	at := strings.IndexFunc(text, isControl)
	if at < 0 {
		return true
	}
	c, _ := utf8.DecodeRuneInString(text[at:])
	r.fault(diag.Message{
		ID: "not-text", Place: position(text, at), Text: "the file is not plain text",
		Found: fmt.Sprintf("the control character %U", c), Expected: "a CSV or .xlsx file",
		Mend: "save the table as CSV UTF-8 or as .xlsx",
	})
	return false
}

// isControl reports a character that cannot stand in a cell: controls, and the two
// code points that are no characters, which XML cannot hold.
func isControl(c rune) bool {
	return unicode.IsControl(c) && c != '\t' && c != '\n' && c != '\r' || c == 0xfffe || c == 0xffff
}

// invalid gives the offset of the first byte that is not UTF-8, or -1.
func invalid(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for at := 0; at < len(data); {
		c, size := utf8.DecodeRune(data[at:])
		if c == utf8.RuneError && size == 1 {
			return at
		}
		at += size
	}
	return -1
}

// position gives line and column, in characters, of an offset.
func position(text string, at int) diag.Place {
	before := text[:at]
	return diag.Place{
		Line: strings.Count(before, "\n") + 1,
		Col:  utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1,
	}
}
