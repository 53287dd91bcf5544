package catalog

import (
	"reflect"
	"strings"
	"testing"

	"seatward/fluid"
	"seatward/valve"
)

// The words that a file may write are those of the types that the catalog holds.
func TestWordsAreThoseOfTheirTypes(t *testing.T) {
	positions := valve.PositionWords(valve.Positions(), "|")
	for field, want := range map[string]string{
		"Services":  strings.Join(fluid.ServiceWords(fluid.Services()), "|"),
		"Positions": positions,
	} {
		f, ok := reflect.TypeFor[FamilyFile]().FieldByName(field)
		if got := f.Tag.Get("one"); !ok || got != want {
			t.Errorf("%s may be %q, want %q", field, got, want)
		}
	}
}
