package docx

import (
	"io"
	"testing"

	"seatward/internal/document"
	"seatward/internal/render/sample"
	"seatward/quantity"
)

// Every paper of a real study is sound and says, in its order, all that its blocks say.
func TestPapers(t *testing.T) {
	d := sample.Dossier(t, "study", quantity.US)
	for _, k := range document.Kinds() {
		paper := d.Make(k)
		holds(t, sound(t, made(t, paper)), paper)
	}
}

// BenchmarkWrite: a submittal from a study that is there.
func BenchmarkWrite(b *testing.B) {
	d := sample.Paper(b, "submittal")
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}
