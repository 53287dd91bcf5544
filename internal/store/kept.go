package store

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// The largest that is kept.
const (
	MaxTextBytes  = 1 << 20
	MaxNameRunes  = 120
	MaxNoteRunes  = 3000
	MaxValveRunes = 200
)

// Draft is what a caller wants kept.
type Draft struct {
	Name  string    // 1 to 120 runes on one line
	Note  string    // up to 3000 runes
	Valve string    // ID of the chosen valve, empty when none is chosen
	Text  string    // the station file, up to 1 MiB
	At    time.Time // when; kept to the microsecond
}

// Kept is one revision of a study.
type Kept struct {
	ID        string
	Revision  int // counts from 1
	Name      string
	Note      string
	Valve     string
	Text      string // empty in lists
	Hash      string // SHA-256 of Text, in hex
	SavedAt   time.Time
	RemovedAt time.Time // of the study; zero while it is not removed
}

// holds reports whether k, with its text, keeps what d wants kept.
func (k Kept) holds(d Draft) bool {
	return k.Name == d.Name && k.Note == d.Note && k.Valve == d.Valve && k.Text == d.Text
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// check finds what cannot be kept.
func (d Draft) check() error {
	for _, p := range []struct {
		part, value string
		runes       int
		lines       bool
	}{
		{"name", d.Name, MaxNameRunes, false},
		{"note", d.Note, MaxNoteRunes, true},
		{"valve", d.Valve, MaxValveRunes, false},
	} {
		if err := checkWords(p.part, p.value, p.runes, p.lines); err != nil {
			return err
		}
	}
	if strings.TrimSpace(d.Name) == "" {
		return &InvalidError{"name", "nothing to be seen", fmt.Sprintf("1 to %d characters", MaxNameRunes)}
	}
	return firstError(checkText(d.Text), checkTime(d.At))
}

// checkWords holds a short text to its length and to characters that can be shown, with
// several lines where lines says so.
func checkWords(part, value string, runes int, lines bool) error {
	if !utf8.ValidString(value) {
		return &InvalidError{part, "bytes that are not UTF-8", "text in UTF-8"}
	}
	if n := utf8.RuneCountInString(value); n > runes {
		return &InvalidError{part, fmt.Sprintf("%d characters", n), fmt.Sprintf("at most %d", runes)}
	}
	for i, r := range value {
		control := unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp)
		if control && !(lines && strings.ContainsRune("\n\r\t", r)) {
			return &InvalidError{
				part, fmt.Sprintf("the control character %U at byte %d", r, i+1),
				"characters that can be shown",
			}
		}
	}
	return nil
}

// checkText leaves the contents to those who read station files.
func checkText(text string) error {
	if len(text) > MaxTextBytes {
		return &InvalidError{
			"text", fmt.Sprintf("%d bytes", len(text)),
			fmt.Sprintf("at most %d bytes (1 MiB)", MaxTextBytes),
		}
	}
	if !utf8.ValidString(text) {
		return &InvalidError{"text", "bytes that are not UTF-8", "a station file in UTF-8"}
	}
	if i := strings.IndexByte(text, 0); i >= 0 {
		return &InvalidError{"text", fmt.Sprintf("a zero byte at byte %d", i+1), "a station file without zero bytes"}
	}
	return nil
}

// checkTime refuses what no calendar of ours can print.
func checkTime(at time.Time) error {
	if year := at.UTC().Year(); at.IsZero() || year < 1 || year > 9999 {
		return &InvalidError{"time", fmt.Sprintf("the year %d", year), "the time of saving, in the years 1 to 9999"}
	}
	return nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// stamp is a time as the file keeps it; moment reads it back.
func stamp(at time.Time) int64  { return at.UnixMicro() }
func moment(us int64) time.Time { return time.UnixMicro(us).UTC() }
