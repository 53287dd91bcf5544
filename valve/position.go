package valve

import "strings"

// PositionWords names positions in a row.
func PositionWords(all []Position, between string) string {
	words := make([]string, len(all))
	for i, p := range all {
		words[i] = p.String()
	}
	return strings.Join(words, between)
}

// MarshalText gives the words of String.
func (p Position) MarshalText() ([]byte, error) { return []byte(p.String()), nil }
