package web

import (
	"fmt"
	"testing"
)

// BenchmarkAnswer is the way of one answer through the server, of another station each time.
func BenchmarkAnswer(b *testing.B) {
	f := newFixture(b, nil)
	n := 0
	for b.Loop() {
		n++
		f.good("POST", "/api/answer", asJSON(map[string]any{"text": layout + fmt.Sprintf("\n# %d\n", n)}))
	}
}

// BenchmarkRows is that of the rows by closed formulas.
func BenchmarkRows(b *testing.B) {
	f := newFixture(b, nil)
	n := 0
	for b.Loop() {
		n++
		f.good("POST", "/api/rows", asJSON(map[string]any{"text": layout + fmt.Sprintf("\n# %d\n", n)}))
	}
}

// BenchmarkEdit is one edit through the server.
func BenchmarkEdit(b *testing.B) {
	f := newFixture(b, nil)
	in := asJSON(map[string]any{"text": text, "edits": []any{map[string]any{"path": "duty.head", "value": "61 ft"}}})
	for b.Loop() {
		f.good("POST", "/api/edit", in)
	}
}
