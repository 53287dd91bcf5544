package plant

import (
	"slices"
	"strings"
	"testing"
)

// TestSideBySide: everything is done once and filed under its number, and a panic in one of
// them reaches who asked.
func TestSideBySide(t *testing.T) {
	done := make([]int, 50)
	SideBySide(len(done), func(i int) { done[i] = i + 1 })
	for i, x := range done {
		if x != i+1 {
			t.Errorf("number %d holds %d", i, x)
		}
	}
	SideBySide(0, func(int) { t.Error("nothing was asked for") })
	defer func() {
		if fault, _ := recover().(string); !strings.HasPrefix(fault, "out of step\n") {
			t.Errorf("the panic came as %q", fault)
		}
	}()
	SideBySide(4, func(i int) {
		if slices.Contains([]int{1, 3}, i) {
			panic("out of step")
		}
	})
}
