package xlsx

import (
	"fmt"
	"strings"
	"unicode/utf16"

	"seatward/internal/render/wording"
)

// nameLength is how many UTF-16 units the name of a sheet may have.
const nameLength = 31

// names are those of the sheets so far, in small letters.
type names map[string]bool

// take makes a legal name that no other sheet has; without stands for one of which
// nothing is left.
func (n names) take(title, without string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]`, r) || r == '\n' || r == '\t' {
			return ' '
		}
		return r
	}, wording.Clean(title))
	name = strings.Trim(strings.Join(strings.Fields(name), " "), "' ")
	if name == "" {
		name = without
	}
	base := cut(name, nameLength)
	name = base
	// Excel keeps the name History for itself.
	for i := 2; n[fold(name)] || fold(name) == "history"; i++ {
		end := fmt.Sprintf(" %d", i)
		name = cut(base, nameLength-len(end)) + end
	}
	n[fold(name)] = true
	return name
}

// fold is a name as programs compare it: in small letters.
func fold(name string) string { return strings.ToLower(strings.ToUpper(name)) }

// cut shortens a name, at the end of a word where one is near.
func cut(name string, units int) string {
	r := []rune(name)
	if len(utf16.Encode(r)) <= units {
		return name
	}
	for len(utf16.Encode(r)) > units {
		r = r[:len(r)-1]
	}
	short := string(r)
	if i := strings.LastIndexByte(short, ' '); i > len(short)*2/3 {
		short = short[:i]
	}
	return strings.TrimRight(short, "' ,;")
}

// quoted is a sheet's name as formulas write it.
func quoted(name string) string { return "'" + strings.ReplaceAll(name, "'", "''") + "'" }
