package catalog

import (
	"strings"
	"testing"
)

// A bore that is wrong is told as wrong, and not as missing from the mechanics too.
func TestWrongBoreIsToldOnce(t *testing.T) {
	for after, want := range map[string]string{
		"bore: 152 kg":  "value-unreadable",
		"bore: 152":     "value-unreadable",
		"bore: -152 mm": "value-out-of-range",
	} {
		file, list := Parse("own.yaml", []byte(strings.Replace(good, "bore: 152 mm", after, 1)))
		_, more := Resolve(file)
		if all := append(list, more...); len(all) != 1 || all[0].ID != want {
			t.Errorf("%s: want %s alone, got\n%v", after, want, all)
		}
	}
}
