package document_test

import (
	"os"
	"testing"
	"time"

	"seatward/internal/document"
	"seatward/internal/render/pdf"
	"seatward/quantity"
)

func TestPeek(t *testing.T) {
	d := dossier(t, request(t, "study", quantity.US, false), "")
	for _, k := range document.Kinds() {
		start := time.Now()
		doc := d.Make(k)
		made := time.Since(start)
		f, err := os.Create("/tmp/peek/" + k.ID + ".pdf")
		if err != nil {
			t.Fatal(err)
		}
		if err := pdf.Write(f, doc); err != nil {
			t.Fatal(k.ID, err)
		}
		f.Close()
		t.Log(k.ID, made, time.Since(start))
	}
}
