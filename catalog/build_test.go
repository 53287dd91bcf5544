package catalog

import (
	"testing"

	"seatward/valve"
)

// build makes an item's mechanism in cold water and its first position.
func build(t testing.TB, it *Item) *valve.Mechanism {
	t.Helper()
	position, err := valve.PositionNamed(it.Positions[0])
	if err != nil {
		t.Fatal(err)
	}
	m, err := it.Family.Type.Build(it.Params, valve.In(999, position))
	if err != nil {
		t.Fatalf("%s: %v", it.ID, err)
	}
	return m
}
