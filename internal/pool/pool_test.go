package pool

import (
	"slices"
	"strings"
	"testing"
)

// TestEach: everything is done once and filed under its number, and a panic in one of
// them reaches who asked.
func TestEach(t *testing.T) {
	done := make([]int, 50)
	Each(len(done), func(i int) { done[i] = i + 1 })
	for i, x := range done {
		if x != i+1 {
			t.Errorf("number %d holds %d", i, x)
		}
	}
	Each(0, func(int) { t.Error("nothing was asked for") })
	defer func() {
		if fault, _ := recover().(string); !strings.HasPrefix(fault, "out of step\n") {
			t.Errorf("the panic came as %q", fault)
		}
	}()
	Each(4, func(i int) {
		if slices.Contains([]int{1, 3}, i) {
			panic("out of step")
		}
	})
}
